"""Every resource of the API."""

from django.urls import URLPattern, URLResolver, path

from qrecords.api import acts, registers
from qrecords.api.views import (
    cases,
    document,
    entries,
    logs,
    mountings,
    photos,
    plan,
    procedures,
    search,
    tables,
    tokens,
)
from qrecords.api.views import registers as rows

ON = "mountings/<uuid:mounting>/"
REGISTERS = {
    "machines": registers.MACHINES,
    "rebuilds": registers.REBUILDS,
    "journals": registers.JOURNALS,
    "bearings": registers.BEARINGS,
    "equipment": registers.EQUIPMENT,
}
ACTS = {
    "captures/<str:step>/": acts.CAPTURE,
    "taps/": acts.TAP,
    "taps/<uuid:tap>/undo/": acts.UNDO,
    "photos/": acts.PHOTO,
    "logs/": acts.LOG,
    "looked/": acts.LOOKED,
    "ready/": acts.READY,
    "withdrawal/": acts.WITHDRAW,
    "releases/": acts.RELEASE,
    "releases/telephone/": acts.TELEPHONE,
    "decisions/": acts.DECIDE,
    "returns/": acts.RETURN,
    "signatures/": acts.SIGN,
}
urlpatterns: list[URLPattern | URLResolver] = [
    path("openapi.json", document.OpenApi.as_view()),
    path("schemas/<str:name>/", cases.Schema.as_view()),
    path("tokens/", tokens.Tokens.as_view()),
    path("tokens/this/", tokens.ThisToken.as_view()),
    path("tokens/<uuid:token>/", tokens.OneToken.as_view()),
    path("mountings/", mountings.Mountings.as_view()),
    path(ON, mountings.OneMounting.as_view()),
    path(ON + "case-document/", cases.CaseDocument.as_view()),
    path(ON + "entries/", mountings.Entries.as_view()),
    path(ON + "releases/here/", mountings.ReleasesHere.as_view()),
    path(ON + "logs/<str:sha256>/", logs.OneLog.as_view()),
    path(ON + "photos/<str:sha256>/", photos.PhotoBytes.as_view()),
    path(ON + "photos/<str:sha256>/original/", photos.PhotoOriginal.as_view()),
    path(ON + "photos/<str:sha256>/<str:size>/", photos.PhotoPicture.as_view()),
    *(path(ON + address, mountings.ActOn.as_view(act=act)) for address, act in ACTS.items()),
    path("entries/<uuid:entry>/", entries.OneEntry.as_view()),
    *(path(f"{name}/", rows.Rows.as_view(register=kept)) for name, kept in REGISTERS.items()),
    *(path(f"{name}/<uuid:id>/", rows.OneRow.as_view(register=kept)) for name, kept in REGISTERS.items()),
    path("journals/<uuid:id>/requirements/", rows.Requirements.as_view()),
    path("equipment/<uuid:id>/calibrations/", rows.Calibrations.as_view()),
    path("equipment/<uuid:id>/mountings/", rows.Uses.as_view()),
    path("plan/", plan.Plan.as_view()),
    path("search/", search.Search.as_view()),
    path("tables/", tables.Tables.as_view()),
    path("tables/rows/", tables.TableRows.as_view()),
    path("tables/proposals/", tables.Proposals.as_view()),
    path("procedures/", procedures.Procedures.as_view()),
    path("procedures/in-force/", procedures.InForce.as_view()),
    path("procedures/compared/", procedures.Compared.as_view()),
    path("procedures/drafts/", procedures.Drafts.as_view()),
    path("procedures/drafts/<uuid:id>/", procedures.OneDraftOf.as_view()),
    path("procedures/drafts/<uuid:id>/approvals/", procedures.Approvals.as_view()),
    path("procedures/drafts/<uuid:id>/refusals/", procedures.Refusals.as_view()),
    path("procedures/drafts/<uuid:id>/withdrawals/", procedures.Withdrawals.as_view()),
    path("procedures/<str:digest>/", procedures.OneProcedure.as_view()),
    path("procedures/<str:digest>/file/", procedures.ProcedureFile.as_view()),
    path("<path:rest>", document.Nothing.as_view()),
]
