"""Proving who somebody is, at the moment: outside any transaction, with failed tries counted."""

from django.contrib.auth import authenticate
from django.http import HttpRequest

from qrecords.people.errors import UnknownPersonError
from qrecords.people.models import Person


def prove(request: HttpRequest, sign_in: str, password: str) -> Person:
    """The person whose name and password these are; UnknownPersonError else. Failures are counted."""
    # Named as the model names it: the counting of failures looks for the name under that very key.
    person = authenticate(request, sign_in=sign_in, password=password)
    if not isinstance(person, Person):
        raise UnknownPersonError(sign_in)
    return person


def prove_again(request: HttpRequest, person: Person, password: str) -> None:
    """Prove that the person of this session is here, with the password alone."""
    if prove(request, person.sign_in, password).id != person.id:
        raise UnknownPersonError(person.sign_in)
