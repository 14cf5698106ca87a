"""What sign-off adds to the refusals of `mountings`."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal


class SignoffError(Exception):
    code = "signoff"


class UnknownFindingError(SignoffError):
    """A decision about a finding that does not stand (any more) with these numbers."""

    code = "unknown-finding"

    def __init__(self, digest: str) -> None:
        self.digest = digest
        super().__init__(f"no finding {digest[:12]} stands now")


class NotAmongDecisionsError(SignoffError):
    """This kind of decision is not among those that the rule allows for this finding."""

    code = "not-among-decisions"

    def __init__(self, kind: str, characteristic: str, may: Sequence[str]) -> None:
        self.kind, self.characteristic, self.may = kind, characteristic, tuple(may)
        super().__init__(f"{characteristic}: {kind} is not possible; possible: {', '.join(may)}")


class ReasonNeededError(SignoffError):
    code = "reason-needed"

    def __init__(self, act: str) -> None:
        self.act = act
        super().__init__(f"{act}: a reason in words is needed")


class ExpiryError(SignoffError):
    """An acceptance that would not hold a day, or a last day for what accepts nothing."""

    code = "expiry"

    def __init__(self, kind: str, day: date, today: date) -> None:
        self.kind, self.day, self.today = kind, day, today
        super().__init__(f"{kind} until {day}: allowed for what is accepted, from {today} on")


class WrongCodeError(SignoffError):
    """A telephone code that cannot be right as read out."""

    code = "wrong-code"

    def __init__(self, code: str) -> None:
        self.given = code[:20]
        super().__init__(f"{self.given!r} is not a code: seven characters, read out once more")


class LowestAboveHighestError(SignoffError):
    """The lowest reading as heard lies above the highest: the two were changed over, or one misheard."""

    code = "lowest-above-highest"

    def __init__(self, lowest_nm: int, highest_nm: int) -> None:
        self.lowest_nm, self.highest_nm = lowest_nm, highest_nm
        lowest, highest = (f"{Decimal(each).scaleb(-6).normalize():f} mm" for each in (lowest_nm, highest_nm))
        super().__init__(
            f"the lowest reading, {lowest}, is above the highest, {highest}: have both read again"
        )


class NotCompetentError(SignoffError):
    """What is recorded of a person's competence or eyesight does not cover this act, or has run out."""

    code = "not-competent"

    def __init__(self, task: str, state: str, until: date | None) -> None:
        self.task, self.state, self.until = task, state, until
        ran_out = f", it ran out on {until.isoformat()}" if until and state == "lapsed" else ""
        what = "eyesight test" if task == "eyesight" else f"competence, {task}"
        why = {"lapsed": "run out", "none": "not recorded for this size, kind and position"}
        super().__init__(
            f"{what}: {why.get(state, state)}{ran_out}. Somebody whose own is valid does this, or the "
            "quality manager records a new one first"
        )


class LeftToOthersError(SignoffError):
    """The procedure of the mounting leaves this to other roles."""

    code = "left-to-others"

    def __init__(self, kind: str, roles: Sequence[str]) -> None:
        self.kind, self.roles = kind, tuple(roles)
        super().__init__(f"{kind}: the procedure of this mounting leaves it to {' or '.join(roles)}")
