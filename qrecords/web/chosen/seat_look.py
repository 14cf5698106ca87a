"""Words of the step *look at the seat*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="seat_look",
    name=_("look at the seat"),
    before="ring",
    labels={
        "nicks": _("nicks"),
        "fretting": _("fretting"),
        "repair": _("old repair of the seat"),
        "keyway": _("keyway"),
        "threads": _("threads"),
        "oil_holes": _("oil holes"),
        "remedy": _("what was done about it"),
    },
    names={
        "seat-nicks": _("Nicks on the seat"),
        "seat-fretting": _("Fretting on the seat"),
        "seat-repair": _("Old repair of the seat"),
        "keyway-edges": _("Keyway"),
        "threads-covered": _("Threads"),
        "oil-holes": _("Oil holes"),
    },
    why={
        "seat-nicks": _("Raised metal scores the bore and bulges the raceway."),
        "seat-fretting": _("Fretting left on the seat is a seat of another size."),
        "seat-repair": _("A sprayed seat that is soft gives way under the ring."),
        "keyway-edges": _("A sharp edge cuts the bore, and a crack begins there."),
        "threads-covered": _("A thread scores a bore that is pushed over it."),
        "oil-holes": _("A blocked hole starves the bearing, and its dirt comes out later."),
    },
    findings={
        "threads-covered.query": _("Threads are {said}.|Was the bore pushed over them?"),
    },
)
