"""The shapes of what is said in an entry of each kind, and of what is frozen beside it."""

from qrecords.steps.acts import LOG_SHOT
from qrecords.steps.deciding import KINDS
from qrecords.steps.folding import JUDGES
from qrecords.steps.interchange.asked import HASH, REQUIREMENT
from qrecords.steps.interchange.captures import COMPETENCE, PAPER, SAID, SEEN, WRITTEN_AT
from qrecords.steps.interchange.plain_shapes import Choice, Day, Moment, Shape, Text, Whole
from qrecords.steps.interchange.shapes import ByWord, ListOf, Record
from qrecords.steps.marks import LONGEST, MOST, SMALLEST, WHOLE
from qrecords.steps.point_acts import POINT_ACTS
from qrecords.steps.points import POINT_ID
from qrecords.steps.runs import EVENTS, TAPS
from qrecords.steps.transitions import State

LONG = Text(4000)
LENGTH = Whole(-(2**50), 2**50, "nm")
SIZE = Whole(0, 10**12, "bytes")
LOG = Record(
    {
        "columns": Record({}, patterns={"^[a-z ]{1,40}$": Whole(1, 1000, "", "its place, from 1")}),
        "unit": Text(4, about="°C or °F"),
        "probe": Text(40),
        "heating": Whole(0, 1000, "", "which heating it is of, from 1"),
    },
    about=f"of a heater's log, shot {LOG_SHOT}: what its text does not say; the file stands under files",
)
ITEM = Record({"about": Text(200), "reason": LONG}, required=("about", "reason"))
OPEN = Record({}, open=True)
EXTENT = Record({"entries": Whole(0, 10**9), "root": HASH}, required=("entries", "root"))
NOTHING = Record({})
REDUCED: dict[str, Shape] = {
    "reduced": Text(400, about="why it was given with reduced independence"),
    "review_by": Day(),
}
TIED = dict.fromkeys(("designation", "serial", "lot", "date_code"), Text(80))

PERSON = Record({"person": Text(80, about="the version of the person named, by its hash")})
PER_MILLE = Whole(0, WHOLE, "‰", "of the upright picture's width or height")
PLACE = ListOf(PER_MILLE, 2, 2)
MARK = ByWord(
    "kind",
    {
        "arrow": Record(
            {"kind": Choice(("arrow",)), "from": PLACE, "to": PLACE}, required=("kind", "from", "to")
        ),
        "circle": Record(
            {"kind": Choice(("circle",)), "at": PLACE, "radius": Whole(SMALLEST, WHOLE, "‰", "of the width")},
            required=("kind", "at", "radius"),
        ),
        "text": Record(
            {"kind": Choice(("text",)), "at": PLACE, "text": Text(LONGEST, 1)},
            required=("kind", "at", "text"),
        ),
    },
)

