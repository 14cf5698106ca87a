"""The procedure in force as a page a person can read: steps, limits, holds, photos, what may be left out."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.points import HEAT, HOLD, SIGN_OFF, WITNESS, Point
from qrecords.steps.procedure import Procedure
from qrecords.steps.standard import STEPS
from qrecords.web.auditor.saying import field_name, step_name
from qrecords.web.names import SHOTS, hold_name
from qrecords.wording.figures import Figures, with_unit


@dataclass(frozen=True)
class FieldLine:
    """One thing a step asks: how it is answered, and whether it may be left out or be not applicable."""

    name: str
    answer: str
    optional: bool
    for_ball_and_sealed: bool
    not_applicable: bool


@dataclass(frozen=True)
class StepBlock:
    name: str
    task: str
    fields: tuple[FieldLine, ...]
    shots: tuple[str, ...]
    rules: tuple[tuple[str, str], ...]
    """(rule with version, source)."""


@dataclass(frozen=True)
class PointBlock:
    """A point of the contract: what it is, whom it concerns, its own wording, what it covers."""

    title: str
    kind: str
    party: str
    wording: str
    covers: str
    before: str
    notice: str


@dataclass(frozen=True)
class ProcedurePage:
    rule: str
    limits: tuple[tuple[str, str], ...]
    holds: tuple[str, ...]
    planes: str
    steps: tuple[StepBlock, ...]
    points: tuple[PointBlock, ...] = ()
    decisions: tuple[tuple[str, str], ...] = ()
    """(what, the roles that it is left to), where they are fewer than have the right."""
    contract: str = ""


def procedure_page(procedure: Procedure, figures: Figures) -> ProcedurePage:
    return ProcedurePage(
        rule=_rule(procedure, figures),
        limits=(
            (gettext("never above, house"), with_unit(str(procedure.house_cap_c), "°C")),
            (gettext("never above, sealed or greased"), with_unit(str(procedure.greased_cap_c), "°C")),
            (gettext("residual field, at most"), _field_limit(procedure, figures)),
            (gettext("blade that must not go in"), with_unit(figures.mm(procedure.blade_limit_nm), "mm")),
            (
                gettext("shaft, bearing and gauge apart, at most"),
                with_unit(figures.celsius(procedure.spread_limit_mk), "K"),
            ),
        ),
        holds=tuple(hold_name(hold) for hold in procedure.holds),
        planes=" × ".join(
            (", ".join(procedure.planes), ", ".join(f"{angle}°" for angle in procedure.directions))
        ),
        steps=tuple(_step(procedure, name) for name in procedure.steps),
        points=tuple(point_block(point) for point in procedure.points),
        decisions=tuple(
            (decided_name(kind), ", ".join(gettext(role) for role in sorted(roles)))
            for kind, roles in procedure.may_decide.items()
        ),
        contract=procedure.contract,
    )


def decided_name(kind: str) -> str:
    """What is decided, as a procedure's page calls it."""
    return gettext({"release": _("release a hold point"), "concession": _("concede")}.get(kind, kind))


def covered_name(covered: str) -> str:
    """`measurement` or `measurement: journal`."""
    step, _of, field = covered.partition(".")
    return f"{step_name(step)}: {field_name(field)}" if field else step_name(step)


def before_name(before: str) -> str:
    ends = {SIGN_OFF: _("the sign-off"), HEAT: _("heater on")}
    return gettext(ends[before]) if before in ends else step_name(before)


def point_block(point: Point) -> PointBlock:
    return PointBlock(
        title=point.title,
        kind=gettext(point.kind),
        party=point.party,
        wording=point.wording,
        covers=", ".join(covered_name(covered) for covered in point.covers),
        before=before_name(point.before) if point.kind == HOLD else "",
        notice=notice_words(point.notice_min) if point.kind == WITNESS else "",
    )


def notice_words(minutes: int) -> str:
    """`48 h`, `90 min`; nothing where nobody is told before."""
    if not minutes:
        return gettext("none")
    hours, rest = divmod(minutes, 60)
    return with_unit(str(minutes), "min") if rest else with_unit(str(hours), "h")


def _rule(procedure: Procedure, figures: Figures) -> str:
    if procedure.guard_factor == 0:
        return gettext("simple acceptance, agreed with the customer")
    words = {"edition": procedure.edition, "factor": figures.plain(procedure.guard_factor)}
    return gettext("%(edition)s, guard %(factor)s u") % words


def _field_limit(procedure: Procedure, figures: Figures) -> str:
    return with_unit(figures.plain(Decimal(procedure.field_limit_nt).scaleb(-6), 2), "mT")


def _step(procedure: Procedure, name: str) -> StepBlock:
    step = STEPS[name]
    return StepBlock(
        name=step_name(name),
        task=gettext(step.task) if step.task else "",
        fields=tuple(_line(procedure, name, field) for field in step.asked(procedure)),
        shots=tuple(gettext(SHOTS.get(shot.id, shot.id)) for shot in procedure.shots if shot.step == name),
        rules=tuple((f"{rule.id}/{rule.version}", rule.source) for rule in step.rules),
    )


def _line(procedure: Procedure, step: str, field: Field) -> FieldLine:
    name = f"{step}.{field.id}"
    return FieldLine(
        name=field_name(field.id),
        answer=answer_of(field),
        optional=field.optional or name in procedure.optional,
        for_ball_and_sealed=name in procedure.optional_for_ball_and_sealed,
        not_applicable=name in procedure.not_applicable,
    )


def answer_of(field: Field) -> str:
    match field.form:
        case Quantity(_quantity, units):
            return ", ".join({"um": "µm"}.get(unit, unit) for unit in units)
        case Choice(options):
            return _either([gettext(option) for option in options])
        case Gear(kinds):
            return _either([gettext(kind) for kind in kinds])
    return gettext("in words")


def _either(words: Sequence[str]) -> str:
    return " · ".join(words)
