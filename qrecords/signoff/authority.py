"""Whether who acts may give what he gives today: his competence and eyesight where they are kept, and how
independent he is.

An act of authority is refused where what was recorded of a person does not cover it or has run out. Where
nothing was ever recorded of him for such acts, his role alone counts, and that stands beside the act. Who
only stands in has no authority but by a competence that covers this very act (house rule).
"""

from datetime import timedelta
from typing import Any

from qrecords.mountings.competence import competence_between, eyesight_between, frozen, frozen_eyesight
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.bounds import Bounds, zone_of
from qrecords.people.competence import HELD, KIND_UNKNOWN, LAPSED, NONE, Standing, rows_for
from qrecords.people.permissions import Action, Role, Scope
from qrecords.people.queries import rights_of
from qrecords.signoff.errors import NotCompetentError, ReasonNeededError
from qrecords.steps.requirement import Requirement
from qrecords.steps.tasks import STAND_IN

REVIEWED_WITHIN = timedelta(days=1)
"""What was signed with reduced independence is looked at again by the end of the next day (house rule)."""


def only_stands_in(acting: Acting, action: Action, mounting: Mounting) -> bool:
    """Whether none but the role of a stand-in gives this right here; one query."""
    rights = rights_of(acting.author.id, acting.now).without(Role.STAND_IN)
    return rights.at(action, mounting.site).scope < Scope.SITE


def authority(
    acting: Acting, mounting: Mounting, requirement: Requirement, action: Action, task: str, alone: str = ""
) -> dict[str, Any]:
    """What is frozen beside an act of authority. NotCompetentError where competence or eyesight do not hold;
    ReasonNeededError where a stand-in does not say why no inspector is there (`alone`)."""
    now = Bounds(acting.now, acting.now, acting.zone)
    stands_in = only_stands_in(acting, action, mounting)
    asked, position = (STAND_IN, mounting.journal.position) if stands_in else (task, "")
    standing = competence_between(acting, mounting, requirement, asked, now, position)
    if not _covers(acting, mounting, asked, standing):
        raise NotCompetentError(asked, standing.state, standing.until)
    eyes = eyesight_between(acting, mounting, now)
    if eyes.state == LAPSED:
        raise NotCompetentError("eyesight", eyes.state, eyes.until)
    seen = frozen(standing) | frozen_eyesight(eyes)
    if not stands_in:
        return seen
    if not alone.strip():
        raise ReasonNeededError("stand in")
    due = acting.now.astimezone(zone_of(acting.zone)).date() + REVIEWED_WITHIN
    return seen | {"reduced": alone.strip(), "review_by": due.isoformat()}


def _covers(acting: Acting, mounting: Mounting, task: str, standing: Standing) -> bool:
    if task == STAND_IN or standing.state == HELD:
        return standing.state == HELD
    if standing.state == KIND_UNKNOWN:
        return True
    return standing.state == NONE and not rows_for(acting.author.id, mounting.site, task)
