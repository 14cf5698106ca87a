"""Words of the step *safety*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="safety",
    name=_("safety"),
    before="set-up",
    labels={
        "rings_off": _("rings and watches off"),
        "gloves": _("gloves"),
        "lifted_by": _("lifted by"),
        "leads_isolated": _("leads laid, isolated when not heating"),
        "ventilated": _("ventilated"),
        "fire_watch": _("oil bath: flash point known, fire watched, no water"),
    },
    names={
        "rings-off": _("Rings and watches"),
        "gloves-on": _("Gloves"),
        "lifted-safely": _("Lifting"),
        "leads-isolated": _("Leads of the heater"),
        "ventilated": _("Ventilation"),
        "fire-watched": _("Fire watch"),
    },
    why={
        "rings-off": _("A ring on a finger heats with the bearing."),
        "gloves-on": _("Bare metal from about 65 °C burns in a second."),
        "lifted-safely": _("A hot ring that slips falls on a foot, and is scrap."),
        "leads-isolated": _("Leads under voltage are no place for hands that seat a ring."),
        "ventilated": _("Oil, preservative and seals give off fumes."),
        "fire-watched": _("Oil above its flash point burns, and water spreads it."),
    },
    findings={
        "lifted-safely.lifted": _("Lifted by {by},|{mass_g:kg}."),
        "lifted-safely.too-heavy": _("Lifted by {by}, {mass_g:kg}:|over 25 kg wants an aid or more hands."),
    },
)
