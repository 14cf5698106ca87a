"""What recording is asked back or refused for."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from qrecords.steps.case import Case
from qrecords.steps.errors import FieldError
from qrecords.steps.transitions import CLOSED, Refusal, state_of


class MountingError(Exception):
    code = "mounting"


class FieldsError(MountingError):
    """Some of what was typed gives no answer; nothing was recorded, everything stays as typed."""

    code = "fields"

    def __init__(self, errors: Mapping[str, FieldError]) -> None:
        self.errors = dict(errors)
        super().__init__("; ".join(str(error) for error in errors.values()))


class NeedsReasonError(MountingError):
    """Fields that already have an answer change only with a reason: the first answer stays readable."""

    code = "needs-reason"

    def __init__(self, keys: Sequence[str], entry: str) -> None:
        self.keys, self.entry = tuple(keys), entry
        super().__init__(f"{', '.join(keys)}: already recorded; say why it changes")


class NothingSaidError(MountingError):
    """A form without any new answer."""

    code = "nothing-said"

    def __init__(self, step: str) -> None:
        self.step = step
        super().__init__(f"{step}: nothing new was entered")


class ChangedMeanwhileError(MountingError):
    """What would be signed or released is no longer what was shown."""

    code = "changed-meanwhile"

    def __init__(self, new_entries: Sequence[str]) -> None:
        self.new_entries = tuple(new_entries)
        super().__init__(f"{len(self.new_entries)} entries came since this page was shown")


class RefusedError(MountingError):
    """An act of authority that may not be done now; facts say what is missing."""

    code = "refused"

    def __init__(self, act: str, refusal: Refusal) -> None:
        self.act, self.refusal = act, refusal
        self.code = refusal.code
        told = {n: v if isinstance(v, str) else "; ".join(v) for n, v in refusal.facts.items()}
        facts = "; ".join(f"{name}: {words}" for name, words in told.items())
        super().__init__(f"{act} refused ({refusal.code}) {facts}".strip())


def refuse_closed(act: str, case: Case) -> None:
    """A signed or closed record is frozen: RefusedError for anything that would change what was judged."""
    state = state_of(case)
    if state in CLOSED:
        raise RefusedError(act, Refusal("closed", {"state": state.value}))


class SealedError(MountingError):
    """Not shown yet to who has to read for himself: two readings are two only if neither saw the other."""

    code = "sealed"

    def __init__(self, mounting: object) -> None:
        self.mounting = str(mounting)
        super().__init__(
            "read the ring and the photographed display yourself first: this shows what others read"
        )


class UnknownMountingError(MountingError):
    """No such mounting within the asker's reach."""

    code = "unknown-mounting"

    def __init__(self, id: object) -> None:
        self.id = str(id)
        super().__init__(f"no mounting {id} here")


class UnknownTapError(MountingError):
    code = "unknown-tap"

    def __init__(self, what: str, known: Sequence[str]) -> None:
        self.what, self.known = what[:40], tuple(known)
        super().__init__(f"no tap {what!r}; there are {', '.join(known)}")


class AlreadyTappedError(MountingError):
    """The tap was made on another device since this page was shown: one act is one entry."""

    code = "already-tapped"

    def __init__(self, what: str, entry: str, at: datetime, author: str) -> None:
        self.what, self.entry, self.at, self.author = what, entry, at, author
        super().__init__(f"{what!r} was tapped already at {at.isoformat(timespec='seconds')}")


class TooLateToUndoError(MountingError):
    """A tap is undone within ten seconds, by who made it; later it is a fact."""

    code = "too-late-to-undo"

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        super().__init__(f"a tap can be undone for {seconds} s")


class WhyWithdrawnError(MountingError):
    """A mounting is withdrawn with its reason."""

    code = "reason-needed"

    def __init__(self) -> None:
        super().__init__("say why this mounting is withdrawn")


class BarredBearingError(MountingError):
    """A scrapped bearing cannot come back."""

    code = "bearing-scrapped"

    def __init__(self, number: str) -> None:
        self.number = number
        where = f" in mounting {number}" if number else " after it came off"
        super().__init__(f"this bearing was scrapped{where}: it is not mounted any more")


class LaboratoryError(MountingError):
    """A bearing that fell is cleared on a laboratory's report alone."""

    code = "laboratory-report"

    def __init__(self) -> None:
        super().__init__(
            "this bearing was dropped: hand in the laboratory's report of raceway, dimensions and noise with "
            "its record first"
        )


class BearingElsewhereError(MountingError):
    """A bearing is mounted in one place at a time."""

    code = "bearing-elsewhere"

    def __init__(self, number: str) -> None:
        self.number = number
        super().__init__(
            f"this bearing stands in mounting {number}, which is not closed: close or withdraw that one first"
        )


class BearingStateError(MountingError):
    """An act of authority about a bearing that is somewhere else, or something else, than it takes for
    granted."""

    code = "bearing-state"

    def __init__(self, act: str, where: str, number: str) -> None:
        self.act, self.where, self.number = act, where, number
        of = f" {number}" if number and where in ("in a mounting", "mounted") else ""
        super().__init__(f"it cannot be said to be {act}: this bearing is {where}{of} now")
