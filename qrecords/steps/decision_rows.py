"""The table of findings and decisions, a row a finding. Whoever caused an error never accepts it: that is
held for every row alike by `transitions.refuse_decision`."""

from collections.abc import Mapping
from functools import cache

from qrecords.steps.deciding import (
    ACCEPT,
    CONCESSION,
    EITHER,
    ENGINEER,
    FITTER,
    INSPECTOR,
    LOOKED,
    MEASURE_AGAIN,
    NOTE,
    QUALITY,
    QUARANTINE,
    REDO,
    REWORK,
    SCRAP,
    Customer,
    Row,
    Way,
)

E = (ENGINEER,)
REDONE, SEEN_REDONE = Way(REDO, (FITTER,)), Way(REDO, (FITTER,), states=("inspector-present",))
AGAIN, MENDED, MENDED_BY_E = Way(MEASURE_AGAIN, EITHER), Way(REWORK, EITHER), Way(REWORK, E)
SCRAPPED, SCRAPPED_BY_E, HELD = Way(SCRAP, EITHER), Way(SCRAP, E), Way(QUARANTINE, EITHER)
LEFT_OPEN = (Way(CONCESSION, E), SCRAPPED)
"""Where the table has no word, it is the engineer's or scrap (house rule)."""
FORM_AND_SIZE = (
    Row("journal-undersize", (AGAIN, MENDED_BY_E), (SCRAPPED_BY_E,), remeasured=True),
    Row(
        "journal-oversize",
        (AGAIN, MENDED_BY_E),
        (
            Way(CONCESSION, E, ("g1-proven", "stress-shown"), customer=Customer.CRITICAL),
            SCRAPPED_BY_E,
        ),
        remeasured=True,
    ),
    Row(
        "journal-far-oversize",
        (AGAIN, MENDED_BY_E),
        (SCRAPPED_BY_E,),
        "house rule: over 10 µm nothing is conceded",
        remeasured=True,
    ),
    Row(
        "journal-not-proven",
        (AGAIN, Way(CONCESSION, E, ("fit-both-ways",))),
        (Way(CONCESSION, E, ("fit-both-ways",)), SCRAPPED_BY_E),
    ),
    Row("burr", (REDONE, MENDED), LEFT_OPEN),
    Row("fillet", (MENDED_BY_E,), (Way(CONCESSION, E), SCRAPPED_BY_E)),
)
THE_BEARING = (
    Row(
        "marking",
        (HELD, Way(CONCESSION, E, customer=Customer.ALWAYS)),
        (MENDED, SCRAPPED, Way(CONCESSION, E, customer=Customer.ALWAYS)),
        "common practice, no source; incident narrative 448357",
    ),
    Row(
        "dropped",
        (HELD, SCRAPPED, Way(CONCESSION, E, ("laboratory-report",))),
        (SCRAPPED,),
    ),
    Row(
        "clearance-left",
        (MENDED, Way(CONCESSION, E, customer=Customer.ALWAYS)),
        (MENDED, SCRAPPED, Way(CONCESSION, E, customer=Customer.ALWAYS)),
    ),
    Row("end-play", (REDONE, MENDED), (REDONE, MENDED)),
    Row("tight-spot", (REDONE, AGAIN, SCRAPPED), (AGAIN, MENDED, SCRAPPED)),
)
CURVE = ("heating-curve",)
THE_HEAT = (
    Row(
        "overheat-10",
        (Way(ACCEPT, EITHER, ("clearance-again",)), SCRAPPED),
        (Way(ACCEPT, EITHER, CURVE), SCRAPPED),
        "ruling 12",
    ),
    Row(
        "overheat-more",
        (Way(CONCESSION, E, ("clearance-again",), ("no-temper-colour",), Customer.CRITICAL), SCRAPPED),
        (Way(CONCESSION, E, CURVE, ("no-temper-colour",), Customer.CRITICAL), SCRAPPED),
        "ruling 12",
    ),
    Row("overheat-unstable", (SCRAPPED,), (SCRAPPED,), "ruling 12"),
    Row(
        "overheat-greased",
        (Way(CONCESSION, E, ("own-data",), ("seal-sound",)), SCRAPPED),
        (Way(CONCESSION, E, ("own-data",), ("seal-sound",)), SCRAPPED),
        "rulings 11 and 12",
    ),
    Row("overheat-own-data", (SCRAPPED,), (SCRAPPED,), "rulings 11 and 12"),
    Row(
        "overheat-not-proven",
        (AGAIN, Way(ACCEPT, EITHER), Way(CONCESSION, E), SCRAPPED),
        (Way(ACCEPT, EITHER), Way(CONCESSION, E), SCRAPPED),
        "house rule",
    ),
    Row("peak-missing", LEFT_OPEN, LEFT_OPEN, "house rule"),
    Row(
        "ring-difference",
        (Way(LOOKED, EITHER, ("turns-smoothly",)),),
        (Way(LOOKED, EITHER, ("turns-smoothly",)),),
    ),
    Row(
        "heated-again",
        (REDONE, AGAIN, Way(CONCESSION, E), SCRAPPED),
        (AGAIN, Way(CONCESSION, E), SCRAPPED),
        "ruling 22",
    ),
    Row("stuck", (MENDED, SCRAPPED), (Way(ACCEPT, EITHER, states=("inner-ring-alone",)), SCRAPPED)),
)
CHECKED_COLD = (
    Row(
        "shoulder-gap",
        LEFT_OPEN,
        (SEEN_REDONE, AGAIN, MENDED, Way(CONCESSION, E, ("gap-again",)), SCRAPPED),
    ),
    Row(
        "residual-field",
        (REDONE, AGAIN, MENDED),
        (REDONE, AGAIN, MENDED_BY_E, Way(CONCESSION, E, ("field-again",))),
    ),
)
THE_RECORD = (
    Row("lost-before-heat", (REDONE, AGAIN), LEFT_OPEN),
    Row("unread", (), (), "an unread marking is read, not decided: house rule"),
    Row(
        "lost-after-mounting",
        (REDONE, AGAIN),
        (
            Way(CONCESSION, E, ("bounded-fit", "clearance-found"), customer=Customer.CRITICAL),
            MENDED_BY_E,
            SCRAPPED_BY_E,
        ),
    ),
    Row("photo", (REDONE, AGAIN), (REDONE, AGAIN, Way(ACCEPT, EITHER))),
    Row(
        "implant",
        (),
        (),
        "Directive 2013/35/EU, from memory: a matter of the safety officer, kept nowhere here",
    ),
    Row(
        "gauge-expired",
        (AGAIN, Way(NOTE, (QUALITY,), ("calibrated-since",))),
        (Way(NOTE, (QUALITY,), ("calibrated-since",)),),
    ),
    Row("gauge-out", (), (), "ISO 10012; a look-back, by the engineer and the customer"),
    Row("wrong-drawing", (), (), "common practice, no source; judged again by the engineer"),
)
ROWS: Mapping[str, Row] = {
    row.id: row for row in (*FORM_AND_SIZE, *THE_BEARING, *THE_HEAT, *CHECKED_COLD, *THE_RECORD)
}

BY_RIGHT: Mapping[str, tuple[str, ...]] = {
    MEASURE_AGAIN: EITHER,
    REWORK: EITHER,
    ACCEPT: EITHER,
    CONCESSION: E,
    SCRAP: EITHER,
    QUARANTINE: EITHER,
    NOTE: (QUALITY,),
    LOOKED: (FITTER, INSPECTOR, ENGINEER),
}
"""Who may take a decision that no row of the table narrows: whoever holds the right."""
GENERAL = "general"
STATES = ("no-temper-colour", "seal-sound", "inner-ring-alone", "inspector-present")
"""What a decider, or who does it again, states that he saw himself."""


@cache
def general(kinds: tuple[str, ...]) -> Row:
    """The row of a rule that the table does not know: these decisions, by whoever holds the right."""
    ways = tuple(Way(kind, BY_RIGHT[kind]) for kind in kinds)
    return Row(GENERAL, ways, ways, "house rule")
