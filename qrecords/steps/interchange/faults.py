"""What is wrong with a document, and where: a JSON pointer (RFC 6901), the value, its unit, what may be."""

from collections.abc import Iterable
from dataclasses import dataclass

MOST = 40
"""So many faults are told at once; who mends them asks again."""
SHOWN = 60


@dataclass(frozen=True)
class Fault:
    """`at` names the place; `code` is stable; `told` is what stands there, shortened."""

    at: str
    code: str
    told: str = ""
    unit: str = ""
    allowed: str = ""
    why: str = ""

    def __str__(self) -> str:
        told = " ".join(part for part in (self.told, self.unit) if part)
        allowed = f"allowed: {self.allowed}" if self.allowed else ""
        why = "; ".join(part for part in (self.why, allowed) if part)
        return f"{self.at or 'the document'}: {': '.join(part for part in (told, why) if part)}"


class CaseFaultsError(Exception):
    """A case document that cannot be judged, with every fault that was found (at most MOST) and whether there
    are more."""

    code = "case"

    def __init__(self, faults: Iterable[Fault]) -> None:
        found = list(faults)
        self.faults, self.more = tuple(found[:MOST]), len(found) > MOST
        super().__init__("\n".join(str(fault) for fault in self.faults))


def below(at: str, key: str | int) -> str:
    """The pointer to a member of what `at` points to."""
    return f"{at}/{str(key).replace('~', '~0').replace('/', '~1')}"


def told(value: object) -> str:
    """A value as a message repeats it: text in quotes, and never more than its beginning."""
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= SHOWN else text[:SHOWN] + "…"
