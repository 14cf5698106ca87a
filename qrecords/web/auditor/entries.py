"""Entries as a table shows them and as CSV carries them."""

import json
from collections.abc import Iterator
from dataclasses import dataclass

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext

from qrecords.people.bounds import zone_of
from qrecords.tracing.record import Line, Record
from qrecords.web.auditor.saying import Saying, saying


@dataclass(frozen=True)
class EntryRow:
    """One entry as the table shows it."""

    line: Line
    place: str
    href: str
    at: str
    received: str
    zone: str
    who: str
    identity: str
    saying: Saying
    leaf: str
    replaced_by: str
    files: tuple[str, ...]


def entry_row(line: Line, zone: str) -> EntryRow:
    payload = line.entry.payload
    index = line.entry.index
    by = f"{line.author} ({gettext('sent by')} {line.sender})" if line.sender else line.author
    return EntryRow(
        line=line,
        place="" if index is None else str(index),
        href=reverse("entry", args=[line.entry.id]),
        at=date_format(line.at.astimezone(zone_of(zone)), "j M Y H:i:s"),
        received=_received(line, zone),
        zone=payload["zone"] or "",
        who=by or gettext("the installation"),
        identity=identity_words(payload["identity"]),
        saying=saying(line),
        leaf=line.entry.leaf,
        replaced_by=f"#e-{line.replaced_by}" if line.replaced_by else "",
        files=tuple(f"{file['sha256']} · {file['size']} · {file['media']}" for file in payload["files"]),
    )


def _received(line: Line, zone: str) -> str:
    """When it came, where that is not the moment of the act."""
    late = (line.received - line.at).total_seconds()
    if abs(late) < 1:
        return ""
    received, at = (moment.astimezone(zone_of(zone)) for moment in (line.received, line.at))
    return date_format(received, "H:i:s" if received.date() == at.date() else "j M Y H:i:s")


def identity_words(identity: str | None) -> str:
    words = {
        "session": gettext("signed in"),
        "pin": gettext("by PIN"),
        "proved": gettext("proved again"),
        None: gettext("no person"),
    }
    return words.get(identity, str(identity))


HEAD = (
    "index", "leaf", "id", "kind", "at_device", "at_server", "zone", "author", "author_name", "sender",
    "identity", "prev", "reason", "said", "seen", "files",
)  # fmt: skip


def entries_csv(record: Record) -> Iterator[tuple[str, ...]]:
    """Every entry of the record, a row each, with what was said as JSON."""
    yield HEAD
    for line in record.lines:
        payload = line.entry.payload
        author, sender = payload["author"] or {}, payload["sender"] or {}
        yield (
            str(line.entry.index), line.entry.leaf, str(line.entry.id), line.entry.kind,
            payload["at_device"] or "", payload["at_server"], payload["zone"] or "",
            author.get("person", ""), line.author, sender.get("person", ""), payload["identity"] or "",
            payload["prev"] or "", line.reason,
            json.dumps(line.said, ensure_ascii=False, sort_keys=True),
            json.dumps(line.seen, ensure_ascii=False, sort_keys=True),
            json.dumps(payload["files"], sort_keys=True),
        )  # fmt: skip
