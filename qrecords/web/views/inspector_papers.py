"""Papers that decisions rest on: handed in with a record, listed, and handed out again as they came."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import take_in_paper
from qrecords.mountings.actions.attaching import hand_in_paper, receive_file
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.proof.identifiers import following
from qrecords.steps.papers import PAPERS
from qrecords.web.deciding_words import PAPERS as PAPER_WORDS
from qrecords.web.deciding_words import REFUSED_PAPER
from qrecords.web.door import acting_of, door, entry_id_of
from qrecords.web.heading import title_block
from qrecords.web.inspector.reader import mounting_of, page, sealed_on, zone_for
from qrecords.web.moments import moment
from qrecords.web.showing import FIGURES
from qrecords.web.taking_in import taken_in


@door(Action.ATTACH)
@require_http_methods(["GET", "POST"])
def papers(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """The papers of a record, and the place to hand one in."""
    found = mounting_of(request, mounting, Action.ATTACH)
    if request.method == "POST":
        return _handed_in(request, found)
    return _shown(request, found)


def _shown(request: HttpRequest, mounting: Mounting, wrong: str = "", status: int = 200) -> HttpResponse:
    case, zone = case_of(mounting), zone_for(request)
    people = names({paper.author for paper in case.papers})
    rows = [(gettext(PAPER_WORDS[p.kind]), people[p.author], moment(p.at, zone), p) for p in case.papers]
    blind = sealed_on(request, mounting, case).marking
    context = page(
        request,
        mounting=mounting,
        title_block=title_block(mounting, case, FIGURES, blind=blind),
        papers=rows,
        kinds=[(kind, gettext(PAPER_WORDS[kind])) for kind in PAPERS],
        chosen=request.POST.get("paper", ""),
        wrong=wrong,
    )
    return render(request, "inspector/papers.html", context, status=status)


def _handed_in(request: HttpRequest, mounting: Mounting) -> HttpResponse:
    """Take the bytes in, then say what they are; what cannot be kept is asked back beside its field."""
    file, kind = request.FILES.get("file"), request.POST.get("paper", "")
    if file is None or kind not in PAPERS:
        return _shown(request, mounting, gettext("Choose which paper it is, and its file."), 422)
    try:
        taken = taken_in(request, mounting, file, take_in_paper)
    except FileRefusedError as error:
        why = gettext(REFUSED_PAPER.get(error.code, error.code))
        return _shown(request, mounting, gettext("It was not kept: {why}").format(why=why), 422)
    acting = acting_of(request)
    receive_file(acting=acting, mounting=mounting, taken=taken)
    hand_in_paper(
        acting=acting,
        mounting=mounting,
        entry_id=following(entry_id_of(request), f"paper {taken.sha256}"),
        kind=kind,
        sha256=taken.sha256,
        size=taken.size,
        media=taken.photo.media,
    )
    messages.success(request, gettext("Handed in."))
    return redirect("papers", mounting=mounting.id)
