"""Words of the step *delivery*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="delivery",
    name=_("delivery"),
    before="ring",
    labels={
        "supplier": _("supplier"),
        "delivery_number": _("delivery number"),
        "quantity": _("how many came"),
        "seal": _("seal of the box"),
        "origin": _("where it is from"),
        "quarantine": _("in quarantine"),
    },
    names={
        "supplier-named": _("Supplier"),
        "delivery-named": _("Delivery"),
        "box-seal": _("Seal of the box"),
        "origin-sure": _("Origin"),
        "out-of-quarantine": _("Quarantine"),
    },
    why={
        "supplier-named": _("A bad lot is found again by who delivered it."),
        "delivery-named": _("A bad lot is found again by its delivery."),
        "box-seal": _("A box that was open may hold another bearing."),
        "origin-sure": _("A copy looks like the real one until it runs."),
        "out-of-quarantine": _("What waits for an answer is not mounted meanwhile."),
    },
    findings={
        "box-seal.query": _("Seal: {said}.|Is it the bearing that the box names?"),
    },
)
