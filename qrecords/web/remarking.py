"""Remarks as a page shows them: beside the findings, counted with none of them."""

from dataclasses import dataclass

from qrecords.steps.case import Case
from qrecords.steps.remarks import Kind, all_remarks
from qrecords.web.messages import sentence
from qrecords.web.parts import Verdict
from qrecords.wording.figures import Figures

OF_THE_READINGS = frozenset({"hoop-stress"})
"""Remarks that tell of readings which a second reader has still to read himself."""


@dataclass(frozen=True)
class Remarked:
    """`verdict` is the word *unusual* in its frame; None for what is only information."""

    verdict: Verdict | None
    lead: str
    rest: str


def remarked(case: Case, figures: Figures, *, blind: bool = False) -> tuple[Remarked, ...]:
    """Every remark of a record, the unusual first; `blind` keeps back what tells of readings."""
    return tuple(
        Remarked(
            Verdict("unusual") if remark.kind == Kind.UNUSUAL else None,
            *sentence(remark.id, remark.facts, figures),
        )
        for remark in all_remarks(case)
        if not (blind and remark.id in OF_THE_READINGS)
    )
