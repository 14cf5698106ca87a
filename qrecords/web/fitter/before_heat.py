"""Known before heat: what of preparation and set-up is open, and the code that was read back."""

from typing import Any

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.fit import read_back
from qrecords.steps.telephone import as_heard, is_code
from qrecords.steps.transitions import standing_release
from qrecords.steps.waiting import left_of_preparation
from qrecords.web import parts
from qrecords.web.fitter.left import Left, page_of
from qrecords.web.fitter.screens import SCREENS, before_taps, lacking
from qrecords.web.fitter.verdicts import grouped
from qrecords.web.names import name
from qrecords.web.showing import show

MOST_SHOWN = 24
"""So much of a mistyped code is said back."""


def context(mounting: Mounting, judged: Judged) -> dict[str, Any]:
    return {"unprepared": unprepared(mounting, judged), "not_set_up": not_set_up(mounting, judged)}


def unprepared(mounting: Mounting, judged: Judged) -> list[parts.Said]:
    """What of the preparation is out or too close to call and undecided, each with the page it is told on."""
    open_ = left_of_preparation(judged.case, judged.findings)
    return grouped((show(judged, f) for f in open_), lambda finding: page_of(mounting, judged, finding))


def not_set_up(mounting: Mounting, judged: Judged) -> tuple[Left, ...]:
    """What of the heater's set-up nobody has recorded yet."""
    parts = before_taps(SCREENS["heat"].under(judged.case.procedure))
    left = [f for part in parts for f in lacking(judged, part)]
    return tuple(Left(name(f.characteristic), page_of(mounting, judged, f)) for f in left)


def code_doubt(case: Case, code: str, asked: str, *, without: bool) -> str:
    """What is asked back about the one-time code before *heater on* is recorded; '' where nothing is. A code
    that belongs to no release here is asked about once: sent again, it is recorded as typed."""
    if not code:
        wanted = by_telephone(case) and not without
        return gettext("The code he read back is wanted: heater on names it.") if wanted else ""
    if not is_code(code):
        words = gettext("{code}: seven characters, and the last one does not check. Have it read out again.")
        return words.format(code=code[:MOST_SHOWN])
    if any(read_back(release, code) for release in case.releases) or as_heard(asked) == as_heard(code):
        return ""
    words = gettext(
        "{code} belongs to no release that is here. Have it read out again; sent once more it is recorded as "
        "typed and flagged."
    )
    return words.format(code=code[:MOST_SHOWN])


def by_telephone(case: Case) -> bool:
    """The release that stands was given by telephone: *heater on* names its code, not its hash."""
    release = standing_release(case, "fit")
    return release is not None and release.means == "telephone"
