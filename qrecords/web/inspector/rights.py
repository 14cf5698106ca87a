"""What the signed-in person may do with one record now, and the words for what not yet."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.utils.translation import gettext, ngettext

from qrecords.mountings.judging import Judged
from qrecords.people.models import Person
from qrecords.people.permissions import TABLE, Action, Role, Scope
from qrecords.people.queries import rights_of
from qrecords.signoff.actions import DECISIONS
from qrecords.signoff.narrowing import taken_away
from qrecords.steps.case import Case
from qrecords.steps.granting import Offer
from qrecords.steps.procedure import Procedure
from qrecords.steps.sealed import sealed_for
from qrecords.steps.transitions import (
    CLOSED,
    Refusal,
    open_for_release,
    refuse_amendment,
    refuse_decision,
    refuse_release,
    refuse_return,
    refuse_sign,
    state_of,
    undecided,
)


@dataclass(frozen=True)
class Rights:
    """The actions that a person's roles give at one site at one moment."""

    person: str
    actions: frozenset[Action]
    stands_in: bool = False
    """Whether only the role of a stand-in gives the rights to release and sign."""
    roles: frozenset[str] = frozenset()
    day: date | None = None

    def may(self, action: Action) -> bool:
        return action in self.actions

    def kinds(self, ways: Sequence[Offer]) -> tuple[str, ...]:
        """Of the decisions the table offers those that this person may take."""
        return tuple(
            offer.kind
            for offer in ways
            if offer.kind in DECISIONS
            and DECISIONS[offer.kind] in self.actions
            and self.roles & set(offer.by)
        )


def rights_at(person: Person, site: uuid.UUID, at: datetime, procedure: Procedure | None = None) -> Rights:
    """What the roles give, less what the procedure of a record leaves to others; one query, or two."""
    rights = rights_of(person.id, at)
    found = {action for action in TABLE if rights.at(action, site).scope > Scope.NONE}
    held = rights.roles_at(site)
    stands_in = Role.STAND_IN in held and Role.INSPECTOR not in held
    roles = frozenset(role.value for role in held)
    found -= taken_away(procedure, person.id, site, at) if procedure else set()
    return Rights(str(person.id), frozenset(found), stands_in, roles, at.date())


def who_may(ways: Sequence[Offer]) -> str:
    """`measure again, rework, accept: inspector or engineer · concession: engineer`."""
    by_roles: dict[str, list[str]] = {}
    for offer in ways:
        if offer.kind in DECISIONS and offer.by:
            roles = gettext(" or ").join(gettext(role) for role in offer.by)
            by_roles.setdefault(roles, []).append(kind_word(offer.kind))
    return " · ".join(f"{', '.join(kinds)}: {roles}" for roles, kinds in by_roles.items())


def kind_word(kind: str) -> str:
    """A kind of decision as people say it."""
    words: Mapping[str, str] = {
        "measure again": gettext("measure again"),
        "rework": gettext("rework"),
        "accept": gettext("accept within the procedure"),
        "scrap": gettext("scrap"),
        "concession": gettext("concession"),
        "note": gettext("note, no action on the product"),
        "quarantine": gettext("quarantine"),
    }
    return words.get(kind, kind)


def own_reading_due(rights: Rights, case: Case) -> bool:
    """The reader may and should still read the marking himself; until then the record keeps it back."""
    return sealed_for(case, rights.person, may_check=rights.may(Action.CHECK), read_display=True).marking


@dataclass(frozen=True)
class Possible:
    """The acts on a whole record: '' where it is possible now, else the words for why not yet; None where
    the person has no such right."""

    sign: str | None
    give_back: str | None
    decide: str | None
    look: bool
    check: bool
    attach: bool = False
    judge_again: bool = False
    papers: int = 0
    """How many papers are handed in with it."""
    stands_in: bool = False
    amend: bool = False


def possible(rights: Rights, judged: Judged) -> Possible:
    """What can be done with this record now."""
    case, person = judged.case, rights.person
    open_state = state_of(case) not in CLOSED
    deciding = any(rights.may(action) for action in DECISIONS.values())
    stop = refuse_sign(case, person, judged.findings, rights.day)
    return Possible(
        sign=_words(stop, judged) if rights.may(Action.SIGN) else None,
        give_back=_words(refuse_return(case, person), judged) if rights.may(Action.RETURN) else None,
        decide=_words(refuse_decision(case, person, "", ()), judged) if deciding else None,
        look=open_state and rights.may(Action.CLOSE_QUERY),
        check=open_state and rights.may(Action.CHECK) and person not in case.worked_by,
        stands_in=rights.stands_in,
        amend=refuse_amendment(case) is None and rights.may(Action.AMEND),
        attach=rights.may(Action.ATTACH),
        judge_again=rights.may(Action.JUDGE_AGAIN) and person not in case.worked_by,
        papers=len(case.papers),
    )


def release_stop(rights: Rights, judged: Judged, hold: str) -> str | None:
    """'' if this person may release the hold now, else why not; None without the right."""
    if not rights.may(Action.RELEASE):
        return None
    of_hold = judged.of_hold(hold)
    count = len(open_for_release(judged.case, of_hold))
    return _words(refuse_release(judged.case, rights.person, hold, of_hold, rights.day), judged, count)


def _words(refusal: Refusal | None, judged: Judged, count: int | None = None) -> str:
    """`count` are the items that keep it from being done, where they are not all that the record has open."""
    if refusal is None:
        return ""
    count = len(undecided(judged.case, judged.findings)) if count is None else count
    match refusal.code:
        case "open-findings":
            return ngettext("when %(n)s item is closed", "when %(n)s items are closed", count) % {"n": count}
        case "expired":
            return gettext("when a concession that is over has been decided anew")
        case "remeasure":
            return gettext("when you have measured the reworked journal yourself")
        case "own-reading-missing":
            return gettext("when you have read the marking off the ring")
        case "not-ready":
            return gettext("when the fitter has said ready")
        case "worked-since-ready":
            return gettext("when the fitter has said ready again: work was added since")
        case "not-independent":
            return gettext("by somebody who did not work on it")
        case "closed":
            return gettext("the record is closed")
    return refusal.code
