"""Taking everything out is an act: its entry says who did it, of which site, and how long the log was."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import home_site, size
from qrecords.people.acting import Acting, require
from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import Action, Scope
from qrecords.people.stating import state, stated_before

EVERY_SITE = "every site"
ONE_SITE = "one site"


@atomic()
def take_everything(*, acting: Acting, entry_id: uuid.UUID, site: uuid.UUID | None) -> Entry:
    """Say that everything of a site is taken out, or of all sites. What is handed out follows by its id."""
    of = site or home_site()
    if of is None:
        raise NotAllowedError(Action.EXPORT, None)
    right = require(acting, Action.EXPORT, of)
    if site is None and right.scope != Scope.ALL:
        raise NotAllowedError(Action.EXPORT, None)
    said = {"of": ONE_SITE if site else EVERY_SITE}
    about = ("site", of)
    known = stated_before(acting, "export", id=entry_id, site=of, about=about, said=said)
    if known is not None:
        return known
    return state(acting, "export", id=entry_id, site=of, about=about, said=said, seen={"size": size()})
