"""What a page asks back: text without a quantity, a likely slip, a reason for a changed answer."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.steps.errors import FieldError, SlipError
from qrecords.web.figures import MINUS
from qrecords.web.fitter.words import field_label, unit_label


@dataclass(frozen=True)
class Question:
    """One field asked back. `meant` is the value that was probably meant, in the unit typed; `typed` can be
    confirmed as it stands where `sure` is true."""

    name: str
    lead: str
    rest: str
    typed: str = ""
    meant: str = ""
    unit: str = ""
    sure: bool = False


@dataclass(frozen=True)
class Questions:
    """Everything a page asks back at once. `changed` are the labels of answers that stand already."""

    fields: tuple[Question, ...] = ()
    changed: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.fields or self.changed)


def about_fields(errors: Mapping[str, FieldError]) -> Questions:
    """The message names field, value, unit and the allowed range."""
    return Questions(tuple(_question(name, error) for name, error in errors.items()))


def about_changes(step_keys: Sequence[str]) -> Questions:
    return Questions(changed=tuple(field_label(name) for name in step_keys))


def _question(name: str, error: FieldError) -> Question:
    label, unit = field_label(name), unit_label(error.unit)
    given = f"{error.typed} {unit}".strip()
    allowed = allowed_text(error)
    if isinstance(error, SlipError):
        rest = gettext("is far from {allowed}.").format(allowed=allowed)
        if error.meant:
            meant = f"{error.meant} {unit}".strip()
            rest = f"{rest} {gettext('Did you mean {meant}?').format(meant=meant)}"
        return Question(name, f"{label}: {given}", rest, error.typed, error.meant, unit, sure=True)
    if not error.allowed:
        return Question(name, f"{label}: {given}", gettext("is not understood."))
    return Question(
        name, f"{label}: {given}", gettext("is not understood. It wants {allowed}.").format(allowed=allowed)
    )


def allowed_text(error: FieldError) -> str:
    """The allowed range with unit and minus as a page writes them."""
    text = error.allowed.replace("-", MINUS)
    return text.replace(error.unit, unit_label(error.unit)) if error.unit else text
