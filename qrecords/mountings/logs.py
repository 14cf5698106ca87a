"""The heating logs of a mounting as the pure layers take them: read from the stored files."""

from collections.abc import Sequence
from functools import lru_cache

from qrecords.evidence.queries import content
from qrecords.ledger.queries import Said
from qrecords.steps.attached import logs_named
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.folding import Logs
from qrecords.steps.log_table import LogTable
from qrecords.steps.log_text import read_or_why

KEPT = 32
"""Logs whose samples a process keeps: a file under its digest never changes, and every page asks again."""


def logs_of(entries: Sequence[Said]) -> Logs:
    """Every log that these entries hand in and that is here. One whose file is gone is left out, and told."""
    found: dict[str, LogTable | LogUnreadableError] = {}
    for sha256 in logs_named(entries):
        try:
            found[sha256] = log_here(sha256)
        except FileNotFoundError:
            continue
    return found


def log_bytes(entries: Sequence[Said]) -> dict[str, bytes]:
    """The same logs as they were sent, by their SHA-256."""
    stored = {sha256: content(sha256) for sha256 in logs_named(entries)}
    return {sha256: raw for sha256, raw in stored.items() if raw is not None}


@lru_cache(maxsize=KEPT)
def log_here(sha256: str) -> LogTable | LogUnreadableError:
    """The samples of a stored file, or why they cannot be read; FileNotFoundError where it is gone."""
    raw = content(sha256)
    if raw is None:
        raise FileNotFoundError(sha256)
    return read_or_why(raw)
