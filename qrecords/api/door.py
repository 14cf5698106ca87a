"""The door of the API: every resource says by method who may come in; a call becomes an act here."""

import uuid
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, ClassVar, cast

from django.conf import settings
from django.http import HttpRequest
from rest_framework.exceptions import NotAuthenticated
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.permissions import BasePermission
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from qrecords.api.authentication import BearerToken, BrowserSession, actions_of
from qrecords.api.bodies import JsonBody
from qrecords.api.errors import NeverByTokenError, TokenLacksError, TooManyTriesError, WhichSiteError
from qrecords.api.openapi import Described
from qrecords.api.operations import Operation, Operations
from qrecords.api.problems import problem
from qrecords.people.acting import Acting
from qrecords.people.bounds import known_zone
from qrecords.people.errors import FirstPasswordError, NotAllowedError, UnknownPersonError
from qrecords.people.models import Person, Token
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from qrecords.people.proving import prove_again
from qrecords.people.queries import Reach, reach, rights_of


def now() -> datetime:
    """The server's clock, for every act and question of one call."""
    return datetime.now(UTC)


class OnlyJson(DefaultContentNegotiation):
    """What comes out is JSON (or a photo), whatever was asked for."""

    def select_renderer(self, request: Request, renderers: Any, format_suffix: str | None = None) -> Any:
        return renderers[0], renderers[0].media_type


class MayComeIn(BasePermission):
    """Some role of the caller, at some site, gives one of the rights; a token must hold it as well."""

    def has_permission(self, request: Request, view: Any) -> bool:
        operation = view.operation_of(request.method)
        if operation is None or Action.PUBLIC in operation.rights:
            return True
        if operation.open_by and getattr(settings, operation.open_by):
            return True
        if not isinstance(request.user, Person):
            raise NotAuthenticated
        rights = operation.rights
        if request.user.first_password and not isinstance(request.auth, Token):
            raise FirstPasswordError
        if isinstance(request.auth, Token):
            rights = _by_token(request.auth, rights)
        if Action.SIGNED_IN in rights:
            return True
        held = rights_of(request.user.id, now())
        if not any(held.somewhere(action) for action in rights):
            raise NotAllowedError(rights[0], None)
        return True


def _by_token(token: Token, rights: tuple[Action, ...]) -> tuple[Action, ...]:
    if all(action in NEVER_BY_TOKEN for action in rights):
        raise NeverByTokenError(rights[0])
    held = actions_of(token) | {Action.SIGNED_IN}
    left = tuple(action for action in rights if action in held)
    if not left:
        raise TokenLacksError(rights, token.actions)
    return left


class Resource(APIView):
    """An address of the API. `operations` names, by method, who may and what goes in and out."""

    operations: ClassVar[Operations] = {}
    authentication_classes = [BearerToken, BrowserSession]
    permission_classes = [MayComeIn]
    parser_classes = [JsonBody]
    renderer_classes = [JSONRenderer]
    content_negotiation_class = OnlyJson
    schema = Described()
    http_method_names = ["get", "post", "put", "delete"]

    @classmethod
    def as_view(cls, **initkwargs: Any) -> Any:
        view: Any = super().as_view(**initkwargs)
        operations = cls(**initkwargs).own_operations()
        methods = {name.upper() for name in cls.http_method_names if hasattr(cls, name)}
        if methods != set(operations):
            raise TypeError(f"{cls.__name__} answers {methods} and says who may for {set(operations)}")
        # For the tests that walk every address.
        view.operations = operations
        view.action = next(iter(operations.values())).rights[0]
        return view

    def own_operations(self) -> Operations:
        return self.operations

    def operation_of(self, method: str | None) -> Operation | None:
        return self.own_operations().get(method or "")

    def get_exception_handler(self) -> Callable[[Exception, Mapping[str, Any]], Response]:
        return problem

    def said(self, request: Request) -> dict[str, Any]:
        """The body of this call, checked; ValidationError names what is wrong with it."""
        operation = self.operation_of(request.method)
        assert operation is not None and operation.body is not None  # noqa: S101 - the view has said so
        serializer = operation.body(data=request.data)
        serializer.is_valid(raise_exception=True)
        return cast(dict[str, Any], serializer.validated_data)

    def asked(self, request: Request) -> dict[str, Any]:
        """The query of this call, checked."""
        operation = self.operation_of(request.method)
        assert operation is not None and operation.query is not None  # noqa: S101 - the view has said so
        serializer = operation.query(data=request.query_params.dict())
        serializer.is_valid(raise_exception=True)
        return cast(dict[str, Any], serializer.validated_data)


def person_of(request: Request) -> Person:
    assert isinstance(request.user, Person)  # noqa: S101 - MayComeIn let only people in
    return request.user


def acting_of(request: Request, said: Mapping[str, Any]) -> Acting:
    """The act of the caller. A password proves a signed-in person; it never strengthens a token."""
    token = request.auth if isinstance(request.auth, Token) else None
    acting = Acting(
        author=person_of(request),
        now=now(),
        at_device=said.get("at_device"),
        zone=known_zone(said.get("zone", ""), settings.TIME_ZONE),
        device=said.get("device"),
        counter=said.get("counter"),
        known=said.get("known"),
        token_actions=None if token is None else actions_of(token),
    )
    password = said.get("password")
    if not password or token is not None:
        return acting
    with counted(request) as http:
        prove_again(http, acting.author, password)
    return acting.proved()


@contextmanager
def counted(request: Request) -> Iterator[HttpRequest]:
    """The request under which failed tries are counted; TooManyTriesError once there were too many."""
    http = request._request
    try:
        yield http
    except UnknownPersonError:
        if getattr(http, "axes_locked_out", False):
            # The middleware would put its page over our answer.
            http.axes_locked_out = False  # type: ignore[attr-defined]  # set by axes
            raise TooManyTriesError(round(settings.AXES_COOLOFF_TIME * 3600)) from None
        raise


def reach_of(request: Request, action: Action) -> Reach:
    """The sites on which the caller may do this."""
    return reach(person_of(request).id, action, now())


def site_of(request: Request, action: Action, said: Mapping[str, Any]) -> uuid.UUID:
    """The site that was said, or the only one where the caller may do this."""
    told = said.get("site")
    if told is not None:
        return cast(uuid.UUID, told)
    sites = sorted(reach_of(request, action).sites)
    if len(sites) != 1:
        raise WhichSiteError([str(site) for site in sites])
    return sites[0]
