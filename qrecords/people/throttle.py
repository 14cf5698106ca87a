"""How many wrong passwords are taken before the door stays shut for a while.

Counted by name at one address, by name alone, and by address alone. Whoever signed in from an address lately
answers there only for that name and address: so an outsider, who has other addresses, can shut out strangers
to the place for as long as he tries, and nobody who works there.
"""

from datetime import timedelta
from typing import Any

from axes.handlers.database import AxesDatabaseHandler
from axes.helpers import get_client_username, get_cool_off
from axes.models import AccessAttempt, AccessLog
from django.conf import settings
from django.db.models import Sum
from django.http import HttpRequest

KNOWN_FOR = timedelta(days=30)


class Throttle(AxesDatabaseHandler):  # type: ignore[misc]  # axes publishes no types
    """The library counts and forgets; what is counted together stands here."""

    def get_failures(self, request: Any, credentials: dict[str, Any] | None = None) -> int:
        """The fullest of the counts, each as a share of its own limit, in tries of the first."""
        name, address = get_client_username(request, credentials), request.axes_ip_address
        limit: int = settings.AXES_FAILURE_LIMIT
        counts = [(_failures(request, username=name, ip_address=address), limit)]
        if not _known(request, name, address):
            counts.append((_failures(request, username=name), settings.SIGN_IN_FAILURES_BY_NAME))
            counts.append((_failures(request, ip_address=address), settings.SIGN_IN_FAILURES_BY_ADDRESS))
        return max(count * limit // most for count, most in counts)


def _failures(request: Any, **of: str | None) -> int:
    since = request.axes_attempt_time - get_cool_off(request)
    found = AccessAttempt.objects.filter(attempt_time__gt=since, **of)
    total: int | None = found.aggregate(total=Sum("failures_since_start"))["total"]
    return total or 0


def _known(request: Any, name: str | None, address: str | None) -> bool:
    """Whether this name signed in from this address lately."""
    since = request.axes_attempt_time - KNOWN_FOR
    known: bool = AccessLog.objects.filter(username=name, ip_address=address, attempt_time__gt=since).exists()
    return known


def address_behind_proxy(request: HttpRequest) -> str:
    """The client's address as our own proxy, which overwrites the header, told it."""
    return request.headers.get("X-Forwarded-For", "").split(",")[-1].strip() or request.META["REMOTE_ADDR"]
