"""What two versions of a procedure say, in words: where it stands, as it was, as it is to be."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.compared import Line, compared
from qrecords.steps.new_procedure import BOUNDS
from qrecords.web.auditor.saying import step_name
from qrecords.web.names import SHOTS, hold_name
from qrecords.web.registers.procedure import before_name, covered_name, decided_name, notice_words
from qrecords.web.registers.procedure_parts import LIMITS
from qrecords.wording.figures import with_unit

PLAIN: Mapping[str, str] = {
    "name": _("name"),
    "revision": _("revision"),
    "contract": _("contract"),
    "edition": _("standard and edition"),
    "guard_factor": _("guard, multiples of u"),
    "agreed_with": _("simple acceptance agreed with"),
    "planes": _("planes of the journal"),
    "directions": _("directions"),
    "steps": _("steps"),
    "kind": _("kind"),
    "title": _("title"),
    "party": _("whom it concerns"),
    "wording": _("wording of the contract"),
    "before": _("waits for its release"),
    "notice_min": _("notice time"),
}
FIELDS: Mapping[str, str] = {
    "optional": _("may be left out"),
    "optional_for_ball_and_sealed": _("may be left out of ball and sealed bearings"),
    "not_applicable": _("may be not applicable"),
    "also": _("asked besides"),
}
VALUES: Mapping[str, Callable[[str], str]] = {
    "step": step_name,
    "before": before_name,
    "steps": lambda said: ", ".join(step_name(step) for step in said.split(", ")),
    "kind": lambda said: gettext(said),
    "notice_min": lambda said: notice_words(int(said)),
    "directions": lambda said: ", ".join(f"{angle}°" for angle in said.split(", ")),
}


@dataclass(frozen=True)
class Change:
    """`old` and `new` are '–' where nothing is said."""

    where: str
    old: str
    new: str
    changed: bool


def in_words(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Change]:
    """Every field of either document, what changed first."""
    titles = {
        point["id"]: point.get("title") or point["id"] for each in (old, new) for point in _points(each)
    }
    return [
        Change(_where(line.place, titles), _said(line, line.old), _said(line, line.new), line.changed)
        for line in compared(old, new)
    ]


def _points(document: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return list(document.get("points", ()))


def _where(place: tuple[str, ...], titles: Mapping[str, str]) -> str:
    head, *rest = place
    if head == "limits":
        return gettext(LIMITS.get(rest[0], rest[0]))
    if head in FIELDS:
        return f"{covered_name(rest[0])}, {gettext(FIELDS[head])}"
    if head == "photos":
        return gettext("photo: %(what)s") % {"what": gettext(SHOTS.get(rest[0], rest[0]))}
    if head == "holds":
        return gettext("hold point: %(what)s") % {"what": hold_name(rest[0])}
    if head == "points":
        covers = [gettext("covers"), covered_name(rest[2])] if rest[1] == "covers" else []
        return ", ".join([titles[rest[0]], *(covers or [gettext(PLAIN.get(rest[1], rest[1]))])])
    if head == "may_decide":
        return gettext("%(what)s: %(who)s") % {"what": decided_name(rest[0]), "who": gettext(rest[1])}
    return gettext(PLAIN.get(place[-1], place[-1].replace("_", " ")))


def _said(line: Line, value: str | None) -> str:
    if not value:
        return "–"
    head, last = line.place[0], line.place[-1]
    if head == "limits" and last in BOUNDS and value.lstrip("-").isdecimal():
        return with_unit(BOUNDS[last].said(int(value)), BOUNDS[last].unit)
    if last in VALUES:
        return VALUES[last](value)
    return gettext("yes") if value == "yes" else value
