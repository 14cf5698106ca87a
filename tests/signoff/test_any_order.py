"""Anybody tries any act in any order at any time: what must hold of a record holds after each of them."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID

import pytest
from django.db import connection, transaction
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from qrecords.ledger import keys
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry, Leaf
from qrecords.ledger.verifying import verify
from qrecords.mountings.actions.finishing import withdraw
from qrecords.mountings.actions.tapping import undo
from qrecords.mountings.errors import MountingError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Capture, Mounting
from qrecords.mountings.queries import case_of
from qrecords.people import actions as people
from qrecords.people.errors import PeopleError
from qrecords.people.permissions import Action, Role, Scope, best_cell
from qrecords.signoff import actions as signoff
from qrecords.signoff.amending import amend
from qrecords.signoff.errors import SignoffError
from qrecords.steps.answers import Absent, State
from qrecords.steps.transitions import State as Standing
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from tests.cast import ROLES, Job, make_workshop, start
from tests.kept import kept

pytestmark = pytest.mark.django_db

PEOPLE = [*ROLES, "administrator"]
WHO = st.sampled_from(PEOPLE)
WORKERS = st.sampled_from(["fitter", "fitter", "second_fitter", "second_fitter", "inspector", "quality"])
JUDGES = st.sampled_from(["inspector", "second_fitter", "engineer", "fitter"])
OPEN, READY, RETURNED = Standing.OPEN.value, Standing.READY.value, Standing.RETURNED.value
SIGNED, WITHDRAWN = Standing.SIGNED_OFF.value, Standing.WITHDRAWN.value
AMENDING = Standing.AMENDING.value
REWORKED, SCRAPPED = Standing.REWORKED.value, Standing.SCRAPPED.value
LEGAL: dict[str, set[tuple[str, str]]] = {
    "ready": {(OPEN, READY), (RETURNED, READY), (AMENDING, READY)},
    "return": {(READY, RETURNED)},
    "sign": {(READY, SIGNED)},
    "withdraw": {(OPEN, WITHDRAWN), (RETURNED, WITHDRAWN)},
    "rework": {(OPEN, REWORKED), (READY, REWORKED), (RETURNED, REWORKED), (AMENDING, REWORKED)},
    "amend": {(SIGNED, AMENDING)},
    "scrap": {(OPEN, SCRAPPED), (READY, SCRAPPED), (RETURNED, SCRAPPED), (AMENDING, SCRAPPED)},
}
"""Which act may bring a mounting from which state into which, written down by hand; every other act leaves
it where it is."""
AUTHORITY = {"release", "return", "sign", "accept", "concession", "rework", "scrap", "measure again"}
"""Who did any work of a mounting does none of these."""
NOT_OPENED = "the log does not begin with the entry that opens it"
PART = "part of a job"
"""Several facts one after another."""
REFUSALS = (PeopleError, MountingError, SignoffError)
ANSWERS: list[tuple[str, dict[str, Any]]] = [
    ("identification", {"marking": "6212 C3", "package": "intact"}),
    ("identification", {"marking": "6212"}),
    ("preparation", {"edge_burrs": "removed", "shoulder_burrs": "left", "fillet": "clears the ring"}),
    ("measurement", {"shaft": ("26.5", "°C"), "air": ("19", "°C")}),
    ("measurement", {"journal__A__0": ("44", "um from 60 mm")}),
    ("bore", {"source": "from class"}),
    ("clearance_before", {"g0": ("60", "um")}),
    ("heating", {"peak": ("131", "°C"), "probe": "outer ring"}),
    ("seating", {"hammered": "yes"}),
    ("shoulder_gap", {"gap__0": ("0.05", "mm"), "gap__90": Absent(State.NOT_POSSIBLE, "behind the gear")}),
    ("running", {"turns": Absent(State.NOT_DONE, "no time")}),
]


@kept
def on_a_small_shift(job: Job) -> None:
    """Somebody is fitter and inspector: then only what he did tells whether he may."""
    people.grant_role(
        acting=job.shop.proved("administrator"), site=job.shop.site, grant_id=new_id(),
        person=job.shop.people["second_fitter"], role=Role.INSPECTOR,
    )  # fmt: skip


@kept
def a_hand_from_the_other(job: Job) -> None:
    job.say("identification", "second_fitter", serial="0417")


class AnyOrder(RuleBasedStateMachine):
    """One mounting, everybody of the workshop, and acts in any order."""

    def __init__(self) -> None:
        super().__init__()
        self.begun = transaction.savepoint()
        self.job: Job = start(make_workshop())
        self.roles: dict[str, set[Role]] = {name: {role} for name, role in ROLES.items()}
        on_a_small_shift(self.job)
        self.roles["second_fitter"] |= {Role.INSPECTOR}
        self.stood = OPEN
        self.worked: set[str] = set()
        self.accepted: list[str] = []
        self.entries: dict[UUID, bytes] = {}

    def teardown(self) -> None:
        try:
            self.holds()
        finally:
            transaction.savepoint_rollback(self.begun)

    def attempt(self, act: str, who: str, right: Action, do: Callable[[], object]) -> bool:
        """Let somebody try; whether it was done. What is refused leaves no entry behind."""
        before, worked = Entry.objects.count(), set(self.worked)
        try:
            do()
        except REFUSALS:
            # Signing looks again at what other records say, and files that before it is refused; of a part
            # of the job the first acts may be done.
            assert Entry.objects.count() == before or act in ("sign", PART)
            return Entry.objects.count() > before and act == PART
        self.accepted.append(act)
        assert best_cell(self.roles.get(who, {Role.ADMINISTRATOR}), right).scope > Scope.NONE, (act, who)
        assert not (act in AUTHORITY and who in worked), f"{who} worked on it and did: {act}"
        now = Mounting.objects.get(id=self.job.mounting.id).state
        assert now == self.stood or (self.stood, now) in LEGAL.get(act, set()), (act, self.stood, now)
        if act in ("ready", "return", "sign", "withdraw", "amend"):
            assert now != self.stood
        self.stood = now
        return True

    @initialize(begun=st.sampled_from(["nothing", "to the release", "ready by two", "signed"]))
    def begin(self, begun: str) -> None:
        """Some records stand well on before anybody tries something."""
        if begun == "to the release":
            self.work_soundly("receive")
            self.work_soundly("measure")
            self.work_soundly("bore")
        elif begun != "nothing":
            a_hand_from_the_other(self.job)
            self.worked.add("second_fitter")
            assert self.attempt("ready", "fitter", Action.READY, self.job.until_signature)
            self.worked.add("fitter")
            assert begun != "signed" or self.attempt("sign", "inspector", Action.SIGN, self.job.sign)

    # The sound parts of a job, so that later states are reached.
    @rule(part=st.sampled_from(["receive", "measure", "bore", "check_cold", "close"]))
    def work_soundly(self, part: str) -> None:
        if self.attempt(PART, "fitter", Action.RECORD, getattr(self.job, part)):
            self.worked.add("fitter")

    @rule()
    def heat_soundly(self) -> None:
        released = [r for r in case_of(self.job.mounting).releases if r.hold == "fit"]
        named: dict[str, Any] = {"release": released[-1].leaf} if released else {}
        if self.attempt(PART, "fitter", Action.RECORD, lambda: self.job.heat(**named)):
            self.worked.add("fitter")

    @rule(who=WORKERS, answer=st.sampled_from(ANSWERS), reason=st.sampled_from(["", "read again"]))
    def record(self, who: str, answer: tuple[str, dict[str, Any]], reason: str) -> None:
        step, given = answer
        if self.attempt("record", who, Action.RECORD, lambda: self.job.say(step, who, reason, **given)):
            self.worked.add(who)

    @rule(who=WHO, hours=st.integers(-30, 30))
    def record_at_another_hour(self, who: str, hours: int) -> None:
        at = self.job.shop.clock + timedelta(hours=hours)
        given: dict[str, Any] = {"reason": "later", "at_device": at, "turns": "smooth"}
        if self.attempt("record", who, Action.RECORD, lambda: self.job.say("running", who, **given)):
            self.worked.add(who)

    @rule(who=JUDGES)
    def read_the_ring(self, who: str) -> None:
        given: dict[str, Any] = {"check": True, "reason": "own reading", "marking": "6212 C3"}
        self.attempt("check", who, Action.CHECK, lambda: self.job.say("identification", who, **given))

    @rule(
        who=WORKERS, what=st.sampled_from(["heater on", "lifted off", "home", "let go", "stuck", "dropped"])
    )
    def tap(self, who: str, what: str) -> None:
        if self.attempt("tap", who, Action.TAP, lambda: self.job.tap(what, who)):
            self.worked.add(who)

    @rule(who=WORKERS, late_s=st.sampled_from([0, 60]))
    def undo(self, who: str, late_s: int) -> None:
        taps = case_of(self.job.mounting).taps
        if not taps:
            return
        self.job.shop.clock += timedelta(seconds=late_s)
        shop, struck = self.job.shop, taps[-1]
        done = self.attempt("undo", who, Action.TAP, lambda: undo(
            acting=shop.acting(who), mounting=self.job.mounting, entry_id=new_id(), tap_id=UUID(struck.entry),
        ))  # fmt: skip
        assert not (done and late_s), "taken back after a minute"
        assert not done or struck.author == str(shop.people[who].id), "another's tap was taken back"

    @rule(who=JUDGES, kind=st.sampled_from(list(signoff.DECISIONS)), nth=st.integers(0, 60))
    def decide(self, who: str, kind: str, nth: int) -> None:
        found = judged_now(self.job.mounting).findings
        name = found[nth % len(found)].characteristic
        self.attempt(kind, who, signoff.DECISIONS[kind], lambda: self.job.decide(kind, name, who=who))

    @rule(who=WHO)
    def look(self, who: str) -> None:
        queries = [f for f in judged_now(self.job.mounting).findings if f.verdict.value == "query"]
        if queries:
            self.attempt("look", who, Action.CLOSE_QUERY, lambda: signoff.close_query(
                acting=self.job.shop.acting(who), mounting=self.job.mounting, entry_id=new_id(),
                digest=queries[0].digest, explanation="seen",
            ))  # fmt: skip

    @rule(who=WHO)
    def ready(self, who: str) -> None:
        self.attempt("ready", who, Action.READY, lambda: self.job.ready(who))

    @rule(who=JUDGES, what=st.sampled_from(["release fit", "release cold", "return", "sign", "amend"]))
    def judge(self, who: str, what: str) -> None:
        getattr(self, what.split()[0] + "_by")(who, *what.split()[1:])

    def release_by(self, who: str, hold: str) -> None:
        self.attempt("release", who, Action.RELEASE, lambda: signoff.release(
            acting=self.job.shop.acting(who), mounting=self.job.mounting, entry_id=new_id(), hold=hold,
            shown=self.job.shown(),
        ))  # fmt: skip

    def return_by(self, who: str) -> None:
        self.attempt("return", who, Action.RETURN, lambda: signoff.give_back(
            acting=self.job.shop.acting(who), mounting=self.job.mounting, entry_id=new_id(),
            items=[("measurement", "measure plane B again")],
        ))  # fmt: skip

    def amend_by(self, who: str) -> None:
        self.attempt("amend", who, Action.AMEND, lambda: amend(
            acting=self.job.shop.proved(who), mounting=self.job.mounting, entry_id=new_id(),
            reason="the field was read on the yoke",
        ))  # fmt: skip

    def sign_by(self, who: str) -> None:
        if self.attempt("sign", who, Action.SIGN, lambda: self.job.sign(who)):
            open_ = [row for row in judged_now(self.job.mounting).findings if row.verdict.value == "missing"]
            assert not open_, "signed over what is missing"

    @rule(who=WHO)
    def withdraw(self, who: str) -> None:
        self.attempt("withdraw", who, Action.WITHDRAW, lambda: withdraw(
            acting=self.job.shop.acting(who), mounting=self.job.mounting, entry_id=new_id(),
            reason="opened by mistake",
        ))  # fmt: skip

    @invariant()
    def nothing_was_edited(self) -> None:
        now = {entry.id: bytes(entry.payload) for entry in Entry.objects.all()}
        assert {key: now.get(key) for key in self.entries} == self.entries
        self.entries = now

    @invariant()
    def every_entry_is_in_the_ledger(self) -> None:
        captured = set(Entry.objects.filter(kind="capture").values_list("id", flat=True))
        assert captured == set(Capture.objects.values_list("entry_id", flat=True))

    def holds(self) -> None:
        """What takes long is asked once, at the end."""
        assert Leaf.objects.count() == Entry.objects.count()
        report = verify(connection, keys.public_key())
        # The cast's log begins without the entry that opens it; whoever asks for that opens it first.
        assert [str(found) for found in report.differences] == [f"entry 0: {NOT_OPENED}"]
        assert report.untold == []
        rebuilt = rebuild()
        assert rebuilt.same, (rebuilt.differing, rebuilt.unreadable)
        assert list(differences()) == []


def test_whoever_does_what_in_any_order_nothing_is_edited_and_every_index_agrees() -> None:
    run_state_machine_as_test(
        AnyOrder,
        settings=settings(
            max_examples=20, stateful_step_count=15, deadline=None,
            suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
        ),
    )  # fmt: skip
