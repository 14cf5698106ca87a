"""The shape of one entry: as a ledger holds it (it has `v`), or as somebody writes it by hand."""

from qrecords.steps.interchange.asked import HASH
from qrecords.steps.interchange.bodies import BODIES, LONG, OPEN, SIZE
from qrecords.steps.interchange.plain_shapes import Choice, Moment, Shape, Text, Whole
from qrecords.steps.interchange.shapes import Anything, ByWord, Either, HasName, ListOf, Named, Null, Record

ID = Text(80, 1, about="any name that no other entry has")
WHEN: dict[str, Shape] = {"string": Named("moment", Moment()), "null": Null()}
AT_DEVICE = Named("at_device", Either(WHEN, "when it was done, by the device's clock"))
AT_SERVER = Named("at_server", Either(WHEN, "when it was received, if that differs"))
SAID_NOTHING = ("mounting", "withdrawal", "elsewhere", "amendment")
"""Kinds of which nothing has to be said."""
WITH_REASON = ("decision", "looked", "withdrawal", "amendment")

AUTHOR = Record({"person": Text(80, 1), "hash": Text(80)}, required=("person",))
BY_HAND_AUTHOR = Named(
    "author", Either({"string": Text(80, 1), "object": AUTHOR}, "who did it, by name or pseudonym")
)
FILE = Record(
    {
        "sha256": HASH,
        "shot": Either({"string": Text(40, 1), "null": Null()}),
        "size": SIZE,
        "media": Text(80),
    },
    required=("sha256", "shot"),
)
FILES = Named("files", ListOf(FILE, 0, 20))
_OR_NONE: dict[str, Shape] = {"string": LONG, "null": Null()}
VERSIONS = Record(
    {"tables": Either({"string": Text(64), "null": Null()})}, open=True, about="what was in force"
)
_BESIDE: dict[str, Shape] = {
    **dict.fromkeys(
        ("site", "object", "sender", "device", "counter", "identity", "zone", "known"), Anything()
    ),
    "versions": Named("versions", VERSIONS),
}
"""Of the envelope, and nothing that a judgement asks."""


def _body(kind: str) -> Record:
    said, seen = BODIES[kind]
    required = () if kind in SAID_NOTHING else ("said",)
    asked = (*required, "seen") if kind == "mounting" else required
    return Record({"said": said, "seen": seen}, required=asked)


def _written(kind: str) -> Record:
    return Record(
        {
            "about": Text(4000, about="a remark; nothing is judged by it"),
            "id": ID,
            "leaf": HASH,
            "kind": Choice((kind,)),
            "mounting": Text(80, 1),
            "author": BY_HAND_AUTHOR,
            "at_device": AT_DEVICE,
            "at_server": AT_SERVER,
            "body": _body(kind),
            "files": FILES,
            "prev": Named("prev", Either(_OR_NONE, "the entry corrected, or the tap undone")),
            "reason": Named("reason", Either(_OR_NONE)),
            **_BESIDE,
        },
        required=("kind", "author", "body", *(("reason",) if kind in WITH_REASON else ())),
        either=("at_device", "at_server"),
    )


WRITTEN = Named("written-entry", ByWord("kind", {kind: _written(kind) for kind in BODIES}))
LEDGER = Named(
    "ledger-entry",
    Record(
        {
            "v": Whole(1, 1, "", "the version of the envelope"),
            "id": ID,
            "leaf": HASH,
            "kind": Text(40, 1),
            "mounting": Text(80, 1),
            "author": Either({"object": AUTHOR, "null": Null()}),
            "at_device": Either(WHEN),
            "at_server": Moment(),
            "versions": VERSIONS,
            "body": Record({"said": OPEN, "seen": OPEN}, required=("said", "seen")),
            "files": ListOf(FILE, 0, 1000),
            "prev": Either(_OR_NONE),
            "reason": Either(_OR_NONE),
        },
        required=(
            *("v", "id", "leaf", "kind", "mounting", "author", "at_device", "at_server", "body", "files"),
            *("prev", "reason"),
        ),
        open=True,
        about="An entry as a ledger holds it, the whole envelope, with its leaf hash (RFC 9162) in hex.",
    ),
)
ENTRY = HasName("v", LEDGER, WRITTEN)
