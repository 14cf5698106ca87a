"""Attempts on this journal that were withdrawn before: what was found then is not gone with them."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse

from qrecords.mountings.models import FindingRow, Mounting
from qrecords.mountings.queries import withdrawn_before
from qrecords.web import parts
from qrecords.web.messages import sentence
from qrecords.web.names import name
from qrecords.web.showing import FIGURES


@dataclass(frozen=True)
class Flagged:
    """One finding of a withdrawn attempt; without figures for who has to read for himself first."""

    verdict: parts.Verdict
    name: str
    words: str


@dataclass(frozen=True)
class Withdrawn:
    number: str
    href: str
    flagged: Sequence[Flagged]


def withdrawn(mounting: Mounting, *, blind: bool) -> list[Withdrawn]:
    """Oldest first; two queries."""
    return [
        Withdrawn(
            each.number,
            reverse("sheet", args=[each.id]),
            [_flagged(row, blind=blind) for row in each.findings.all()],
        )
        for each in withdrawn_before(mounting)
    ]


def _flagged(row: FindingRow, *, blind: bool) -> Flagged:
    told = "" if blind else " ".join(sentence(row.document["message"], row.document["facts"], FIGURES))
    return Flagged(parts.Verdict(row.verdict), name(row.characteristic), told.strip())
