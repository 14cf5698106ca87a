"""Deliveries, parts with a number, and moves: what was said stands in an entry, what is wrong is named."""

from datetime import date
from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.parts import use_part
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.models import PartUse
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.tracing.agreement import differences
from qrecords.workshop import actions as workshop
from qrecords.workshop import material_actions as materials
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.models import Delivery, Move, Part
from tests.cast import MORNING, Job, Workshop, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db


def _opened() -> Job:
    return start(make_workshop())


@pytest.fixture
def job() -> Job:
    return once(_opened)


LINE = {"designation": "6212 C3", "lot": "L-9", "quantity": 6}


def delivered(shop: Workshop, who: str = "fitter", **changes: Any) -> Delivery:
    said: dict[str, Any] = {
        "supplier": "Corvane bearings", "note": "LS-4471", "order": "P-88", "on": date(2026, 2, 1),
        "lines": [LINE],
    }  # fmt: skip
    return materials.deliver(
        acting=shop.acting(who), site=shop.site, **{"delivery_id": new_id(), **said, **changes}
    )


def part(shop: Workshop, **changes: Any) -> Part:
    said = {"kind": "spacer", "name": "spacer 60 × 20", "lot": "heat 77120"}
    return materials.register_part(
        acting=shop.acting("fitter"), site=shop.site, **{"part_id": new_id(), **said, **changes}
    )


def test_a_delivery_holds_its_lots_and_is_the_same_when_sent_again(job: Job) -> None:
    row = delivered(job.shop)
    assert delivered(job.shop, delivery_id=row.id).lines == [LINE]
    assert Delivery.objects.count() == 1 and list(differences()) == []


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"supplier": ""}, "supplier"),
        ({"note": "x" * 61}, "note"),
        ({"on": date(2027, 1, 1)}, "on"),
        ({"lines": []}, "lines"),
        ({"lines": [LINE, {**LINE, "quantity": 0}]}, "quantity.2"),
        ({"lines": [{**LINE, "designation": " "}]}, "designation.1"),
    ],
)
def test_a_wrong_field_of_a_delivery_is_named(job: Job, changes: Any, field: str) -> None:
    with pytest.raises(RegisterFieldError) as asked:
        delivered(job.shop, **changes)
    assert asked.value.field == field and not Delivery.objects.exists()


def test_who_only_reads_registers_nothing(job: Job) -> None:
    with pytest.raises(NotAllowedError):
        delivered(job.shop, "auditor")


def test_a_part_has_a_kind_and_a_number(job: Job) -> None:
    row = part(job.shop, use_by=date(2028, 1, 1), kind="lubricant", name="NLGI 2, lithium", lot="B 0417")
    assert row.use_by == date(2028, 1, 1) and list(differences()) == []
    for changes in ({"kind": "magnet"}, {"lot": ""}):
        with pytest.raises(RegisterFieldError) as asked:
            part(job.shop, **changes)
        assert asked.value.field == next(iter(changes))


def test_a_part_used_is_work_in_its_mounting_and_freezes_what_the_register_said(job: Job) -> None:
    row = part(job.shop)
    entry = use_part(
        acting=job.shop.acting("second_fitter"), mounting=job.mounting, entry_id=new_id(), part=row,
        place="between the rings",
    )  # fmt: skip
    case = case_of(job.mounting)
    assert case.seen[str(entry.id)] == {"kind": "spacer", "name": "spacer 60 × 20", "lot": "heat 77120"}
    assert str(job.shop.people["second_fitter"].id) in case.worked_by and case.unread == ()
    assert [use.place for use in PartUse.objects.all()] == ["between the rings"]
    use_part(
        acting=job.shop.acting("second_fitter"), mounting=job.mounting, entry_id=entry.id, part=row,
        place="between the rings",
    )  # fmt: skip
    assert PartUse.objects.count() == 1 and list(differences()) == []


def test_a_signed_record_takes_no_further_part(job: Job) -> None:
    job.whole()
    with pytest.raises(RefusedError):
        use_part(
            acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), part=part(job.shop)
        )
    assert not PartUse.objects.exists()


def test_a_shaft_goes_into_another_machine_and_a_machine_elsewhere(job: Job) -> None:
    other = workshop.register_machine(
        acting=job.shop.acting("fitter"), site=job.shop.site, machine_id=new_id(), name="Spare drive",
        owner="Greyhallow quarry",
    )  # fmt: skip
    shaft = job.journal.shaft
    move: dict[str, Any] = {"machine": job.machine, "shaft": shaft, "to_machine": other}
    materials.move_shaft(
        acting=job.shop.acting("fitter"), move_id=new_id(), on=MORNING.date(), reason="spare used", **move
    )
    materials.move_machine(
        acting=job.shop.acting("fitter"), move_id=new_id(), machine=other, on=MORNING.date(),
        to_place="north face", to_owner="Two Alders paper mill",
    )  # fmt: skip
    assert Move.objects.count() == 2 and list(differences()) == []
    for wrong in ({"shaft": "9"}, {"to_machine": job.machine}):
        with pytest.raises((RegisterFieldError, UnknownObjectError)):
            materials.move_shaft(
                acting=job.shop.acting("fitter"), move_id=new_id(), on=MORNING.date(), **{**move, **wrong}
            )
