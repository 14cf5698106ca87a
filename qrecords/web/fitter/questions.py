"""What a page asks back: text without a quantity, a likely slip, a reason for a changed answer."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.steps.errors import FieldError, OddError, SlipError
from qrecords.web.fitter.readings import CloseCall
from qrecords.web.fitter.sent import GIVEN_BACK
from qrecords.web.fitter.words import field_label, unit_label
from qrecords.wording.figures import MINUS, own_unit, visible, with_unit


@dataclass(frozen=True)
class Question:
    """One field asked back. `meant` is what was probably meant, in `meant_unit`; `typed` can be confirmed as
    it stands where `sure` is true."""

    name: str
    lead: str
    rest: str
    typed: str = ""
    unit: str = ""
    sure: bool = False
    meant: str = ""
    meant_unit: str = ""
    meant_words: str = ""


@dataclass(frozen=True)
class Questions:
    """Everything a page asks back at once. `changed` are the labels of answers that stand already, `call` a
    reading too close to call."""

    fields: tuple[Question, ...] = ()
    changed: tuple[str, ...] = ()
    call: CloseCall | None = None

    def __bool__(self) -> bool:
        return bool(self.fields or self.changed or self.call)

    @property
    def names(self) -> tuple[str, ...]:
        """The inputs that are asked back."""
        return tuple(question.name for question in self.fields)

    @property
    def doubted(self) -> tuple[Question, ...]:
        """What can be confirmed as it stands; several of them with one tap."""
        return tuple(question for question in self.fields if question.sure)


def questions(
    errors: Mapping[str, FieldError], changed: Sequence[str] = (), call: CloseCall | None = None
) -> Questions:
    """The message names field, value, unit and the allowed range."""
    asked = tuple(_question(name, field_label(name), error) for name, error in errors.items())
    return Questions(asked, tuple(field_label(name) for name in changed), call)


def asked_sentence(label: str, error: FieldError) -> str:
    """One field asked back in one sentence, under the name that stands on its page."""
    question = _question("", label, error)
    return f"{question.lead} {question.rest}"


def _question(name: str, label: str, error: FieldError) -> Question:
    unit = unit_label(error.unit)
    cut = "…" if len(error.typed) >= GIVEN_BACK else ""
    given = f"{visible(error.typed)}{cut} {own_unit(error.typed, unit)}".strip()
    allowed = allowed_text(error)
    if isinstance(error, SlipError):
        rest = gettext("is far from {allowed}.").format(allowed=allowed)
        if isinstance(error, OddError):
            rest = gettext("is far from the other readings, {allowed}.").format(allowed=allowed)
        meant = with_unit(error.meant, unit_label(error.meant_unit)) if error.meant else ""
        if meant:
            rest = f"{rest} {gettext('Did you mean {meant}?').format(meant=meant)}"
        return Question(
            name,
            f"{label}: {given}",
            rest,
            error.typed,
            own_unit(error.typed, unit),
            True,
            error.meant,
            error.meant_unit,
            meant,
        )
    if not error.allowed:
        return Question(name, f"{label}: {given}", gettext("is not understood."))
    return Question(
        name, f"{label}: {given}", gettext("is not understood. It wants {allowed}.").format(allowed=allowed)
    )


def allowed_text(error: FieldError) -> str:
    """The allowed range with unit and minus as a page writes them."""
    text = error.allowed.replace("-", MINUS)
    return text.replace(error.unit, unit_label(error.unit)) if error.unit else text
