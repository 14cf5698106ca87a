"""Words of the step *work order*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="work_order",
    name=_("work order"),
    before="ring",
    labels={
        "drawing_in_hand": _("drawing in hand"),
        "revision_in_hand": _("its revision"),
        "machine_plate": _("machine's nameplate"),
        "lubricant_asked": _("lubricant the order asks"),
        "customer_points": _("customer's hold and witness points"),
        "mounted_before": _("this bearing mounted before"),
    },
    names={
        "drawing-in-hand": _("Drawing in hand"),
        "machine-as-ordered": _("Nameplate"),
        "customer-told": _("Customer's points"),
        "mounted-before": _("Mounted before"),
    },
    why={
        "drawing-in-hand": _("A fit by a revision that is no more is the wrong fit, measured well."),
        "machine-as-ordered": _("Locating and floating end change places on the wrong machine."),
        "customer-told": _("Who was promised a look and got none does not accept the work."),
        "mounted-before": _("A ring that was on once has a smoother bore, and perhaps dents."),
    },
    findings={
        "drawing-in-hand.conforming": _("{read}|is what this record is judged by."),
        "drawing-in-hand.not-proven": _("{read} in hand,|this record is judged by {wanted}: which one asks?"),
        "machine-as-ordered.query": _("Nameplate: {said}.|Which machine is it?"),
        "mounted-before.query": _("This bearing was mounted before.|Look at its bore and tracks."),
    },
    shots={
        "nameplate": _("machine's nameplate"),
        "as received": _("machine as received"),
    },
)
