"""What a search found, in words: how each word was read, and which of them speak for a candidate."""

from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.tracing.search import Answer, Candidate
from qrecords.web.moments import day

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
                line=" · ".join(filter(None, (bearing.serial, bearing.lot, bearing.date_code))),
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


def _item(candidate: Candidate, kinds: dict[str, str], chosen: Candidate | None, base: str) -> Item:
    mounting = candidate.mounting
    bearing, machine = mounting.bearing, mounting.journal.machine
    code = gettext("date code %(code)s") % {"code": bearing.date_code} if bearing.date_code else ""
    when = gettext("mounted %(day)s") % {"day": day(mounting.opened_at, "UTC")}
    agreeing = list(dict.fromkeys(gettext(KINDS[agreement.kind]) for agreement in candidate.agree))
    differing = [f"{gettext(KINDS[kinds[word]])} {word}" for word in candidate.differ if word in kinds]
    return Item(
        title=f"{bearing.designation}, {mounting.journal.position}",
        line=" · ".join(filter(None, (f"{machine.owner}, {machine.name}", when, code))),
        agree=gettext("%(kinds)s agree") % {"kinds": ", ".join(agreeing)}
        if len(agreeing) > 1
        else gettext("%(kind)s agrees") % {"kind": agreeing[0]},
        differ=gettext("not here: %(words)s") % {"words": ", ".join(differing)} if differing else "",
        href=f"{base}{mounting.id}",
        here=chosen is not None and chosen.mounting.id == mounting.id,
    )