Parts = tuple[Shape, Shape]
BODIES: dict[str, Parts] = {
    "mounting": (
        Record(dict.fromkeys(("journal", "bearing", "rebuild", "procedure"), Text(80))),
        Record(
            {
                "number": Text(40),
                "attempt_of": Text(80),
                "requirement": REQUIREMENT,
                "requirement_entry": Text(80),
                "bearing": Record(TIED, about="the bearing as the order names it"),
            },
            required=("requirement",),
            stored=("requirement",),
        ),
    ),
    "capture": (SAID, SEEN),
    "tap": (
        Record(
            {
                "what": Choice((*TAPS, *EVENTS, "undo")),
                "release": Text(80, about="of heater on: the release it relies on, by its leaf hash or id"),
                "code": Text(40, about="or the code read back on the telephone"),
                "paper": PAPER,
            },
            required=("what",),
        ),
        Record({"written_at": WRITTEN_AT}),
    ),
    "attachment": (
        Record(
            {"shot": Text(40, 1), "from": Choice(("camera", "gallery", "file")), "log": LOG},
            required=("shot",),
        ),
        NOTHING,
    ),
    "file received": (
        Record({"sha256": HASH}, required=("sha256",)),
        Record({"size": SIZE, **dict.fromkeys(("media", "taken_at", "camera"), Text(200))}),
    ),
    "release": (
        Record(
            {
                "hold": Text(16, 1, POINT_ID, "fit, cold, or a hold point of the procedure"),
                "shown": EXTENT,
                "code": Text(40),
                "lowest_nm": LENGTH,
                "highest_nm": LENGTH,
                "alone": Text(400, about="of a stand-in: why no inspector is there"),
            },
            required=("hold",),
        ),
        Record(
            {
                "captures": ListOf(Text(80), 0, 1000, "what it rests on; what stands then, if left out"),
                "means": Choice(("sign-in", "telephone")),
                **COMPETENCE,
                **REDUCED,
            },
            stored=("captures", "means"),
        ),
    ),
    "decision": (
        Record(
            {
                "decision": Choice(KINDS),
                "findings": ListOf(HASH, 1, 200, "the digests of the findings it is about"),
                "conditions": LONG,
                "expires": Day("the last day on which an acceptance holds"),
                "letter": HASH,
                "states": ListOf(Text(40), 0, 20, "what the decider states that he saw himself"),
            },
            required=("decision", "findings"),
        ),
        Record(
            {
                "closes": Choice(("", State.REWORKED.value, State.SCRAPPED.value), closed=True),
                "findings": ListOf(OPEN, 0, 200),
                "rows": OPEN,
                "proven": OPEN,
                **COMPETENCE,
            },
            stored=("closes",),
        ),
    ),
    "looked": (Record({"digest": HASH}, required=("digest",)), Record({"key": Text(200)})),
    "return": (
        Record({"items": ListOf(ITEM, 1, 200)}, required=("items",)),
        NOTHING,
    ),
    "paper sheet": (
        Record(
            {"by": Text(80, 1, about="who wrote it"), "day": Day(), "from": Choice(("camera", "gallery"))},
            required=("by", "day"),
        ),
        PERSON,
    ),
    "hand over": (Record({"to": Text(80, 1), "note": Text(400)}, required=("to",)), PERSON),
    "photo marks": (
        Record({"sha256": HASH, "marks": ListOf(MARK, 0, MOST)}, required=("sha256", "marks")),
        NOTHING,
    ),
    "point": (
        Record(
            {
                "point": Text(16, 1, POINT_ID, "a point of the procedure"),
                "what": Choice(POINT_ACTS),
                "who": Text(80, about="who was told, came, waived or looked"),
                "how": Text(200, about="how he was told, or what he looked at"),
                "at": Moment("when, where it was another moment"),
            },
            required=("point", "what"),
        ),
        Record({"captures": ListOf(Text(80), 0, 1000, "what stood then of what a review covers")}),
    ),
    "withdrawal": (NOTHING, NOTHING),
    "amendment": (NOTHING, Record({"number": Whole(1, 1000)}, stored=("number",))),
    "drawing": (
        Record({"requirement": Text(80)}, required=("requirement",)),
        Record(
            {"requirement": REQUIREMENT, "judges": Choice(JUDGES, closed=True), "stood": OPEN},
            stored=("requirement", "judges"),
        ),
    ),
    "signature": (
        Record(
            {"meaning": Choice(("performed", "inspected")), "shown": EXTENT, "alone": Text(400)},
            required=("meaning",),
        ),
        Record({"certificate": OPEN, **COMPETENCE, **REDUCED, "amendment": Whole(1, 1000)}),
    ),
    "part used": (
        Record({"part": Text(80), "place": Text(80)}, required=("part",)),
        Record(dict.fromkeys(("kind", "name", "lot"), Text(80))),
    ),
    "re-review": (
        Record({"agreed": Choice(("yes", "no")), "shown": EXTENT}, required=("agreed",)),
        NOTHING,
    ),
    "elsewhere": (
        Record({"cause": Text(80)}),
        Record(
            {
                "other_end": ListOf(LENGTH, 0, 400, "the other end's readings by their places"),
                "other_end_mounting": Text(80),
                "earlier_heatings": Whole(0, 1000),
                "photos_seen_before": ListOf(HASH),
            },
            stored=("other_end", "other_end_mounting", "earlier_heatings", "photos_seen_before"),
        ),
    ),
}
"""Kind → the shapes of `said` and `seen`. `docs/entries.md` tells what they mean."""
