"""Words of the step *arrangement*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="arrangement",
    name=_("arrangement"),
    before="temperatures",
    labels={
        "arranged_on_drawing": _("arrangement on the drawing"),
        "arranged": _("arrangement by the marks"),
        "marked_face": _("marked face"),
        "pair_serials": _("serials of the pair"),
        "pair_marks": _("marks of the pair"),
        "lock_tab": _("tab of the lock washer"),
        "thrust_side": _("thrust side, loose ring"),
        "spacer_width": _("width of the spacer"),
        "spacer_least": _("drawing, from"),
        "spacer_most": _("drawing, to"),
        "spacer_parallel": _("faces of the spacer out of parallel"),
    },
    names={
        "arranged-as-drawn": _("Arrangement"),
        "marked-face": _("Marked face"),
        "pair-marks": _("Marks of the pair"),
        "lock-tab": _("Lock washer"),
        "spacer-width": _("Width of the spacer"),
        "spacer-parallel": _("Spacer, parallel"),
    },
    why={
        "arranged-as-drawn": _("A pair the wrong way round has no preload, and skewed tracks."),
        "marked-face": _("A face turned inward cannot be read any more."),
        "pair-marks": _("A pair is ground together, and runs true as it was marked."),
        "lock-tab": _("A tab that is not bent in lets the nut come off."),
        "spacer-width": _("A micrometre on the spacer is a micrometre of preload."),
        "spacer-parallel": _("A spacer that is not parallel tilts both rings."),
    },
    shots={
        "pair": _("marks of the pair, as mounted"),
    },
)
