"""People, their competence and eyesight: who may do what, and until when."""

import uuid
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import OuterRef, Prefetch, Q, QuerySet, Subquery
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.facts import Authority
from qrecords.api.fields import Answer, Body, Text, Whole
from qrecords.api.listing import page
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.engineering.errors import shortened
from qrecords.mountings.competence import standing_of, with_last_done
from qrecords.people import actions
from qrecords.people.competence import FEWEST_JOBS, Range
from qrecords.people.models import Competence, Eyesight, Person, PersonVersion, RoleGrant
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach
from qrecords.steps.tasks import KINDS, TASKS
from qrecords.workshop.errors import UnknownObjectError

PAGE = 100
LARGEST_MM = 3_000


class PersonRow(Answer):
    """A person with the roles held at the caller's sites now."""

    id = serializers.UUIDField()
    name = serializers.CharField()
    open = serializers.BooleanField(source="is_active")
    roles = serializers.ListField(child=serializers.CharField())


class PeoplePage(Answer):
    results = PersonRow(many=True)
    next = serializers.CharField(allow_null=True)


class After(Body):
    after = serializers.UUIDField(required=False)


class People(Resource):
    operations = {"GET": Operation("list people", (Action.ASSESS,), PeoplePage, query=After)}

    def get(self, request: Request) -> Response:
        """Everybody with a role at the caller's sites."""
        now, last = door.now(), self.asked(request).get("after")
        where = reach_of(request, Action.ASSESS)
        here = RoleGrant.objects.filter(_at(where)).order_by("valid_from", "id")
        names = PersonVersion.objects.filter(person=OuterRef("pk")).order_by("-valid_from", "-id")
        rows = Person.objects.filter(id__in=here.values("person")).order_by("-id")
        rows = rows.annotate(name=Subquery(names.values("name")[:1])).prefetch_related(
            Prefetch("grants", here)
        )
        found: list[Any] = list((rows if last is None else rows.filter(id__lt=last))[: PAGE + 1])
        for row in found:
            row.roles = list(dict.fromkeys(g.role for g in row.grants.all() if g.covers(now)))
        return Response(page(request, PersonRow, found, PAGE))


def _at(where: Reach) -> Q:
    return Q() if where.everywhere else Q(site__in=where.sites)


class CompetenceRow(Answer):
    """`state` is that of today; it holds until `until` (included), and lapses earlier than `valid_to` where
    its task was not done for a year."""

    id = serializers.UUIDField()
    site = serializers.UUIDField()
    person = serializers.UUIDField(source="person_id")
    task = serializers.CharField()
    basis = serializers.CharField()
    jobs = serializers.IntegerField(allow_null=True)
    assessor = serializers.UUIDField()
    from_mm = serializers.DecimalField(max_digits=9, decimal_places=3)
    to_mm = serializers.DecimalField(max_digits=9, decimal_places=3)
    kinds = serializers.ListField(child=serializers.CharField())
    positions = serializers.ListField(child=serializers.CharField())
    valid_from = serializers.DateField()
    valid_to = serializers.DateField()
    last_done = serializers.DateTimeField(source="done_at", allow_null=True)
    state = serializers.CharField()
    until = serializers.DateField(allow_null=True)


class CompetencePage(Answer):
    results = CompetenceRow(many=True)
    next = serializers.CharField(allow_null=True)


class CompetenceQuery(Body):
    """`due`: only what does not hold any more on that day."""

    person = serializers.UUIDField(required=False)
    task = serializers.ChoiceField(TASKS, required=False)
    due = serializers.DateField(required=False)
    after = serializers.UUIDField(required=False)


class Millimetres(serializers.DecimalField):
    """A size; what is none, or none of a bearing, is asked back with its range."""

    def __init__(self) -> None:
        super().__init__(max_digits=9, decimal_places=3)

    def to_internal_value(self, data: Any) -> Decimal:
        try:
            size = super().to_internal_value(data)
        except serializers.ValidationError:
            size = Decimal(-1)
        if not 0 <= size <= LARGEST_MM:
            allowed = f"0…{LARGEST_MM} mm"
            raise serializers.ValidationError(f"{shortened(str(data))!r} is not possible; allowed: {allowed}")
        return size


class Assessment(Authority):
    site = serializers.UUIDField(required=False)
    person = serializers.UUIDField()
    task = serializers.ChoiceField(TASKS)
    basis = Text(max_length=200)
    jobs = Whole(least=FEWEST_JOBS, most=1000, unit="supervised jobs", required=False)
    assessor = serializers.UUIDField()
    from_mm = Millimetres()
    to_mm = Millimetres()
    kinds = serializers.ListField(child=serializers.ChoiceField(KINDS), required=False, max_length=40)
    positions = serializers.ListField(child=Text(max_length=40), required=False, max_length=40)
    valid_from = serializers.DateField()
    valid_to = serializers.DateField()

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if attrs["from_mm"] > attrs["to_mm"]:
            raise serializers.ValidationError({"to_mm": ["not less than the smaller size"]})
        return _in_order(attrs, "valid_from")


