"""Reading a case document: every fault with its place, or the case that it describes."""

import base64
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.tables import Tables
from qrecords.proof.canonical import canonical_bytes
from qrecords.proof.errors import CanonicalError
from qrecords.proof.merkle import leaf_hash
from qrecords.steps.case import Case
from qrecords.steps.errors import DocumentError
from qrecords.steps.fields import Gear, field_of
from qrecords.steps.folding import Fold, Logs
from qrecords.steps.interchange.asked import REQUIREMENT
from qrecords.steps.interchange.bodies import BODIES
from qrecords.steps.interchange.faults import MOST, CaseFaultsError, Fault, below, told
from qrecords.steps.interchange.filling import Filling, Line, gear_faults
from qrecords.steps.interchange.form import CASE
from qrecords.steps.interchange.json_text import not_whole, read_json
from qrecords.steps.interchange.laid_over import tables_of
from qrecords.steps.log_text import read_or_why
from qrecords.steps.new_drawing import read_new_requirement
from qrecords.steps.procedure import STANDARD, Procedure, read_procedure
from qrecords.steps.requirement import BOUNDS, read_requirement
from qrecords.steps.work import STEPS

ENTRIES, FIRST = "/entries", "/entries/0"
MOST_GUARD = 10
OPENING = "/entries/0/body/seen/requirement"


@dataclass(frozen=True)
class CaseRead:
    """A case that can be judged. `doubts` is what somebody should look at in the document itself: it was
    judged as it stands. `own_procedure` is false where it names none and the standard one was taken."""

    case: Case
    doubts: tuple[Fault, ...]
    own_procedure: bool


def read_case(raw: bytes) -> CaseRead:
    """The case of a document in bytes; CaseFaultsError tells every fault and where it stands."""
    return case_of_document(read_json(raw))


def case_of_document(document: Any) -> CaseRead:
    """The same of a document that `read_json` could have given."""
    _raise(_of_shape(document))
    procedure, tables = _procedure(document), tables_of(document.get("tables", {}))
    _raise(_of_the_opening(document, tables))
    _raise(_of_gear(document))
    _raise(_of_files(document))
    filling = Filling(procedure, tables, logs_in(document), document.get("gear", {}), Fold())
    filling.doubts += _other_tables(document, tables)
    for place, entry in enumerate(document["entries"]):
        _take(filling, entry, below(ENTRIES, place))
    _raise(_of_the_whole(document, filling))
    case = filling.so_far()
    filling.doubts += _lacking(case)
    return CaseRead(case, tuple(filling.doubts), "procedure" in document)


def _of_shape(document: Any) -> Iterator[Fault]:
    """What the shape refuses, and the numbers with a fraction that stand where it asks nothing."""
    places = set()
    for fault in CASE.faults(document, ""):
        places.add(fault.at)
        yield fault
    yield from (fault for fault in not_whole(document) if fault.at not in places)


def _raise(faults: Iterator[Fault]) -> None:
    found = list(islice(faults, MOST + 1))
    if found:
        raise CaseFaultsError(found)


def _procedure(document: Mapping[str, Any]) -> Procedure:
    at = "/procedure/decision_rule/guard_factor"
    try:
        found = read_procedure(document.get("procedure", STANDARD))
        if not 0 <= found.guard_factor <= MOST_GUARD:
            allowed = f"0…{MOST_GUARD} u"
            raise CaseFaultsError([Fault(at, "range", f"{found.guard_factor}", "u", allowed)])
        return found
    except DocumentError as error:
        raise CaseFaultsError([Fault(below("/procedure", error.field), "document", why=error.why)]) from None
    except EngineeringError as error:
        raise CaseFaultsError([Fault(at, "document", why=str(error))]) from None


def _of_the_opening(document: Mapping[str, Any], tables: Tables) -> Iterator[Fault]:
    """The first entry opens the mounting and says what is asked."""
    first = document["entries"][0]
    if first["kind"] != "mounting":
        allowed = "mounting: the first entry says what is asked"
        yield Fault(below(FIRST, "kind"), "opening", told(first["kind"]), "", allowed)
        return
    asked = first["body"]["seen"].get("requirement")
    faults = list(REQUIREMENT.faults(asked, OPENING, stored="v" in first))
    yield from faults
    if not faults:
        yield from _of_requirement(asked, tables)


def _of_requirement(asked: Mapping[str, Any], tables: Tables) -> Iterator[Fault]:
    try:
        read_requirement(asked, tables)
    except DocumentError as error:
        unit = BOUNDS[error.field][2] if error.field in BOUNDS else ""
        plain = not isinstance(asked.get(error.field, []), list) and "'" not in error.why
        value = told(asked[error.field]) if plain else ""
        yield Fault(below(OPENING, error.field), "document", value, unit if value else "", why=error.why)
    except EngineeringError as error:
        yield Fault(OPENING, "document", why=str(error))


def _other_tables(document: Mapping[str, Any], tables: Tables) -> list[Fault]:
    """Where the case was judged by other tables than these: a limit may have been another one."""
    told_by = {
        "/tables/digest": document.get("tables", {}).get("digest"),
        "/entries/0/versions/tables": (document["entries"][0].get("versions") or {}).get("tables"),
    }
    why = "judged by other tables than it names"
    return [
        Fault(at, "other-tables", told(digest), "", tables.digest, why)
        for at, digest in told_by.items()
        if digest is not None and digest != tables.digest
    ]


