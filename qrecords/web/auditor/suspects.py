"""A damage and what one mounting says of its suspects, in words."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.models import Mounting
from qrecords.steps.answers import Absent
from qrecords.steps.case import Answered
from qrecords.steps.damage import DAMAGES, GROUPS, Damage
from qrecords.steps.findings import WORST_FIRST
from qrecords.tracing.record import Record
from qrecords.tracing.suspects import RULE, Place, Suspects, suspects
from qrecords.web.auditor.saying import field_name, step_name, unit_name
from qrecords.web.messages import sentence
from qrecords.web.names import NAMES, name
from qrecords.web.parts import Verdict
from qrecords.web.showing import FIGURES
from qrecords.wording.damage import DAMAGE_WORDS
from qrecords.wording.figures import own_unit


@dataclass(frozen=True)
class Row:
    """One thing to look at: what it is called, what was said or found, the entry behind it."""

    what: str
    said: str
    verdict: Verdict | None
    href: str
    quiet: bool


@dataclass(frozen=True)
class PartRows:
    part: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class DamagePage:
    id: str
    name: str
    looks: str
    group: str
    elsewhere: str
    by_mounting: bool
    first: tuple[Row, ...]
    parts: tuple[PartRows, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Choice:
    """One damage to choose from, by what is seen."""

    id: str
    name: str
    looks: str
    clause: str
    href: str


@dataclass(frozen=True)
class Group:
    clause: str
    name: str
    choices: tuple[Choice, ...]


def groups(mounting: Mounting | None) -> list[Group]:
    """The table of damages, by group of the standard."""
    return [
        Group(clause, gettext(words), tuple(_choice(d, mounting) for d in DAMAGES if d.group == clause))
        for clause, words in GROUPS.items()
    ]


def _choice(damage: Damage, mounting: Mounting | None) -> Choice:
    words = DAMAGE_WORDS[damage.id]
    href = (
        reverse("suspects", args=[mounting.id, damage.id])
        if mounting
        else reverse("damage", args=[damage.id])
    )
    return Choice(damage.id, gettext(words.name), gettext(words.looks), damage.clause, href)


def damage_page(damage: Damage, record: Record | None) -> DamagePage:
    """A damage with its suspects; of a mounting with what was said and found there, else by name alone."""
    words = DAMAGE_WORDS[damage.id]
    told = _told(damage, record) if record else None
    group = gettext(GROUPS[damage.group])
    return DamagePage(
        id=damage.id,
        name=gettext(words.name),
        looks=gettext(words.looks),
        group=f"{damage.clause} · {group}" if damage.clause else group,
        elsewhere=gettext(words.elsewhere),
        by_mounting=damage.mounting,
        first=tuple(_row(place, record) for place in told.first if _worth(place)) if told and record else (),
        parts=tuple(_parts(damage, told, record)),
        sources=(gettext(damage.group_source), gettext(damage.source)),
    )


def _told(damage: Damage, record: Record) -> Suspects:
    stored = record.counting
    return suspects(damage, record.signed or record.case, stored.findings if stored else ())


def _parts(damage: Damage, told: Suspects | None, record: Record | None) -> Iterable[PartRows]:
    if told is None or record is None:
        yield from (PartRows(gettext(part), ()) for part in damage.suspects)
        return
    for suspect in told.parts:
        told_of = [place for place in suspect.places if place.told or not place.name.startswith(RULE)]
        yield PartRows(gettext(suspect.part), tuple(_row(place, record) for place in told_of))


def _worth(place: Place) -> bool:
    """A rule that found nothing is told only by a name that people know."""
    return place.told or not place.name.startswith(RULE) or place.name.removeprefix(RULE) in NAMES


def _row(place: Place, record: Record) -> Row:
    if place.name.startswith(RULE):
        return _found(place)
    step, key = place.name.split(".", 1)
    what = f"{step_name(step)}, {field_name(key)}"
    if not place.asked:
        return Row(what, gettext("not asked for by this procedure"), None, "", quiet=True)
    if not place.told:
        return Row(what, gettext("not entered"), None, "", quiet=True)
    marks = {gear["id"]: gear["mark"] for seen in record.case.seen.values() for gear in _gear(seen)}
    said = " · ".join(_answer(answered, key, marks) for answered in place.answers)
    href = reverse("entry", args=[place.answers[-1].entry])
    return Row(what, said, None, href, quiet=place.absent)


def _gear(seen: object) -> Iterable[dict[str, str]]:
    found = seen.get("gear", {}) if hasattr(seen, "get") else {}
    return list(found.values())


def _answer(answered: Answered, key: str, marks: dict[str, str]) -> str:
    where = answered.key.removeprefix(key).strip(".").replace(".", " ")
    if isinstance(answered.answer, Absent):
        value = f"{gettext(answered.answer.state.value)}: {answered.answer.reason}"
    else:
        typed = marks.get(str(answered.answer.value), str(answered.answer.typed))
        unit = unit_name(answered.answer.unit)
        value = f"{typed} {own_unit(typed, unit)}".strip() if unit else gettext(typed)
    return f"{where} {value}".strip()


def _found(place: Place) -> Row:
    if not place.findings:
        what = name(place.name.removeprefix(RULE))
        return Row(what, gettext("nothing found: not judged here"), None, "", quiet=True)
    worst = min(place.findings, key=lambda finding: WORST_FIRST.index(finding.verdict))
    told = (sentence(finding.message, finding.facts, FIGURES) for finding in place.findings)
    said = "; ".join(f"{lead} {rest}".strip() for lead, rest in told)
    href = reverse("entry", args=[worst.inputs[-1]]) if worst.inputs else ""
    return Row(name(worst.characteristic), said, Verdict(worst.verdict.value, iso=True), href, quiet=False)
