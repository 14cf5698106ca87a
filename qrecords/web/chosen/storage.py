"""Words of the step *storage*."""

from django.utils.translation import gettext_noop as _

from qrecords.web.step_words import StepWords

WORDS = StepWords(
    step="storage",
    name=_("storage"),
    before="ring",
    labels={
        "shelf_age": _("age on the shelf"),
        "store_humidity": _("humidity of the store"),
        "store_temperature": _("temperature of the store"),
        "stored": _("stored"),
        "store_shaken": _("vibration near the store"),
        "open_for": _("open until it was mounted"),
        "preserved": _("preservative"),
    },
    names={
        "grease-age": _("Age of the grease"),
        "store-dry": _("Store, humidity"),
        "stored-flat": _("How it was stored"),
        "store-still": _("Store, vibration"),
        "open-time": _("Time it lay open"),
        "kept-preserved": _("Preservative"),
    },
    why={
        "grease-age": _("Old grease has bled and hardened."),
        "store-dry": _("Rust pits a raceway before it ever turns."),
        "stored-flat": _("A large ring that stands goes oval."),
        "store-still": _("A bearing that is shaken and stands still gets marks at roller pitch."),
        "open-time": _("Dust settles from the first minute."),
        "kept-preserved": _("Bare hands and washing leave rust behind."),
    },
    shots={
        "wrapper": _("wrapper, intact"),
        "opened": _("opened bearing"),
    },
)
