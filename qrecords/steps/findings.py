"""What one rule says of one characteristic, with everything needed to check it by hand."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Any

from qrecords.engineering.result import Result
from qrecords.engineering.tables import own_copies_of, unconfirmed_of
from qrecords.proof.canonical import canonical_bytes


class Verdict(StrEnum):
    """ISO 14253-1 and ISO 9000 words, and the query that only asks somebody to look."""

    CONFORMING = "conforming"
    NOT_PROVEN = "not proven"
    NONCONFORMING = "nonconforming"
    MISSING = "missing"
    QUERY = "query"


OPEN_VERDICTS = frozenset({Verdict.NOT_PROVEN, Verdict.NONCONFORMING, Verdict.MISSING})
"""Verdicts that keep a record from being signed until somebody decided them."""

WORST_FIRST = (Verdict.NONCONFORMING, Verdict.NOT_PROVEN, Verdict.MISSING, Verdict.QUERY, Verdict.CONFORMING)
"""The order on paper and in years: what is missing there comes no more."""
TO_DO_FIRST = (Verdict.NONCONFORMING, Verdict.NOT_PROVEN, Verdict.QUERY, Verdict.MISSING, Verdict.CONFORMING)
"""The order at work: what somebody has to look at goes before what is still to come."""

Fact = int | str


@dataclass(frozen=True)
class Finding:
    """One verdict on one characteristic.

    `message` names the sentence, `facts` its values; a fact's name ends in its base unit where it is a
    quantity (`_nm`, `_mdegc`, `_mk`, `_ms`, `_nt`). `value`, `u`, `lower`, `upper` are integers of `unit`.
    `inputs` are the entries it rests on; `working` shows the formula with the numbers put in.
    """

    rule: str
    version: int
    characteristic: str
    verdict: Verdict
    message: str
    facts: Mapping[str, Fact] = field(default_factory=dict)
    unit: str = ""
    value: int | None = None
    u: int | None = None
    lower: int | None = None
    upper: int | None = None
    source: str = ""
    inputs: tuple[str, ...] = ()
    working: Result | None = None
    unconfirmed: tuple[str, ...] = ()
    """What nobody confirmed of what it rests on; a row of the site's own copy stands there too, marked."""

    @property
    def key(self) -> str:
        return f"{self.rule}/{self.characteristic}"

    @property
    def margin(self) -> int | None:
        """Distance to the nearer limit in base units; negative outside."""
        if self.value is None:
            return None
        ways = [self.value - self.lower] if self.lower is not None else []
        ways += [self.upper - self.value] if self.upper is not None else []
        return min(ways) if ways else None

    def statement(self) -> dict[str, Any]:
        """What a decision binds to: the verdict with its numbers and the entries it rests on."""
        return {
            "rule": self.rule,
            "version": self.version,
            "characteristic": self.characteristic,
            "verdict": self.verdict.value,
            "value": self.value,
            "u": self.u,
            "lower": self.lower,
            "upper": self.upper,
            "inputs": sorted(self.inputs),
            "message": self.message,
            "facts": dict(self.facts),
        }

    @cached_property
    def digest(self) -> str:
        return hashlib.sha256(canonical_bytes(self.statement())).hexdigest()

    def document(self) -> dict[str, Any]:
        """The finding as a judgement stores it: floats become text, nothing is recomputed later."""
        document = self.statement() | {
            "unit": self.unit,
            "source": self.source,
            "digest": self.digest,
        }
        document |= told_of_rows(self.unconfirmed)
        if self.working is not None:
            document["working"] = working_document(self.working)
        return document


def working_document(result: Result) -> dict[str, Any]:
    return {
        "value": f"{result.value:.4g}",
        "unit": result.unit,
        "u": "" if result.u is None else f"{result.u:.2g}",
        "formula": result.formula,
        "put_in": [list(pair) for pair in result.put_in],
        "assumptions": list(result.assumptions),
        "source": result.source,
        "unconfirmed": [],
        "validity": list(result.validity),
    } | told_of_rows(result.unconfirmed)


def working_in_parts(result: Result) -> dict[str, Any]:
    """A working as it is answered: what it rests on in parts."""
    return working_document(result) | of_rows(result.unconfirmed)


def of_rows(told: tuple[str, ...]) -> dict[str, Any]:
    """What a figure rests on: what nobody confirmed, and rows of the site's own copy with their approval."""
    own = [
        {
            "row": copy.row,
            "where": copy.sources,
            "approval": copy.approval,
            "approved_by": copy.by,
            "approved_on": copy.on,
        }
        for copy in own_copies_of(told)
    ]
    return {"unconfirmed": list(unconfirmed_of(told)), "own_copy": own}


def told_of_rows(told: tuple[str, ...]) -> dict[str, list[str]]:
    """What is unconfirmed, and what is of the site's own copy, each where there is any."""
    doubts = list(unconfirmed_of(told))
    own = [text for text in told if text not in doubts]
    return {name: texts for name, texts in (("unconfirmed", doubts), ("own_copy", own)) if texts}
