"""What the demonstration does not tell of deliveries, parts, eyesight and what becomes of a bearing."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import UUID

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


def tell_night(acting: Callable[[str], Any]) -> None:
    """Said to be ready again, signed by who stands in for the inspector, looked at again by another."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.finishing import ready
    from qrecords.mountings.models import Mounting
    from qrecords.mountings.queries import case_of
    from qrecords.signoff import actions as signoff
    from qrecords.signoff.reviewing import review
    from qrecords.steps.shown import shown_now

    mounting = Mounting.objects.get(journal__machine__owner="Thornlea felt mill")
    said: dict[str, Any] = {"mounting": mounting}
    _stands_in(acting, "brandreth", mounting.site)
    shown = shown_now(case_of(mounting))
    ready(acting=acting("vaskova"), entry_id=new_id(), shown=shown, **said)
    shown, why = shown_now(case_of(mounting)), "night shift, nobody on call"
    signoff.sign(acting=acting("brandreth"), entry_id=new_id(), shown=shown, alone=why, **said)
    shown, words = shown_now(case_of(mounting)), "read the ring and looked at each photo again"
    review(acting=acting("ngata"), entry_id=new_id(), agreed=True, words=words, shown=shown, **said)


def _stands_in(acting: Callable[[str], Any], who: str, site: UUID) -> None:
    from qrecords.ledger.identifiers import new_id
    from qrecords.people import actions as people
    from qrecords.people.competence import Range
    from qrecords.people.permissions import Role

    person = acting(who).author
    people.grant_role(
        acting=acting("ashgrove"), site=site, grant_id=new_id(), person=person, role=Role.STAND_IN
    )
    people.assess(
        acting=acting("tremaine"), site=site, competence_id=new_id(), person=person, task="stand in",
        basis="ten inspections beside an inspector", assessor=acting("hollin").author, from_mm=Decimal(10),
        to_mm=Decimal(400), valid_from=ON, valid_to=date(2028, 11, 30),
        range=Range(kinds=("deep groove ball", "spherical roller"), jobs=10),
    )  # fmt: skip


def tell_drawing(acting: Callable[[str], Any]) -> None:
    """A signed record judged again by the revision that proved to be the right one."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.models import Mounting
    from qrecords.signoff.drawings import put_drawing_right
    from qrecords.workshop.actions import require_of_journal

    signed = Mounting.objects.filter(state="signed off").order_by("number")[0]
    document = signed.journal.requirements.order_by("-valid_from")[0].document
    asked = require_of_journal(
        acting=acting("hollin"), requirement_id=new_id(), journal=signed.journal,
        document={**document, "revision": "Z", "critical": "yes"},
    )  # fmt: skip
    put_drawing_right(
        acting=acting("hollin"), mounting=signed, entry_id=new_id(), requirement=asked,
        reason="the order named revision Z",
    )  # fmt: skip
