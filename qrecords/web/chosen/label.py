"""Words of the step *label*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="label",
    name=_("label"),
    before="close",
    labels={
        "label_number": _("label number"),
        "first_vibration": _("vibration at the first run"),
        "vibration_most": _("vibration, at most"),
        "first_temperature": _("temperature at the first run"),
        "first_run": _("first run, where and when"),
    },
    names={
        "labelled": _("Label"),
        "first-vibration": _("Vibration at the first run"),
    },
    why={
        "labelled": _("A record that nobody finds again proves nothing."),
        "first-vibration": _("What was dented on the way shows at the first turn."),
    },
    shots={
        "label": _("label on the machine"),
    },
)