def _in_order(attrs: dict[str, Any], first: str) -> dict[str, Any]:
    if attrs["valid_to"] < attrs[first]:
        raise serializers.ValidationError({"valid_to": ["not before it begins"]})
    return attrs


def _person(id: uuid.UUID, where: Reach) -> Person:
    """Somebody who ever held a role at these sites; else as if there were nobody."""
    found = Person.objects.filter(id=id, grants__in=RoleGrant.objects.filter(_at(where))).first()
    if found is None:
        raise UnknownObjectError("person", id)
    return found


class Competences(Resource):
    operations = {
        "GET": Operation("list competences", (Action.ASSESS,), CompetencePage, query=CompetenceQuery),
        "POST": Operation("assess", (Action.ASSESS,), Receipt, Assessment, write=True),
    }

    def get(self, request: Request) -> Response:
        """The newest first, each with its state today; with `due` what has run out or lapsed by that day."""
        asked, today = self.asked(request), door.now().date()
        rows: QuerySet[Any] = Competence.objects.filter(_at(reach_of(request, Action.ASSESS)))
        rows = rows.filter(**{name: asked[name] for name in ("person", "task") if name in asked})
        last = asked.get("after")
        rows = with_last_done(rows if last is None else rows.filter(id__lt=last)).order_by("-id")
        found = list(rows[: PAGE + 1]) if "due" not in asked else _due(rows, asked["due"])
        for row in found:
            standing = standing_of(row, today)
            row.state, row.until = standing.state, standing.until
        return Response(page(request, CompetenceRow, found, PAGE))

    def post(self, request: Request) -> Response:
        """Record that somebody was assessed. Never by a token, never of oneself."""
        said = self.said(request)
        where = reach_of(request, Action.ASSESS)
        site = site_of(request, Action.ASSESS, said)
        person, assessor = (_person(said[who], where) for who in ("person", "assessor"))
        names = ("task", "basis", "from_mm", "to_mm", "valid_from", "valid_to")
        limits = Range(tuple(said.get("kinds", ())), tuple(said.get("positions", ())), said.get("jobs"))
        return write(
            said["entry_id"],
            "competence",
            person.id,
            lambda: actions.assess(
                acting=acting_of(request, said), site=site, competence_id=said["entry_id"], person=person,
                assessor=assessor, range=limits, **{name: said[name] for name in names},
            ),
        ).response()  # fmt: skip


def _due(rows: "QuerySet[Any]", day: date) -> list[Any]:
    """What does not hold on a day, in the order of the list; one query, however many there are."""
    found = []
    for row in rows.iterator(500):
        if standing_of(row, day).state != "held":
            found.append(row)
        if len(found) > PAGE:
            break
    return found


class EyesightRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    person = serializers.UUIDField(source="person_id")
    tested_on = serializers.DateField()
    valid_to = serializers.DateField()


class EyesightPage(Answer):
    results = EyesightRow(many=True)
    next = serializers.CharField(allow_null=True)


class EyesightBody(Authority):
    """Tested to the employer's requirement, valid to; nothing of what was found."""

    site = serializers.UUIDField(required=False)
    person = serializers.UUIDField()
    tested_on = serializers.DateField()
    valid_to = serializers.DateField()

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        return _in_order(attrs, "tested_on")


class EyesightTests(Resource):
    operations = {
        "GET": Operation("list eyesight tests", (Action.ASSESS,), EyesightPage, query=After),
        "POST": Operation("record an eyesight test", (Action.ASSESS,), Receipt, EyesightBody, write=True),
    }

    def get(self, request: Request) -> Response:
        """The newest first."""
        last = self.asked(request).get("after")
        rows = Eyesight.objects.filter(_at(reach_of(request, Action.ASSESS))).order_by("-id")
        found = list((rows if last is None else rows.filter(id__lt=last))[: PAGE + 1])
        return Response(page(request, EyesightRow, found, PAGE))

    def post(self, request: Request) -> Response:
        """Record that it was tested, and until when that holds. Never by a token, never of oneself."""
        said = self.said(request)
        site = site_of(request, Action.ASSESS, said)
        person = _person(said["person"], reach_of(request, Action.ASSESS))
        days = {name: said[name] for name in ("tested_on", "valid_to")}
        return write(
            said["entry_id"],
            "eyesight",
            person.id,
            lambda: actions.record_eyesight(
                acting=acting_of(request, said),
                site=site,
                eyesight_id=said["entry_id"],
                person=person,
                **days,
            ),
        ).response()
