"""What stands before an act is tried, and the hand that tries it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.models import Person, RoleGrant
from qrecords.people.permissions import Action, Role, roles_with
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.findings import Finding
from tests.api.caller import Answered, Caller
from tests.cast import PASSWORD, REQUIREMENT, ROLES, U_HALF_UM, Job, add_gear, again, make_workshop, start
from tests.papers import paper

BAD_JOURNAL = {"A": ("18", "17", "18"), "B": ("17", "-9", "18"), "C": ("17", "16", "17")}


def opened() -> Job:
    """By the fitter; nothing is recorded yet."""
    return start(make_workshop())


def measured() -> Job:
    """Everything that is measured before heat."""
    job = opened()
    job.receive()
    job.measure()
    job.bore()
    return job


def read() -> Job:
    """The same, and an inspector has read the ring himself."""
    job = measured()
    job.own_reading()
    return job


CLOSE_CALL = dict.fromkeys("ABC", ("30", "30", "30"))
"""On the upper limit of 60 m6: the engineer's to concede, nobody's to accept."""


def doubtful() -> Job:
    """A journal too close to call, a burr that was left, a gap felt warm, a ring that fell, and a package
    that was opened: a query."""
    job = opened()
    job.receive()
    job.say("identification", reason="looked closer", package="opened")
    job.measure(readings=CLOSE_CALL)
    job.bore()
    job.say("preparation", reason="looked closer", edge_burrs="left")
    job.say("shoulder_gap", ring_temp=("40", "°C"), shaft_temp=("20", "°C"))
    job.say("seating", dropped="yes")
    return job


def expired() -> Job:
    """Measured with a micrometer that was overdue, whose certificate of a later calibration is here."""
    shop = make_workshop()
    add_gear(shop, "micrometer", "outside micrometer", {**U_HALF_UM, "due": "2026-01-31"}, mark="MIC-OLD")
    job = start(shop)
    job.measure()
    paper(job, "calibration-certificate")
    return job


def finished() -> Job:
    """Sound, *ready for inspection*, read by the inspector: what waits for its signature."""
    job = opened()
    job.until_signature()
    return job


def signed() -> Job:
    """Sound and signed off: what an amendment may open."""
    job = opened()
    job.whole()
    return job


def opened_by(job: Job, who: str) -> Job:
    """Another mounting of the same rebuild."""
    return again(job.shop, job.machine, job.rebuild, "NDE", REQUIREMENT, who)


def given(job: Job, who: str, *roles: Role) -> None:
    """Roles beside those held, which no administrator need be asked for."""
    for role in roles:
        RoleGrant.objects.create(
            id=new_id(), person=job.shop.people[who], role=role.value, site=job.shop.site,
            valid_from=job.shop.clock,
        )  # fmt: skip


def rows() -> dict[str, int]:
    """How many rows each of our tables holds; one query, for it is asked before and after every attempt."""
    ours = [model for model in apps.get_models() if model.__module__.startswith("qrecords.")]
    counts = (f"SELECT '{model.__name__}', COUNT(*) FROM {model._meta.db_table}" for model in ours)  # noqa: S608 - our own names
    with connection.cursor() as cursor:
        cursor.execute(" UNION ALL ".join(counts))
        return dict(cursor.fetchall())


@dataclass(frozen=True)
class Came:
    """What an attempt came to: the status, and the words of the page or problem."""

    status: int
    words: str
    code: str = ""


@dataclass
class Hand:
    """Who tries an act on a job: at the pages and at the API, with the password unless it is left out."""

    job: Job
    who: str
    password: str = PASSWORD
    mine: bool = True
    """Whether what the act is about is the hand's own."""
    client: Client = field(init=False)
    before: dict[str, int] = field(init=False)
    """How many rows there were before the act itself."""

    def __post_init__(self) -> None:
        self.client = Client()
        self.client.force_login(self.person, backend="django.contrib.auth.backends.ModelBackend")
        self.prepared()

    @property
    def person(self) -> Person:
        return self.job.shop.people[self.who]

    def owner(self, making: Action) -> str:
        """Whose the thing is that the act is about: the hand's own, where it may make one and it is to be."""
        may = self.who in ROLES and ROLES[self.who] in roles_with(making)
        return self.who if self.mine and may else "second_fitter"

    def prepared(self) -> None:
        """What was made until now belongs to the scene, not to the act."""
        self.before = rows()

    def left(self) -> bool:
        """Whether anything came of it."""
        return rows() != self.before

    def entries(self) -> list[Entry]:
        """The entries that came of it, in order."""
        return list(Entry.objects.filter(leaf__index__gte=self.before["Leaf"]).order_by("leaf__index"))

    def said(self) -> list[tuple[str, str]]:
        """The kinds of the entries that came of it, each with its author."""
        payloads = [parse_canonical(bytes(entry.payload)) for entry in self.entries()]
        return [(payload["kind"], payload["author"]["person"]) for payload in payloads]

    def finding(self, characteristic: str) -> Finding:
        return self.job.finding(characteristic)

    # At the pages.
    def form(self, page: str, *args: Any, query: str = "", **fields: Any) -> Came:
        """Send a form of the page of this name, under an entry id of its own."""
        address = reverse(page, args=args) + query
        given = {
            "entry_id": str(new_id()),
            **({"password": self.password} if self.password else {}),
            **fields,
        }
        return self.came(self.client.post(address, given))  # type: ignore[arg-type]

    def on(self, page: str, *args: Any, query: str = "", **fields: Any) -> Came:
        """The same, on the job's mounting."""
        return self.form(page, self.job.mounting.id, *args, query=query, **fields)

    def look(self, page: str, *args: Any, **query: Any) -> Came:
        return self.came(self.client.get(reverse(page, args=args), query))  # type: ignore[arg-type]

    def came(self, answer: HttpResponse) -> Came:
        """The words of an answer; those of the page it leads to, if it leads on."""
        if answer.status_code == 302:
            followed = self.client.get(answer["Location"], follow=True)
            return Came(302, followed.content.decode())
        return Came(answer.status_code, answer.content.decode())

    # At the API.
    @property
    def caller(self) -> Caller:
        return Caller(self.job.shop, self.who, self.client)

    def post(self, address: str, **body: Any) -> Came:
        return problem_of(self.caller.post(address, **({"entry_id": new_id()} | body)))

    def act(self, address: str, **body: Any) -> Came:
        """Post to what stands below the job's mounting."""
        return self.post(f"mountings/{self.job.mounting.id}/{address}", **body)

    def authority(self, address: str, **body: Any) -> Came:
        """The same with the password."""
        return self.act(address, **self.proof(), **body)

    def proof(self) -> Mapping[str, str]:
        return {"password": self.password} if self.password else {}

    def send(self, **item: Any) -> Came:
        """One fact in a batch: what became of it."""
        entries = [{"entry_id": str(new_id())} | item]
        answered = self.caller.post(f"mountings/{self.job.mounting.id}/entries/", entries=entries)
        if answered.status != 200:
            return problem_of(answered)
        (result,) = answered.document["results"]
        problem = result.get("problem", {})
        return Came(result["status"], problem.get("detail", ""), problem.get("code", ""))


def problem_of(answered: Answered) -> Came:
    document = answered.document if isinstance(answered.document, dict) else {}
    return Came(answered.status, document.get("detail", ""), document.get("code", ""))


@dataclass(frozen=True)
class Door:
    """One way to do one act. `at`: the page's name, or method and address. `leaves`: the kind of its entry,
    '' for what only looks. `turned_away`: status and words where the place answers a refusal in its own way;
    else 403 and what the right needs. `not_mine`: the status where what it is about is
    somebody else's; 0 where it is always one's own, or nobody's."""

    act: Action
    at: str
    do: Callable[[Hand], Came]
    scene: Callable[[], Job] = opened
    leaves: str = "capture"
    turned_away: tuple[int, str] | None = None
    not_mine: int = 0


@dataclass(frozen=True)
class NoDoor:
    """An act that cannot be done here: why, and the name of the action that would do it, which nothing here
    may call."""

    why: str
    by: str