def _of_gear(document: Mapping[str, Any]) -> Iterator[Fault]:
    for name, piece in document.get("gear", {}).items():
        yield from gear_faults(piece, below("/gear", name))
    for place, entry in enumerate(document["entries"]):
        seen = entry["body"].get("seen", {})
        if entry["kind"] != "capture":
            continue
        for part in ("gear", "gear_received"):
            pieces = seen.get(part)
            for name, piece in pieces.items() if isinstance(pieces, dict) else ():
                if isinstance(piece, dict) and isinstance(piece.get("range_nm"), list):
                    at = below(below(f"{ENTRIES}/{place}/body/seen", part), name)
                    yield from gear_faults(piece, at)


def _take(filling: Filling, entry: Mapping[str, Any], at: str) -> None:
    """Add one entry to the fold: as the ledger holds it, or filled in."""
    if "v" not in entry:
        line = filling.line(entry, at)
    else:
        line = Line(entry["id"], entry["kind"], entry, entry["leaf"])
        filling.mounting = filling.mounting or entry["mounting"]
        filling.doubts += _altered(entry, at)
    if line.id in filling.names:
        filling.faults.append(Fault(below(at, "id"), "twice", told(line.id), "", "", "names two entries"))
    filling.names.add(line.id)
    if filling.faults:
        return  # nothing is folded on what is not sure; the rest is only read
    filling.fold.take(line)
    if "v" in entry and line.id not in filling.fold.unread:
        filling.faults += _of_ledger(entry, at)
    if filling.opening is None and not filling.faults:
        filling.opening = filling.so_far()
        filling.doubts += _of_drawing(filling.opening)


def _altered(entry: Mapping[str, Any], at: str) -> list[Fault]:
    content = {name: value for name, value in entry.items() if name != "leaf"}
    try:
        same = leaf_hash(canonical_bytes(content)).hex() == entry["leaf"]
    except CanonicalError:
        same = False
    why = "is not of this entry: what stands here was judged"
    return [] if same else [Fault(below(at, "leaf"), "altered", told(entry["leaf"]), why=why)]


def _of_drawing(opening: Case) -> list[Fault]:
    """What would be asked back of a new drawing today."""
    try:
        read_new_requirement(opening.requirement.document, opening.tables)
    except DocumentError as error:
        return [Fault(below(OPENING, error.field), "unusual", why=error.why)]
    except EngineeringError as error:
        return [Fault(OPENING, "unusual", why=str(error))]
    return []


def _of_ledger(entry: Mapping[str, Any], at: str) -> list[Fault]:
    """What no rule could judge in an entry that the fold has read: values of another type than their field.
    Words and fields this program does not know pass."""
    kind = entry["kind"]
    if kind not in BODIES:
        return []
    faults: list[Fault] = []
    for part, shape in zip(("said", "seen"), BODIES[kind], strict=True):
        place = below(below(at, "body"), part)
        faults += shape.faults(entry["body"][part], place, stored=True)
    if kind == "capture" and not faults:
        faults += _of_fields(entry["body"], below(below(below(at, "body"), "said"), "fields"))
    return faults


def _of_fields(body: Mapping[str, Any], at: str) -> Iterator[Fault]:
    """Fields of a known step at places that are none, and gear that was named and not frozen beside it."""
    step, gear = STEPS.get(str(body["said"]["step"])), body["seen"].get("gear", {})
    heads = {field.id: field.place for field in step.fields if field.many} if step else {}
    for key, answer in body["said"]["fields"].items():
        asked = field_of(step.by_id, key) if step else None
        head = key.split(".", 1)[0]
        if asked is None and head in heads:
            yield Fault(below(at, key), "unknown", "", "", f"{head}.{heads[head]}")
        if asked and isinstance(asked.form, Gear) and "state" not in answer and key not in gear:
            yield Fault(below(at, key), "gear", told(answer.get("value")), why="is not frozen beside it")


def _of_the_whole(document: Mapping[str, Any], filling: Filling) -> Iterator[Fault]:
    yield from filling.faults
    for place, entry in enumerate(document["entries"]):
        if "v" not in entry and entry.get("prev") and entry["prev"] not in filling.names:
            at = below(below(ENTRIES, place), "prev")
            yield Fault(at, "reference", told(entry["prev"]), "", "the id of an entry of this case")


def _of_files(document: Mapping[str, Any]) -> Iterator[Fault]:
    for sha256, file in document.get("files", {}).items():
        yield from _file_faults(sha256, file, below("/files", sha256))


def _lacking(case: Case) -> list[Fault]:
    """Logs that were received and do not stand in the document: judged as if they were not here."""
    return [
        Fault(below("/files", file.sha256), "file", why=f"the heating log of {file.entry} is not here")
        for file in case.log_files
        if file.received and file.sha256 not in case.logs
    ]


def logs_in(document: Mapping[str, Any]) -> Logs:
    """The samples of every file of text that a case may name as a heating log."""
    files = document.get("files", {})
    return {sha256: read_or_why(_content(file)) for sha256, file in files.items()}


def _file_faults(sha256: str, file: Mapping[str, str], at: str) -> Iterator[Fault]:
    try:
        content = _content(file)
    except ValueError:
        yield Fault(below(at, "base64"), "base64", "", "", "base64 (RFC 4648)")
        return
    found = hashlib.sha256(content).hexdigest()
    if found != sha256:
        yield Fault(at, "sha256", found, "", sha256, "is the SHA-256 of what stands here")


def _content(file: Mapping[str, str]) -> bytes:
    return file["text"].encode() if "text" in file else base64.b64decode(file["base64"], validate=True)
