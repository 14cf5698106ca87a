"""That a record was entered from a sheet of paper, in one sentence for every page and paper."""

from django.utils.translation import gettext

from qrecords.steps.case import Case
from qrecords.web.auditor.saying import step_name


def from_paper(case: Case) -> str:
    """What of a record was entered from paper; '' where nothing was."""
    if not case.sheets:
        return ""
    steps = [step for step, answers in case.answers.items() if any(a.paper for a in answers.values())]
    told = [step_name(step) for step in steps]
    told += [gettext("times while hot")] if any(tap.paper for tap in case.taps) else []
    days = ", ".join(dict.fromkeys(sheet.day for sheet in case.sheets))
    what = ", ".join(told) or gettext("nothing yet")
    words = gettext("Entered from a paper sheet begun on {days}, times as written: {what}.")
    return words.format(days=days, what=what)
