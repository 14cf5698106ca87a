"""Everything taken out: the act, then the file."""

import uuid

from django.http import StreamingHttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, acting_of, now, person_of, reach_of, site_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.api.registers import AtSite
from qrecords.ledger.queries import home_site
from qrecords.people.permissions import Action
from qrecords.tracing.everything.handed_out import handed_out
from qrecords.tracing.everything.made import zipped
from qrecords.tracing.everything.take import take_everything


class ExportBody(AtSite):
    """Of the site that is said; without one, of every site where the caller's right reaches so far."""


class Exports(Resource):
    operations = {
        "POST": Operation("take everything out", (Action.EXPORT,), Receipt, ExportBody, write=True),
    }

    def post(self, request: Request) -> Response:
        """Say that everything is taken out; the file is at `exports/<entry>/`."""
        said = self.said(request)
        every = reach_of(request, Action.EXPORT).everywhere and "site" not in said
        site = None if every else site_of(request, Action.EXPORT, said)
        return write(
            said["entry_id"],
            "export",
            site or home_site() or said["entry_id"],
            lambda: take_everything(acting=acting_of(request, said), entry_id=said["entry_id"], site=site),
        ).response()


class OneExport(Resource):
    operations = {"GET": Operation("fetch an export", (Action.EXPORT,), gives="application/zip")}

    def get(self, request: Request, entry: uuid.UUID) -> StreamingHttpResponse:
        """One zip file, streamed; to who took it."""
        taken = handed_out(person_of(request), entry, now())
        if taken is None:
            raise UnknownAddressError("export", entry)
        answer = StreamingHttpResponse(zipped(taken.sites, taken.name), content_type="application/zip")
        answer["Content-Disposition"] = f'attachment; filename="{taken.name}.zip"'
        return answer
