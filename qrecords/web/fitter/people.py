"""People to choose from on the fitter's pages: who records work at the same site."""

import uuid
from datetime import datetime

from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import names, who_may

Choice = tuple[str, str]


def at_work(site: uuid.UUID, at: datetime) -> list[Choice]:
    """(id, name) of everybody who records work at a site; three queries."""
    people = who_may(Action.RECORD, site, at)
    called = names([each.id for each in people])
    return [(str(each.id), called[str(each.id)]) for each in people]


def chosen_person(text: str) -> Person | None:
    """Who was chosen in a form; None for what names nobody."""
    try:
        return Person.objects.filter(id=uuid.UUID(text)).first()
    except ValueError:
        return None
