"""The cold check: temperatures before blades, no invitation to go on beside a gap that is out, and every
heating asked for its own answers."""

import re

import pytest
from django.test import Client

from qrecords.mountings.judging import judged_now
from tests.cast import Job, Workshop, start
from tests.web.fitter_hand import fill, form_of
from tests.web.test_fitter_before_heat import at, text_of

pytestmark = pytest.mark.django_db
TEMPERATURES = "cold/?part=temperatures"
GAP = "cold/?part=gap"


@pytest.fixture
def on(shop: Workshop) -> Job:
    """A ring that was just let go, what went before it sound."""
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    job.heat(release=job.leaf(job.release("fit")))
    return job


def filled(text: str) -> list[str]:
    """What the filled taps of a page say."""
    return re.findall(r'<(?:a|button) class="tap tap-next[^>]*>(.*?)</', text)


def told(client: Client, job: Job, ring: str, shaft: str = "20", reason: str = "") -> str:
    """The temperatures sent as typed; where they lead."""
    typed = {"shoulder_gap.ring_temp": ring, "shoulder_gap.shaft_temp": shaft, "reason": reason}
    return fill(client, at(job, TEMPERATURES), typed)["Location"]


def feel(client: Client, job: Job, *blades: str) -> str:
    """Blades in the order in which the page asks for the angles; the page after the last."""
    for blade in blades:
        client.post(at(job, GAP), form_of(client.get(f"{at(job, GAP)}&warm=1")) | {"blade": blade})
    return text_of(client, at(job, GAP))


def test_temperatures_are_asked_before_the_first_blade(fitter: Client, on: Job) -> None:
    text = text_of(fitter, at(on, GAP))
    assert "How warm are ring and shaft?" in text and "data-dial" not in text
    assert filled(text) == ["temperatures first"]
    assert told(fitter, on, "21").endswith("part=gap&after=temperatures")
    text = text_of(fitter, at(on, GAP))
    assert "data-dial" in text and "How warm" not in text


def test_a_ring_that_is_still_warm_waits_at_its_temperatures(fitter: Client, on: Job) -> None:
    on.say("seating", film="thin oil", went_home="in one move", dropped="no", hammered="no", held_by="nut")
    assert told(fitter, on, "34").endswith("?part=temperatures")
    text = text_of(fitter, at(on, "cold/"))
    assert "wait, the ring still shrinks." in text and "shoulder_gap.ring_temp" in text
    text = text_of(fitter, at(on, GAP))
    assert "The ring is still warm." in text and "data-dial" not in text
    assert told(fitter, on, "22", reason="measured again").endswith("part=gap&after=temperatures")


def test_what_is_felt_warm_all_the_same_is_recorded_and_invites_to_nothing(fitter: Client, on: Job) -> None:
    feeler = str(on.shop.gear["feeler"].id)
    on.say("shoulder_gap", feeler=feeler, ring_temp=("34", "°C"), shaft_temp=("20", "°C"))
    text = feel(fitter, on, "0.08", "0", "0")
    assert filled(text) == ["once it is cold: temperatures"], "a gap is out"
    text = feel(fitter, on, "0")
    assert filled(text) == ["once it is cold: temperatures"]
    assert "go on to field and clearance: the gaps are not proven" in text
    assert on.finding("shoulder gap").verdict.value == "not proven"
    told(fitter, on, "21", reason="measured again")
    text = text_of(fitter, at(on, GAP))
    assert filled(text) == [], "each angle is felt again"
    assert filled(feel(fitter, on, "0", "0", "0", "0")) == ["next: field and clearance"]


def test_beside_a_gap_that_is_out_the_filled_tap_says_to_stop(fitter: Client, on: Job) -> None:
    told(fitter, on, "21")
    assert filled(feel(fitter, on, "0.08")) == ["stop here, call the inspector"]
    assert filled(feel(fitter, on, "0", "0", "0")) == ["stop here, call the inspector"]


def second_heating(job: Job) -> None:
    """Felt open, taken back by heat: heated once more."""
    job.check_cold(at_180="0.08")
    job.say("running", turns="rough")
    for what in ("heater on", "lifted off", "home", "let go"):
        job.tap(what, after_s=20)


def test_after_a_second_heating_the_cold_check_asks_anew(fitter: Client, on: Job) -> None:
    second_heating(on)
    for page, names in {
        "cold/?part=seat": ("seating.film", "seating.went_home", "seating.held_by"),
        TEMPERATURES: ("shoulder_gap.ring_temp", "shoulder_gap.shaft_temp"),
        "cold/?part=rest": ("demagnetisation.field", "demagnetisation.where"),
        "close/": ("running.turns",),
        "heat/?part=after": ("heating.peak", "demagnetisation.cycle"),
    }.items():
        fields = form_of(fitter.get(at(on, page)))
        assert {name: fields.get(name, "") for name in names} == dict.fromkeys(names, ""), page
    text = text_of(fitter, at(on, GAP))
    assert "How warm are ring and shaft?" in text and "0.08" not in text


def test_other_answers_of_a_second_heating_want_no_reason(fitter: Client, on: Job) -> None:
    second_heating(on)
    assert told(fitter, on, "22").endswith("part=gap&after=temperatures")
    text = text_of(fitter, at(on, GAP))
    assert "data-dial" in text and 'aria-pressed="true"' not in text
    assert filled(feel(fitter, on, "0", "0", "0", "0")) == ["next: field and clearance"]
    felt = judged_now(on.mounting).case.value_of("shoulder_gap", "gap.180")
    assert felt is not None and felt.base == 0
    assert on.finding("shoulder gap").verdict.value == "conforming"


def test_the_clearance_felt_before_heat_stays_and_changes_only_with_a_reason(fitter: Client, on: Job) -> None:
    on.say("clearance_before", reason="noted on paper", g0=("14", "um"))
    fields = form_of(fitter.get(at(on, "measure/?part=bore")))
    assert fields["clearance_before.g0"] == "14"
    other = fill(fitter, at(on, "measure/?part=bore"), {"clearance_before.g0": "15"})
    assert other.status_code == 422 and "recorded already. Why does it change?" in other.content.decode()
