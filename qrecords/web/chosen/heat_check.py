"""Words of the step *second thermometer*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="heat_check",
    name=_("second thermometer"),
    before="after",
    labels={
        "probe_spot": _("spot under the probe"),
        "contact_gauge": _("contact thermometer"),
        "turned_hot": _("while hot it was"),
        "above_target_for": _("above the target for"),
    },
    names={
        "probe-spot": _("Spot under the probe"),
        "contact-check": _("Second thermometer"),
        "not-turned-hot": _("Turned while hot"),
    },
    why={
        "probe-spot": _("A probe on oil and paint reads low."),
        "contact-check": _("Two thermometers on one ring that differ: one of them is wrong."),
        "not-turned-hot": _("Elements that are clamped dent the raceway when they are turned."),
    },
    findings={
        "contact-check.conforming": _(
            "{probe_mdegc:c} and {contact_mdegc:c},|up to {allowed_mk:k} apart allowed."
        ),
        "contact-check.query": _(
            "{probe_mdegc:c} by the probe, {contact_mdegc:c} by contact:|more than {allowed_mk:k} apart. "
            "Which one was right?"
        ),
        "not-turned-hot.conforming": _("{said}."),
        "not-turned-hot.not-proven": _(
            "{said} while hot:|how much hotter the inner ring was than its clearance allows is not known."
        ),
        "not-turned-hot.nonconforming": _(
            "{said} while the inner ring was hotter than its clearance allows:|the elements were pinched."
        ),
    },
    shots={
        "cross-check": _("display of the contact thermometer"),
    },
)
