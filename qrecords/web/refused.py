"""Every refusal in words of the workshop: fields by the names of the pages, no key and no identifier."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.ledger.errors import DifferentContentError, NotRecordedError, PayloadTooLongError
from qrecords.mountings.errors import (
    AlreadyTappedError,
    ChangedMeanwhileError,
    FieldsError,
    NeedsReasonError,
    NothingSaidError,
    RefusedError,
    UnknownTapError,
)
from qrecords.people.errors import PersonFieldError
from qrecords.proof.errors import CanonicalError, IdentifierError
from qrecords.signoff.errors import (
    ExpiryError,
    NotAmongDecisionsError,
    ReasonNeededError,
    UnknownFindingError,
)
from qrecords.steps.errors import DocumentError, FieldError, UnknownFieldError
from qrecords.steps.fields import field_of
from qrecords.steps.standard import STEPS
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.fitter.refusals import refusal_sentence
from qrecords.web.fitter.words import field_label
from qrecords.web.moments import calendar_day
from qrecords.web.names import field_name, name
from qrecords.web.registers.asking import wrong
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.importing.text import FileChangedError, SheetUnreadableError

AGAIN = _("This page is not one of now. Load it again, and send it once more.")
PLAIN: Mapping[type[Exception], str] = {
    ChangedMeanwhileError: _("Something came since this page was shown. Look at it again."),
    NothingSaidError: _("Nothing new was entered."),
    UnknownTapError: AGAIN,
    UnknownFieldError: AGAIN,
    IdentifierError: AGAIN,
    UnknownObjectError: _("It is not in the registers that you may read."),
    DifferentContentError: _(
        "This page was sent before and said something else. What was said first stands: load it again."
    ),
    NotRecordedError: _("The log does not hold this."),
    FileChangedError: _("This is not the file that was looked at. Its rows are told again below."),
    UnknownFindingError: _("This does not stand with these numbers any more. Look at the record again."),
    ReasonNeededError: _("A reason in words is needed."),
}
DOCUMENTS: Mapping[str, str] = {
    "requirement": _("drawing"),
    "equipment": _("gauge, meter or heater"),
    "look-back": _("look-back"),
    "procedure": _("procedure"),
}


def refused_words(error: Exception) -> str:
    """What was refused and what would be right. What has no words here is a sentence already."""
    match error:
        case RefusedError():
            return refusal_sentence(error)
        case FieldsError():
            return " ".join(asked_sentence(_label(key), each) for key, each in error.errors.items())
        case FieldError():
            return asked_sentence(_label(error.field), error)
        case DocumentError():
            document = gettext(DOCUMENTS.get(error.document, error.document))
            return f"{document}, {field_name(error.field)}: {error.why.replace('_', ' ')}"
        case RegisterFieldError() | PersonFieldError():
            return f"{field_name(error.field)}: {wrong(error.value, error.allowed)}"
        case SheetUnreadableError():
            return gettext("The sheet is not read ({why}): wanted is {allowed}.").format(
                why=error.why, allowed=error.allowed
            )
        case NeedsReasonError():
            fields = ", ".join(_label(key) for key in error.keys)
            return gettext("{fields}: an answer stands already. Say why it changes.").format(fields=fields)
        case AlreadyTappedError():
            words = gettext("“{tap}” was tapped already. It is recorded once.")
            return words.format(tap=gettext(error.what))
        case NotAmongDecisionsError():
            words = gettext("{name}: {kind} is not possible; possible: {may}")
            may = ", ".join(gettext(each) for each in error.may)
            return words.format(name=name(error.characteristic), kind=gettext(error.kind), may=may)
        case ExpiryError():
            words = gettext("{day} is not possible; allowed: for what is accepted, a day from {today} on")
            return words.format(day=calendar_day(error.day), today=calendar_day(error.today))
        case PayloadTooLongError():
            words = gettext("It is too long: {length} bytes, where one entry holds {limit}.")
            return words.format(length=error.length, limit=error.limit)
        case CanonicalError():
            return gettext("It cannot be kept: it holds {what}.").format(what=error.what)
    return gettext(PLAIN[type(error)]) if type(error) in PLAIN else str(error)


def _label(key: str) -> str:
    """The name of a field of some step, told by its key alone."""
    held = (step for step in STEPS.values() if field_of({each.id: each for each in step.fields}, key))
    step = next(held, None)
    return field_label(f"{step.id}.{key}") if step else field_name(key)
