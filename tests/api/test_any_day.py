"""Any day at the bench: whatever is typed into real fields, tapped, released, decided and signed in whatever
order, each call is answered and the record can be read, at the API and on the pages of it."""

import uuid
from dataclasses import dataclass
from typing import Any

import pytest
from django.db import transaction
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from qrecords.engineering import units
from qrecords.ledger.identifiers import new_id
from qrecords.people.models import RoleGrant
from qrecords.people.permissions import Role
from qrecords.steps.answers import State
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.findings import Verdict
from qrecords.steps.runs import EVENTS, TAPS
from qrecords.steps.standard import STEPS
from tests.api.caller import Caller
from tests.cast import GEAR, PASSWORD, Job, Workshop, start
from tests.kept import kept

EXAMPLES, LONGEST_DAY = 12, 12
PAGES = ("inspect", "sheet", "mounting", "hot", "certificate", "decide", "return")
NUMBERS = (
    "0", "-0", "-1", "1", "18", "17,5", "60.018", "60,0005", "20", "95", "131", "0.05", "0.9", "-273.15",
    "-460", "1000000", "99999999999", "0.0000001", "NaN", "1e5", "", "+5", "٦٠", "−9",
)  # fmt: skip
ABSOLUTE_ZERO_MC = -273_150
WORDS = ("6212 C3", "6212", "NU 214 ECP", "film", "yes", "no", "x" * 200, "x" * 201, "ü", "a\nb", " ", "🔩")
"""What is typed: sound, far off, in other marks, and none."""


def typed_into(field: Field) -> st.SearchStrategy[dict[str, Any]]:
    """What may be typed into a field, mostly of its own kind."""
    unit: st.SearchStrategy[str] = st.just("")
    match field.form:
        case Quantity(quantity, own):
            text = st.sampled_from(NUMBERS) | st.decimals(-200, 200, places=3).map(str)
            others = st.sampled_from([*units.units_of(quantity), "um from 60 mm", "in from 60 mm"])
            unit = st.sampled_from(own) | others
        case Choice(options):
            text = st.sampled_from(options) | st.sampled_from(WORDS)
        case Gear():
            text = st.sampled_from([f"gear {name}" for name in GEAR]) | st.just(str(uuid.UUID(int=7)))
        case _:
            text = st.sampled_from(WORDS)
    said = st.fixed_dictionaries({"typed": text, "unit": unit, "sure": st.booleans()})
    absent = st.fixed_dictionaries(
        {"state": st.sampled_from([state.value for state in State]), "reason": st.just("no access")}
    )
    return st.one_of(said, said, said, absent)


def keys_of(field: Field) -> st.SearchStrategy[str]:
    if not field.many:
        return st.just(field.id)
    return st.from_regex(field.place, fullmatch=True).map(lambda place: f"{field.id}.{place}")


@st.composite
def captures(draw: st.DrawFn) -> dict[str, Any]:
    step = STEPS[draw(st.sampled_from(sorted(STEPS)))]
    fields = {}
    for field in draw(st.lists(st.sampled_from(step.fields), min_size=1, max_size=3)):
        fields[draw(keys_of(field))] = draw(typed_into(field))
    return {"step": step.id, "fields": fields, "check": draw(st.booleans())}


SOUND = {
    "nothing": (),
    "received": ("receive",),
    "measured": ("receive", "measure", "bore", "own_reading"),
    "heated": ("receive", "measure", "bore", "own_reading", "heat"),
    "cold": ("receive", "measure", "bore", "own_reading", "heat", "check_cold", "close"),
    "finished": ("until_signature",),
}
"""How far a sound job has come when the day begins."""
DECISIONS = ("measure again", "rework", "accept", "scrap", "concession")
ACTS = st.one_of(
    *[st.tuples(st.just("capture"), captures())] * 4,
    st.tuples(st.just("tap"), st.sampled_from(TAPS + EVENTS)),
    st.tuples(st.just("tap"), st.sampled_from(TAPS)),
    st.tuples(st.just("release"), st.sampled_from(("fit", "cold"))),
    st.tuples(st.just("decide"), st.tuples(st.integers(0, 40), st.sampled_from(DECISIONS))),
    st.tuples(st.just("look"), st.integers(0, 40)),
    st.tuples(st.just("finish"), st.sampled_from(("ready", "ready", "return", "sign", "withdraw"))),
)


