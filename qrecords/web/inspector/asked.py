"""What a form on the record page is asked back for: beside its field, with everything that was typed."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from django.utils.translation import gettext

from qrecords.mountings.errors import FieldsError, NeedsReasonError, NothingSaidError
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.signoff.errors import ExpiryError, ReasonNeededError
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.refused import refused_words
from qrecords.workshop.errors import RegisterFieldError


@dataclass(frozen=True)
class AskedBack:
    """The words beside the one field that `wrong` names; `typed` is the form as it was sent."""

    wrong: str
    words: str
    typed: Mapping[str, str] = field(default_factory=dict)


def asked_back(error: Exception, typed: Mapping[str, str]) -> AskedBack | None:
    """Which field of which form an error belongs to; None for what no field can mend. No page repeats a
    password."""
    typed = {name: text for name, text in typed.items() if name != "password"}
    match error:
        case UnknownPersonError():
            return AskedBack("password", gettext("The password is not right. Give it again."), typed)
        case ProveAgainError():
            return AskedBack("password", gettext("Give your password: it is your signature."), typed)
        case FieldsError():
            read = gettext("the marking as you read it")
            words = " ".join(asked_sentence(read, each) for each in error.errors.values())
            return AskedBack("marking", words, typed)
        case NothingSaidError():
            return AskedBack("marking", gettext("That is the reading which already stands."), typed)
        case NeedsReasonError():
            words = gettext("A reading stands already. Say why it changes.")
            return AskedBack("marking_reason", words, typed)
        case ReasonNeededError(act="amendment"):
            return AskedBack("reason", gettext("Say what has to change, and why."), typed)
        case ExpiryError() | RegisterFieldError(field="expires"):
            return AskedBack("expires", refused_words(error), typed)
        case ReasonNeededError(act="looked"):
            return AskedBack("explanation", gettext("Say in a few words what explains it."), typed)
    return None
