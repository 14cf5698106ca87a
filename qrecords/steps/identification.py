"""Receiving: what the ring itself says, and that its package was intact until now."""

import re
from collections.abc import Iterable

from qrecords.steps.answers import Absent
from qrecords.steps.case import Answered, Case
from qrecords.steps.chosen_rows import OF_MARKING
from qrecords.steps.fields import Choice, Field, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import LOOK, Rule, Stage, absent, choice_rule
from qrecords.steps.step import Step

OF_ORDER = ("serial", "lot", "date_code")
DIVIDERS = re.compile(r"[\s\-‐‑‒–—−_./]+")
"""What divides a number and is none of its characters: spaces, dashes, point, stroke."""


def characters(text: str) -> str:
    """A marking for comparison character by character: case and spacing of engraving carry no meaning."""
    return "".join(text.upper().split())


def same_number(one: str, other: str) -> bool:
    """Whether two ways of writing a serial, lot or date code mean the same. Case and dividers carry no
    meaning, but what divides the same figures at other places is another number: 12-3 and 1-23."""
    (plain, cuts), (other_plain, other_cuts) = _divided(one), _divided(other)
    return plain == other_plain and (cuts <= other_cuts or other_cuts <= cuts)


def _divided(text: str) -> tuple[str, set[int]]:
    """The characters alone, and the places between two letters or two figures at which they are divided."""
    parts = [part for part in DIVIDERS.split(text.upper()) if part]
    plain = "".join(parts)
    ends = {len("".join(parts[:count])) for count in range(1, len(parts))}
    return plain, {end for end in ends if plain[end - 1].isdigit() == plain[end].isdigit()}


def _marking(rule: Rule, case: Case) -> list[Finding]:
    """Designation as read from the ring against the drawing character by character."""
    read = case.value_of("identification", "marking")
    if read is None:
        return absent(rule, case, "identification", "marking", "ring marking")
    wanted = case.requirement.designation
    same = characters(read.word) == characters(wanted)
    verdict = Verdict.CONFORMING if same else Verdict.NONCONFORMING
    return [rule.finding("ring marking", verdict, inputs=[read], read=read.word, wanted=wanted)]


def read_since(case: Case, index: int) -> list[Answered]:
    """What was said of the ring since a place in the ledger: of what an order names, and the own reading."""
    said = case.answers.get("identification", {})
    read = [said.get(key) for key in OF_ORDER] + [case.checks.get("identification", {}).get("marking")]
    return [answered for answered in read if answered and case.order[answered.entry] > index]


def unlike_order(case: Case, read: Iterable[Answered]) -> list[Answered]:
    """Of what was read off the ring that which is not what the order names."""
    ordered = {**case.opened.get("bearing", {}), "marking": case.requirement.designation}
    return [
        answered
        for answered in read
        if not isinstance(answered.answer, Absent)
        and ordered.get(answered.key)
        and not _as_named(answered, ordered[answered.key])
    ]


def _as_named(read: Answered, wanted: str) -> bool:
    """A marking is compared character by character, a number as a number."""
    if read.key == "marking":
        return characters(read.word) == characters(wanted)
    return same_number(read.word, wanted)


def _as_ordered(rule: Rule, case: Case) -> list[Finding]:
    """Serial, lot and date code beside those the order names. Most rings carry none, and a delivery may hold
    two lots: what differs is looked at, not judged."""
    ordered = case.opened.get("bearing", {})
    found = []
    for key in OF_ORDER:
        read, wanted = case.value_of("identification", key), ordered.get(key, "")
        if read is None or not wanted:
            continue
        verdict = Verdict.CONFORMING if _as_named(read, wanted) else Verdict.QUERY
        about = key.replace("_", " ")
        found.append(
            rule.finding(f"{about} as ordered", verdict, inputs=[read], read=read.word, wanted=wanted)
        )
    return found


def _own_reading(rule: Rule, case: Case) -> list[Finding]:
    """The inspector's own reading of the marking: a second signature without a second look once let a wrong
    bearing through (published incident narrative 448357)."""
    own: Answered | None = case.checks.get("identification", {}).get("marking")
    if own is not None and own.author in case.worked_by:
        return [rule.finding("inspector's reading", Verdict.MISSING, "own-work", inputs=[own])]
    if own is None:
        return [rule.finding("inspector's reading", Verdict.MISSING, "not-entered", field="marking")]
    if isinstance(own.answer, Absent):
        facts = {"state": own.answer.state.value, "reason": own.answer.reason}
        return [rule.finding("inspector's reading", Verdict.MISSING, "absent", inputs=[own], **facts)]
    wanted = case.requirement.designation
    verdict = Verdict.CONFORMING if characters(own.word) == characters(wanted) else Verdict.NONCONFORMING
    return [rule.finding("inspector's reading", verdict, inputs=[own], read=own.word, wanted=wanted)]


OWN_READING = "own-reading"
"""Identity is a hold point with the inspector's own reading: no release before heat without it, but for one
by telephone, which has a rule of its own."""
STEP = Step(
    id="identification",
    version=1,
    row=3,
    stage=Stage.RECEIVE,
    fields=(
        Field("marking", Words(80)),
        Field("package", Choice(("intact", "opened", "damaged"))),
        Field("serial", Words(40), optional=True),
        Field("lot", Words(40), optional=True),
        Field("date_code", Words(20), optional=True),
    ),
    rules=(
        Rule(
            "ring-marking",
            1,
            Stage.RECEIVE,
            "common practice, no source",
            _marking,
            hold="fit",
            row=OF_MARKING,
        ),
        Rule("as-ordered", 2, Stage.RECEIVE, "common practice, no source", _as_ordered, LOOK, hold="fit"),
        Rule(
            OWN_READING,
            2,
            Stage.CLOSE,
            "incident narrative 448357; house rule",
            _own_reading,
            row=OF_MARKING,
            hold="fit",
        ),
        choice_rule(
            "package-intact",
            Stage.RECEIVE,
            "identification",
            "package",
            ("intact",),
            "common practice, no source",
            bad=Verdict.QUERY,
            may=("looked",),
        ),
    ),
)
