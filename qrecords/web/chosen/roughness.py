"""Words of the step *roughness*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="roughness",
    name=_("roughness"),
    before="bore",
    labels={
        "ra": _("roughness Ra"),
        "ra_by": _("compared by"),
        "ra_instrument": _("its number"),
    },
    names={
        "seat-roughness": _("Roughness of the seat"),
    },
    why={
        "seat-roughness": _("A rough seat is pressed flat, and the interference with it."),
    },
    shots={
        "comparator": _("comparator beside the seat"),
    },
)
