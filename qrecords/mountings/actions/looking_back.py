"""What becomes of each mounting that a look-back puts in doubt: judged again, given to somebody, answered;
and the end of the look-back. The only writers of it but for the opening, which is a register's."""

import uuid
from dataclasses import replace
from datetime import date

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.again import Again, judge_again
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.look_backs import (
    OCCASION,
    asked_of,
    counted,
    is_judged,
    put_right_of,
    results,
    unanswered,
)
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.outbox.jobs import is_waiting
from qrecords.people.acting import Acting, require
from qrecords.people.bounds import zone_of
from qrecords.people.models import Person, RoleGrant
from qrecords.people.permissions import Action
from qrecords.people.stating import Told, state
from qrecords.steps.transitions import Refusal
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.look_back_actions import JOB, said_why
from qrecords.workshop.models import LookBack, LookBackAction, LookBackAnswer, LookBackEnd

MOST_NAMED = 12
"""So many mountings are named in a refusal."""


def judge_for(*, acting: Acting, look_back: LookBack, mounting: Mounting) -> Again | None:
    """Judge one touched mounting for a look-back; None where that was done before."""
    put_right = put_right_of(asked_of(look_back), mounting)
    return judge_again(
        acting=acting, mounting=mounting, put_right=put_right, occasion=OCCASION, cause=look_back.id
    )


@atomic()
def say_judged(*, acting: Acting, look_back: LookBack, entry_id: uuid.UUID) -> Entry:
    """That every mounting touched has its class, with how many each class has."""
    classes = counted([look_back.id]).get(look_back.id, {})
    about = ("look-back", look_back.id)
    seen = {"classes": [[name, classes[name]] for name in sorted(classes)]}
    return state(
        acting, "look-back judged", id=entry_id, site=look_back.site, about=about, said={}, seen=seen
    )


@atomic()
def give_to(
    *,
    acting: Acting,
    look_back: LookBack,
    mounting: Mounting,
    action_id: uuid.UUID,
    owner: Person,
    due: date,
    what: str,
) -> LookBackAction:
    """Give a mounting in doubt to somebody, until a day. Refused (RefusedError) once the look-back is closed,
    and for a mounting that it does not touch."""
    require(acting, Action.LOOK_BACK, look_back.site)
    acting = replace(acting, at_device=None)
    locked = LookBack.objects.select_for_update().get(id=look_back.id)
    said = {
        "mounting": str(mounting.id),
        "owner": str(owner.id),
        "due": due.isoformat(),
        "what": said_why(what),
    }
    about = ("look-back", locked.id)
    known = LookBackAction.objects.filter(id=action_id).first()
    if known is None:
        _refuse_ended(locked)
        if not results(locked).filter(mounting=mounting).exists():
            raise RefusedError("look-back", Refusal("not-in-doubt", {"mounting": mounting.number}))
        if not RoleGrant.objects.filter(person=owner, site=locked.site).exists():
            raise RegisterFieldError("owner", str(owner.id), "a person who has a role here")
        if due < acting.now.astimezone(zone_of(acting.zone)).date():
            raise RegisterFieldError("due", due.isoformat(), "today or a later day")
    state(acting, "look-back action", id=action_id, site=locked.site, about=about, said=said)
    return known or LookBackAction.objects.create(
        id=action_id,
        look_back=locked,
        mounting=mounting.id,
        owner=owner.id,
        due=due,
        what=said["what"],
        by=acting.author.id,
        at=acting.now,
    )


@atomic()
def answer(*, acting: Acting, action: LookBackAction, answer_id: uuid.UUID, how: str) -> LookBackAnswer:
    """Close an action, saying how: the engineer's word about the product. Never by who worked on it."""
    require(acting, Action.ANSWER_DOUBT, action.look_back.site)
    acting = replace(acting, at_device=None)
    locked = LookBack.objects.select_for_update().get(id=action.look_back_id)
    said = {"action": str(action.id), "how": said_why(how)}
    about = ("look-back", locked.id)
    known = LookBackAnswer.objects.filter(id=answer_id).first()
    if known is None:
        _refuse_ended(locked)
        if LookBackAnswer.objects.filter(action=action).exists():
            raise RefusedError("look-back", Refusal("already-answered", {}))
        case = case_of(Mounting.objects.get(id=action.mounting))
        if str(acting.author.id) in case.worked_by:
            raise RefusedError("look-back", Refusal("not-independent", {"person": str(acting.author.id)}))
    state(acting, "look-back answer", id=answer_id, site=locked.site, about=about, said=said)
    return known or LookBackAnswer.objects.create(
        id=answer_id, action=action, how=said["how"], by=acting.author.id, at=acting.now
    )


@atomic()
def end_look_back(*, acting: Acting, look_back: LookBack, entry_id: uuid.UUID, reason: str) -> LookBackEnd:
    """Close a look-back, saying what it came to. Refused (RefusedError) while a mounting has no class yet, or
    one in doubt no action that is closed."""
    require(acting, Action.LOOK_BACK, look_back.site)
    acting = replace(acting, at_device=None)
    locked = LookBack.objects.select_for_update().get(id=look_back.id)
    text, about = said_why(reason), ("look-back", look_back.id)
    ending: Told = {"id": entry_id, "site": locked.site, "about": about, "said": {}, "reason": text}
    known = LookBackEnd.objects.filter(id=entry_id).first()
    if known is None:
        _refuse_ended(locked)
        _refuse_unanswered(locked)
    classes = counted([locked.id]).get(locked.id, {})
    seen = {"classes": [[name, classes[name]] for name in sorted(classes)]}
    state(acting, "look-back end", **ending | {"seen": seen})
    return known or LookBackEnd.objects.create(
        id=entry_id, look_back=locked, reason=text, by=acting.author.id, at=acting.now
    )


def _refuse_ended(look_back: LookBack) -> None:
    if LookBackEnd.objects.filter(look_back=look_back).exists():
        raise RefusedError("look-back", Refusal("look-back-closed", {}))


def _refuse_unanswered(look_back: LookBack) -> None:
    # What came late is judged by a job of its own, behind the first end of the judging.
    if not is_judged(look_back) or is_waiting(JOB, look_back=str(look_back.id)):
        raise RefusedError("look-back", Refusal("not-judged-yet", {}))
    waiting = list(unanswered(look_back).values_list("mounting__number", flat=True)[:MOST_NAMED])
    if waiting:
        raise RefusedError("look-back", Refusal("doubts-open", {"mountings": tuple(waiting)}))
