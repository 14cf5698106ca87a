"""A procedure as one readable file: JSON in UTF-8, one thing a line, always in the same order.

What is exported and imported again is the same document with the same digest. `docs/procedure-file.md` tells
what each member means.
"""

import json
from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Any

from qrecords.steps.interchange.asked import PROCEDURE
from qrecords.steps.interchange.faults import MOST, CaseFaultsError, Fault
from qrecords.steps.interchange.json_text import not_whole, read_json
from qrecords.steps.new_procedure import BOUNDS, oddities
from qrecords.steps.procedure import DECIDED

FORM = "procedure/1"
"""Which form of file it is; another form has another number."""
ORDER = (
    "name",
    "revision",
    "contract",
    "decision_rule",
    "edition",
    "guard_factor",
    "agreed_with",
    "limits",
    *BOUNDS,
    "steps",
    "also",
    "optional",
    "optional_for_ball_and_sealed",
    "not_applicable",
    "planes",
    "directions",
    "photos",
    "holds",
    "points",
    "id",
    "kind",
    "title",
    "step",
    "party",
    "wording",
    "covers",
    "before",
    "notice_min",
    "may_decide",
    *DECIDED,
)
"""The order of what stands in it; what this program does not name follows by its name."""
MOST_BYTES = 200_000


def as_file(document: Mapping[str, Any]) -> str:
    """The text of the file."""
    whole = {"form": FORM, **ordered(document)}
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"


def ordered(value: Any) -> Any:
    """The members of a document in the order of the file; a database may keep them in another."""
    if isinstance(value, Mapping):
        known = {name: place for place, name in enumerate(ORDER)}
        names = sorted(value, key=lambda name: (known.get(name, len(ORDER)), name))
        return {name: ordered(value[name]) for name in names}
    return [ordered(each) for each in value] if isinstance(value, list | tuple) else value


def read_file(raw: bytes) -> dict[str, Any]:
    """The document of a file; CaseFaultsError names every place that is wrong, what stands there and what may
    stand there."""
    if len(raw) > MOST_BYTES:
        told, allowed = f"{len(raw):,} bytes", f"up to {MOST_BYTES:,} bytes"
        raise CaseFaultsError([Fault("", "too-large", told, "", allowed)])
    whole = read_json(raw)
    if not isinstance(whole, dict):
        raise CaseFaultsError([Fault("", "type", "", "", "an object", "no procedure")])
    document = {name: value for name, value in whole.items() if name != "form"}
    form = [] if whole.get("form", FORM) == FORM else [_other_form(whole["form"])]
    faults = [*form, *islice(faults_of(document), MOST + 1)]
    if faults:
        raise CaseFaultsError(faults)
    return document


def _other_form(said: object) -> Fault:
    return Fault("/form", "form", str(said)[:40], "", FORM, "is another form of file")


def faults_of(document: Mapping[str, Any]) -> Iterator[Fault]:
    """What is wrong with a document that somebody sends; what it means is asked once its shape is right."""
    shape = [*not_whole(dict(document)), *PROCEDURE.faults(dict(document), "")]
    yield from shape
    if not shape:
        for odd in oddities(document):
            yield Fault(odd.at, "document", why=odd.why)
