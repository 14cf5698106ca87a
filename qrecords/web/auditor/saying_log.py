"""What was said of a heating log, because its text does not say it."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext

from qrecords.web.auditor.told import Told


def said_of_log(said: Mapping[str, Any]) -> list[Told]:
    """Which column is which ring, the unit, what became of the probe, and of which heating it is."""
    columns = said.get("columns", {})
    told = [Told(gettext(ring), gettext("column {n} of the file").format(n=n)) for ring, n in columns.items()]
    if said.get("unit"):
        told.append(Told(gettext("unit"), said["unit"]))
    if said.get("probe"):
        told.append(Told(gettext("probe"), gettext(said["probe"])))
    if said.get("heating"):
        told.append(Told(gettext("of heating"), str(said["heating"])))
    return told or [Told(gettext("said of it"), gettext("nothing"), quiet=True)]
