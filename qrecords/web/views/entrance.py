"""The entrance: health, sign-in and sign-out, and where each role begins."""

from django.conf import settings
from django.contrib.auth import login, logout
from django.db import connection
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from qrecords.ledger.queries import size
from qrecords.people.errors import UnknownPersonError
from qrecords.people.permissions import Action
from qrecords.people.proving import prove
from qrecords.web.door import door, may


@door(Action.PUBLIC)
@require_GET
def healthz(request: HttpRequest) -> HttpResponse:
    """200 when the database answers and the log is open."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return JsonResponse({"ready": size() > 0}, status=200 if size() > 0 else 503)


@door(Action.PUBLIC)
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Sign in; what is wrong is said without telling which of the two it was."""
    typed = request.POST.get("sign_in", "")
    if request.method == "GET":
        context = {"next": request.GET.get("next", ""), "planner_open": settings.PLANNER_OPEN}
        return render(request, "sign_in.html", context)
    try:
        person = prove(request, typed, request.POST.get("password", ""))
    except UnknownPersonError as error:
        return render(request, "sign_in.html", {"error": error, "typed": typed}, status=401)
    login(request, person)
    return redirect(here_or_start(request, request.POST.get("next", "")))


def here_or_start(request: HttpRequest, target: str) -> str:
    """The address somebody wanted, if it is one of ours; else the beginning."""
    safe = url_has_allowed_host_and_scheme(target, {request.get_host()}, require_https=request.is_secure())
    return target if target and safe else "/"


@door(Action.SIGNED_IN, under_first_password=True)
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """The next one at a shared tablet finds neither pages nor photographs of the one before in its cache;
    what was typed and is not sent yet lies elsewhere in the browser, and stays."""
    logout(request)
    response = redirect("sign-in")
    response["Clear-Site-Data"] = '"cache"'
    return response


BEGINNINGS = (
    (Action.RECORD, "my-mountings"),
    (Action.SIGN, "waiting"),
    (Action.CONCEDE, "waiting"),
    (Action.TRACE, "search"),
    (Action.PEOPLE, "people"),
)


@door(Action.SIGNED_IN)
@require_GET
def start(request: HttpRequest) -> HttpResponse:
    """Each role begins where its work lies."""
    for action, page in BEGINNINGS:
        if may(request, action):
            return redirect(page)
    return render(request, "nothing_here.html", status=403)
