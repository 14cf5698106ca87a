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


class RegisterFieldError(WorkshopError):
    """A register field that does not hold what it should."""

    code = "register-field"

    def __init__(self, field: str, value: str, allowed: str) -> None:
        self.field, self.value, self.allowed = field, value[:60], allowed
        super().__init__(f"{field} is {value!r}; allowed: {allowed}")