@dataclass
class Bench:
    """The fitter who works, and somebody else who judges with every right there is."""

    job: Job
    fitter: Caller
    judge: Caller

    @property
    def at(self) -> str:
        return f"mountings/{self.job.mounting.id}/"

    def do(self, act: str, what: Any) -> None:
        getattr(self, act)(what)

    def send(self, caller: Caller, address: str, **body: Any) -> None:
        answered = caller.post(self.at + address, entry_id=new_id(), **body)
        assert answered.status < 500, answered

    def begin(self, morning: str) -> None:
        for part in SOUND[morning]:
            getattr(self.job, part)()
        if morning == "received":  # a query to look at
            self.job.say("identification", reason="looked closer", package="opened")

    def capture(self, said: dict[str, Any]) -> None:
        gear = {f"gear {name}": str(piece.id) for name, piece in self.job.shop.gear.items()}
        fields = {
            key: {**value, "typed": gear.get(value["typed"], value["typed"])} if "typed" in value else value
            for key, value in said["fields"].items()
        }
        who = self.judge if said["check"] else self.fitter
        body = {"fields": fields, "check": said["check"], "reason": "seen again"}
        self.send(who, f"captures/{said['step']}/", **body)

    def tap(self, what: str) -> None:
        self.send(self.fitter, "taps/", what=what)

    def shown(self) -> str:
        return str(self.job.shown())

    def release(self, hold: str) -> None:
        self.send(self.judge, "releases/", hold=hold, shown=self.shown())

    def decide(self, said: tuple[int, str]) -> None:
        found = [f for f in self.job.findings().values() if f.verdict != Verdict.QUERY]
        digest = found[said[0] % len(found)].digest
        body = {"decision": said[1], "digests": [digest], "reason": "seen", "password": PASSWORD}
        self.send(self.judge, "decisions/", **body)

    def look(self, which: int) -> None:
        found = [f for f in self.job.findings().values() if f.verdict == Verdict.QUERY]
        digest = found[which % len(found)].digest if found else "0" * 64
        self.send(self.fitter, "looked/", digest=digest, explanation="dirt")

    def finish(self, how: str) -> None:
        shown = {"shown": self.shown(), "password": PASSWORD}
        match how:
            case "ready":
                self.send(self.fitter, "ready/", **shown)
            case "sign":
                self.send(self.judge, "signatures/", **shown)
            case "return":
                self.send(self.judge, "returns/", items=[{"about": "the record", "reason": "again"}])
            case "withdraw":
                self.send(self.fitter, "withdrawal/", reason="the wrong shaft")

    def read(self) -> None:
        """Everything that shows the record."""
        for caller in (self.fitter, self.judge):
            assert caller.get(self.at).status == 200
            for page in PAGES:
                answer = caller.client.get(reverse(page, args=[self.job.mounting.id]), follow=True)
                assert answer.status_code in (200, 403, 404), (page, answer.status_code)
        for page, id in (("mounting-trace", self.job.mounting.id), ("bearing-life", self.job.bearing.id)):
            assert self.judge.client.get(reverse(page, args=[id])).status_code in (200, 403), page
        for screen in ("receive", "measure", "heat", "cold", "close"):
            answer = self.fitter.client.get(
                reverse(f"fit-{screen}", args=[self.job.mounting.id]), follow=True
            )
            assert answer.status_code == 200, screen


@kept
def give_the_inspector_every_right(shop: Workshop) -> None:
    person = shop.people["inspector"]
    for role in set(Role) - {Role.FITTER, Role.INSPECTOR, Role.ADMINISTRATOR}:
        RoleGrant.objects.create(
            id=new_id(), person=person, role=role.value, site=shop.site, valid_from=shop.clock
        )


@pytest.fixture
def bench(shop: Workshop) -> Bench:
    give_the_inspector_every_right(shop)
    return Bench(start(shop), Caller.by_session(shop, "fitter"), Caller.by_session(shop, "inspector"))


@given(morning=st.sampled_from(sorted(SOUND)), day=st.lists(ACTS, min_size=2, max_size=LONGEST_DAY))
@settings(max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
def test_whatever_the_day_brings_is_answered_and_can_be_read(
    bench: Bench, morning: str, day: list[tuple[str, Any]]
) -> None:
    before, clock = transaction.savepoint(), bench.job.shop.clock
    try:
        bench.begin(morning)
        for act, what in day:
            bench.do(act, what)
        bench.read()
    finally:
        transaction.savepoint_rollback(before)
        bench.job.shop.clock = clock


def at_the_end(field: Field, end: str, bench: Bench) -> dict[str, Any]:
    """A fact at one end of what can be true: recorded as typed, whatever it is (DESIGN idea 2)."""
    if end in [state.value for state in State]:
        return {"state": end, "reason": "no access"}
    far = end in ("highest", "beyond")
    match field.form:
        case Quantity(quantity, own, low, high):
            bases = {"lowest": low, "highest": high, "beyond": 20 * high, "nought": 0, "below": -high}
            base = max(bases[end], ABSOLUTE_ZERO_MC) if quantity == "temperature" else bases[end]
            return {"typed": units.show(base, quantity, own[0]), "unit": own[0], "sure": True}
        case Choice(options):
            return {"typed": options[-1 if far else 0]}
        case Gear(kinds):
            pieces = [p for p in bench.job.shop.gear.values() if p.kind in kinds]
            return (
                {"typed": str(pieces[0].id)} if pieces else {"state": "not possible", "reason": "none here"}
            )
        case Words(longest):
            return {"typed": "W" * (longest if far else 1)}


@pytest.mark.parametrize("morning", ["nothing", "cold"])
@pytest.mark.parametrize(
    "end", ["lowest", "highest", "beyond", "nought", "below", *(state.value for state in State)]
)
def test_every_field_takes_what_lies_at_the_end_of_what_can_be_true(
    bench: Bench, morning: str, end: str
) -> None:
    bench.begin(morning)
    place = {"journal": "A.60", "bore": "A.60", "gap": "90", "plane_at": "A", "housing_bore": "A.60"}
    for step in STEPS.values():
        fields = {
            f"{field.id}.{place[field.id]}" if field.many else field.id: at_the_end(field, end, bench)
            for field in step.fields
        }
        answered = bench.fitter.post(
            f"{bench.at}captures/{step.id}/", entry_id=new_id(), fields=fields, reason="seen again"
        )
        assert answered.status == 201, (step.id, fields, answered)
    bench.read()
