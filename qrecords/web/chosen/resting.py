"""Words of the step *until it runs*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="resting",
    name=_("until it runs"),
    before="close",
    labels={
        "covered_within": _("covered within"),
        "preservative": _("rust preventive"),
        "shaft_supported": _("shaft supported"),
        "rotor_locked": _("rotor locked for transport"),
        "kept": _("kept"),
        "turned_weekly": _("turned every week"),
    },
    names={
        "covered-soon": _("Covered soon"),
        "shaft-supported": _("Shaft supported"),
        "rotor-locked": _("Rotor locked"),
        "kept-lying": _("How it is kept"),
        "turned-weekly": _("Turned every week"),
    },
    why={
        "covered-soon": _("Dust settles from the first minute."),
        "shaft-supported": _("A shaft that hangs in one bearing dents it."),
        "rotor-locked": _("A rotor that shakes on the road marks its bearings at roller pitch."),
        "kept-lying": _("Standing, the whole weight rests on one ring."),
        "turned-weekly": _("A bearing that stands squeezes its grease out and gets marks."),
    },
    findings={
        "shaft-supported.nonconforming": _("The shaft is not supported."),
        "shaft-supported.conforming": _("Shaft supported."),
        "rotor-locked.nonconforming": _("The rotor is not locked for transport."),
        "turned-weekly.query": _("Not turned every week.|How long does it stand?"),
        "turned-weekly.conforming": _("Turned weekly: {said}."),
        "rotor-locked.conforming": _("Rotor locked: {said}."),
    },
)
