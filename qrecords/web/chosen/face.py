"""Words of the step *face of the ring*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="face",
    name=_("face of the ring"),
    before="hold",
    labels={
        "face_runout": _("run-out of the inner ring face"),
        "face_dial": _("dial indicator"),
    },
    names={
        "face-runout": _("Run-out of the ring face"),
    },
    why={
        "face-runout": _("A ring that wobbles breaks its cage."),
    },
    shots={
        "face": _("dial on the ring face"),
    },
)
