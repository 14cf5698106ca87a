"""Words of the step *second row*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="rows_before",
    name=_("second row"),
    before="fit",
    labels={
        "g0_second_row": _("G0 of the second row"),
    },
    names={
        "rows-agree-before": _("G0, both rows"),
    },
    why={
        "rows-agree-before": _("Two rows of one bearing differ where a ring sits tilted."),
    },
    findings={
        "rows-agree-before.conforming": _(
            "{one_nm:um} and {other_nm:um} µm,|one clearance within {allowed_nm:um} µm."
        ),
        "rows-agree-before.query": _(
            "{one_nm:um} and {other_nm:um} µm:|more than {allowed_nm:um} µm apart. Is the inner ring "
            "tilted, or one row misread?"
        ),
    },
)
