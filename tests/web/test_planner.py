"""The planner's page: the address holds the question, the page the whole answer, and nothing is kept."""

import html
import re
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from django.test import Client
from pytest_django import Settings

from qrecords.ledger.models import Entry
from qrecords.steps.planner.judging import judged
from qrecords.steps.planner.plan import plan_fit
from qrecords.steps.planner.reading import read_asked
from qrecords.web.planner.page import EXAMPLE
from qrecords.wording.lettering import Lettering, in_other_units
from qrecords.wording.planned import SENTENCES
from tests.cast import Workshop
from tests.web.fitter_hand import signed_in
from tests.web.test_no_inner_words import inner_words

pytestmark = pytest.mark.django_db
BY_CLASS = {"journal_low": "", "journal_high": "", "bore": ""}
NO_G0 = {"g0": "", "other_group": "", "other_g0": ""}
WARM = {"shaft_temp": "60", "air_temp": "20", "journal_low": "14", "journal_high": "17", "bore": ""}
STANDINGS: tuple[dict[str, str], ...] = (
    {},
    {"gauge_u": ""},
    {"shaft_class": ""},
    {"evenly": ""},
    {"evenly": "60"},
    {"shaft_temp": ""},
    {"habit": "300"},
    {"bearing": "6215", **NO_G0, **WARM},
    {"kind": "sealed", "ceiling": "350", "ceiling_source": "x"},
    {"ceiling": "180", "ceiling_source": "data sheet 4"},
    {"habit": "85"},
    {"journal_low": "40", "journal_high": "41", "bore": "-40"},
    {"journal_low": "23.5", "journal_high": "23.5", "bore": "-14.8"},
    {"journal_low": "24", "journal_high": "24", "bore": "-15", "g0": "26", "other_g0": "43"},
    {"bearing": "6213 C4", "g0": ""},
    {"bearing": "6204", "shaft_class": "k5", **BY_CLASS},
    {"bearing": "6204", "shaft_class": "p6", **BY_CLASS},
    {"shaft_class": "f6", **BY_CLASS},
    {"bearing": "", "nominal": "63", "outside": "120", "width": "23", **NO_G0},
    NO_G0,
    {"bearing": "NU 212"},
    {"shaft_temp": "140", "air_temp": "140"},
    {"air_temp": "100"},
    {"least": "15"},
    {"air_speed": "3"},
    {"bearing": "6213-2Z"},
    {"bearing": "61813", "outside": "85", "width": "10"},
)
"""What the example is changed by, so that every verdict there is comes up."""
PRINCIPLES = "Guidance only. The law and codes where you work"


def asked(client: Client, question: dict[str, str], **changed: str) -> tuple[int, str]:
    """Status and words of the page, its tags left out."""
    answer = client.get("/planner/", {**question, **changed})
    return answer.status_code, answer.content.decode()


def words(page: str) -> str:
    text = html.unescape(re.sub(r"<[^>]*>", "", page)).replace("\u202f", " ")
    return " ".join(text.split())


def test_the_example_is_answered_whole(fitter: Client) -> None:
    status, page = asked(fitter, EXAMPLE)
    said = words(page)
    assert status == 200
    assert "Interference (28 µm), class allows 11…39." in said
    assert "(−9 µm) No clearance left when cold" in said
    assert "(12 µm) left when cold, from the G0 that was measured." in said
    assert "Heat, if 6213 C3 is used" in said
    assert "Set 85 °C. Must still be 65 °C or more when it meets the seat. Never above 120 °C." in said
    assert "Your measured fit needs only (64 °C); a fixed 110 °C is not needed." in said
    assert PRINCIPLES in said


def test_every_number_of_the_plan_opens_its_working(fitter: Client) -> None:
    _, page = asked(fitter, EXAMPLE)
    opened = re.findall(r'<details class="working-fold"><summary>(.*?)</summary>', page)
    for name in ("interference, mean", "hoop stress", "6213 C3: left when cold", "at contact", "carry within",
                 "keep pressing", "inner hotter than outer, safe up to"):  # fmt: skip
        assert any(each.startswith(name) for each in opened), (name, opened)
    assert len(opened) == page.count('<p class="formula">')


