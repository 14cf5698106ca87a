"""Words of the step *cooling*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="cooling_down",
    name=_("cooling"),
    before="temperatures",
    labels={
        "cooled": _("cooled"),
        "tightened_again": _("nut or lock washer tightened again cold"),
        "cooled_for": _("cooled for"),
    },
    names={
        "cooled-by-itself": _("How it cooled"),
        "tightened-again": _("Tightened again cold"),
    },
    why={
        "cooled-by-itself": _("One side that cools first pulls the ring off its shoulder."),
        "tightened-again": _("The ring gets shorter while it cools, and the nut stands loose."),
    },
)
