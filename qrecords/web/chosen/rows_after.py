"""Words of the step *second row as mounted*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="rows_after",
    name=_("second row as mounted"),
    before="hold",
    labels={
        "g1_second_row": _("G1 of the second row"),
    },
    names={
        "rows-agree-after": _("G1, both rows"),
    },
    why={
        "rows-agree-after": _("Two rows of one bearing differ where a ring sits tilted."),
    },
    findings={
        "rows-agree-after.conforming": _(
            "{one_nm:um} and {other_nm:um} µm,|one clearance within {allowed_nm:um} µm."
        ),
        "rows-agree-after.query": _(
            "{one_nm:um} and {other_nm:um} µm:|more than {allowed_nm:um} µm apart. Is the inner ring "
            "tilted, or one row misread?"
        ),
    },
)
