"""Words of the step *room*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="environment",
    name=_("room"),
    before="gauge",
    labels={
        "humidity": _("humidity"),
        "together_for": _("shaft, bearing and gauge together for"),
        "dust": _("dust in the air"),
    },
    names={
        "room-dry": _("Humidity of the room"),
        "together-long": _("Together for"),
        "no-dust": _("Dust"),
    },
    why={
        "room-dry": _("Water on cold steel is rust by morning."),
        "together-long": _("What still drifts is not one temperature, whatever it reads now."),
        "no-dust": _("Grinding dust in a bearing laps it from the first turn."),
    },
    findings={
        "together-long.measured-query": _(
            "{found} together,|{wanted} wanted while they are more than 1 K apart: do they still drift?"
        ),
        "no-dust.query": _("{said}.|Was the bearing covered?"),
    },
)
