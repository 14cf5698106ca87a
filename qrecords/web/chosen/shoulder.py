"""Words of the step *shoulder*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="shoulder",
    name=_("shoulder"),
    before="readings",
    labels={
        "chamfer": _("chamfer of the ring, least"),
        "undercut": _("undercut instead of a fillet"),
        "fillet_radius": _("fillet radius"),
        "radius_gauge": _("radius gauge number"),
        "height": _("height of the shoulder"),
        "runout": _("run-out of the shoulder"),
        "dial": _("dial indicator"),
    },
    names={
        "fillet-radius": _("Fillet radius"),
        "shoulder-height": _("Height of the shoulder"),
        "shoulder-runout": _("Run-out of the shoulder"),
    },
    why={
        "fillet-radius": _("A ring that rides on the fillet sits tilted, with a gap."),
        "shoulder-height": _("A low shoulder is crushed by the ring that leans on it."),
        "shoulder-runout": _("A ring pressed against a shoulder that wobbles wobbles with it."),
    },
    shots={
        "fillet": _("radius gauge in the fillet"),
        "dial": _("dial on the shoulder"),
    },
)
