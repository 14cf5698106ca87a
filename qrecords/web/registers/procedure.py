"""The procedure in force as a page a person can read: steps, limits, holds, photos, what may be left out."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.steps.fields import Choice, Field, Gear, Quantity
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
class ProcedurePage:
    rule: str
    limits: tuple[tuple[str, str], ...]
    holds: tuple[str, ...]
    planes: str
    steps: tuple[StepBlock, ...]


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
    )


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
        answer=_answer(field),
        optional=field.optional or name in procedure.optional,
        for_ball_and_sealed=name in procedure.optional_for_ball_and_sealed,
        not_applicable=name in procedure.not_applicable,
    )


def _answer(field: Field) -> str:
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
