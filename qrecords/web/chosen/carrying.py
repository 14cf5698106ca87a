"""Words of the step *way home*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="carrying",
    name=_("way home"),
    before="seat",
    labels={
        "film_wiped": _("film on the seat"),
        "side_called": _("side called out before"),
        "twisted": _("pushed home"),
        "hold_torque": _("held with a torque of"),
        "hold_force": _("held with a force of"),
    },
    names={
        "film-thin": _("Film on the seat, wiped"),
        "side-called": _("Side called out"),
        "twisted-home": _("Pushed home"),
    },
    why={
        "film-thin": _("Trapped oil holds the ring off the shoulder."),
        "side-called": _("A ring that goes on the wrong way round is pulled through its balls."),
        "twisted-home": _("How it went on is asked when it did not come to the shoulder."),
    },
    findings={
        "side-called.query": _("The side was not called out.|Is it on the right way round?"),
        "side-called.conforming": _("Side called out before."),
    },
)
