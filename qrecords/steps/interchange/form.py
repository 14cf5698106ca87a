"""The whole interchange form of a case, and its published JSON Schema."""

from functools import cache
from typing import Any

from qrecords.steps.interchange.asked import GEAR, HASH, PROCEDURE, TABLES
from qrecords.steps.interchange.entries import ENTRY
from qrecords.steps.interchange.plain_shapes import Choice, Text, Whole
from qrecords.steps.interchange.shapes import HasName, ListOf, Record, published

FORM, VERSION = "mounting case", 1
NAME = "mounting-case"
MOST_ENTRIES = 5_000
ABOUT = (
    "Everything said of one mounting: what `manage.py judge` judges, what the API gives as the case document "
    "of a mounting, and what a package of evidence holds. A case from a ledger holds its entries as they "
    "are, each with its leaf hash; one written by hand needs of an entry only its kind, who, when, and what "
    "was said. Numbers with a fraction are text."
)
MEDIA = Text(80, 1, about="as text/csv")
FILE = HasName(
    "text",
    Record({"media": MEDIA, "text": Text(8_000_000)}, required=("media", "text")),
    Record({"media": MEDIA, "base64": Text(8_000_000)}, required=("media", "base64")),
)
CASE = Record(
    {
        "form": Choice((FORM,)),
        "version": Whole(VERSION, VERSION),
        "about": Text(4000, about="a remark; nothing is judged by it"),
        "procedure": PROCEDURE,
        "tables": TABLES,
        "gear": Record(
            {}, patterns={"^[ -~]{1,80}$": GEAR}, about="gear by the name under which fields name it"
        ),
        "entries": ListOf(ENTRY, 1, MOST_ENTRIES, "in the order of the ledger; the first opens the mounting"),
        "files": Record({}, patterns={HASH.pattern: FILE}, about="files that are judged, by their SHA-256"),
    },
    required=("form", "version", "entries"),
)


@cache
def case_schema() -> dict[str, Any]:
    return published(CASE, NAME, "Mounting case", ABOUT)
