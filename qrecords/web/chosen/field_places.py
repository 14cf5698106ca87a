"""Words of the step *field, place by place*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="field_places",
    name=_("field, place by place"),
    before="hold",
    labels={
        "ring_edge": _("field at the ring edge"),
        "ring_chamfer": _("field at the chamfer"),
        "rolling_element": _("field at a rolling element"),
    },
    names={
        "field-by-place": _("Residual field, place by place"),
    },
    why={
        "field-by-place": _("Swarf hangs where the field is strongest, not where it is easy to reach."),
    },
    findings={
        "field-by-place.conforming": _("{field_nt:acm} at the {place},|at most {limit_nt:acm}."),
        "field-by-place.not-proven": _("{field_nt:acm} at the {place},|too close to {limit_nt:acm}."),
        "field-by-place.nonconforming": _(
            "{field_nt:acm} at the {place}:|more than {limit_nt:acm}. Demagnetise and measure again."
        ),
        "field-by-place.no-meter": _("{field_nt:acm} at the {place}|by no calibrated meter."),
    },
    shots={
        "field meter": _("field meter on the ring"),
    },
)
