"""Words of the step *housing*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="housing",
    name=_("housing"),
    before="fit",
    labels={
        "housing_class": _("class of the housing bore"),
        "housing_gauge": _("bore gauge"),
        "housing_bore": _("housing bore"),
        "floats": _("which bearing floats"),
        "bearings_apart": _("bearings apart"),
        "warmer_by": _("shaft warmer than housing by"),
        "room_outward": _("room outward"),
        "room_inward": _("room inward"),
    },
    names={
        "housing-bore": _("Housing bore"),
        "one-floats": _("Which bearing floats"),
        "room-outward": _("Room outward"),
        "room-inward": _("Room inward"),
    },
    why={
        "housing-bore": _("An outer ring that cannot move, or spins, takes the inner with it."),
        "one-floats": _("Two bearings that both hold push against each other when the shaft grows."),
        "room-outward": _("A shaft that grows into a wall loads both bearings sideways."),
        "room-inward": _("A shaft that cools away from its housing pulls on both bearings."),
    },
    findings={
        "housing-bore.conforming": _(
            "{plane} at {direction}°: {value_nm:dev} µm,|class {least_nm:dev}…{most_nm:dev}."
        ),
        "housing-bore.not-proven": _(
            "{plane} at {direction}°: {value_nm:dev} µm,|too close to {least_nm:dev}…{most_nm:dev}."
        ),
        "housing-bore.nonconforming": _(
            "{plane} at {direction}°: {value_nm:dev} µm,|outside {least_nm:dev}…{most_nm:dev}."
        ),
        "housing-bore.no-gauge": _(
            "{plane} at {direction}°: {value_nm:dev} µm|by no calibrated gauge: not proven."
        ),
        "housing-bore.no-class": _("No such class of hole at this size:|read it off the drawing again."),
        "one-floats.nonconforming": _("Neither bearing floats:|one outer ring must be able to move."),
    },
)
