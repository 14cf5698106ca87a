"""Words of the step *end play*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="end_play",
    name=_("end play"),
    before="hold",
    labels={
        "drawing_asks": _("drawing asks for"),
        "play_least": _("end play from"),
        "play_most": _("end play to"),
        "end_play": _("end play"),
        "play_dial": _("dial indicator"),
        "play_force": _("moved with"),
        "turns_before": _("turned before"),
        "shims_old": _("shims before"),
        "shims_new": _("shims now"),
        "nut_angle": _("nut turned by"),
        "nut_torque": _("nut tightened with"),
        "drag_least": _("drag torque from"),
        "drag_most": _("drag torque to"),
        "drag_torque": _("drag torque"),
    },
    names={
        "play-asked": _("End play or preload"),
        "end-play": _("End play"),
        "drag-torque": _("Drag torque"),
        "play-and-clearance": _("End play beside the clearance"),
    },
    why={
        "play-asked": _("What nobody asked for nobody checks."),
        "end-play": _("Too little runs hot at the small ends; too much skids and dents."),
        "drag-torque": _("Preload is felt as drag, and nowhere else."),
        "play-and-clearance": _("A dial that is set wrong is wrong by ten."),
    },
    findings={
        "play-and-clearance.conforming": _(
            "End play {play_nm:um} µm,|about {times} times the clearance of {g1_nm:um} µm."
        ),
        "play-and-clearance.query": _(
            "End play {play_nm:um} µm,|{times} times the clearance of {g1_nm:um} µm: 8 to 10 times is "
            "usual. Is the dial set right?"
        ),
    },
    shots={
        "end play": _("dial and shims"),
    },
)
