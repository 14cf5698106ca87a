"""What is typed on the fitter's screens: asked back, asked why, offered again, kept; and judged at once."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from qrecords.mountings.judging import judged_now
from tests.cast import Workshop, add_gear, start
from tests.web.fitter_hand import READINGS, TEMPERATURES, fill, form_of, signed_in

pytestmark = pytest.mark.django_db


def test_text_without_a_number_is_asked_back_and_everything_typed_stays(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    answers = TEMPERATURES | {"measurement.shaft": "warm"}
    page = fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", answers)
    assert page.status_code == 422
    text = page.content.decode()
    assert "shaft: warm °C" in text and "0…45 °C" in text
    assert 'value="20,5"' in text and 'value="warm"' in text
    assert judged_now(job.mounting).case.answers == {}


def test_a_slip_is_asked_once_and_can_be_confirmed_or_taken_over(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    typed = TEMPERATURES | {"measurement.shaft": "68"}
    page = fill(fitter, address, typed)
    text = page.content.decode()
    assert page.status_code == 422 and "Did you mean 68\u202f°F?" in text
    fields = form_of(page)
    assert fitter.post(address, fields | {"mean:measurement.shaft": "68|°F"}).status_code == 302
    shaft = judged_now(job.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and shaft.answer.document() == {"typed": "68", "unit": "°F", "value": 20_000}

    other = start(shop, position="NDE")
    address = f"/mountings/{other.mounting.id}/measure/?part=gauge"
    fields = form_of(fill(fitter, address, typed))
    assert fitter.post(address, fields | {"sure:measurement.shaft": "68"}).status_code == 302
    shaft = judged_now(other.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and shaft.base == 68_000


def test_several_doubts_are_confirmed_with_one_tap_but_only_what_was_asked(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    page = fill(fitter, address, TEMPERATURES | {"measurement.shaft": "68", "measurement.air": "70"})
    fields = form_of(page) | {"sure_all": "1", "measurement.air": "99"}
    page = fitter.post(address, fields)
    text = page.content.decode()
    assert page.status_code == 422 and "air: 99" in text and "shaft: 68" not in text
    assert fitter.post(address, form_of(page) | {"sure:measurement.air": "99"}).status_code == 302
    case = judged_now(job.mounting).case
    assert [case.value_of("measurement", key).base for key in ("shaft", "air")] == [68_000, 99_000]  # type: ignore[union-attr]


def test_a_changed_answer_asks_for_a_reason_and_keeps_what_was_typed(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    address = f"/mountings/{job.mounting.id}/receive/"
    page = fill(fitter, address, {"identification.marking": "6212 C4"})
    text = page.content.decode()
    assert page.status_code == 422 and "Why does it change?" in text and 'value="6212 C4"' in text
    done = fitter.post(address, form_of(page) | {"reason": "typed wrongly"})
    assert done.status_code == 302
    marking = judged_now(job.mounting).case.value_of("identification", "marking")
    assert marking is not None and marking.word == "6212 C4"


def test_a_reading_too_close_to_call_is_offered_again_before_it_is_saved(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    fill(fitter, address, TEMPERATURES)
    close = READINGS | {"measurement.journal.C.60": "11.2"}
    address = f"/mountings/{job.mounting.id}/measure/?part=readings"
    page = fill(fitter, address, close)
    text = page.content.decode()
    assert page.status_code == 200 and "Measure this point twice more?" in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    assert fitter.post(address, form_of(page) | again).status_code == 302
    assert len(judged_now(job.mounting).case.many("measurement", "journal")) == 11


def test_figures_keep_their_own_unit_wherever_they_are_shown(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    um = "um from 60 mm"
    job.say("measurement", shaft=("71 °F", "°F"), journal__A__0=("18", um), journal__A__60=("60.017", "mm"))
    job.say("shoulder_gap", ring_temp=("71 °F", "°F"), shaft_temp=("21", "°C"))
    here = f"/mountings/{job.mounting.id}"
    typed = fitter.get(f"{here}/measure/?part=readings").content.decode()
    assert re.search(r'name="measurement.journal.A.60" value="60.017"[^>]*><span class="cell-unit">mm', typed)
    assert 'value="18"' in typed and typed.count("cell-unit") == 1
    still = fitter.get(f"{here}/sheet/").content.decode()
    assert '<p class="caption">journal, µm from 60</p>' in still
    assert '60.017 <span class="cell-unit">mm</span>' in still
    pages = still + fitter.get(f"{here}/cold/?part=gap").content.decode()
    assert "71 °F" in pages and "71 °F °F" not in pages


def test_a_reading_unlike_its_siblings_is_asked_once_and_recorded_when_it_is_so(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    page = fill(fitter, f"{here}readings", READINGS | {"measurement.journal.B.60": "54"})
    text = page.content.decode()
    assert page.status_code == 422 and "journal B at 60°: 54 µm from 60" in text
    assert "is far from the other readings," in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []
    sure = form_of(page) | {"sure:measurement.journal.B.60": "54"}
    assert fitter.post(f"{here}readings", sure).status_code == 302
    read = judged_now(job.mounting).case.value_of("measurement", "journal.B.60")
    assert read is not None and read.base == 60_054_000


def test_points_measured_again_one_after_the_other_keep_and_show_all_their_readings(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    close = {"measurement.journal.C.60": "11.2", "measurement.journal.B.60": "11.5"}
    page = fill(fitter, f"{here}readings", READINGS | close)
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    page = fitter.post(f"{here}readings", form_of(page) | again)
    text = page.content.decode()
    assert "B at 60°: 0.5 µm from the limit" in text, "the next point is asked about"
    assert "<b>C at 60°</b> read 11.2, and again:" in text and "<b>B at 60°</b>" not in text
    again = {"measurement.journal.B.60.2": "11.6", "measurement.journal.B.60.3": "11.7"}
    assert fitter.post(f"{here}readings", form_of(page) | again).status_code == 302
    typed = {a.key: a.answer.typed for a in judged_now(job.mounting).case.many("measurement", "journal")}
    assert [typed[f"journal.C.60{n}"] for n in ("", ".2", ".3")] == ["11.2", "11.4", "11.3"]
    assert [typed[f"journal.B.60{n}"] for n in ("", ".2", ".3")] == ["11.5", "11.6", "11.7"]
    text = fitter.get(f"{here}readings").content.decode()
    assert text.index("<b>B at 60°</b> read 11.5") < text.index("<b>C at 60°</b> read 11.2")


def test_a_correction_near_a_limit_asks_why_and_whether_it_is_measured_again_on_one_page(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    fill(fitter, f"{here}readings", READINGS)
    close = {"measurement.journal.C.60": "11.2"}
    page = fill(fitter, f"{here}readings", close)
    text = page.content.decode()
    assert "Measure this point twice more?" in text and "Why does it change?" in text
    answered = form_of(page) | {"reason": "measured again", "keep_close": "1"}
    assert fitter.post(f"{here}readings", answered).status_code == 302
    changed = judged_now(job.mounting).case.value_of("measurement", "journal.C.60")
    assert changed is not None and changed.base == 60_011_200


def test_questions_answered_one_after_the_other_do_not_ask_again(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    fill(fitter, f"{here}readings", READINGS)
    typed = {"measurement.journal.C.60": "11.2", "measurement.journal.A.0": "180"}
    page = fill(fitter, f"{here}readings", typed)
    page = fitter.post(f"{here}readings", form_of(page) | {"reason_words": "read the wrong drum"})
    assert "Why does it change?" not in page.content.decode()
    page = fitter.post(f"{here}readings", form_of(page) | {"sure:measurement.journal.A.0": "180"})
    text = page.content.decode()
    assert "Measure this point twice more?" in text and "Why does it change?" not in text
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    assert fitter.post(f"{here}readings", form_of(page) | again).status_code == 302
    case = judged_now(job.mounting).case
    assert case.value_of("measurement", "journal.A.0").base == 60_180_000  # type: ignore[union-attr]
    assert "11.4" in fitter.get(f"{here}readings").content.decode(), "a repeat counts and is seen"


def test_a_reason_in_words_and_enter_is_recorded_and_stays_while_another_field_is_asked_back(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    here = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    page = fill(
        fitter, here, TEMPERATURES | {"measurement.bearing": "", "not_measured": "measurement.bearing"}
    )
    words = {"words:measurement.bearing": "still in its box", "measurement.air": "warm"}
    page = fitter.post(here, form_of(page) | words)
    assert page.status_code == 422 and "still in its box" in page.content.decode()
    assert fitter.post(here, form_of(page) | {"measurement.air": "21"}).status_code == 302
    said = judged_now(job.mounting).case.said("measurement", "bearing")
    assert said is not None
    assert said.answer.document() == {"state": "not done", "reason": "still in its box"}


def test_the_verdict_of_the_page_just_sent_stands_at_the_top_of_the_next(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    warm = TEMPERATURES | {"measurement.bearing": "28,2"}
    sent = fill(fitter, f"{here}gauge", warm)
    page = fitter.get(sent["Location"]).content.decode()
    before = page.split('id="said-before"')[1].split("</div></div>")[0]
    assert "not one temperature" in before
    sent = fill(fitter, f"{here}readings", READINGS)
    assert 'id="said-before"' in fitter.get(sent["Location"]).content.decode()
    assert 'id="said-before"' not in fitter.get(f"{here}bore").content.decode()


def test_a_reading_brought_to_20_degrees_stands_in_brackets_and_one_as_typed_does_not(
    shop: Workshop, fitter: Client
) -> None:
    for gauge_c, shown in (("20", "A at 60° is +16:"), ("22", "A at 60° is (+17.4):")):
        job = start(shop, position=f"DE {gauge_c}")
        here = f"/mountings/{job.mounting.id}/measure/?part="
        fill(fitter, f"{here}gauge", TEMPERATURES | {"measurement.gauge_temp": gauge_c})
        readings = READINGS | {"measurement.journal.A.60": "16"}
        fields = form_of(fitter.get(f"{here}readings")) | readings
        assert shown in fitter.post(f"{here}readings&try=1", fields).content.decode()


def test_gauges_are_offered_with_range_and_date_and_those_in_doubt_last_and_never_put_forward(
    shop: Workshop, fitter: Client
) -> None:
    wide, narrow, old = (
        {"status": "in use", "expanded_u": 1000, "due": due, "range_nm": [low * 10**6, high * 10**6]}
        for low, high, due in ((50, 75, "2099-02-01"), (25, 50, "2099-02-01"), (50, 75, "2020-01-31"))
    )
    add_gear(shop, "a_old", "outside micrometer", old)
    add_gear(shop, "b_narrow", "outside micrometer", narrow)
    add_gear(shop, "c_wide", "outside micrometer", wide)
    job = start(shop)
    page = fitter.get(f"/mountings/{job.mounting.id}/measure/?part=gauge").content.decode()
    select = page.split('name="measurement.gauge"')[1].split("</select>")[0]
    labels = re.findall(r'<option value="[^"]+"[^>]*>([^<]*)<', select)
    assert labels[0] == "C-WIDE-1 · 50…75\u202fmm · to 2099-02-01"
    assert labels[1].startswith("MICROMETER-1")
    assert labels[2:] == [
        "A-OLD-1 · 50…75\u202fmm · out of date since 2020-01-31",
        "B-NARROW-1 · 25…50\u202fmm · does not hold this size",
    ]
    assert " selected" not in select.replace('value="" selected', "")


def test_no_gap_reads_as_a_blade_that_does_not_go_in(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.check_cold()
    text = fitter.get(f"/mountings/{job.mounting.id}/sheet/").content.decode()
    assert "0.03 does not go in" in text and "<dd>0 mm</dd>" not in text


def test_a_bore_from_its_class_names_no_gauge(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part=bore"
    offered = form_of(fitter.get(here))["bore.gauge"]
    assert offered == str(shop.gear["bore_gauge"].id)
    fill(fitter, here, {"bore.source": "from class"})
    assert set(judged_now(job.mounting).case.answers["bore"]) == {"source"}
    fill(fitter, here, {"bore.bore.A.0": "-6", "reason": "measured it after all", "bore.source": "measured"})
    assert set(judged_now(job.mounting).case.answers["bore"]) == {"source", "gauge", "bore.A.0"}


def test_not_measured_is_two_taps_and_keeps_the_other_readings(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part=readings"
    fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", TEMPERATURES)
    some = {name: value for name, value in READINGS.items() if ".C." not in name}
    page = fill(fitter, here, some | {"not_measured": "measurement.journal.C.0"})
    text = page.content.decode()
    assert "journal C at 0°" in text and "not measured. Why?" in text and 'value="16"' not in text
    reason = {"absent:measurement.journal.C.0": "not possible|cannot reach", "absent_rest": "1"}
    fitter.post(here, form_of(page) | reason)
    case = judged_now(job.mounting).case
    assert len(case.many("measurement", "journal")) == 9
    assert case.value_of("measurement", "journal.C.120") is None
    lost = case.said("measurement", "journal.C.120")
    assert lost is not None and lost.answer.document()["reason"] == "cannot reach"


def test_trying_judges_what_is_typed_and_records_nothing(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", TEMPERATURES)
    here = f"/mountings/{job.mounting.id}/measure/?part=readings"
    fields = form_of(fitter.get(here)) | {"measurement.journal.A.0": "5"}
    text = fitter.post(f"{here}&try=1", fields).content.decode()
    assert "A at 0° is +5:" in text and "Heat waits for the inspector." in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []


def test_gear_used_last_in_this_shift_is_prefilled_and_recorded_only_when_sent(shop: Workshop) -> None:
    shop.clock = datetime.now(UTC) - timedelta(hours=1)
    second = {"status": "in use", "due": "2100-01-31", "expanded_u": 1000, "resolution": 1000}
    add_gear(shop, "second_micrometer", "outside micrometer", second)
    earlier = start(shop, position="NDE")
    earlier.measure()
    job = start(shop)
    client = signed_in(shop, "fitter")
    fields = form_of(client.get(f"/mountings/{job.mounting.id}/measure/?part=gauge"))
    assert fields["measurement.gauge"] == str(shop.gear["micrometer"].id)
    assert fields["measurement.air"] == "20", "the air of an hour ago"
    assert fields["measurement.shaft"] == "", "a measured value is never prefilled"
    assert judged_now(job.mounting).case.answers == {}
    other = signed_in(shop, "second_fitter")
    fields = form_of(other.get(f"/mountings/{job.mounting.id}/measure/?part=gauge"))
    assert fields["measurement.gauge"] == "", "what somebody else used is not offered where there are two"
