"""Whether this person may take this decision about these findings now: as the table of findings and decisions
says, with what has to be proven first looked for in the record."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from qrecords.steps.case import Case
from qrecords.steps.deciding import LOOKED, Way, may
from qrecords.steps.findings import Fact, Finding
from qrecords.steps.first import PROOFS
from qrecords.steps.papers import LETTER
from qrecords.steps.runs import is_on
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import Refusal


@dataclass(frozen=True)
class Saying:
    """What a decider says beside his reason: until which day it holds, the customer's letter by its hash, and
    what he states to have seen himself."""

    expires: date | None = None
    letter: str = ""
    states: frozenset[str] = frozenset()

    def document(self) -> dict[str, object]:
        """As a decision states it: what was not said is left out."""
        said: dict[str, object] = {
            "expires": self.expires.isoformat() if self.expires else "",
            "letter": self.letter,
            "states": sorted(self.states),
        }
        return {name: value for name, value in said.items() if value}


NOTHING = Saying()


@dataclass(frozen=True)
class Offer:
    """One way as it stands now: by whom, and of what has to be proven first what is there and what lacks."""

    way: Way
    by: tuple[str, ...]
    proven: Mapping[str, Mapping[str, Fact]] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    customer: bool = False
    """The customer has to agree by a letter."""

    @property
    def kind(self) -> str:
        return self.way.kind


def offers(finding: Finding, case: Case) -> tuple[Offer, ...]:
    """Everything that may be done about a finding now."""
    rule = RULES[finding.rule]
    row, on = rule.row_of(finding, case), is_on(case)
    found = []
    for way in rule.ways(finding, case):
        proofs = {name: PROOFS[name](finding, case) for name in way.first}
        found.append(
            Offer(
                way,
                may(way.kind, row, case.procedure, on=on),
                {name: facts for name, facts in proofs.items() if facts is not None},
                tuple(name for name, facts in proofs.items() if facts is None),
                way.asks_customer(case.requirement.critical),
            )
        )
    return tuple(found)


def offer_of(finding: Finding, case: Case, kind: str) -> Offer | None:
    """The way of this kind, where the table offers one."""
    return next((offer for offer in offers(finding, case) if offer.kind == kind), None)


def refuse_offer(
    case: Case, kind: str, findings: Iterable[Finding], roles: Iterable[str], saying: Saying = NOTHING
) -> Refusal | None:
    """Why this decision may not be taken: it is another's, something has to be proven first, the decider has
    to state something, or the customer's letter is not here. What the table does not offer is told apart."""
    held = set(roles)
    for finding in findings:
        offer = offer_of(finding, case, kind)
        if offer is None:
            continue
        about = finding.characteristic
        if not held & set(offer.by):
            return Refusal("not-yours", {"finding": about, "may": offer.by})
        if offer.lacking:
            return Refusal("not-proven-first", {"finding": about, "first": offer.lacking})
        unsaid = tuple(name for name in offer.way.states if name not in saying.states)
        if unsaid:
            return Refusal("not-stated", {"finding": about, "states": unsaid})
        if offer.customer and not letter_here(case, saying.letter):
            return Refusal("customer-agrees", {"finding": about})
    return None


def letter_here(case: Case, sha256: str) -> bool:
    """The customer's letter of this hash was handed in with this record, and is here."""
    return any(p.kind == LETTER and p.sha256 == sha256 and p.received for p in case.papers)


def refuse_look(case: Case, finding: Finding, roles: Iterable[str]) -> Refusal | None:
    """The same for *looked, explained by…*; where the table has no word, whoever holds the right looks."""
    return refuse_offer(case, LOOKED, [finding], roles)


def proven(case: Case, kind: str, findings: Sequence[Finding]) -> dict[str, dict[str, Fact]]:
    """What was proven for a decision, by characteristic and proof: kept beside it."""
    found = {f.characteristic: offer_of(f, case, kind) for f in findings}
    facts = {name: offer.proven for name, offer in found.items() if offer and offer.proven}
    return {
        name: {f"{proof}.{fact}": value for proof, told in each.items() for fact, value in told.items()}
        for name, each in facts.items()
    }
