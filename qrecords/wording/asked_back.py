"""Why the planner asks a field back, and what would be right, in sentences by message id."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.errors import FieldError

WHY: Mapping[str, str] = {
    "not-one-of": _("not one of these"),
    "outside": _("outside what is possible"),
    "not-understood": _("not understood"),
    "whole-size": _("a whole size, where a deviation stands: write {size_unit} behind it"),
    "class-or-readings": _("neither is given"),
    "not-a-designation": _("{reason}"),
    "other-bore": _("another bore"),
    "not-over-bore": _("not larger than the bore"),
    "bearing-or-sizes": _("neither is given"),
    "no-table": _("no table here holds it: from the drawing, or measured"),
    "hole-class": _("the class of a hole"),
    "no-such-class": _("no such class at this size"),
    "below-lowest": _("below the lowest"),
    "no-straight-bore": _("no bore limits of ISO 492 for it"),
    "other-group": _("another group"),
    "no-such-group": _("no such group at this bore"),
    "not-under-seat": _("not smaller than the seat"),
    "no-source": _("where the ceiling was read"),
    "raceway-outside": _("no inner raceway lies there"),
    "not-over-lower": _("outside what is possible"),
    "not-over-nought": _("outside what is possible"),
    "no-origin": _("it counts only with where it was taken from"),
}
"""What is wrong with what was typed."""
WANTED: Mapping[str, str] = {
    "class-or-readings": _("a class, as m6, or the journal's readings"),
    "not-a-designation": _("a designation, as 6312 C3, or nothing and d, D and B"),
    "other-bore": _("d {d}, as {bearing} says"),
    "not-over-bore": _("more than the bore, {d}"),
    "bearing-or-sizes": _("a designation, as 6312 C3, or d, D and B"),
    "hole-class": _("none of this letter"),
    "no-such-class": _("none of this letter"),
    "below-lowest": _("not below the lowest, {lowest}"),
    "no-straight-bore": _("a radial bearing with a straight bore"),
    "other-group": _("{group}, as {bearing} says"),
    "no-such-group": _("none at this bore"),
    "not-under-seat": _("0 to below {d}"),
    "no-source": _("1 to {longest} characters"),
    "not-over-lower": _("more than the lower, {lower}"),
    "not-over-nought": _("more than 0 {in_unit}"),
    "raceway-outside": _("over d {d}, under (d + D)/2, {mean}"),
}
"""What would be right, where that is no range and no list."""


def why_of(error: FieldError) -> str:
    return gettext(WHY[error.why]).format(**error.facts)


def allowed_of(error: FieldError) -> str:
    """A range or a list as it stands, else the sentence for it."""
    return error.allowed or gettext(WANTED[error.why]).format(**error.facts)
