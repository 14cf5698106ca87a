"""What a look-back touches, and what came of it. Lists hold a fixed number of queries; what a look-back of a
person or a batch touches is found by reading the entries, page by page."""

import uuid
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from django.db.models import Count, Exists, IntegerField, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from qrecords.ledger.models import Entry
from qrecords.mountings.again import PutRight
from qrecords.mountings.models import EquipmentUse, JudgedAgain, Mounting
from qrecords.people.models import PersonVersion
from qrecords.people.queries import Reach
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.again import IN_DOUBT, with_requirement
from qrecords.steps.case import Case
from qrecords.steps.corrected import corrected
from qrecords.steps.findings import Verdict
from qrecords.steps.new_look_back import BATCH, DRAWING, LOT, PERSON, PIECE, Asked, read_look_back
from qrecords.steps.stated import told_at
from qrecords.steps.suspect import Suspect
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import JournalRequirement, LookBack, LookBackAction, LookBackEnd

OCCASION = "look-back"
TO_ANSWER = (Verdict.NONCONFORMING.value, Verdict.NOT_PROVEN.value, IN_DOUBT)
"""Classes of which each mounting asks for an action."""
CLASSES = (*TO_ANSWER, Verdict.CONFORMING.value)
COUNTED = {verdict: verdict.replace(" ", "_") + "_count" for verdict in CLASSES}
"""Class → the column of a list that counts its mountings."""
PAGE = 50
WORK = ("capture", "tap", "release", "decision", "signature", "attachment")


def asked_of(look_back: LookBack) -> Asked:
    return read_look_back(look_back.document)


def put_right_of(asked: Asked, mounting: Mounting) -> PutRight | None:
    """What puts a mounting right; None where nothing does."""
    if asked.subject == PIECE and asked.error is not None:
        suspect = Suspect(str(uuid.UUID(asked.of)), asked.since, asked.until, asked.error)

        def without_error(case: Case) -> Case:
            return corrected(case, suspect)

        return without_error
    if asked.subject == DRAWING:
        rows = JournalRequirement.objects.filter(journal=mounting.journal_id, drawing=asked.of)
        right = rows.filter(revision=asked.right).order_by("-valid_from", "-id").first()
        if right is not None:
            document = right.document
            return lambda case: with_requirement(case, document)
    return None


def pages_of(asked: Asked, site: uuid.UUID, after: uuid.UUID | None = None) -> Iterator[list[Mounting]]:
    """The mountings that are touched, a page at a time in the order of their ids; a page may be empty. Each
    page is read anew, so that others may write between."""
    last = after
    while True:
        rows = _likely(asked, site).order_by("id")
        page = list((rows if last is None else rows.filter(id__gt=last))[:PAGE])
        if not page:
            return
        last = page[-1].id
        yield _touched(asked, page)


def _likely(asked: Asked, site: uuid.UUID) -> QuerySet[Mounting]:
    """The mountings that the indexes name; of a person, a drawing or a batch the entries tell which."""
    rows = Mounting.objects.filter(site=site).select_related("journal__machine", "bearing", "rebuild")
    if asked.subject == PIECE:
        uses = EquipmentUse.objects.filter(mounting=OuterRef("pk"), equipment=uuid.UUID(asked.of))
        return rows.filter(Exists(uses.filter(at__gte=asked.since, at__lt=asked.until)))
    if asked.subject == PERSON:
        return rows.filter(opened_at__lt=asked.until)
    opened = rows.filter(opened_at__gte=asked.since, opened_at__lt=asked.until)
    if asked.subject == LOT:
        return opened.filter(Q(bearing__lot=asked.of) | Q(lot_read=asked.of))
    if asked.subject == DRAWING:
        asks = JournalRequirement.objects.filter(journal=OuterRef("journal"), drawing=asked.of)
        return opened.filter(Exists(asks.filter(revision=asked.revision)))
    return opened


def _touched(asked: Asked, page: Sequence[Mounting]) -> list[Mounting]:
    """Of a page those whose own entries say it; one query where they have to be asked."""
    if asked.subject in (PIECE, LOT):
        return list(page)
    ids = [mounting.id for mounting in page]
    kinds = {DRAWING: ("mounting",), BATCH: ("capture",)}.get(asked.subject, WORK)
    entries = Entry.objects.filter(subject__in=ids, kind__in=kinds).values_list("subject", "payload")
    found = {
        subject
        for subject, payload in entries.iterator(500)
        if asked.of.encode() in bytes(payload) and _says(asked, parse_canonical(bytes(payload)))
    }
    return [mounting for mounting in page if mounting.id in found]


def _says(asked: Asked, content: Mapping[str, Any]) -> bool:
    """Whether an entry is of the drawing revision, the person or the batch that is in doubt."""
    if asked.subject == DRAWING:
        pinned = content["body"]["seen"]["requirement"]
        return (str(pinned["drawing"]), str(pinned["revision"])) == (asked.of, asked.revision)
    if asked.subject == PERSON:
        author = content["author"] or {}
        return author.get("person") == asked.of and asked.since <= told_at(content) < asked.until
    fields = content["body"]["said"].get("fields", {})
    return any(key.endswith("batch") and said.get("typed") == asked.of for key, said in fields.items())


