"""Two ends with the same nine digits, read in seconds, and a bore whose reading was lost: queries on both
ends, and a missing bore that the engineer conceded on its bounds, once somebody else had measured the end
that was not mounted yet."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.said import Said
from qrecords.demo.sheet import CYLINDRICAL, MINUTES, Machine, Sheet, asks
from qrecords.demo.walking import Walk
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.errors import ChangedMeanwhileError
from qrecords.mountings.judging import judged_now
from qrecords.signoff.actions import close_query
from qrecords.steps.answers import Absent, State
from qrecords.steps.findings import Verdict

DE = Sheet(
    machine=Machine(
        "Intake hoist, drum shaft", "Ullsvane hydro", "WO 26-0230", shaft="drum", scheme="lifting"
    ),
    requirement=asks("NU 1024", "120 m5 D180 B28", "UV-21", "B", interference_um=["13", "48"], **CYLINDRICAL),
    begun="2026-09-29 21:40",
    fitter="brandreth",
    lot="L-4577",
    inside="rollers",
    journal="21 19 22/20 21 22/21 20 19",
    bore="-10 -11 -10/-10 -10 -10",
    shaft_c="18",
    air_c="18",
    g0="75",
    set_to="105",
    peak="106",
    carried_s=14,
    pressed_s=240,
    field="1.0",
    g1="55",
)
NDE = replace(DE, machine=replace(DE.machine, position="NDE"), lot="L-4578", begun="2026-09-29 22:00")
NDE_AGAIN = replace(NDE, begun="2026-09-30 08:10", journal="20 20 21/20 21 21/20 20 20", fitter="pell")
READ_IN = timedelta(seconds=13)
"""Three readings: nine in 38 s."""
AFTER_HEAT = ("probe", "held", "blade", "covered")
BEFORE_HEAT = ("package", "marking", "seat", "micrometer")
EXPLAINED = {
    "speed of readings": "Nine readings in 38 s: called out by one and typed by the other.",
    "same digits at both ends": "The other end, measured again by another fitter in daylight, is within "
    "2 µm of its first readings: typed by heart, and near enough. Those of this end are believed.",
    "order in time, bore": "Looked for until the morning, and then said to be lost.",
}
LOST = Absent(State.NOT_POSSIBLE, "the slip with the bore readings was lost in the intake tunnel")


def pictures() -> Iterable[Drawing]:
    yield from map(DE.picture, (*BEFORE_HEAT, *AFTER_HEAT))
    yield from map(NDE.picture, ("package", "marking", "seat"))
    yield from map(NDE_AGAIN.picture, ("micrometer", *AFTER_HEAT))


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, DE)
    walk.receive()
    _measure_in_a_hurry(walk)
    other = walk.other_end(NDE)
    other.receive()
    _measure_in_a_hurry(other)
    _mount_without_the_bore(walk)
    _measured_by_another(other)
    _settle(walk)
    _finish(other)


def _measure_in_a_hurry(walk: Walk) -> None:
    walk.wait_until(MINUTES["micrometer"] - 8)
    walk.say("measurement", walk.set_up_gauge() | walk.temperatures())
    at = walk.sheet.moment(MINUTES["micrometer"])
    for plane in "ABC":
        readings: dict[str, Said] = {
            f"journal.{place}": (text, "mm")
            for place, text in walk.sheet.readings().items()
            if place.startswith(plane)
        }
        walk.say("measurement", readings, at=at)
        at += READ_IN
    walk.say("measurement", {"master_after": ("0", "um")})


def _mount_without_the_bore(walk: Walk) -> None:
    """No network down there: released by telephone on the journal, mounted, and the bore's slip not found."""
    walk.photograph("micrometer")
    walk.say_clearance()
    walk.release_by_telephone("ngata")
    walk.mount()
    walk.say("bore", {"source": "measured", "bore.A.0": LOST})
    walk.check_cold()
    walk.release("cold", "ngata")
    walk.close()


def _measured_by_another(walk: Walk) -> None:
    """The next morning, before this end is heated, by somebody who saw no figure of the night."""
    walk.change(**{name: getattr(NDE_AGAIN, name) for name in ("begun", "journal", "fitter")})
    walk.wait_until(10)
    walk.measure_again("both ends had the same nine digits: measured again by another", who="pell")
    walk.photograph("micrometer")
    walk.measure_bearing()


def _settle(walk: Walk) -> None:
    """The engineer answers what is asked of the readings, and concedes the lost bore on its bounds."""
    walk.clock = NDE_AGAIN.moment(60)
    walk.read_marking("ngata")
    findings = {finding.characteristic: finding for finding in judged_now(walk.mounting).findings}
    for name, explanation in EXPLAINED.items():
        close_query(
            acting=walk.acting("hollin"),
            mounting=walk.mounting,
            entry_id=new_id(),
            digest=findings[name].digest,
            explanation=explanation,
        )
    conceded = [
        name for name, finding in findings.items() if finding.verdict in (Verdict.MISSING, Verdict.NOT_PROVEN)
    ]
    walk.decide(
        "hollin",
        "concession",
        tuple(conceded),
        "The bore lies in its class, 0 to −20 µm: with this journal the interference is 19 to 42 µm, and the "
        "drawing allows 13 to 48. Clearance left 55 µm, as forecast.",
        "Bore to be measured when the bearing comes off.",
    )
    try:
        walk.sign("ngata")
    except ChangedMeanwhileError:
        # The other end says something else since: he is shown it, and signs that.
        walk.sign("ngata")


def _finish(walk: Walk) -> None:
    walk.release("fit", "ngata")
    walk.mount()
    walk.after_heat("ngata")
    walk.sign("ngata")
