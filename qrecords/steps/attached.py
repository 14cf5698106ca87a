"""What an attachment says beside its bytes: when by its camera, and what the text of a log leaves open."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, Protocol

from qrecords.steps.acts import LOG_SHOT, LogSaid


class Filed(Protocol):
    """Of an entry what names its files."""

    @property
    def kind(self) -> str: ...
    @property
    def payload(self) -> Mapping[str, Any]: ...


def camera_moment(text: str) -> datetime | None:
    """When a camera says it took a photo, by its file (EXIF 36867 and 36881); None without a zone."""
    if not text:  # a file that tells no time needs no calendar to be asked
        return None
    try:
        return datetime.strptime(text, "%Y:%m:%d %H:%M:%S %z")
    except ValueError:
        return None


def read_log_said(document: Mapping[str, Any]) -> LogSaid:
    """What an attachment says of its log; nothing of it has to be said."""
    columns = {str(ring): int(place) for ring, place in document.get("columns", {}).items()}
    heating = int(document.get("heating", 0))
    return LogSaid(columns, str(document.get("unit", "")), str(document.get("probe", "")), heating)


def logs_named(entries: Sequence[Filed]) -> list[str]:
    """The SHA-256 of every heating log that these entries hand in and say is received."""
    kinds: dict[str, list[str]] = {"attachment": [], "file received": []}
    for entry in entries:
        if entry.kind == "attachment":
            files = entry.payload["files"]
            kinds[entry.kind] += [file["sha256"] for file in files if file["shot"] == LOG_SHOT]
        elif entry.kind == "file received":
            kinds[entry.kind].append(entry.payload["body"]["said"]["sha256"])
    return [sha256 for sha256 in dict.fromkeys(kinds["attachment"]) if sha256 in kinds["file received"]]
