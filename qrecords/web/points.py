"""The points of the contract at one mounting: what each asks, how it stands, what was said there."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.case import Case
from qrecords.steps.point_acts import OF_KIND, WAIVED, PointAct
from qrecords.steps.points import HOLD, WITNESS, Point
from qrecords.web.auditor.saying_points import act_name
from qrecords.web.moments import moment
from qrecords.web.registers.procedure import PointBlock, point_block
from qrecords.web.showing import Shown, show
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class ActLine:
    """One thing said: what, who, how, when it was, by whom it was said, why; struck out where taken back."""

    entry: str
    what: str
    who: str
    how: str
    when: str
    by: str
    reason: str
    taken_back: str


@dataclass(frozen=True)
class PointShown:
    """`says` are (value, words) of what can be said there now; `waives` whether it can be waived. `released`
    says by whom and when a hold stands released."""

    id: str
    block: PointBlock
    finding: Shown | None
    acts: tuple[ActLine, ...]
    says: tuple[tuple[str, str], ...]
    waives: bool
    hold: bool


def points_shown(
    judged: Judged, names: Mapping[str, str], zone: str, figures: Figures, *, iso: bool = False
) -> tuple[PointShown, ...]:
    """Every point of the procedure in its order. `iso`: verdicts in the words of the certificate."""
    found = {finding.characteristic: finding for finding in judged.findings}
    return tuple(
        PointShown(
            id=point.id,
            block=point_block(point),
            finding=show(judged, found[point.title], figures, iso=iso) if point.title in found else None,
            acts=act_lines(judged.case, point, names, zone),
            says=tuple((what, act_name(what)) for what in OF_KIND[point.kind] if what != WAIVED),
            waives=point.kind == WITNESS,
            hold=point.kind == HOLD,
        )
        for point in judged.case.procedure.points
    )


def act_lines(case: Case, point: Point, names: Mapping[str, str], zone: str) -> tuple[ActLine, ...]:
    return tuple(_line(act, names, zone) for act in case.points if act.point == point.id)


def _line(act: PointAct, names: Mapping[str, str], zone: str) -> ActLine:
    return ActLine(
        entry=act.entry,
        what=act_name(act.what),
        who=act.who,
        how=act.how,
        when=moment(act.moment, zone),
        by=names.get(act.author, ""),
        reason=act.reason,
        taken_back=act.taken_back,
    )


def points_note(case: Case, zone: str) -> str:
    """All points in one sentence each, as the certificate prints them; '' without points."""
    return " ".join(_note(case, point, zone) for point in case.procedure.points)


def _note(case: Case, point: Point, zone: str) -> str:
    said = [
        ", ".join(
            part for part in (f"{act_name(a.what)} {a.who}".strip(), a.how, moment(a.moment, zone)) if part
        )
        + (f" – {a.reason}" if a.reason else "")
        for a in case.points
        if a.point == point.id and not a.taken_back
    ]
    said += [
        gettext("released %(at)s") % {"at": moment(release.at, zone)}
        for release in case.releases
        if release.hold == point.id
    ]
    words = {"title": point.title, "kind": gettext(point.kind), "party": point.party}
    head = gettext("%(title)s (%(kind)s, %(party)s)") % words
    return f"{head}: {'; '.join(said) if said else gettext('nothing said')}."
