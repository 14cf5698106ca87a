"""One box: several words, ranked candidates, each saying which words agree and which differ.

Most bearings have no serial, so nothing here is needed and nothing is unique: a word may be the workshop
mark, serial, lot, date code, designation (as ordered, or as read off the ring), machine, owner, place, work
order or mounting number, and what has most words in its favour stands first. Three queries besides the
asker's rights, however many words.
"""

import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from operator import add, or_
from typing import Any

from django.db.models import Case, Exists, F, IntegerField, OuterRef, Q, QuerySet, Value, When
from django.db.models.functions import Replace

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.tracing.words import Word, words_of
from qrecords.workshop.models import Bearing, Equipment
from qrecords.workshop.queries import within

MOST_WORDS, MOST_CANDIDATES = 8, 50
WHOLE, PART, NEAR = 11, 10, 5
"""What a word is worth that is the whole of a field, one that is only in it, and a designation without what
is written behind it: the number of words decides (there are fewer than ten), among equals the whole ones."""

MOUNTING_FIELDS = {
    "workshop mark": "journal__machine__mark",
    "mounting": "number",
    "serial": "bearing__serial",
    "designation": "plain_designation",
    "lot": "bearing__lot",
    "date code": "bearing__date_code",
    "delivery": "bearing__delivery",
    "work order": "plain_order",
    "machine": "journal__machine__name",
    "owner": "journal__machine__owner",
    "place": "journal__position",
    "designation, as read": "plain_marking_read",
    "serial, as read": "serial_read",
    "lot, as read": "lot_read",
    "date code, as read": "date_code_read",
}
BEARING_FIELDS = {
    kind: path.removeprefix("bearing__") for kind, path in MOUNTING_FIELDS.items() if "bearing" in path
} | {"designation": "plain_designation"}
ONLY_WHOLE = frozenset({"workshop mark", "place"})
"""Kinds where a part says nothing: *DE* is not in *NDE*."""


@dataclass(frozen=True)
class Agreement:
    """A word and the kind of field that has it; `whole` if the field is nothing but this word; `lacks` what
    of the word it has not."""

    word: str
    kind: str
    whole: bool
    lacks: str = ""


@dataclass(frozen=True)
class Candidate:
    """A mounting that could be meant, with the words for it and the words it has nothing of."""

    mounting: Mounting
    agree: tuple[Agreement, ...]
    differ: tuple[str, ...]


