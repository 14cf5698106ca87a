"""What a search found, in words: how each word was read, and which of them speak for a candidate."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.models import Mounting
from qrecords.steps.transitions import CLOSED
from qrecords.tracing.search import Answer, Candidate
from qrecords.web.heading import place
from qrecords.web.moments import begun, day
from qrecords.workshop.models import Bearing

KINDS = {
    "workshop mark": _("workshop mark"),
    "mounting": _("mounting"),
    "serial": _("serial"),
    "designation": _("designation"),
    "lot": _("lot"),
    "date code": _("date code"),
    "delivery": _("delivery"),
    "work order": _("work order"),
    "machine": _("machine"),
    "owner": _("owner"),
    "place": _("place"),
    "equipment": _("equipment"),
    "designation, as read": _("marking as read"),
    "serial, as read": _("serial as read"),
    "lot, as read": _("lot as read"),
    "date code, as read": _("date code as read"),
}


@dataclass(frozen=True)
class Item:
    """One candidate in the list: what it is, when, and which words agree and differ."""

    title: str
    line: str
    agree: str
    differ: str
    href: str
    here: bool = False


@dataclass(frozen=True)
class Found:
    """The list beside the sheet. `read_as` are (kind, word), `doubts` words that look like a misread mark."""

    read_as: tuple[tuple[str, str], ...]
    nowhere: tuple[str, ...]
    doubts: tuple[str, ...]
    items: tuple[Item, ...]
    in_stock: tuple[Item, ...]
    equipment: tuple[Item, ...]


@dataclass(frozen=True)
class Closed:
    """One closed mounting to begin with, where nobody has a word at hand."""

    number: str
    href: str
    bearing: str
    place: str
    opened: str
    state: str


NEWEST = 12


def newest_closed(rows: QuerySet[Mounting]) -> tuple[Closed, ...]:
    """The mountings that were closed, newest opened first. One query."""
    closed = rows.filter(state__in=[state.value for state in CLOSED]).order_by("-opened_at", "-id")
    return tuple(
        Closed(
            number=mounting.number,
            href=f"{reverse('bearing-life', args=[mounting.bearing_id])}?open={mounting.id}",
            bearing=mounting.bearing.designation,
            place=f"{mounting.journal.machine.owner} · {place(mounting)}",
            opened=day(mounting.opened_at, "UTC"),
            state=gettext(mounting.state),
        )
        for mounting in closed[:NEWEST]
    )


def found_of(answer: Answer, chosen: Candidate | None, base: str) -> Found:
    """`base` is the address that opens a candidate, ending in `=`."""
    kinds = dict(answer.read_as)
    return Found(
        read_as=tuple((gettext(KINDS[kind]), word) for word, kind in answer.read_as),
        nowhere=answer.nowhere,
        doubts=tuple(word.text for word in answer.words if word.doubt and word.text in answer.nowhere),
        items=tuple(_item(candidate, kinds, chosen, base) for candidate in answer.candidates),
        in_stock=tuple(
            Item(
                title=bearing.designation,
                line=" · ".join(_identity(bearing)),
                agree="",
                differ="",
                href=reverse("bearing-life", args=[bearing.id]),
            )
            for bearing in answer.in_stock
        ),
        equipment=tuple(
            Item(piece.mark, gettext(piece.kind), "", "", reverse("equipment-uses", args=[piece.id]))
            for piece in answer.equipment
        ),
    )


def _identity(bearing: Bearing) -> list[str]:
    """What tells one bearing from another of its kind, as far as it is known."""
    known = (
        (gettext("serial %(text)s"), bearing.serial),
        (gettext("lot %(text)s"), bearing.lot),
        (gettext("date code %(text)s"), bearing.date_code),
        (gettext("delivery %(text)s"), bearing.delivery),
    )
    return [words % {"text": text} for words, text in known if text]


def _item(candidate: Candidate, kinds: dict[str, str], chosen: Candidate | None, base: str) -> Item:
    mounting = candidate.mounting
    journal, machine = mounting.journal, mounting.journal.machine
    when = begun(mounting, day(mounting.opened_at, "UTC"))
    shaft = gettext("shaft %(shaft)s") % {"shaft": journal.shaft}
    agreeing = list(dict.fromkeys(gettext(KINDS[agreement.kind]) for agreement in candidate.agree))
    differing = [f"{gettext(KINDS[kinds[word]])} {word}" for word in candidate.differ if word in kinds]
    differing += [f"{gettext(KINDS[each.kind])} {each.lacks}" for each in candidate.agree if each.lacks]
    return Item(
        title=f"{mounting.number} · {mounting.bearing.designation}",
        line=" · ".join(
            (
                f"{machine.owner}, {machine.name}, {shaft}, {journal.position}",
                *_identity(mounting.bearing),
                mounting.rebuild.work_order,
                when,
            )
        ),
        agree=gettext("%(kinds)s agree") % {"kinds": ", ".join(agreeing)}
        if len(agreeing) > 1
        else gettext("%(kind)s agrees") % {"kind": agreeing[0]},
        differ=gettext("not here: %(words)s") % {"words": ", ".join(differing)} if differing else "",
        href=f"{base}{mounting.id}",
        here=chosen is not None and chosen.mounting.id == mounting.id,
    )
