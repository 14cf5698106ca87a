"""What registers refuse, with the facts."""


class WorkshopError(Exception):
    code = "workshop"


class UnknownObjectError(WorkshopError):
    """No such register object within the asker's reach."""

    code = "unknown-object"

    def __init__(self, what: str, id: object) -> None:
        self.what, self.id = what, str(id)
        super().__init__(f"no {what} {id} here")


class RowSettledError(WorkshopError):
    """A row of a table was decided about already; `stands` says how."""

    code = "row-settled"

    def __init__(self, id: object, stands: str) -> None:
        self.id, self.stands = str(id), stands
        super().__init__(f"this row of a table is {stands} already")


class ProcedureThereError(WorkshopError):
    """One person puts the first procedure of a site in force, at its installation; no other one."""

    code = "procedure-there"

    def __init__(self) -> None:
        super().__init__("a procedure is in force here: the next is drafted, and approved by two people")


class ProcedureSettledError(WorkshopError):
    """A draft about which nothing can be decided any more; `stands` says how it stands."""

    code = "procedure-settled"

    def __init__(self, id: object, stands: str) -> None:
        self.id, self.stands = str(id), stands
        super().__init__(f"this draft is {stands} already")


class TwoPeopleError(WorkshopError):
    """Two different people approve, and at most one of them drafted; `why` is *approved* or *drafted*."""

    code = "two-people"

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(
            "you have approved it already: another person does so too"
            if why == "approved"
            else "one of those who drafted it has approved it: the other approval is by who did not draft"
        )


class LastProcedureError(WorkshopError):
    """Without this one nothing of the workshop's own would be in force."""

    code = "last-procedure"

    def __init__(self) -> None:
        super().__init__("the workshop's only procedure in force: put another one in force first")


class RegisterFieldError(WorkshopError):
    """A register field that does not hold what it should."""

    code = "register-field"

    def __init__(self, field: str, value: str, allowed: str) -> None:
        self.field, self.value, self.allowed = field, value[:60], allowed
        super().__init__(f"{field} is {value!r}; allowed: {allowed}")
