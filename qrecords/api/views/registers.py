"""The registers by address: lists, single rows, and what is written into them."""

import uuid
from collections.abc import Callable, Iterator
from datetime import timedelta
from functools import cache
from typing import Any, cast

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.bodies import PhotoBody
from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import SHA256
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.listing import AfterRow, after, page
from qrecords.api.operations import Operation, Operations
from qrecords.api.receipts import Receipt, receipt_document, write
from qrecords.api.registers import CalibrationBody, DamageBody, MasterCheckBody, Register, RequirementBody
from qrecords.api.rows import one
from qrecords.evidence.intake import take_in_paper
from qrecords.mountings.queries import for_person, uses_of
from qrecords.people.acting import require
from qrecords.people.permissions import Action
from qrecords.workshop import actions
from qrecords.workshop import care_actions as care
from qrecords.workshop.models import Equipment, Journal
from qrecords.workshop.queries import due_equipment, within

PAGE = 100
MOST_DAYS, MOST_DUE = 1000, 1000


@cache
def _page_of(register: Register) -> type[Answer]:
    """The page of one register's rows, named after it in the document."""
    fields = {
        "results": register.row(many=True),
        "next": serializers.CharField(allow_null=True),
        "__doc__": f"A page of {register.name} rows.",
    }
    return type(f"{register.name.title()}Page", (Answer,), fields)


@cache
def _query_of(register: Register) -> type[Body]:
    fields: dict[str, Any] = {name: Text(required=False, max_length=60) for name in register.filters}
    fields["after"] = serializers.UUIDField(required=False)
    fields["__doc__"] = "Filters, and `after`: the last row of the page before."
    return type(f"{register.name.title()}Query", (Body,), fields)


class Rows(Resource):
    """One register; which one is given with the address."""

    register: Register | None = None

    def own_operations(self) -> Operations:
        kept = self.register
        if kept is None:
            return {}
        return {
            "GET": Operation(f"list {kept.name}", (Action.READ,), _page_of(kept), query=_query_of(kept)),
            "POST": Operation(f"register {kept.name}", (kept.right,), Receipt, kept.body, write=True),
        }

    def get(self, request: Request) -> Response:
        """The newest first."""
        kept = self.register
        assert kept is not None  # noqa: S101 - every address names its register
        asked = self.asked(request)
        reachable = within(kept.rows(), reach_of(request, Action.READ))
        columns = {column: asked[name] for name, column in kept.filters.items() if name in asked}
        rows = reachable.filter(**columns).order_by("-id")
        last = asked.get("after")
        found = list((rows if last is None else rows.filter(id__lt=last))[: PAGE + 1])
        return Response(page(request, kept.row, found, PAGE))

    def post(self, request: Request) -> Response:
        """Write one down. The same sent again is the same; another with the same id is refused."""
        kept = self.register
        assert kept is not None  # noqa: S101 - every address names its register
        said = self.said(request)
        site = site_of(request, kept.right, said) if "site" in kept.body().fields else None
        where, acting = reach_of(request, kept.right), acting_of(request, said)
        make: Callable[[], object] = lambda: kept.make(acting, site, where, said)  # noqa: E731 - one line
        return write(said["entry_id"], kept.kind, said["entry_id"], make).response()


class OneRow(Resource):
    register: Register | None = None

    def own_operations(self) -> Operations:
        kept = self.register
        return {"GET": Operation(f"read {kept.name}", (Action.READ,), kept.row)} if kept else {}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        kept = self.register
        assert kept is not None  # noqa: S101 - every address names its register
        found = within(kept.rows(), reach_of(request, Action.READ)).filter(id=id).first()
        if found is None:
            raise UnknownAddressError(kept.name, id)
        return Response(kept.row(found).data)


