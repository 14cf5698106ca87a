"""What the ledger refuses, and why."""

from collections.abc import Sequence
from pathlib import Path
from uuid import UUID


class LedgerError(Exception):
    """Whatever keeps an entry out of the log or the log from being used; `code` is stable."""

    code = "ledger"


class DifferentContentError(LedgerError):
    """An entry with this identifier is stored already and says something else."""

    code = "different-content"

    def __init__(self, entry_id: UUID) -> None:
        super().__init__(f"entry {entry_id} is stored already and says something else")
        self.entry_id = entry_id


class PayloadTooLongError(LedgerError):
    """More bytes than one entry may hold; curves and pictures are files."""

    code = "payload-too-long"

    def __init__(self, entry_id: UUID, length: int, limit: int) -> None:
        super().__init__(f"entry {entry_id} has {length} bytes; an entry holds at most {limit}")
        self.entry_id = entry_id
        self.length = length
        self.limit = limit


class EnvelopeError(LedgerError):
    """An envelope that nobody could file: a fault of the program, not of the person."""

    code = "envelope"


class NotRecordedError(LedgerError):
    """No leaf of the log holds this entry."""

    code = "not-recorded"

    def __init__(self, entry_id: UUID) -> None:
        super().__init__(f"entry {entry_id} is not in the log")
        self.entry_id = entry_id


class NodeMissingError(LedgerError, KeyError):
    """The stored tree has a hole: `manage.py rebuild_indexes` makes it again from the leaves."""

    code = "node-missing"

    def __init__(self, level: int, index: int) -> None:
        super().__init__(f"node {index} of level {level} is missing from the stored tree")
        self.level, self.index = level, index


class KeyMissingError(LedgerError):
    """The key that signs entries is not where the settings say."""

    code = "key-missing"

    def __init__(self, path: Path) -> None:
        super().__init__(f"there is no key at {path}: run `manage.py install`")
        self.path = path


class KeyLostError(LedgerError):
    """The log was opened with another key than the one found: a new one must not take its place unseen."""

    code = "key-lost"


class TriggersDifferError(LedgerError):
    """What guards the append-only tables is not what it should be."""

    code = "triggers-differ"

    def __init__(self, differences: Sequence[str]) -> None:
        super().__init__("; ".join(differences))
        self.differences = tuple(differences)
