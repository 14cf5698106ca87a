"""The page on which a rebuild is released: every place with what carries it, and what keeps it back."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext, ngettext

from qrecords.mountings.errors import RefusedError
from qrecords.people.models import Person
from qrecords.signoff.rebuild_queries import Whole, whole_of
from qrecords.steps.rebuild import Place, refuse_rebuild_release
from qrecords.steps.transitions import ACCEPTING, State
from qrecords.web.heading import scheme_words
from qrecords.web.inspector.rights import kind_word
from qrecords.web.refused import refused_words
from qrecords.workshop.models import Rebuild


@dataclass(frozen=True)
class Carried:
    """One place: what carries it, with what was decided or came after its signature; `left_out` is the name
    of the field for why nothing is mounted there, '' where that cannot be."""

    name: str
    number: str
    href: str
    state: str
    notes: tuple[str, ...]
    left_out: str
    typed: str


@dataclass(frozen=True)
class Releasing:
    """`stop`: why it cannot be released now, whatever is typed; '' where the form may be sent."""

    places: tuple[Carried, ...]
    stop: str
    scheme: str


def releasing(rebuild: Rebuild, person: Person, given: Mapping[str, str], *, released: bool) -> Releasing:
    """Six queries, however many places."""
    whole = whole_of(rebuild)
    excused = {place.journal: "-" for place in whole.places if place.may_be_left_out}
    stop = refuse_rebuild_release(whole.places, excused, str(person.id), released=released)
    return Releasing(
        places=tuple(_carried(whole, place, given) for place in whole.places),
        stop=refused_words(RefusedError("release of the rebuild", stop)) if stop else "",
        scheme=scheme_of(rebuild),
    )


def scheme_of(rebuild: Rebuild) -> str:
    """Said on every page and paper of a release, whatever the machine's scheme."""
    scheme = scheme_words(rebuild.machine)
    if not scheme:
        return gettext("This sign-off is not a statutory release of the machine.")
    return f"{scheme} {gettext('This sign-off is not that release.')}"


def _carried(whole: Whole, place: Place, given: Mapping[str, str]) -> Carried:
    standing, field = place.standing, f"left_out.{place.journal}"
    return Carried(
        name=gettext("shaft %(place)s") % {"place": place.name},
        number=standing.number if standing else "",
        href=reverse("inspect", args=[standing.mounting]) if standing else "",
        state=gettext(standing.state.value) if standing else gettext("no mounting"),
        notes=notes_of(whole, place),
        left_out=field if place.may_be_left_out else "",
        typed=given.get(field, ""),
    )


def notes_of(whole: Whole, place: Place) -> tuple[str, ...]:
    """What whoever releases should know of a place: what was conceded or accepted, what came after the
    signature, attempts before this one."""
    standing = place.standing
    if standing is None:
        return ()
    case, said = whole.cases[standing.mounting], []
    for kind in sorted(ACCEPTING):
        of_kind = [d for d in case.decisions if d.kind == kind]
        if of_kind:
            said.append(f"{kind_word(kind)} × {len(of_kind)}")
    if standing.state == State.SIGNED_OFF:
        inspected = max(s.index for s in case.signatures if s.meaning == "inspected")
        late = sum(place > inspected for place in case.order.values())
        words = ngettext("%(n)s entry after signature", "%(n)s entries after signature", late)
        said += [words % {"n": late}] if late else []
    before = [a for a in place.attempts if a is not standing]
    said += [f"{attempt.number} {gettext(attempt.state.value)}" for attempt in before]
    return tuple(said)
