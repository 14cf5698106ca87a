"""What stands beside an act about who did it, in words: competence, eyesight, reduced independence."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.utils.translation import gettext

from qrecords.tracing.record import Line
from qrecords.web.auditor.told import Told
from qrecords.web.moments import calendar_day

Seen = Mapping[str, Any]


def of_who(seen: Seen) -> list[Told]:
    """Competence and eyesight as they were frozen, and why it was given with reduced independence."""
    held = (
        _held(seen, "competence", gettext("competence")),
        _held(seen, "eyesight", gettext("eyesight test")),
    )
    told = [each for each in held if each]
    if seen.get("reduced"):
        told.append(Told(gettext("reduced independence"), seen["reduced"]))
        if seen.get("review_by"):
            told.append(Told(gettext("to be looked at again until"), _day(seen["review_by"])))
    return told


def _held(seen: Seen, name: str, caption: str) -> Told | None:
    """`held, until 3 Mar 2027`, `lapsed, not done since 2 Mar 2026`; None where nothing was frozen."""
    state, of = seen.get(name), seen.get(f"{name}_of", {})
    if not state:
        return None
    words = [gettext(state)]
    if of.get("not_done_since"):
        words.append(gettext("not done since {day}").format(day=_day(of["not_done_since"])))
    elif of.get("until"):
        words.append(gettext("until {day}").format(day=_day(of["until"])))
    return Told(caption, ", ".join(words), quiet=True)


def _day(text: str) -> str:
    return calendar_day(date.fromisoformat(text))


def looked_again(line: Line) -> tuple[str, list[Told]]:
    agreed = gettext("agrees") if line.said["agreed"] == "yes" else gettext("does not agree")
    return gettext("looked again: reduced independence"), [Told(gettext("outcome"), agreed)]
