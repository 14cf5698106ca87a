"""The sheet of paper: what was written by hand at the work and entered later. It stays the fallback, and
nothing on it is proved by a clock."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Protocol

SHEET_SHOT = "paper_sheet"
"""The shot of a photo that shows the sheet itself."""
WRITTEN = re.compile(r"\d{4}-\d{2}-\d{2}( \d{2}:\d{2}(:\d{2})?)?")
REFERENCE_DIGITS = 8
"""So many figures of a release's leaf hash are enough to name it by hand: one in 4 × 10⁹ (own arithmetic)."""


@dataclass(frozen=True)
class Paper:
    """Beside an answer or a tap that was entered from a sheet: which, and day and time *as written*, where
    one was. `reference` is the release that *heater on* names there, as it was written by hand."""

    sheet: str
    written: str = ""
    reference: str = ""

    @property
    def to_the_second(self) -> bool:
        """Seconds stand on the sheet; a time in minutes measures no pressing and no carrying."""
        return self.written.count(":") == 2


@dataclass(frozen=True)
class Sheet:
    """A sheet handed in: who wrote it, on which day it was begun, and the photos of it (SHA-256)."""

    entry: str
    author: str
    by: str
    day: str
    at: datetime
    photos: tuple[str, ...]


def read_paper(document: Mapping[str, Any] | None) -> Paper | None:
    """What an entry says of its sheet; None for what was not entered from one."""
    if not document:
        return None
    told = (str(document.get(name, "")) for name in ("written", "reference"))
    return Paper(str(document["sheet"]), *told)


def plain_reference(text: str) -> str:
    """A reference as it was written by hand, without its gaps: `3F9A 12BC` → `3f9a12bc`."""
    return re.sub(r"[\s.-]", "", text).lower()


def short_reference(leaf: str) -> str:
    """How a release is named on paper: `3f9a 12bc`."""
    return f"{leaf[:4]} {leaf[4:REFERENCE_DIGITS]}"


class Given(Protocol):
    """Of a release what names it."""

    @property
    def leaf(self) -> str: ...
    @property
    def means(self) -> str: ...


def named_on_paper(release: Given) -> str:
    """How a release is named by hand; one given by telephone by its code, which is read back, not shown."""
    return "" if release.means == "telephone" else short_reference(release.leaf)


def names(reference: str, leaf: str) -> bool:
    """Whether what was written by hand names this leaf, in its first figures or whole."""
    plain = plain_reference(reference)
    return len(plain) >= REFERENCE_DIGITS and leaf.startswith(plain)
