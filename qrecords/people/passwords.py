"""Passwords: checked and hashed before any transaction, for hashing is slow on purpose and a transaction
holds up everybody who records. An action takes a password only when it is sealed."""

from dataclasses import dataclass, field

from django.contrib.auth.hashers import make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from qrecords.people.errors import PersonFieldError

SHORTEST, LONGEST = 10, 200


@dataclass(frozen=True)
class Sealed:
    """A password of which only the hash is left."""

    hash: str = field(repr=False)


def seal(password: str, name: str = "password") -> Sealed:
    """The sealed password; PersonFieldError, which never repeats it, for one that is too easily guessed.
    `name` is the field it was typed into."""
    if not SHORTEST <= len(password) <= LONGEST:
        raise PersonFieldError(name, "", f"{SHORTEST} to {LONGEST} characters")
    try:
        validate_password(password)
    except ValidationError as error:
        raise PersonFieldError(name, "", " ".join(error.messages)) from error
    return Sealed(make_password(password))


def not_given() -> Sealed:
    """Of who has no password yet: nobody comes in with it, until a first one is given."""
    return Sealed(make_password(None))
