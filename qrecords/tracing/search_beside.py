"""What else the words of a search name: deliveries, orders, parts, batches, people, damages, days."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from django.db.models import Q

from qrecords.mountings.models import NameRead
from qrecords.people.models import PersonVersion, RoleGrant
from qrecords.people.queries import Reach
from qrecords.steps.damage import DAMAGES
from qrecords.tracing.shared import span_of
from qrecords.tracing.words import Word
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Delivery, Part

MOST = 10
SHORTEST = 3
"""Shorter words are in everything."""
_DAY = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?")


@dataclass(frozen=True)
class Beside:
    """Something that a word names: `kind` and `of` lead to all mountings that share it."""

    kind: str
    of: str
    text: str


def beside(words: Sequence[Word], where: Reach) -> list[Beside]:
    """Everything within reach that a word names; four queries, however many words."""
    wanted = [word.wanted for word in words]
    long = [text for text in wanted if len(text) >= SHORTEST]
    found = [*_deliveries(wanted, where), *_parts(long, where), *_batches(long, where), *_people(long, where)]
    return [*found, *_damages(long), *_days(wanted)]


def _any(field: str, texts: Sequence[str], how: str = "iexact") -> Q:
    none = Q(pk__in=())
    return reduce(or_, (Q(**{f"{field}__{how}": text}) for text in texts), none)


def _within(where: Reach, field: str = "site") -> Q:
    return Q() if where.everywhere else Q(**{f"{field}__in": where.sites})


def _deliveries(texts: Sequence[str], where: Reach) -> list[Beside]:
    asked = _any("note", texts) | _any("order", texts)
    asked |= _any("supplier", [text for text in texts if len(text) >= SHORTEST], "icontains")
    rows = Delivery.objects.filter(_within(where), asked).order_by("-on", "-id")[:MOST]
    found = [Beside("delivery", str(row.id), f"{row.note}, {row.supplier}") for row in rows]
    orders = {row.order for row in rows if row.order and row.order.upper() in {t.upper() for t in texts}}
    return found + [Beside("order", order, order) for order in sorted(orders)]


def _parts(texts: Sequence[str], where: Reach) -> list[Beside]:
    rows = Part.objects.filter(
        _within(where), _any("lot", texts, "icontains") | _any("name", texts, "icontains")
    )
    return [
        Beside("part", str(row.id), f"{row.lot}, {row.name}") for row in rows.order_by("lot", "id")[:MOST]
    ]


def _batches(texts: Sequence[str], where: Reach) -> list[Beside]:
    """What was written into a step in words of its own."""
    rows = NameRead.objects.filter(_within(where, "mounting__site"), _any("text", texts, "icontains"))
    named = rows.order_by("text").values_list("text", flat=True).distinct()[:MOST]
    return [Beside("batch", text, text) for text in named]


def _people(texts: Sequence[str], where: Reach) -> list[Beside]:
    """Who ever held a role at these sites and is, or was, called so."""
    held = RoleGrant.objects.filter(_within(where)).values("person")
    rows = PersonVersion.objects.filter(_any("name", texts, "icontains"), person__in=held)
    named = dict(rows.order_by("valid_from").values_list("person_id", "name")[: 4 * MOST])
    return [Beside("person", str(id), name) for id, name in list(named.items())[:MOST]]


def _damages(texts: Sequence[str]) -> list[Beside]:
    """Damages by a word of their slug or by the number of ISO 15243."""
    asked = [text.lower() for text in texts]
    return [
        Beside("damage", damage.id, damage.clause)
        for damage in DAMAGES
        if any(text in damage.id.split("-") or text == damage.clause for text in asked)
    ]


def _days(texts: Sequence[str]) -> list[Beside]:
    found = []
    for text in texts:
        if _DAY.fullmatch(text):
            try:
                span_of(text)
            except UnknownObjectError:
                continue
            found.append(Beside("day", text, text))
    return found