def test_what_no_second_source_confirms_is_said(fitter: Client) -> None:
    _, page = asked(fitter, {"bearing": "6213", "shaft_class": "m5"})
    assert (
        "unconfirmed: compare with your copy of the standard: radial clearance, deep groove ball bearing, "
        "group N, 50…65 mm (ISO 5753-1:2009)" in page
    )


def test_a_bearing_that_takes_its_sizes_from_another_series_says_so(fitter: Client) -> None:
    said = words(asked(fitter, {"bearing": "NU 212", "shaft_class": "m6"})[1])
    assert "NU 212: d 60, D 110, B 22 mm; ISO 15:2011" in said
    assert "series NU2 has the dimensions of 62 (DIN 616, from memory)" in said


def test_a_fit_that_is_out_is_no_reason_to_start(fitter: Client) -> None:
    """The filled blue is the next tap: with a verdict out it is to work out another."""
    filled = r'class="tap tap-wide tap-next"[^>]*>([^<]*)<'
    assert re.findall(filled, asked(fitter, EXAMPLE)[1]) == ["work it out"]  # 6213 has no clearance left
    assert re.findall(filled, asked(fitter, EXAMPLE, g0="35", other_group="", other_g0="")[1]) == [
        "start a mounting"
    ]


def test_a_mass_and_a_raceway_that_are_known_take_the_place_of_the_estimates(fitter: Client) -> None:
    known = {"mass": "1", "mass_from": "measured", "raceway": "76", "raceway_from": "drawing"}
    said = words(asked(fitter, EXAMPLE, **known)[1])
    assert "mass by estimate" not in said and "m measured" in said
    assert "F from the drawing" in said and "F = 76 mm" in said


def test_a_draught_is_refused_by_name(fitter: Client) -> None:
    said = words(asked(fitter, EXAMPLE, air_speed="3")[1])
    assert "No plan in a draught of 3.0 m/s: over 1.5 m/s it cools faster than any model here says." in said
    assert "Set 85 °C" not in said
    inch = words(asked(fitter, EXAMPLE, air_speed="3 m/s", lengths="in", temperatures="F")[1])
    assert "No plan in a draught of 591 ft/min: over 295 ft/min" in inch


def test_the_working_is_in_the_units_that_were_asked_for(fitter: Client) -> None:
    page = asked(fitter, in_other_units(EXAMPLE, Lettering("in", "F")))[1]
    said = words(page)
    assert "T = 68 °F + [δ + c + α_s·(d + δ)·(T_s − 68 °F)]/(α_b·d)" in said
    assert "d = 2.5591 in" in said and "T_s = 51.8 °F" in said and "α_b = 6.6667 10⁻⁶/°F" in said
    assert "journal = 2.559803 in" in said  # 65.019 mm
    assert "Ceiling: open, 248 °F" in said
    put_in = [words(each) for each in re.findall(r"<dd>(.*?)</dd>", page)]
    assert put_in and [each for each in put_in if each.endswith((" mm", " µm", " °C", " K", "/K"))] == []


def test_a_mark_that_only_the_maker_knows_is_asked_about_beside_the_heat(fitter: Client) -> None:
    assert "2Z: only the maker says what this means." in words(asked(fitter, EXAMPLE, bearing="6213-2Z")[1])
    own = {"bearing": "6213-2Z", "ceiling": "80", "ceiling_source": "data sheet 4"}
    assert "only the maker says" not in words(asked(fitter, EXAMPLE, **own)[1])


def test_three_pictures_are_drawn(fitter: Client) -> None:
    _, page = asked(fitter, EXAMPLE)
    for title in ("Fit of shaft and bore", "Clearance before and after the fit", "Temperature against time"):
        assert title in page


def test_the_empty_page_asks_and_answers_nothing(fitter: Client) -> None:
    status, page = asked(fitter, {})
    assert status == 200
    assert "What it tells" in page and "Interference" not in words(page).split("What it tells")[0]
    assert PRINCIPLES in words(page)


def test_what_cannot_be_is_asked_back_by_name_with_its_range_and_stays_as_typed(fitter: Client) -> None:
    status, page = asked(fitter, EXAMPLE, shaft_temp="warm", g0="-3", journal_low="65.018")
    said = words(page)
    assert status == 422
    assert "shaft now, warm °C: not understood. It wants −60…200 °C." in said
    assert "clearance G0, measured, -3 µm: outside what is possible. It wants 0…2000 µm." in said
    assert "journal, lowest, 65.018 µm: a whole size, where a deviation stands" in said
    for typed in ("warm", "-3", "65.018"):
        assert f'value="{typed}"' in page
    assert "Set " not in said


