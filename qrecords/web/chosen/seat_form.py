"""Words of the step *form of the seat*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="seat_form",
    name=_("form of the seat"),
    before="bore",
    labels={
        "form_by": _("form measured by"),
        "out_of_round": _("out of round, radial"),
        "form_gauge": _("dial indicator"),
    },
    names={
        "form-method": _("How the form was measured"),
        "seat-roundness": _("Roundness of the seat"),
    },
    why={
        "form-method": _("Two points across read the same diameter on three lobes."),
        "seat-roundness": _("The raceway takes the shape of the seat, lobes and all."),
    },
    findings={
        "form-method.not-proven": _("By {said}:|three lobes cannot be seen. V-block or form tester."),
    },
)