@dataclass(frozen=True)
class Answer:
    """What was found: how each word was read, mountings by rank, bearings not mounted yet, equipment.

    `more`: there are more candidates than are shown. `left_out` are words beyond the most that are read.
    """

    words: tuple[Word, ...]
    read_as: tuple[tuple[str, str], ...]
    nowhere: tuple[str, ...]
    candidates: tuple[Candidate, ...] = ()
    in_stock: tuple[Bearing, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    more: bool = False
    left_out: tuple[str, ...] = ()


def search(person: Person, text: str, at: datetime) -> Answer:
    """Everything within the person's reach that has some of the words, best first."""
    read = words_of(text)
    words = tuple(read[:MOST_WORDS])
    if not words:
        return Answer((), (), ())
    rows = list(_ranked(for_person(person, Action.TRACE, at), words, MOUNTING_FIELDS, "bearing__"))
    candidates = tuple(_candidate(row, words) for row in rows[:MOST_CANDIDATES])
    where = reach(person.id, Action.TRACE, at)
    mounted = Exists(Mounting.objects.filter(bearing=OuterRef("pk")))
    stock = _ranked(within(Bearing.objects.filter(~mounted), where), words, BEARING_FIELDS, "")
    gear = within(Equipment.objects.all(), where).filter(_any(Q(mark__iexact=word.text) for word in words))
    in_stock, equipment = tuple(stock[:10]), tuple(gear.order_by("mark")[:10])
    read_as = _read_as(words, candidates, in_stock, equipment)
    known = {word for word, _kind in read_as}
    return Answer(
        words=words,
        read_as=read_as,
        nowhere=tuple(word.text for word in words if word.text not in known),
        candidates=candidates,
        in_stock=in_stock,
        equipment=equipment,
        more=len(rows) > MOST_CANDIDATES,
        left_out=tuple(word.text for word in read[MOST_WORDS:]),
    )


NOTHING = Q(pk__in=())


def _any(parts: Iterable[Q]) -> Q:
    return reduce(or_, parts, NOTHING)


PLAINED = {"designation": " /-", "work order": " -"}
"""Signs that people write or leave out: they count neither in the field nor in the question."""


def _sort(kind: str) -> str:
    """A lot is a lot, whether the order says it or the ring."""
    return kind.removesuffix(", as read")


def _asked(kind: str, text: str) -> str:
    for sign in PLAINED.get(_sort(kind), ""):
        text = text.replace(sign, "")
    return text.upper()


def _plained(path: str, kind: str) -> Any:
    plain: Any = F(path)
    for sign in PLAINED[kind]:
        plain = Replace(plain, Value(sign), Value(""))
    return plain


def _wholes(kind: str, word: Word) -> tuple[str, ...]:
    """What the whole field may be; a work order with what it is called before it, or without."""
    asked = _asked(kind, word.wanted)
    if not asked:
        return ()
    return (asked, f"WO{asked}") if kind == "work order" else (asked,)


def _part(kind: str, word: Word) -> str:
    """What a field may contain; empty where a part says nothing: one letter is in everything."""
    asked = _asked(kind, word.wanted)
    return "" if kind in ONLY_WHOLE or len(asked) < 2 else asked


def _fields_for(word: Word, fields: Mapping[str, str]) -> list[tuple[str, str]]:
    return [(kind, path) for kind, path in fields.items() if word.kind in ("", _sort(kind))]


def _is(word: Word, fields: Mapping[str, str]) -> Q:
    """Some field is the word."""
    return _any(
        Q(**{f"{path}__iexact": whole})
        for kind, path in _fields_for(word, fields)
        for whole in _wholes(kind, word)
    )


def _has(word: Word, fields: Mapping[str, str]) -> Q:
    """Some field contains the word."""
    return _any(
        Q(**{f"{path}__icontains": part})
        for kind, path in _fields_for(word, fields)
        if (part := _part(kind, word))
    )


def _nearly(word: Word) -> Q:
    """The designation has the word without what is written behind it."""
    return Q(plain_designation__icontains=_asked("designation", word.head)) if word.head else NOTHING


def _ranked(rows: "QuerySet[Any]", words: Sequence[Word], fields: Mapping[str, str], prefix: str) -> Any:
    """The rows that have a word, most and best words first, then the newest; one query."""
    rows = rows.annotate(plain_designation=_plained(f"{prefix}designation", "designation"))
    if prefix:
        rows = rows.annotate(plain_order=_plained("rebuild__work_order", "work order"))
        rows = rows.annotate(plain_marking_read=_plained("marking_read", "designation"))
    scores = [
        Case(
            When(_is(word, fields), then=Value(WHOLE)),
            When(_has(word, fields), then=Value(PART)),
            When(_nearly(word), then=Value(NEAR)),
            default=Value(0),
            output_field=IntegerField(),
        )
        for word in words
    ]
    rows = rows.annotate(score=reduce(add, scores)).filter(score__gt=0)
    newest = ("-opened_at", "-id") if prefix else ("-id",)
    return rows.order_by("-score", *newest)[: MOST_CANDIDATES + 1]


def _value(row: Any, path: str) -> str:
    for name in path.split("__"):
        row = getattr(row, name)
    return str(row).upper()


def _agreement(row: Any, word: Word, fields: Mapping[str, str]) -> Agreement | None:
    """The field that speaks best for a word: one that is it before one that has it."""
    found = None
    for kind, path in _fields_for(word, fields):
        value = _value(row, path)
        if value in _wholes(kind, word):
            return Agreement(word.text, kind, whole=True)
        part = _part(kind, word)
        if found is None and part and part in value:
            found = Agreement(word.text, kind, whole=False)
    if found is None and word.head and _asked("designation", word.head) in _value(row, "plain_designation"):
        return Agreement(word.text, "designation", whole=False, lacks=word.tail)
    return found


def _candidate(row: Mounting, words: Sequence[Word]) -> Candidate:
    found = {word.text: _agreement(row, word, MOUNTING_FIELDS) for word in words}
    return Candidate(
        mounting=row,
        agree=tuple(agreement for agreement in found.values() if agreement),
        differ=tuple(text for text, agreement in found.items() if agreement is None),
    )


def _read_as(
    words: Sequence[Word],
    candidates: Sequence[Candidate],
    in_stock: Sequence[Bearing],
    equipment: Sequence[Equipment],
) -> tuple[tuple[str, str], ...]:
    """(word, kind) as the best candidate that has the word takes it."""
    read: dict[str, str] = {}
    for candidate in candidates:
        for agreement in candidate.agree:
            read.setdefault(agreement.word, agreement.kind)
    for bearing in in_stock:
        for word in words:
            if word.text not in read and (found := _agreement(bearing, word, BEARING_FIELDS)):
                read[word.text] = found.kind
    for piece in equipment:
        for word in words:
            if word.text not in read and piece.mark.upper() == word.text.upper():
                read[word.text] = "equipment"
    return tuple((word.text, read[word.text]) for word in words if word.text in read)


def chosen(answer: Answer, wanted: str) -> Candidate | None:
    """The candidate somebody opened, else the first."""
    try:
        id = uuid.UUID(wanted)
    except ValueError:
        return answer.candidates[0] if answer.candidates else None
    return next((c for c in answer.candidates if c.mounting.id == id), None)