def test_the_same_plan_in_inches_and_fahrenheit(fitter: Client) -> None:
    _, page = asked(fitter, EXAMPLE)
    inch = next(
        href
        for href in re.findall(r'href="\?([^"]*)"', html.unescape(page))
        if parse_qs(href).get("lengths") == ["in"]
    )
    status, page = asked(fitter, {name: value[0] for name, value in parse_qs(inch).items()}, temperatures="C")
    assert status == 200
    assert "Interference (1.10 thou), class allows 0.43…1.54." in words(page)
    assert "Set 85 °C." in words(page)


def test_fahrenheit_is_rounded_to_the_safe_side(fitter: Client) -> None:
    warm = {"shaft_temp": "51.8", "air_temp": "51.8", "evenly": "9", "temperatures": "F"}
    _, page = asked(fitter, EXAMPLE, **warm)
    assert "Set 185 °F. Must still be 149 °F or more when it meets the seat. Never above 248 °F." in words(
        page
    )
    assert "needs only (147 °F); a fixed 230 °F is not needed" in words(page)  # 63.354 °C is 146.04 °F


def test_a_mounting_is_started_with_what_the_plan_knows(fitter: Client) -> None:
    _, page = asked(fitter, EXAMPLE, kind="sealed", shaft_bore="20")
    href = html.unescape(re.findall(r'href="(/mountings/new/[^"]*)"', page)[0])
    told = {name: value[0] for name, value in parse_qs(urlsplit(href).query).items()}
    assert told == {
        "designation": "6213 C3", "nominal": "65", "outside": "120", "width": "23", "clearance_group": "3",
        "clearance_kind": "deep_groove_ball_cyl_bore", "shaft_class": "m5", "shaft_bore": "20",
        "seat": "ground", "kinds": "sealed",
    }  # fmt: skip
    form = fitter.get(href).content.decode()
    for name in ("designation", "outside", "shaft_class", "shaft_bore"):
        assert re.search(rf'name="{name}" value="{told[name]}"', form), name
    assert re.search(r'value="sealed" checked', form)


def test_nothing_is_kept(shop: Workshop, fitter: Client) -> None:
    before = Entry.objects.count()
    asked(fitter, EXAMPLE)
    assert Entry.objects.count() == before
    assert fitter.post("/planner/", EXAMPLE).status_code == 405


def test_it_is_for_whoever_may_read_until_the_operator_opens_it(shop: Workshop, settings: Settings) -> None:
    address = f"/planner/?{urlencode(EXAMPLE)}"
    assert Client().get(address)["Location"].startswith("/sign-in/")
    assert signed_in(shop, "administrator").get(address).status_code == 403
    assert b"/planner/" not in Client().get("/sign-in/").content
    settings.PLANNER_OPEN = True
    assert b"/planner/" in Client().get("/sign-in/").content
    for client in (Client(), signed_in(shop, "administrator")):
        answer = client.get(address)
        assert answer.status_code == 200
        assert "Interference (28 µm)" in words(answer.content.decode())


def test_a_hostile_address_is_shown_as_text(fitter: Client) -> None:
    status, page = asked(fitter, {"bearing": '"><script>alert(1)</script>', "shaft_class": "<b>"})
    assert status == 422
    assert "<script>alert" not in page and "<b>:" not in page


@pytest.mark.parametrize("changed", STANDINGS)
def test_every_standing_is_said_in_words_of_the_workshop(fitter: Client, changed: dict[str, str]) -> None:
    status, page = asked(fitter, EXAMPLE, **changed)
    assert status == 200
    assert inner_words(page) == []


def test_the_standings_are_all_that_there_are() -> None:
    """Every sentence is told by one of them, and everything judged has its sentence, but for what the plan
    itself says."""
    told = set()
    for changed in STANDINGS:
        asked_for, _ = read_asked({**EXAMPLE, **changed})
        assert asked_for is not None
        told |= {f"{j.about.removeprefix('other ')}.{j.reason}" for j in judged(plan_fit(asked_for))}
    assert told - {"heat.planned"} == set(SENTENCES)
