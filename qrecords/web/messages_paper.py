"""What the rules say of what was entered from a sheet of paper."""

from collections.abc import Mapping

from django.utils.translation import gettext_noop as _

PAPER_FINDINGS: Mapping[str, str] = {
    "released-before-heat.paper": _(
        "Released before heat,|by {means}: the paper sheet names it by hand, written {written}."
    ),
    "released-before-heat.paper-before": _(
        "The paper sheet was filed before the release it names.|Photograph it again as it is now."
    ),
    "released-before-heat.paper-names-none": _(
        "The paper sheet names no release that stands here:|that it was decided before heat is not proven."
    ),
    "paper-sheet-photo.conforming": _("Begun on {day}.|Its photo is here to be compared with."),
    "paper-sheet-photo.announced": _("The photo of this paper sheet|has not arrived yet."),
    "paper-sheet-photo.not-taken": _("No photo of this paper sheet.|Photograph it."),
}
