"""What a search names besides mountings, in words, each leading to all that share it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.tracing.search_beside import Beside
from qrecords.web.auditor.saying_lives import damage_name

KINDS: Mapping[str, str] = {
    "lot": _("lot"),
    "delivery": _("delivery"),
    "order": _("purchase order"),
    "part": _("part"),
    "batch": _("batch, heat or job, as written into a step"),
    "person": _("person"),
    "damage": _("damage"),
    "day": _("opened on"),
}


@dataclass(frozen=True)
class Item:
    title: str
    line: str
    href: str


def beside_items(found: Iterable[Beside]) -> list[Item]:
    return [
        Item(
            damage_name(each.of) if each.kind == "damage" else each.text,
            gettext(KINDS[each.kind]),
            reverse("shared", args=[each.kind, each.of]),
        )
        for each in found
    ]
