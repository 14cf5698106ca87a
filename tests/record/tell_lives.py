"""What the demonstration does not tell of deliveries, parts, eyesight and what becomes of a bearing."""

from collections.abc import Callable
from datetime import date
from typing import Any

ON = date(2026, 11, 20)


def tell_lives(acting: Callable[[str], Any]) -> None:
    """A bearing with its delivery, removed, failed, set aside, cleared, scrapped; a part used; a machine
    moved."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions import bearing_life as life
    from qrecords.mountings.actions.parts import use_part
    from qrecords.mountings.models import Mounting
    from qrecords.people.actions import record_eyesight
    from qrecords.workshop import material_actions as materials

    fitter, inspector, quality = acting("brandreth"), acting("delacour"), acting("tremaine")
    half = Mounting.objects.get(journal__machine__owner="Kestrel Moor estate")
    signed = Mounting.objects.filter(state="signed off").order_by("number")[0]
    seen = life.Seen("ring-turned-on-shaft", "bore polished, blue band at one end")
    ring: dict[str, Any] = {"bearing": signed.bearing, "on": ON}
    record_eyesight(
        acting=quality, site=half.site, eyesight_id=new_id(), person=inspector.author, tested_on=ON,
        valid_to=date(2028, 11, 30),
    )  # fmt: skip
    delivery = materials.deliver(
        acting=fitter, site=half.site, delivery_id=new_id(), supplier="Corvane bearings", note="LS-20417",
        order="P-2611", on=ON, lines=[{"designation": "6310 C3", "lot": "L-0417", "quantity": 4}],
    )  # fmt: skip
    spacer = materials.register_part(
        acting=fitter, site=half.site, part_id=new_id(), kind="spacer", name="spacer 60 × 20",
        lot="heat 77120", supplier="Corvane bearings", delivery="LS-20417", use_by=date(2030, 1, 1),
    )  # fmt: skip
    use_part(acting=fitter, mounting=half, entry_id=new_id(), part=spacer, place="behind the inner ring")
    materials.move_machine(
        acting=fitter, move_id=new_id(), machine=signed.journal.machine, on=ON, to_place="north face",
        to_owner="Two Alders paper mill", reason="sold",
    )  # fmt: skip
    life.delivered(acting=fitter, entry_id=new_id(), delivery=delivery, **ring)
    life.fail(
        acting=fitter, entry_id=new_id(), what="runs hot, drawn current rises", by="the owner", ran="3 100 h",
        seen=seen, **ring,
    )  # fmt: skip
    life.remove(
        acting=fitter, entry_id=new_id(), why="failed", method="pulled on the inner ring", kept="bag 12",
        by="the owner's own fitters", seen=seen, journal=signed.journal, for_mounting=half, **ring,
    )  # fmt: skip
    life.set_aside(acting=fitter, entry_id=new_id(), why="to be looked at", kept="cage 2", **ring)
    life.clear(acting=inspector, entry_id=new_id(), why="looked at and photographed", **ring)
    life.scrap(acting=inspector, entry_id=new_id(), why="inner ring has turned", **ring)
