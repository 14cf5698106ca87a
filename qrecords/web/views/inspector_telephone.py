"""Release before heat by telephone: what the fitter reads out, and the code to read back."""

import uuid
from collections.abc import Mapping
from datetime import UTC, datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.mountings.errors import FieldsError, UnknownMountingError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, for_person
from qrecords.people.permissions import Action
from qrecords.refusals import status_of
from qrecords.signoff import actions as signoff
from qrecords.steps.case import Case
from qrecords.steps.errors import FieldError, SlipError
from qrecords.steps.expected import expected_for
from qrecords.steps.standard import STEPS
from qrecords.steps.telephone import answer_code
from qrecords.web.door import ACTION_ERRORS, acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.fitter.sent import GIVEN_BACK
from qrecords.web.heading import title_block
from qrecords.web.inspector.reader import mounting_of, page
from qrecords.web.refused import refused_words
from qrecords.web.showing import FIGURES

HEARD: Mapping[str, str] = {
    "number": _("mounting number"),
    "code": _("code"),
    "lowest": _("lowest reading"),
    "highest": _("highest reading"),
    "unit": _("said in"),
}
"""What is typed on the telephone page, by the names that stand there."""


@door(Action.RELEASE)
@require_http_methods(["GET", "POST"])
def release_by_telephone(request: HttpRequest) -> HttpResponse:
    """Mounting number, code, lowest and highest reading; what was typed stays if it is refused."""
    if request.method == "GET":
        typed = {"number": request.GET.get("number", "")[:GIVEN_BACK]}
        return render(request, "inspector/telephone.html", page(request, typed=typed))
    typed = {name: request.POST.get(name, "")[:GIVEN_BACK] for name in (*HEARD, "alone")}
    try:
        mounting = _by_number(request, request.POST.get("number", "").strip())
        lowest_nm, highest_nm = _readings(request, case_of(mounting))
        entry = signoff.release_by_telephone(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            code=request.POST.get("code", ""),
            lowest_nm=lowest_nm,
            highest_nm=highest_nm,
            alone=typed["alone"],
        )
    except FieldsError as error:
        words = [asked_sentence(gettext(HEARD[name]), each) for name, each in error.errors.items()]
        doubted = all(isinstance(each, SlipError) for each in error.errors.values())
        context = page(request, typed=typed, words=words, wrong=tuple(error.errors), doubted=doubted)
        return render(request, "inspector/telephone.html", context, status=status_of(error))
    except ACTION_ERRORS as error:
        context = page(request, typed=typed, words=[refused_words(error)])
        return render(request, "inspector/telephone.html", context, status=status_of(error))
    return redirect("telephone-answer", mounting=mounting.id, entry=entry.id)


def _by_number(request: HttpRequest, number: str) -> Mounting:
    """The one mounting of this short number within reach; two sites may have given the same number."""
    rows = for_person(person_of(request), Action.RELEASE, datetime.now(UTC)).filter(number=number)
    found = list(rows[:2])
    if len(found) != 1:
        raise UnknownMountingError(number)
    return found[0]


def _readings(request: HttpRequest, case: Case) -> tuple[int, int]:
    """The lowest and the highest reading as heard, in µm from nominal or in mm, by the same parse as the
    fitter's own. FieldsError names which of them gave none."""
    expected = expected_for(case, "measurement", "journal")
    assert expected is not None  # noqa: S101 - the journal always has its nominal
    unit = "mm" if request.POST.get("unit") == "mm" else expected.deviation_unit
    sure = "sure" in request.POST
    field = STEPS["measurement"].field("journal.A.0")
    found: dict[str, int] = {}
    errors: dict[str, FieldError] = {}
    for which in ("lowest", "highest"):
        try:
            found[which] = int(field.parse(request.POST.get(which, ""), unit, expected, sure=sure).value)
        except FieldError as error:
            errors[which] = error
    if errors:
        raise FieldsError(errors)
    return found["lowest"], found["highest"]


@door(Action.RELEASE)
@require_GET
def answer(request: HttpRequest, mounting: uuid.UUID, entry: uuid.UUID) -> HttpResponse:
    """The one-time code to read back: it comes from the release's own leaf."""
    found = mounting_of(request, mounting, Action.RELEASE)
    case = case_of(found)
    given = next((r for r in case.releases if r.entry == str(entry) and r.means == "telephone"), None)
    if given is None or given.author != str(person_of(request).id):
        raise Http404(gettext("no such release of yours"))
    context = page(
        request,
        mounting=found,
        code=answer_code(given.leaf),
        title_block=title_block(found, case, FIGURES),
    )
    return render(request, "inspector/telephone_answer.html", context)
