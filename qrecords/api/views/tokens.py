"""Signing in for a token, one's own tokens, and taking them back."""

import uuid
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, counted, person_of
from qrecords.api.errors import UnknownAddressError, WhichSiteError
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.operations import Operation
from qrecords.ledger.identifiers import new_id
from qrecords.people.acting import PROVED, Acting
from qrecords.people.actions import make_token, revoke_token
from qrecords.people.errors import NotAllowedError
from qrecords.people.models import Token
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from qrecords.people.proving import prove
from qrecords.people.queries import reach

BY_TOKEN = sorted(action.value for action in set(Action) - NEVER_BY_TOKEN - {Action.PUBLIC, Action.SIGNED_IN})


class SignIn(Body):
    """Who signs in, what for, and what the token may do: by its owner's rights and never more."""

    name = Text(max_length=60)
    password = Text(max_length=200)
    label = Text(max_length=80)  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    actions = serializers.ListField(child=serializers.ChoiceField(BY_TOKEN), allow_empty=False, max_length=40)
    site = serializers.UUIDField(required=False)


class OwnToken(Answer):
    id = serializers.UUIDField()
    label = serializers.CharField()  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    actions = serializers.ListField(child=serializers.CharField())
    made_at = serializers.DateTimeField()
    valid_to = serializers.DateTimeField()
    revoked_at = serializers.DateTimeField(allow_null=True)


class NewToken(OwnToken):
    """The secret is shown this once."""

    secret = serializers.CharField()


class OwnTokens(Answer):
    results = OwnToken(many=True)


def _site(sites: frozenset[uuid.UUID], told: uuid.UUID | None) -> uuid.UUID:
    if told is not None:
        return told
    if not sites:
        raise NotAllowedError(Action.TOKENS, None)
    if len(sites) > 1:
        raise WhichSiteError([str(site) for site in sorted(sites)])
    return next(iter(sites))


class Tokens(Resource):
    operations = {
        "POST": Operation("sign in for a token", (Action.PUBLIC,), NewToken, SignIn, status=201),
        "GET": Operation("list own tokens", (Action.TOKENS,), OwnTokens),
    }

    def get_authenticators(self) -> Any:
        """Signing in asks nobody to be signed in, and a stale session must not stand in its way."""
        return [] if self.request and self.request.method == "POST" else super().get_authenticators()

    def post(self, request: Request) -> Response:
        """Name and password for a token. Failed tries are counted by name and address."""
        said = self.said(request)
        with counted(request) as http:
            person = prove(http, said["name"], said["password"])
        acting = Acting(author=person, now=door.now(), identity=PROVED)
        site = _site(reach(person.id, Action.TOKENS, acting.now).sites, said.get("site"))
        actions = frozenset(Action(name) for name in said["actions"])
        token, secret = make_token(
            acting=acting, site=site, token_id=new_id(), label=said["label"], actions=actions
        )
        return Response(OwnToken(token).data | {"secret": secret}, status=201)

    def get(self, request: Request) -> Response:
        """One's own tokens, never their secrets."""
        rows = Token.objects.filter(person=person_of(request)).order_by("-made_at", "-id")
        return Response({"results": OwnToken(rows, many=True).data})


class OneToken(Resource):
    operations = {"DELETE": Operation("revoke a token", (Action.TOKENS,))}

    def delete(self, request: Request, token: uuid.UUID) -> Response:
        """Stop one of one's own tokens at once."""
        found = Token.objects.filter(person=person_of(request), id=token).first()
        if found is None:
            raise UnknownAddressError("token", token)
        revoke_token(acting=door.acting_of(request, {}), token=found)
        return Response(status=204)


class ThisToken(Resource):
    operations = {"DELETE": Operation("sign out", (Action.SIGNED_IN,))}

    def delete(self, request: Request) -> Response:
        """Stop the very token that this call came with."""
        if not isinstance(request.auth, Token):
            raise UnknownAddressError("token")
        revoke_token(acting=door.acting_of(request, {}), token=request.auth)
        return Response(status=204)
