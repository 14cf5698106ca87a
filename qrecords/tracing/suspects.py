"""From a damage that somebody sees to the answers and findings of one mounting that tell most about it."""

from dataclasses import dataclass

from qrecords.steps.answers import Absent
from qrecords.steps.case import Answered, Case
from qrecords.steps.damage import PARTS, Damage
from qrecords.steps.findings import Finding

RULE = "rule:"


@dataclass(frozen=True)
class Place:
    """One thing to look at: the answers to a field (of a many-field all), or the findings of a rule. Both
    empty: nobody said anything of it. `asked` False: this record's procedure does not ask for it."""

    name: str
    answers: tuple[Answered, ...] = ()
    findings: tuple[Finding, ...] = ()
    asked: bool = True

    @property
    def told(self) -> bool:
        return bool(self.answers or self.findings)

    @property
    def absent(self) -> bool:
        """Every answer says why there is none."""
        return bool(self.answers) and all(isinstance(a.answer, Absent) for a in self.answers)


@dataclass(frozen=True)
class Suspect:
    """One part of the work, in the order of suspicion. Without places it is nothing that records ask for."""

    part: str
    places: tuple[Place, ...]


@dataclass(frozen=True)
class Suspects:
    damage: Damage
    first: tuple[Place, ...]
    parts: tuple[Suspect, ...]


def suspects(damage: Damage, case: Case, findings: tuple[Finding, ...]) -> Suspects:
    """What this mounting says of the suspected parts of the work: first what tells most."""
    parts = (
        Suspect(
            name,
            tuple(
                place_of(place, case, findings)
                for place in (*PARTS[name].fields, *(RULE + rule for rule in PARTS[name].rules))
            ),
        )
        for name in damage.suspects
    )
    first = tuple(place_of(place, case, findings) for place in damage.first)
    return Suspects(damage, first, tuple(parts))


def place_of(name: str, case: Case, findings: tuple[Finding, ...]) -> Place:
    if name.startswith(RULE):
        of_rule = tuple(f for f in findings if f.rule == name.removeprefix(RULE))
        return Place(name, findings=of_rule)
    step, key = name.split(".", 1)
    answers = case.answers.get(step, {})
    found = [answers[key]] if key in answers else case.many(step, key)
    return Place(name, answers=tuple(found), asked=step in case.procedure.steps)
