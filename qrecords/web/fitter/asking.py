"""What a page asks for, made from the step's own fields: choices as taps, numbers with unit, gear."""

from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.mountings.judging import Judged
from qrecords.steps.answers import Absent, Value
from qrecords.steps.fields import Choice, Gear, Quantity
from qrecords.steps.measurement import TEMPERATURES
from qrecords.steps.runs import asked_anew
from qrecords.steps.standard import STEPS
from qrecords.web.fitter.gear import AtHand
from qrecords.web.fitter.sent import GIVEN_BACK, Sent
from qrecords.web.fitter.words import choice_label, field_label, unit_label


@dataclass(frozen=True)
class Option:
    value: str
    label: str
    chosen: bool = False


@dataclass(frozen=True)
class Ask:
    """One question of a page. `kind` is choice, number, words or gear. `value` is what stands in the input:
    as typed, as recorded, or prefilled; `unit` its unit; `note` says where a prefilled value comes from;
    `absent` the reason why there is no value; `signed` where a minus is to be expected."""

    name: str
    label: str
    kind: str
    value: str = ""
    unit: str = ""
    unit_label: str = ""
    units: tuple[Option, ...] = ()
    options: tuple[Option, ...] = ()
    note: str = ""
    absent: str = ""
    signed: bool = False
    optional: bool = False
    may_be_absent: bool = False


def asks(judged: Judged, names: tuple[str, ...], sent: Sent, gear: AtHand) -> tuple[Ask, ...]:
    """The questions of a part, in its order."""
    return tuple(ask(judged, name, sent, gear) for name in names)


def ask(judged: Judged, name: str, sent: Sent, gear: AtHand) -> Ask:
    """One question with what stands there now: typed before recorded before prefilled."""
    step, _, key = name.partition(".")
    field = STEPS[step].field(key)
    value, unit, absent, note = _standing(judged, name, sent)
    optional = name in judged.case.procedure.optional_for(judged.case.requirement) or field.optional
    label = field_label(name)
    match field.form:
        case Choice(options):
            shown = tuple(Option(option, choice_label(option), option == value) for option in options)
            return Ask(name, label, "choice", value, options=shown, absent=absent, optional=optional)
        case Gear(kinds):
            chosen, note = (value, "") if value or absent else gear.offered(kinds)
            pieces = tuple(Option(piece.id, piece.label, piece.id == chosen) for piece in gear.of(kinds))
            return Ask(
                name, label, "gear", chosen, options=pieces, note=note, absent=absent, optional=optional
            )
        case Quantity() as form:
            if not value and not absent and name == "measurement.air" and gear.air is not None:
                value, unit, note = gear.air
            value, unit = value[:GIVEN_BACK], unit or sent.unit(name)
            known = form.units if unit in form.units else (unit, *form.units)
            return Ask(
                name,
                label,
                "number",
                value,
                unit,
                unit_label(unit),
                tuple(Option(each, unit_label(each), each == unit) for each in known),
                note=note,
                absent=absent,
                signed=form.low < 0 and form.units != TEMPERATURES,
                optional=optional,
                may_be_absent=not optional,
            )
        case _:
            return Ask(name, label, "words", value, absent=absent, optional=optional)


def _standing(judged: Judged, name: str, sent: Sent) -> tuple[str, str, str, str]:
    """(value, unit, absent, note) of an input."""
    step, _, key = name.partition(".")
    typed = sent.text(name)
    found = judged.case.said(step, key)
    if found and asked_anew(judged.case, step, found):
        found = None
    answer = dict(sent.absent()).get(name) or (found.answer if found else None)
    if typed or (typed is not None and not isinstance(answer, Absent)):
        return typed, sent.unit(name), "", ""
    if answer is None:
        return "", "", "", ""
    if isinstance(answer, Absent):
        return "", "", f"{choice_label(answer.state.value)}: {choice_label(answer.reason)}", ""
    value: Value = answer
    return value.typed, value.unit, "", ""


def filled(asked: tuple[Ask, ...]) -> Mapping[str, Ask]:
    return {each.name: each for each in asked}