class Requirements(Resource):
    operations = {
        "POST": Operation("require of a journal", (Action.REGISTER,), Receipt, RequirementBody, write=True)
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """What another revision of the drawing asks of this journal, from now on."""
        journal = one(Journal, id, reach_of(request, Action.REGISTER))
        said = self.said(request)
        return write(
            said["entry_id"],
            "journal requirement",
            journal.id,
            lambda: actions.require_of_journal(
                acting=acting_of(request, said),
                requirement_id=said["entry_id"],
                journal=journal,
                document=said["document"],
            ),
        ).response()


class Calibrations(Resource):
    operations = {
        "POST": Operation("calibrate", (Action.EQUIP,), Receipt, CalibrationBody, write=True),
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Calibrated, quarantined, dropped, lost: how this piece stands from a moment on."""
        piece = one(Equipment, id, reach_of(request, Action.EQUIP))
        said = self.said(request)
        return write(
            said["entry_id"],
            "calibration",
            piece.id,
            lambda: actions.calibrate(
                acting=acting_of(request, said),
                version_id=said["entry_id"],
                equipment=piece,
                document=said["document"],
                valid_from=said["valid_from"],
            ),
        ).response()


class DueRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    kind = serializers.CharField()
    mark = serializers.CharField()
    due = serializers.DateField(allow_null=True)
    place = serializers.CharField(source="kept_at", allow_null=True)
    laboratory = serializers.CharField(allow_null=True)
    interval_months = serializers.CharField(source="interval", allow_null=True)


class DueList(Answer):
    results = DueRow(many=True)


class DueQuery(Body):
    days = serializers.IntegerField(
        required=False,
        min_value=0,
        max_value=MOST_DAYS,
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value", "max_string_length"), f"a whole number, 0…{MOST_DAYS} days"
        ),
    )


class Due(Resource):
    operations = {"GET": Operation("list what is due", (Action.READ,), DueList, query=DueQuery)}

    def get(self, request: Request) -> Response:
        """What is in use and due within so many days (60), over it, or without a due day; the first due
        first, a thousand at most."""
        until = door.now().date() + timedelta(days=self.asked(request).get("days", 60))
        rows = list(due_equipment(reach_of(request, Action.READ), until)[:MOST_DUE])
        return Response(DueList({"results": rows}).data)


class CertificateBytes(Resource):
    parser_classes = [PhotoBody]
    operations = {
        "PUT": Operation(
            "send a certificate", (Action.EQUIP,), Receipt, write=True, takes="application/octet-stream"
        )
    }

    def put(self, request: Request, id: uuid.UUID, sha256: str) -> Response:
        """A PDF or a photograph of the paper, whose SHA-256 is in the address; a calibration names it."""
        piece, acting = one(Equipment, id, reach_of(request, Action.EQUIP)), acting_of(request, {})
        require(acting, Action.EQUIP, piece.site)
        if not SHA256.fullmatch(sha256):
            raise UnknownAddressError("certificate", sha256)
        taken = take_in_paper(cast(Iterator[bytes], request.data), expected_sha256=sha256)
        entry, new = care.receive_certificate(acting=acting, equipment=piece, taken=taken)
        return Response(receipt_document(entry.id), status=201 if new else 200)


class MasterChecks(Resource):
    operations = {
        "POST": Operation("check on a master", (Action.CHECK_GAUGE,), Receipt, MasterCheckBody, write=True)
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """A gauge read on its master before a shift or after it."""
        where = reach_of(request, Action.CHECK_GAUGE)
        gauge, said = one(Equipment, id, where), self.said(request)
        master = one(Equipment, said["master"], where)
        return write(
            said["entry_id"],
            "master check",
            gauge.id,
            lambda: care.check_on_master(
                acting=acting_of(request, said),
                check_id=said["entry_id"],
                equipment=gauge,
                master=master,
                when=said["when"],
                off=care.OFF.parse(
                    said["off"]["typed"], said["off"]["unit"], sure=said["off"].get("sure", False)
                ),
            ),
        ).response()


class Damages(Resource):
    operations = {"POST": Operation("report damage", (Action.DAMAGE,), Receipt, DamageBody, write=True)}

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Dropped or damaged: out of use from that moment, until it is calibrated anew."""
        piece, said = one(Equipment, id, reach_of(request, Action.DAMAGE)), self.said(request)
        return write(
            said["entry_id"],
            "equipment damage",
            piece.id,
            lambda: care.report_damage(
                acting=acting_of(request, said),
                damage_id=said["entry_id"],
                equipment=piece,
                what=said["what"],
                note=said.get("note", ""),
            ),
        ).response()


class Use(Answer):
    """One capture that used the piece."""

    id = serializers.IntegerField()
    mounting = serializers.UUIDField(source="mounting_id")
    number = serializers.CharField(source="mounting.number")
    state = serializers.CharField(source="mounting.state")
    machine = serializers.CharField(source="mounting.journal.machine.name")
    designation = serializers.CharField(source="mounting.bearing.designation")
    work_order = serializers.CharField(source="mounting.rebuild.work_order")
    entry = serializers.UUIDField()
    step = serializers.CharField()
    at = serializers.DateTimeField()


class UsePage(Answer):
    results = Use(many=True)
    next = serializers.CharField(allow_null=True)


class Uses(Resource):
    operations = {"GET": Operation("list uses", (Action.TRACE,), UsePage, query=AfterRow)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        """Every capture that used this gauge, meter or heater, newest first."""
        piece = one(Equipment, id, reach_of(request, Action.TRACE))
        mountings = for_person(door.person_of(request), Action.TRACE, door.now())
        reachable = uses_of(piece.id, mountings).order_by("-at", "-id")
        found = list(after(reachable, "at", reachable, self.asked(request).get("after"))[: PAGE + 1])
        return Response(page(request, Use, found, PAGE))
