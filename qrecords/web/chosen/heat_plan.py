"""Words of the step *heat plan*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="heat_plan",
    name=_("heat plan"),
    before="set-up",
    labels={
        "seal_seen": _("bearing in hand"),
        "cage_seen": _("its cage"),
        "target": _("target"),
        "dry_run": _("dry run, every move without heat"),
    },
    names={
        "seal-as-ordered": _("Open or sealed"),
        "cage-as-ordered": _("Cage"),
        "target-under-ceiling": _("Target"),
        "target-reaches": _("Target against the fit"),
        "dry-run": _("Dry run"),
    },
    why={
        "seal-as-ordered": _("Grease and seals are spoilt on the setting of an open bearing."),
        "cage-as-ordered": _("Polyamide softens where brass does not."),
        "target-under-ceiling": _("What is set too high is reached."),
        "target-reaches": _("A ring that is not hot enough sticks half-way."),
        "dry-run": _("What is missing is found with a cold ring in hand, or with a hot one."),
    },
    findings={
        "seal-as-ordered.nonconforming": _(
            "{said} in hand,|the order says {wanted}: its ceiling is another."
        ),
        "cage-as-ordered.nonconforming": _(
            "Cage of {said} in hand,|the order says {wanted}: its ceiling is another."
        ),
        "seal-as-ordered.conforming": _("{said},|as ordered."),
        "cage-as-ordered.conforming": _("{said},|as ordered."),
        "dry-run.conforming": _("Gone through without heat."),
        "dry-run.query": _("Not gone through without heat.|Somebody looks."),
        "target-reaches.measured-query": _("{found},|{wanted} when it meets the seat: it would stick."),
    },
    shots={
        "setting": _("setting on the heater's panel"),
    },
)
