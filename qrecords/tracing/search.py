"""One box: several words, ranked candidates, each saying which words agree and which differ.

Most bearings have no serial, so nothing here is needed and nothing is unique: a word may be the workshop
mark, serial, lot, date code, designation, machine, owner, place, work order or mounting number, and what has
most words in its favour stands first. Three queries besides the asker's rights, however many words.
"""

import re
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from operator import add, or_
from typing import Any

from django.db.models import Case, Exists, IntegerField, OuterRef, Q, QuerySet, Value, When
from django.db.models.functions import Replace

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.workshop.marks import ALPHABET, is_mark
from qrecords.workshop.models import Bearing, Equipment
from qrecords.workshop.queries import within

MOST_WORDS, LONGEST_WORD, MOST_CANDIDATES = 8, 60, 50
WHOLE, PART = 11, 10
"""What a word is worth that is the whole of a field, and one that is only in it: the number of words decides
(there are fewer than ten), among equals who has more of them whole."""

MOUNTING_FIELDS = {
    "workshop mark": "journal__machine__mark",
    "mounting": "number",
    "serial": "bearing__serial",
    "designation": "plain_designation",
    "lot": "bearing__lot",
    "date code": "bearing__date_code",
    "delivery": "bearing__delivery",
    "work order": "rebuild__work_order",
    "machine": "journal__machine__name",
    "owner": "journal__machine__owner",
    "place": "journal__position",
}
BEARING_FIELDS = {
    kind: path.removeprefix("bearing__") for kind, path in MOUNTING_FIELDS.items() if "bearing" in path
} | {"designation": "plain_designation"}
ONLY_WHOLE = frozenset({"workshop mark", "place"})
"""Kinds where a part says nothing: *DE* is not in *NDE*."""


@dataclass(frozen=True)
class Word:
    """One word of the question. `doubt` says that it looks like a workshop mark misread."""

    text: str
    doubt: bool = False


@dataclass(frozen=True)
class Agreement:
    """A word and the kind of field that has it; `whole` if the field is nothing but this word."""

    word: str
    kind: str
    whole: bool


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


def words_of(text: str) -> list[str]:
    """The words of a question; what stands in double quotes is one word."""
    return [(quoted or plain)[:LONGEST_WORD] for quoted, plain in re.findall(r'"([^"]+)"|([^\s"]+)', text)]


def _word(text: str) -> Word:
    upper = text.upper()
    shaped = len(upper) == 7 and set(upper) <= set(ALPHABET) and not upper.isdigit()
    return Word(text, doubt=shaped and not is_mark(upper))


def search(person: Person, text: str, at: datetime) -> Answer:
    """Everything within the person's reach that has some of the words, best first."""
    texts = words_of(text)
    words = tuple(_word(word) for word in texts[:MOST_WORDS])
    if not words:
        return Answer((), (), ())
    plain = [word.text for word in words]
    rows = list(_ranked(for_person(person, Action.TRACE, at), plain, MOUNTING_FIELDS, "bearing__"))
    candidates = tuple(_candidate(row, plain) for row in rows[:MOST_CANDIDATES])
    where = reach(person.id, Action.TRACE, at)
    mounted = Exists(Mounting.objects.filter(bearing=OuterRef("pk")))
    stock = _ranked(within(Bearing.objects.filter(~mounted), where), plain, BEARING_FIELDS, "")
    gear = within(Equipment.objects.all(), where).filter(_any(Q(mark__iexact=word) for word in plain))
    in_stock, equipment = tuple(stock[:10]), tuple(gear.order_by("mark")[:10])
    read_as = _read_as(plain, candidates, in_stock, equipment)
    known = {word for word, _kind in read_as}
    return Answer(
        words=words,
        read_as=read_as,
        nowhere=tuple(word for word in plain if word not in known),
        candidates=candidates,
        in_stock=in_stock,
        equipment=equipment,
        more=len(rows) > MOST_CANDIDATES,
        left_out=tuple(texts[MOST_WORDS:]),
    )


def _any(parts: Iterable[Q]) -> Q:
    return reduce(or_, parts)


def _asked(kind: str, word: str) -> str:
    return word.replace(" ", "") if kind == "designation" else word


def _is(kind: str, path: str, word: str) -> Q:
    return Q(**{f"{path}__iexact": _asked(kind, word)})


def _has(kind: str, path: str, word: str) -> Q:
    """The field contains the word. One letter is in everything, so it counts only as the whole."""
    if kind in ONLY_WHOLE or len(word) < 2:
        return _is(kind, path, word)
    return Q(**{f"{path}__icontains": _asked(kind, word)})


def _ranked(rows: "QuerySet[Any]", words: Sequence[str], fields: dict[str, str], prefix: str) -> Any:
    """The rows that have a word, most and best words first, then the newest; one query."""
    rows = rows.annotate(plain_designation=Replace(f"{prefix}designation", Value(" "), Value("")))
    scores = [
        Case(
            When(_any(_is(kind, path, word) for kind, path in fields.items()), then=Value(WHOLE)),
            When(_any(_has(kind, path, word) for kind, path in fields.items()), then=Value(PART)),
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


def _agreement(row: Any, word: str, fields: dict[str, str]) -> Agreement | None:
    """The field that speaks best for a word: one that is it before one that has it."""
    found = None
    for kind, path in fields.items():
        value, asked = _value(row, path), _asked(kind, word).upper()
        if value == asked:
            return Agreement(word, kind, whole=True)
        if found is None and kind not in ONLY_WHOLE and len(word) > 1 and asked in value:
            found = Agreement(word, kind, whole=False)
    return found


def _candidate(row: Mounting, words: Sequence[str]) -> Candidate:
    found = {word: _agreement(row, word, MOUNTING_FIELDS) for word in words}
    return Candidate(
        mounting=row,
        agree=tuple(agreement for agreement in found.values() if agreement),
        differ=tuple(word for word, agreement in found.items() if agreement is None),
    )


def _read_as(
    words: Sequence[str],
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
            if word not in read and (found := _agreement(bearing, word, BEARING_FIELDS)):
                read[word] = found.kind
    for piece in equipment:
        for word in words:
            if word not in read and piece.mark.upper() == word.upper():
                read[word] = "equipment"
    return tuple((word, read[word]) for word in words if word in read)


def chosen(answer: Answer, wanted: str) -> Candidate | None:
    """The candidate somebody opened, else the first."""
    try:
        id = uuid.UUID(wanted)
    except ValueError:
        return answer.candidates[0] if answer.candidates else None
    return next((c for c in answer.candidates if c.mounting.id == id), None)
