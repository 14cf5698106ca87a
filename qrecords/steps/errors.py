"""What can be refused at the keyboard, with the facts that tell what would be right."""

from collections.abc import Mapping, Sequence


class StepError(Exception):
    code = "step"


class FieldError(StepError):
    """What was typed gives no answer for this field. `facts` are the named values of the sentence that an
    edge has for `why`, where that is a message id."""

    code = "field"

    def __init__(
        self,
        field: str,
        typed: str,
        unit: str,
        allowed: str,
        why: str = "",
        facts: Mapping[str, str] | None = None,
    ) -> None:
        self.field, self.typed, self.unit, self.allowed = field, typed[:60], unit[:60], allowed
        self.why, self.facts = why, dict(facts or {})
        super().__init__(f"{field}: {self.typed!r} {unit}: {why or 'not understood'}; allowed: {allowed}")


class LineError(FieldError):
    """What stands in one line of a field of several gives no answer; `line` counts from 1."""

    def __init__(self, field: str, line: int, typed: str, unit: str, allowed: str, why: str) -> None:
        super().__init__(field, typed, unit, allowed, why)
        self.line = line


class SlipError(FieldError):
    """A quantity so far from what is expected that it is asked back once: 10×, 25.4×, 1000×, °F for °C. What
    was probably meant is `meant` in `meant_unit`: the same figures in another unit, or others in the same."""

    code = "slip"

    def __init__(
        self, field: str, typed: str, unit: str, allowed: str, meant: str, meant_unit: str = ""
    ) -> None:
        super().__init__(field, typed, unit, allowed, "far from what is expected")
        self.meant, self.meant_unit = meant, meant_unit or unit


class OddError(SlipError):
    """A reading far from the others of its surface; `allowed` is where those lie."""


class UnknownFieldError(StepError):
    code = "unknown-field"

    def __init__(self, step: str, field: str, known: Sequence[str]) -> None:
        self.step, self.field, self.known = step, field, tuple(known)
        super().__init__(f"step {step} has no field {field!r}; it has {', '.join(known)}")


class DocumentError(StepError):
    """A procedure or requirement document that cannot be used, with the field that is wrong."""

    code = "document"

    def __init__(self, document: str, field: str, why: str) -> None:
        self.document, self.field, self.why = document, field, why
        super().__init__(f"{document}: {field}: {why}")


class LogUnreadableError(StepError):
    """A heating log that gives no samples: the first place that cannot be read, counted from 1 (line 0: the
    file as a whole), what stands there, and what would be read. `reason` is a slug."""

    code = "log-unreadable"

    def __init__(
        self, reason: str, line: int = 0, column: int = 0, value: str = "", wanted: str = ""
    ) -> None:
        self.reason, self.line, self.column = reason, line, column
        self.value, self.wanted = value[:60], wanted
        place = f"line {line}, column {column}: " if line else ""
        super().__init__(f"heating log: {place}{reason} {self.value!r}; {wanted}")
