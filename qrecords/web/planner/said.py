"""The planner's inputs by name, its verdicts in frames, and what it asks back."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.errors import FieldError
from qrecords.steps.planner.judging import Judged
from qrecords.web import parts
from qrecords.wording.asked_back import allowed_of, why_of
from qrecords.wording.figures import MINUS, visible
from qrecords.wording.lettering import Lettering
from qrecords.wording.planned import told

LABELS: Mapping[str, str] = {
    "lengths": _("lengths"),
    "temperatures": _("temperatures"),
    "bearing": _("bearing"),
    "nominal": _("bore d"),
    "outside": _("outside D"),
    "width": _("width B"),
    "clearance_kind": _("clearance table"),
    "group": _("its group"),
    "g0": _("clearance G0, measured"),
    "other_group": _("or take: group"),
    "other_g0": _("its G0, measured"),
    "shaft_class": _("shaft, class"),
    "journal_low": _("journal, lowest"),
    "journal_high": _("journal, highest"),
    "bore_class": _("bore, class"),
    "bore": _("bore, measured"),
    "shaft_bore": _("hollow shaft, bore"),
    "seat": _("seat is"),
    "shaft_temp": _("shaft now"),
    "air_temp": _("air now"),
    "kind": _("kind of bearing"),
    "ceiling": _("own ceiling"),
    "ceiling_source": _("where it is written"),
    "gauge_u": _("U of the gauge"),
    "least": _("least clearance left"),
    "evenly": _("rings even within"),
    "habit": _("always set to"),
    "mass": _("mass"),
    "mass_from": _("mass from"),
    "raceway": _("inner raceway F"),
    "raceway_from": _("raceway from"),
    "air_speed": _("air moves at"),
}
"""Every input by its name on the page."""


def label(name: str) -> str:
    return gettext(LABELS[name])


def said(judged: Judged, letters: Lettering) -> parts.Said:
    """One verdict with its sentence."""
    return parts.Said(parts.Verdict(judged.verdict.value), (parts.Sentence(*told(judged, letters)),))


def asked_back(error: FieldError) -> str:
    """What was typed, why it gives no answer, and what would."""
    unit = error.unit.replace("um", "µm")
    given = f"{visible(error.typed)} {unit}".strip() if error.typed else gettext("nothing")
    allowed = allowed_of(error).replace("um", "µm").replace("-", MINUS)
    return gettext("{given}: {why}. It wants {allowed}.").format(
        given=given, why=why_of(error), allowed=allowed
    )
