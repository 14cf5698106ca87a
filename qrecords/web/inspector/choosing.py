"""The forms that answer several findings at once: a decision with one cause, and a return item by item."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.sealed import Sealed
from qrecords.web.deciding_words import state_words
from qrecords.web.inspector.advice import first_words
from qrecords.web.inspector.blind import kept_back
from qrecords.web.inspector.items import group
from qrecords.web.inspector.rights import Rights, kind_word, who_may
from qrecords.web.showing import Shown
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class Choosable:
    """One open finding to tick or to write a reason beside; `ways` says what may be decided and by whom."""

    shown: Shown
    chosen: bool
    ways: str
    reason: str = ""
    first: tuple[str, ...] = ()


@dataclass(frozen=True)
class Kind:
    """One kind of decision; `why` says what follows from it."""

    value: str
    label: str
    why: str
    chosen: bool


def choosable(judged: Judged, figures: Figures, chosen: Sequence[str], sealed: Sealed) -> list[Choosable]:
    """The open findings that a decision can answer; queries are looked at, not decided."""
    needs = group(judged, figures).needs
    shown_now = [kept_back(shown, sealed) for shown in needs]
    return [
        Choosable(
            shown,
            shown.digest in chosen,
            who_may(shown.ways),
            first=() if shown.hidden else first_words(shown.ways),
        )
        for shown in shown_now
        if who_may(shown.ways)
    ]


def kinds(findings: Sequence[Choosable], rights: Rights, chosen: str) -> list[Kind]:
    """Every decision open to the reader for some finding; which finding takes which stands beside it."""
    every = dict.fromkeys(kind for each in findings for kind in rights.kinds(each.shown.ways))
    return [Kind(kind, kind_word(kind), _why(kind), kind == chosen) for kind in every]


def states(findings: Sequence[Choosable], rights: Rights) -> list[tuple[str, str]]:
    """What a decider may have to state that he saw himself, for the decisions open to him."""
    ways = [way for each in findings for way in each.shown.ways if way.kind in rights.kinds([way])]
    return [(name, state_words(name)) for name in dict.fromkeys(s for way in ways for s in way.way.states)]


def _why(kind: str) -> str:
    return {
        "measure again": gettext("stays open until a new reading stands"),
        "rework": gettext(
            "the part is mended and measured again; once the ring is on, or if another bearing is to go on, "
            "this mounting closes"
        ),
        "accept": gettext("inside what the procedure lets an inspector accept"),
        "concession": gettext("used as it is; your identity is proved again"),
        "scrap": gettext("the bearing is never used again; this mounting closes"),
        "quarantine": gettext("the bearing is set aside until an engineer clears it; this mounting closes"),
        "note": gettext("nothing is done to the product: the gauge was found right afterwards"),
    }.get(kind, "")


def returnable(
    judged: Judged, figures: Figures, reasons: dict[str, str], about: str, sealed: Sealed
) -> list[Choosable]:
    """Every open finding, each with a line for its own reason; `about` is the digest that was tapped."""
    return [
        Choosable(
            kept_back(shown, sealed), shown.digest == about, "", reasons.get(shown.finding.characteristic, "")
        )
        for shown in group(judged, figures).needs
    ]
