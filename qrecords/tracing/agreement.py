"""Whether the rows of people, registers and mountings say what their entries say.

These rows are written once with their entry and are what everybody looks up; who could change one could
change a limit or a right without a trace in the log. Nothing is mended here: which of the two is right is for
people to find out. Batch by batch, so memory does not grow with the registers.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import Exists, Model, OuterRef

from qrecords.ledger.models import Entry
from qrecords.mountings.models import Capture, Mounting
from qrecords.people.actions import name_hash
from qrecords.people.models import Person, PersonVersion, RoleGrant, Token
from qrecords.proof.canonical import parse_canonical
from qrecords.signoff.models import Decision, RebuildRelease, Release, Signature
from qrecords.tracing.agreement_care import OF_CARE
from qrecords.tracing.agreement_lives import LIVES
from qrecords.tracing.agreement_look_backs import OF_LOOK_BACKS
from qrecords.tracing.agreement_people import PEOPLE
from qrecords.tracing.agreement_procedures import OF_PROCEDURES
from qrecords.tracing.registered import (
    Content,
    Pairs,
    Register,
    moment_of,
    said_of,
    same_names,
    since,
    site_of,
)
from qrecords.workshop.models import (
    Bearing,
    Equipment,
    EquipmentVersion,
    Journal,
    JournalRequirement,
    Machine,
    Rebuild,
    ShiftStart,
    Site,
    TableRow,
    TableRowAct,
)
from qrecords.workshop.table_actions import KINDS

BATCH = 500


def _person(row: PersonVersion, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "person": (str(row.person_id), said["person"]),
        "hash": (row.hash, said["hash"]),
        "name": (name_hash(row.name, bytes(row.salt)), said["hash"]),
    }


def _grant(row: RoleGrant, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "person": (str(row.person_id), said["person"]),
        "role": (row.role, said["role"]),
        "valid_from": since(row.valid_from, said["from"], content),
    } | site_of(row, content)


def _token(row: Token, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "label": (row.label, said["label"]),
        "actions": (row.actions, said["actions"]),
        "valid_to": (row.valid_to, datetime.fromisoformat(said["to"])),
        "person": (str(row.person_id), content["object"]["id"]),
    }


def _machine(row: Machine, content: Content) -> Pairs:
    return same_names("name", "owner", "scheme", "released_by")(row, content) | {
        "mark": (row.mark, content["body"]["seen"]["mark"])
    }


def _rebuild(row: Rebuild, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "machine": (str(row.machine_id), said["machine"]),
        "work_order": (row.work_order, said["work_order"]),
        "opened_at": (moment_of(row.opened_at), content["at_server"]),
    } | site_of(row, content)


def _journal(row: Journal, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "machine": (str(row.machine_id), said["machine"]),
        "shaft": (row.shaft, said["shaft"]),
        "position": (row.position, said["position"]),
    } | site_of(row, content)


def _requirement(row: JournalRequirement, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "journal": (str(row.journal_id), content["object"]["id"]),
        "document": (row.document, dict(said)),
        "drawing": (row.drawing, str(said["drawing"])),
        "revision": (row.revision, str(said["revision"])),
        "valid_from": (moment_of(row.valid_from), content["at_server"]),
    }


def _shift(row: ShiftStart, content: Content) -> Pairs:
    return {
        "document": (row.document, dict(said_of(content))),
        "person": (str(row.person), content["author"]["person"]),
        "at": (moment_of(row.at), content["at_device"] or content["at_server"]),
    } | site_of(row, content)


def _version(row: EquipmentVersion, content: Content) -> Pairs:
    said = dict(said_of(content))
    from_ = said.pop("valid_from")
    return {
        "equipment": (str(row.equipment_id), content["object"]["id"]),
        "document": (row.document, said),
        "due": (str(row.due or ""), str(said.get("due") or "")),
        "valid_from": since(row.valid_from, from_, content),
    }


def _table_row(row: TableRow, content: Content) -> Pairs:
    return {
        "document": (row.document, dict(said_of(content))),
        "reason": (row.reason, content["reason"]),
        "proposed_by": (str(row.proposed_by), content["author"]["person"]),
        "proposed_at": (moment_of(row.proposed_at), content["at_server"]),
    } | site_of(row, content)


def _table_act(row: TableRowAct, content: Content) -> Pairs:
    seen = content["body"]["seen"]
    return {
        "row": (str(row.row_id), said_of(content)["row"]),
        "nth": (row.nth, seen["nth"]),
        "by": (str(row.by), content["author"]["person"]),
        "by_hash": (row.by_hash, content["author"]["hash"]),
        "on": (row.on, seen["on"]),
        "at": (moment_of(row.at), content["at_server"]),
        "reason": (row.reason, content["reason"] or ""),
    } | site_of(row, content)


def _mounting(row: Mounting, content: Content) -> Pairs:
    said, seen = said_of(content), content["body"]["seen"]
    return {
        "journal": (str(row.journal_id), said["journal"]),
        "bearing": (str(row.bearing_id), said["bearing"]),
        "rebuild": (str(row.rebuild_id), said["rebuild"]),
        "attempt_of": (str(row.attempt_of_id or ""), seen["attempt_of"]),
        "number": (row.number, seen["number"]),
        "procedure": (row.procedure_digest, content["versions"]["procedure"]),
        "tables": (row.tables_digest, content["versions"]["tables"]),
        "opened_at": (moment_of(row.opened_at), content["at_device"] or content["at_server"]),
        "opened_by": (str(row.opened_by), content["author"]["person"]),
    } | site_of(row, content)


def _key(row: Any, content: Content) -> Pairs:
    found: Pairs = {"mounting": (str(row.mounting_id), content["mounting"])}
    for name in ("step", "meaning"):
        if hasattr(row, name):
            found[name] = (getattr(row, name), said_of(content)[name])
    if hasattr(row, "amendment"):
        found["amendment"] = (row.amendment, content["body"]["seen"].get("amendment", 0))
    return found


def _rebuild_release(row: RebuildRelease, content: Content) -> Pairs:
    return {"rebuild": (str(row.rebuild_id), content["object"]["id"])}


REGISTERS = (
    Register("person", "person", PersonVersion, _person),
    Register("role", "role grant", RoleGrant, _grant),
    *PEOPLE,
    Register("token", "token", Token, _token),
    Register("site", "site", Site, same_names("code", "name", "zone")),
    Register("machine", "machine", Machine, _machine),
    Register("rebuild", "rebuild", Rebuild, _rebuild),
    Register("journal", "journal", Journal, _journal),
    Register("journal requirement", "journal requirement", JournalRequirement, _requirement),
    Register(
        "bearing",
        "bearing",
        Bearing,
        same_names("designation", "serial", "lot", "date_code", "delivery"),
    ),
    Register("shift start", "shift start", ShiftStart, _shift),
    Register("equipment", "equipment", Equipment, same_names("kind", "mark")),
    Register("calibration", "calibration", EquipmentVersion, _version),
    *OF_PROCEDURES,
    *OF_LOOK_BACKS,
    *OF_CARE,
    Register("row of a table", "table row", TableRow, _table_row),
    *(
        Register(f"row of a table {what}", kind, TableRowAct, _table_act, {"what": what})
        for what, kind in KINDS.items()
    ),
    Register("mounting", "mounting", Mounting, _mounting),
    Register("capture", "capture", Capture, _key),
    Register("release", "release", Release, _key),
    Register("decision", "decision", Decision, _key),
    Register("signature", "signature", Signature, _key),
    *LIVES,
    Register("release of a rebuild", "rebuild release", RebuildRelease, _rebuild_release),
)


def differences() -> Iterator[str]:
    """Every row that does not say what its entry says, has no entry, or is missing; as sentences."""
    for register in REGISTERS:
        yield from _of(register)
    yield from _ended_roles()
    orphans = Person.objects.filter(~Exists(PersonVersion.objects.filter(person=OuterRef("pk"))))
    for person in orphans.iterator(BATCH):
        yield f"person {person.pk} has no name version"


def _of(register: Register) -> Iterator[str]:
    rows = register.model._default_manager.filter(**register.only).order_by("pk").iterator(BATCH)
    for batch in _batches(rows):
        entries = _contents(register.kind, [row.pk for row in batch])
        for row in batch:
            content = entries.get(row.pk)
            if content is None:
                yield f"{register.name} {row.pk}: no entry made this row"
            else:
                yield from _differing(register, row, content)
    yield from _missing(register)


def _differing(register: Register, row: Model, content: Content) -> Iterator[str]:
    for name, (here, wanted) in register.says(row, content).items():
        if here != wanted:
            shown = (str(here)[:80], str(wanted)[:80]) if name not in ("name", "hash") else ("", "")
            what = (
                f"says {shown[0]!r}, its entry {shown[1]!r}" if any(shown) else "is not what its entry says"
            )
            yield f"{register.name} {row.pk}: {name} {what}"


def _missing(register: Register) -> Iterator[str]:
    """Entries whose row is gone. A *performed* signature has no row of its own."""
    here = register.model._default_manager.filter(pk=OuterRef("pk"))
    entries = Entry.objects.filter(~Exists(here), kind=register.kind)
    for id, payload in entries.values_list("id", "payload").iterator(BATCH):
        meaning = said_of(parse_canonical(bytes(payload))).get("meaning")
        if meaning != "performed":
            yield f"{register.name} {id}: the entry is there, the row is gone"


def _ended_roles() -> Iterator[str]:
    """The end of a role is an entry of its own, and only that may end one."""
    for batch in _batches(RoleGrant.objects.order_by("pk").iterator(BATCH)):
        ends: dict[str, str] = {}
        people = {grant.person_id for grant in batch}
        rows = Entry.objects.filter(kind="role end", subject__in=people).order_by("leaf__index")
        for payload in rows.values_list("payload", flat=True):
            content = parse_canonical(bytes(payload))
            said = said_of(content)
            # Entries of the first version named the moment; since then it is the server's.
            named = datetime.fromisoformat(said["to"]) if said["to"] else None
            ends.setdefault(said["grant"], moment_of(named) if named else content["at_server"])
        for grant in batch:
            here, wanted = moment_of(grant.valid_to) if grant.valid_to else None, ends.get(str(grant.pk))
            if here != wanted:
                yield f"role {grant.pk}: valid_to says {here}, its entries {wanted}"


def _contents(kind: str, ids: Iterable[UUID]) -> dict[UUID, Content]:
    rows = Entry.objects.filter(kind=kind, id__in=list(ids)).values_list("id", "payload")
    return {id: parse_canonical(bytes(payload)) for id, payload in rows}


def _batches(rows: Iterable[Any]) -> Iterator[list[Any]]:
    batch: list[Any] = []
    for row in rows:
        batch.append(row)
        if len(batch) == BATCH:
            yield batch
            batch = []
    if batch:
        yield batch
