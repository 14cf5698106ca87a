"""Moments as a page or certificate letters them, in a named zone."""

from datetime import date, datetime

from django.utils.formats import date_format
from django.utils.translation import gettext

from qrecords.mountings.models import Mounting
from qrecords.people.bounds import zone_of
from qrecords.steps.transitions import State


def moment(at: datetime, zone: str) -> str:
    """`4 Jun 2026 16:02`."""
    return in_words(at.astimezone(zone_of(zone)))


def in_words(at: datetime) -> str:
    """`4 Jun 2026 16:02`, of a moment that stands in its zone already."""
    return date_format(at, "j M Y H:i")


def begun(mounting: Mounting, on: str) -> str:
    """*mounted* only of what was signed off; of any other record it is only known when it was opened."""
    if mounting.state == State.SIGNED_OFF.value or mounting.amendments:
        return gettext("mounted %(day)s") % {"day": on}
    return gettext("opened %(day)s") % {"day": on}


def day(at: datetime, zone: str) -> str:
    """`4 Jun 2026`."""
    return date_format(at.astimezone(zone_of(zone)), "j M Y")


def calendar_day(on: date) -> str:
    """`4 Jun 2026`, of a day that is the same in every zone: due, valid to."""
    return date_format(on, "j M Y")


def to_the_second(at: datetime, zone: str) -> str:
    """`4 Jun 2026 16:02:07`."""
    return date_format(at.astimezone(zone_of(zone)), "j M Y H:i:s")


def clock(at: datetime, zone: str) -> str:
    """`16:02`."""
    return date_format(at.astimezone(zone_of(zone)), "H:i")


def by_camera(told: str) -> str:
    """`2026:04:14 06:36:00 +01:00`, as a camera tells it, as `14 Apr 2026 06:36` by the camera's own clock;
    what is no such moment stays as told."""
    try:
        return date_format(datetime.strptime(told[:19], "%Y:%m:%d %H:%M:%S"), "j M Y H:i")  # noqa: DTZ007
    except ValueError:
        return told
