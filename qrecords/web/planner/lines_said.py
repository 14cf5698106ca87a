"""What is asked back about readings in lines: the line, what stands there, and what would give an answer."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.errors import FieldError, LineError
from qrecords.steps.planner import lines, study
from qrecords.steps.planner.form import NOT_UNDERSTOOD, OUTSIDE
from qrecords.web.planner import said
from qrecords.wording.figures import MINUS, visible

SENTENCES: Mapping[str, str] = {
    lines.TOO_LONG: _("more than an address holds. Up to {allowed} signs."),
    lines.LINES: _("{allowed} lines are wanted, one group of readings each."),
    lines.COUNT: _("{typed} readings, where {allowed} are wanted."),
    lines.UNEVEN: _("{typed} readings, where {allowed} are wanted, as in the first line."),
    lines.NO_SPREAD: _("no line has two different readings: the gauge is too coarse to tell a spread."),
    lines.WHOLE: _("“{typed}” looks like a whole size. Type deviations from nominal, in {allowed}."),
    study.NO_LINE: _("“{typed}”. A line is: who, which part, {allowed} readings. Names up to 20 signs."),
    study.TWICE: _("“{typed}”. Who and part stand in an earlier line."),
    study.LACKING: _("no line for {allowed}. Everybody measures every part."),
    study.PEOPLE: _("{allowed} people are wanted."),
    study.PARTS: _("{allowed} parts are wanted."),
    NOT_UNDERSTOOD: _("“{typed}” is not understood. It wants {allowed}."),
    OUTSIDE: _("{typed} is outside what is possible. It wants {allowed}."),
}
LABELS: Mapping[str, str] = {
    "lengths": _("readings in"),
    "readings": _("readings"),
    "lower": _("lower limit"),
    "upper": _("upper limit"),
    "tolerance": _("width of the tolerance"),
    "width": _("a spread is"),
}
"""Every input of these pages by its name there."""
LONGEST_SHOWN = 40


def label(name: str) -> str:
    return gettext(LABELS[name])


def asked_back(error: FieldError) -> str:
    """One sentence; of another field than the readings, as the planner says it."""
    if error.field != "readings":
        return said.asked_back(error)
    typed = visible(error.typed[:LONGEST_SHOWN])
    allowed = error.allowed.replace("um", "µm").replace("-", MINUS)
    sentence = gettext(SENTENCES[error.why]).format(typed=typed, allowed=allowed)
    if not isinstance(error, LineError):
        return sentence
    return gettext("line {number}: {sentence}").format(number=error.line, sentence=sentence)
