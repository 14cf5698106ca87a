"""Words of the step *old bearing*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="old_bearing",
    name=_("old bearing"),
    before="ring",
    labels={
        "old_designation": _("old bearing, marking"),
        "track": _("running track"),
        "seat_colour": _("colour of the old seat"),
        "old_ring": _("old ring on its seat"),
        "damage": _("damage as it looks"),
        "fate": _("old bearing"),
        "bag": _("bag number"),
    },
    names={
        "old-track": _("Old bearing, track"),
        "old-seat": _("Old bearing, seat"),
        "old-ring-crept": _("Old ring on its seat"),
        "old-bearing-kept": _("Old bearing kept"),
    },
    why={
        "old-track": _("Where the balls ran tells what the shaft did."),
        "old-seat": _("Rust, polish and temper colours are gone once they are wiped away."),
        "old-ring-crept": _("A ring that crept once creeps again in the same fit."),
        "old-bearing-kept": _("The old bearing tells better than anybody what ended it."),
    },
    findings={
        "old-ring-crept.query": _(
            "The old ring crept on its seat.|Is the seat built up, and the fit the right one?"
        ),
    },
    shots={
        "old ring": _("old ring's bore, before wiping"),
        "old seat": _("old seat and track, before wiping"),
    },
)
