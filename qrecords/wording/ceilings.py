"""The ceilings of heat by name."""

from django.utils.translation import gettext


def ceiling_name(kind: str) -> str:
    """What makes the ceiling what it is: a kind of bearing, or what was read about this one."""
    return gettext("its own data") if kind == "own_data" else gettext(kind.replace("_", " "))
