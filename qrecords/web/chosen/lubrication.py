"""Words of the step *lubricant*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="lubrication",
    name=_("lubricant"),
    before="close",
    labels={
        "lubricant": _("lubricant"),
        "product": _("product"),
        "batch": _("batch"),
        "mass": _("filled into the bearing"),
        "cavity_mass": _("filled into the housing"),
        "beside_old": _("beside the old lubricant"),
        "gun": _("grease gun"),
    },
    names={
        "lubricant-kind": _("Kind of lubricant"),
        "lubricant-as-asked": _("Lubricant"),
        "lubricant-batch": _("Batch of the lubricant"),
        "grease-fill": _("Filling"),
        "agrees-with-old": _("Beside the old lubricant"),
    },
    why={
        "lubricant-kind": _("A bearing without its lubricant does not last a shift."),
        "lubricant-as-asked": _("The wrong grease is thick in the cold and gone in the heat."),
        "lubricant-batch": _("A bad batch is found again by its number."),
        "grease-fill": _("Too much churns and heats; too little smears."),
        "agrees-with-old": _("Two soaps that do not agree turn to oil."),
    },
    findings={
        "lubricant-as-asked.conforming": _("{said}."),
        "lubricant-as-asked.nonconforming": _("{said} filled in,|the order asks for {wanted}."),
    },
    shots={
        "grease": _("filling of grease"),
    },
)