def look_backs(reach: Reach) -> QuerySet[LookBack]:
    """Look-backs within reach with how many mountings each class has, how many actions wait, and whether it
    is closed."""
    rows = LookBack.objects.select_related("equipment", "end")
    return rows if reach.everywhere else rows.filter(site__in=reach.sites)


def listed(reach: Reach) -> "QuerySet[Any]":
    """Each with how many mountings every class has, and how many actions wait."""
    judged = JudgedAgain.objects.filter(cause=OuterRef("pk")).order_by().values("cause")
    counts = {
        column: Coalesce(
            Subquery(judged.filter(verdict=verdict).annotate(n=Count("id")).values("n")[:1]),
            Value(0),
            output_field=IntegerField(),
        )
        for verdict, column in COUNTED.items()
    }
    named = PersonVersion.objects.filter(person=OuterRef("person")).order_by("-valid_from")
    return look_backs(reach).annotate(
        **counts,
        is_closed=Exists(LookBackEnd.objects.filter(look_back=OuterRef("pk"))),
        waiting=Count("actions", filter=Q(actions__answer__isnull=True)),
        person_name=Subquery(named.values("name")[:1]),
    )


def look_back(id: uuid.UUID, reach: Reach) -> LookBack:
    found = look_backs(reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError("look-back", id)
    return found


def counted(look_backs: Iterable[uuid.UUID]) -> dict[uuid.UUID, dict[str, int]]:
    """By look-back how many mountings each class has; one query."""
    rows = JudgedAgain.objects.filter(cause__in=list(look_backs)).values("cause", "verdict")
    found: dict[uuid.UUID, dict[str, int]] = {}
    for row in rows.annotate(n=Count("id")):
        found.setdefault(row["cause"], {})[row["verdict"]] = row["n"]
    return found


def results(look_back: LookBack) -> QuerySet[JudgedAgain]:
    """What was judged again because of it, with machine and owner."""
    return JudgedAgain.objects.filter(cause=look_back.id).select_related(
        "mounting__journal__machine", "mounting__bearing", "mounting__rebuild"
    )


def unanswered(look_back: LookBack) -> QuerySet[JudgedAgain]:
    """Mountings in doubt of which no action is closed yet."""
    closed = LookBackAction.objects.filter(
        look_back=look_back, mounting=OuterRef("mounting"), answer__isnull=False
    )
    return results(look_back).filter(~Exists(closed), verdict__in=TO_ANSWER)


def is_judged(look_back: LookBack) -> bool:
    """Whether the job came to its end: every mounting that was touched then has its class."""
    return Entry.objects.filter(subject=look_back.id, kind="look-back judged").exists()


def open_look_backs(mounting: Mounting) -> list[LookBack]:
    """The look-backs that are open and touch a mounting: judged again for them, or not come to yet but made
    with the piece in their time. One query."""
    judged = JudgedAgain.objects.filter(cause=OuterRef("pk"), mounting=mounting)
    used = EquipmentUse.objects.filter(
        mounting=mounting,
        equipment=OuterRef("equipment"),
        at__gte=OuterRef("since"),
        at__lt=OuterRef("until"),
    )
    rows = LookBack.objects.filter(Exists(judged) | Exists(used), site=mounting.site, end__isnull=True)
    return list(rows.select_related("equipment").order_by("opened_at", "id"))


def told_open(mounting: Mounting) -> list[dict[str, str]]:
    """The open look-backs of a mounting as a signature freezes them: of what, between when, and its class as
    far as it is judged. People stay pseudonyms. Two queries, one where there is none."""
    rows = open_look_backs(mounting)
    if not rows:
        return []
    judged = JudgedAgain.objects.filter(mounting=mounting, cause__in=[row.id for row in rows])
    classes = dict(judged.values_list("cause", "verdict"))
    return [
        {
            "id": str(row.id),
            "subject": row.subject,
            "of": row.equipment.mark if row.equipment else row.of,
            "since": row.since.isoformat(),
            "until": row.until.isoformat(),
            "class": classes.get(row.id, ""),
        }
        for row in rows
    ]


def look_backs_on(mountings: Iterable[uuid.UUID]) -> dict[uuid.UUID, list[tuple[LookBack, JudgedAgain]]]:
    """By mounting every look-back that judged it again, oldest first; two queries."""
    rows = list(JudgedAgain.objects.filter(mounting__in=list(mountings), occasion=OCCASION).order_by("at"))
    known = LookBack.objects.select_related("equipment", "end").in_bulk({row.cause for row in rows})
    found: dict[uuid.UUID, list[tuple[LookBack, JudgedAgain]]] = {}
    for row in rows:
        if row.cause in known:
            found.setdefault(row.mounting_id, []).append((known[row.cause], row))
    return found
