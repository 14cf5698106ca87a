"""Two revisions of what a drawing asks of a journal, field by field."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Differing:
    """One field of the document; None where a revision says nothing of it."""

    field: str
    before: str | None
    after: str | None


def compared(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Differing, ...]:
    """What differs, in the order of the documents. Numbers compare as they are written: 6.0 is not 6."""
    fields = dict.fromkeys((*before, *after))
    pairs = (Differing(field, _said(before.get(field)), _said(after.get(field))) for field in fields)
    return tuple(pair for pair in pairs if pair.before != pair.after)


def _said(value: Any) -> str | None:
    if value in (None, "", []):
        return None
    return " … ".join(str(each) for each in value) if isinstance(value, list | tuple) else str(value)
