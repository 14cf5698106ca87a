"""Shift start: once a shift what is at hand; it pre-fills, and answers nothing by itself."""

from datetime import timedelta
from typing import Any
from uuid import UUID

import pytest

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.errors import FieldError, SlipError
from qrecords.tracing.agreement import differences
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import ShiftStart
from qrecords.workshop.shifts import read_climate, shift_of, start_shift
from tests.cast import Workshop, make_workshop, start

pytestmark = pytest.mark.django_db


def begin(shop: Workshop, *pieces: str, who: str = "fitter", air: str = "", **changes: Any) -> ShiftStart:
    told: dict[str, Any] = {
        "site": shop.site,
        "shift_id": new_id(),
        "gear": [shop.gear[piece].id for piece in pieces],
        "climate": read_climate({"air": (air, "°C")}),
    }
    return start_shift(acting=shop.acting(who), **(told | changes))


def test_a_shift_is_kept_with_its_gear_as_it_stood_and_its_air() -> None:
    shop = make_workshop()
    row = begin(shop, "micrometer", "feeler", air="19,5")
    assert row.document["climate"]["air"] == {"typed": "19,5", "unit": "°C", "value": 19_500}
    assert shift_of(shop.people["fitter"].id, shop.site, shop.clock) == row
    assert list(differences()) == []
    ShiftStart.objects.filter(id=row.id).update(document={"gear": [], "climate": {}})
    assert any("shift start" in told for told in differences())


def test_the_newest_start_of_the_own_shift_counts_for_twelve_hours() -> None:
    shop = make_workshop()
    begin(shop, "micrometer")
    newest = begin(shop, "feeler")
    fitter, second = (shop.people[name].id for name in ("fitter", "second_fitter"))
    assert shift_of(fitter, shop.site, newest.at + timedelta(hours=11, minutes=59)) == newest
    assert shift_of(fitter, shop.site, newest.at + timedelta(hours=12)) is None
    assert shift_of(second, shop.site, newest.at) is None, "another's shift is not mine"


def test_it_refuses_what_is_not_here_and_what_says_nothing() -> None:
    shop = make_workshop()
    with pytest.raises(RegisterFieldError, match="registered at this site"):
        begin(shop, gear=[new_id()])
    with pytest.raises(RegisterFieldError, match="or the climate"):
        begin(shop)
    with pytest.raises(NotAllowedError):
        begin(shop, "micrometer", who="inspector")
    id = new_id()
    assert begin(shop, "micrometer", shift_id=id) == begin(shop, "micrometer", shift_id=id)
    with pytest.raises(DifferentContentError):
        begin(shop, "feeler", shift_id=id)


@pytest.mark.parametrize(("name", "text"), [("air", "warm"), ("humidity", "wet"), ("noise", "80")])
def test_climate_that_is_no_number_is_asked_back(name: str, text: str) -> None:
    with pytest.raises(FieldError):
        read_climate({name: (text, "°C" if name == "air" else "%")})


def test_a_slip_is_asked_once_and_taken_when_it_is_so() -> None:
    with pytest.raises(SlipError):
        read_climate({"air": ("195", "°C")})
    assert read_climate({"air": ("195", "°C")}, frozenset({"air"}))["air"].value == 195_000
    assert read_climate({"humidity": ("48", "%")})["humidity"].value == 480_000
    assert read_climate({"air": (" ", "°C")}) == {}


def test_what_is_recorded_that_day_refers_to_it() -> None:
    job = start(make_workshop())
    row = begin(job.shop, "micrometer")
    entry = job.say("preparation", wiped="yes")
    seen = parse_canonical(bytes(entry.payload))["body"]["seen"]
    assert UUID(seen["shift"]) == row.id
    other = job.say("preparation", who="second_fitter", zone="yes")
    assert "shift" not in parse_canonical(bytes(other.payload))["body"]["seen"]
    assert set(case_of(job.mounting).answers) == {"preparation"}, "nothing was answered by the shift itself"
