"""Who calls: a token in the Authorization header, or the browser's session with its CSRF token."""

import hashlib
from datetime import UTC, datetime
from typing import Any

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, SessionAuthentication
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from qrecords.people.models import Person, Token
from qrecords.people.permissions import NEVER_BY_TOKEN, Action


def now() -> datetime:
    """The server's clock, at which a token stands or not."""
    return datetime.now(UTC)


class BearerToken(BaseAuthentication):
    """`Authorization: Bearer <secret>`. Unknown, expired, revoked and disabled are told apart to nobody."""

    def authenticate(self, request: Request) -> tuple[Person, Token] | None:
        scheme, _, secret = request.headers.get("Authorization", "").partition(" ")
        if scheme.lower() != "bearer":
            return None
        digest = hashlib.sha256(secret.strip().encode()).hexdigest()
        token = Token.objects.select_related("person").filter(secret_hash=digest).first()
        if token is None or not _stands(token, now()):
            raise AuthenticationFailed("this token is not valid", "token")
        return token.person, token

    def authenticate_header(self, request: Request) -> str:
        return 'Bearer realm="qrecords"'


def _stands(token: Token, at: datetime) -> bool:
    return token.person.is_active and token.revoked_at is None and at < token.valid_to


def actions_of(token: Token) -> frozenset[Action]:
    """What a token may do. What no token may do is left out again here, whatever its row says."""
    known = {action.value for action in Action}
    return frozenset(Action(name) for name in token.actions if name in known) - NEVER_BY_TOKEN


class BrowserSession(SessionAuthentication):
    """The session of the pages; every change needs its CSRF token."""


class BearerScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]  # untyped library
    target_class = "qrecords.api.authentication.BearerToken"
    name = "token"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer", "description": "A token from POST /api/v1/tokens/."}


class SessionScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]  # untyped library
    target_class = "qrecords.api.authentication.BrowserSession"
    name = "session"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        description = "The session of the pages, with X-CSRFToken on every change."
        return {"type": "apiKey", "in": "cookie", "name": "sessionid", "description": description}
