"""Decisions and releases as their entries say them."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from qrecords.steps.acts import Decision, Release


def decision_of(entry: str, payload: Mapping[str, Any], at: datetime) -> Decision:
    """An older entry names neither a last day nor a letter, nor the rows it was taken by."""
    said, seen = payload["body"]["said"], payload["body"]["seen"]
    return Decision(
        kind=said["decision"],
        digests=frozenset(said["findings"]),
        reason=str(payload["reason"]),
        conditions=said.get("conditions", ""),
        entry=entry,
        author=payload["author"]["person"],
        at=at,
        closes=seen["closes"],
        expires=date.fromisoformat(said["expires"]) if said.get("expires") else None,
        letter=said.get("letter", ""),
        states=tuple(said.get("states", ())),
        rows=tuple(dict.fromkeys(seen.get("rows", {}).values())),
    )


def release_of(entry: str, leaf: str, payload: Mapping[str, Any], at: datetime, index: int) -> Release:
    said, seen = payload["body"]["said"], payload["body"]["seen"]
    return Release(
        hold=said["hold"],
        entry=entry,
        leaf=leaf,
        at=at,
        author=payload["author"]["person"],
        captures=frozenset(seen["captures"]),
        means=seen["means"],
        code=said.get("code", ""),
        lowest_nm=said.get("lowest_nm"),
        highest_nm=said.get("highest_nm"),
        index=index,
        reduced=str(seen.get("reduced", "")),
    )
