"""Procedures: drafted, approved by two people, in force from a day; one name is one line of revisions."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.db.models import Model

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.models import RoleGrant
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.errors import DocumentError
from qrecords.steps.procedure import STANDARD, procedure_digest
from qrecords.tracing.agreement import differences
from qrecords.workshop.errors import (
    LastProcedureError,
    ProcedureSettledError,
    ProcedureThereError,
    RegisterFieldError,
    TwoPeopleError,
    UnknownObjectError,
)
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion
from qrecords.workshop.procedure_actions import (
    approve_procedure,
    draft_procedure,
    put_in_force,
    refuse_procedure,
    withdraw_procedure,
)
from qrecords.workshop.procedures import dossier_of, in_force_at, procedure_at
from tests.cast import Workshop, make_workshop, start
from tests.workshop.drafts import approve, drafted, in_force, revised

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def stands(shop: Workshop, draft: ProcedureDraft) -> str:
    now = shop.clock
    return dossier_of(draft.dossier).stands(now, [v.id for v in in_force_at(shop.site, now)])


def now_in_force(shop: Workshop, name: str = "") -> str:
    return procedure_at(shop.site, shop.clock, name).revision


def payloads(kind: str) -> list[dict[str, Any]]:
    rows = Entry.objects.filter(kind=kind).order_by("leaf__index").values_list("payload", flat=True)
    return [parse_canonical(bytes(payload)) for payload in rows]


def withdraw(shop: Workshop, draft: ProcedureDraft, who: str = "quality") -> ProcedureAct:
    return withdraw_procedure(acting=shop.proved(who), act_id=new_id(), draft=draft, reason="no more")


def test_a_draft_is_in_force_once_two_people_have_approved_it(shop: Workshop) -> None:
    draft = drafted(shop)
    assert (stands(shop, draft), now_in_force(shop)) == ("draft", "A")
    approve(shop, draft, "engineer")
    assert (stands(shop, draft), now_in_force(shop)) == ("approved once", "A")
    approve(shop, draft, "quality")
    assert (stands(shop, draft), now_in_force(shop)) == ("in force", "B")


def test_the_entries_tell_the_document_why_each_approval_and_from_when_it_is_in_force(
    shop: Workshop,
) -> None:
    draft = drafted(shop)
    approvals = [approve(shop, draft, who) for who in ("engineer", "quality")]
    (said,), (came,) = payloads("procedure draft"), payloads("procedure in force")
    assert said["body"]["said"] == {"document": revised(), "from": ""}
    assert said["body"]["seen"] == {"in_force": procedure_digest(STANDARD)}
    assert said["reason"] == "the customer asks for it"
    each = [(p["body"]["seen"], p["identity"], p["at_device"]) for p in payloads("procedure approval")]
    assert each == [
        ({"nth": 1, "drafted": True}, "proved", None),
        ({"nth": 2, "drafted": False}, "proved", None),
    ]
    assert came["body"]["said"] == {"draft": str(draft.id), "digest": procedure_digest(revised())}
    assert came["body"]["seen"]["approvals"] == [str(act.id) for act in approvals]
    assert came["body"]["seen"]["from"] == approvals[1].at.isoformat()


def test_nobody_approves_twice(shop: Workshop) -> None:
    draft = drafted(shop)
    approve(shop, draft, "quality")
    with pytest.raises(TwoPeopleError) as refused:
        approve(shop, draft, "quality")
    assert refused.value.why == "approved"


def test_of_those_who_drafted_one_approves_at_most(shop: Workshop) -> None:
    """Also where two of them wrote it after one another: somebody who wrote nothing of it has to look."""
    first = drafted(shop, "engineer")
    newest = drafted(shop, "quality", instead_of=first, directions=["0", "90"])
    approve(shop, newest, "engineer")
    with pytest.raises(TwoPeopleError) as refused:
        approve(shop, newest, "quality")
    assert refused.value.why == "drafted"
    second = shop.people["second_fitter"]
    RoleGrant.objects.create(
        id=new_id(), person=second, role="engineer", site=shop.site, valid_from=shop.clock
    )
    approve(shop, newest, "second_fitter")
    assert stands(shop, newest) == "in force"


def test_to_approve_is_proved_again_takes_the_right_and_is_never_by_a_token(shop: Workshop) -> None:
    draft = drafted(shop)
    assert Action.PROCEDURE in NEVER_BY_TOKEN
    assert Action.DRAFT not in NEVER_BY_TOKEN
    with pytest.raises(ProveAgainError):
        approve_procedure(acting=shop.acting("quality"), act_id=new_id(), draft=draft)
    token = replace(shop.proved("quality"), token_actions=frozenset({Action.DRAFT}))
    with pytest.raises(NotAllowedError):
        approve_procedure(acting=token, act_id=new_id(), draft=draft)
    for who in ("fitter", "inspector", "auditor", "administrator"):
        with pytest.raises(NotAllowedError):
            approve(shop, draft, who)
        with pytest.raises(NotAllowedError):
            drafted(shop, who, revision="C")
    assert not ProcedureAct.objects.exists()


def test_a_newer_draft_takes_the_place_of_an_older_one_and_of_its_approvals(shop: Workshop) -> None:
    first = drafted(shop)
    approve(shop, first, "quality")
    newest = drafted(shop, "engineer", instead_of=first, directions=["0", "90"])
    assert (stands(shop, newest), ProcedureDraft.objects.count()) == ("draft", 2)
    assert payloads("procedure draft")[1]["prev"] == str(first.id)
    with pytest.raises(ProcedureSettledError, match="replaced by a newer draft"):
        approve(shop, first, "engineer")
    with pytest.raises(ProcedureSettledError, match="replaced by a newer draft"):
        drafted(shop, "engineer", instead_of=first)
    approve(shop, newest, "engineer")
    approve(shop, newest, "quality")
    assert ProcedureVersion.objects.get(draft=newest).document["directions"] == ["0", "90"]


def test_a_refused_draft_is_drafted_anew_and_a_withdrawn_one_is_not(shop: Workshop) -> None:
    draft = drafted(shop)
    refuse_procedure(
        acting=shop.proved("quality"), act_id=new_id(), draft=draft, reason="the cap is not ours"
    )
    assert stands(shop, draft) == "refused"
    with pytest.raises(ProcedureSettledError, match="refused already"):
        approve(shop, draft, "engineer")
    anew = drafted(shop, instead_of=draft)
    assert stands(shop, anew) == "draft"
    withdraw_procedure(acting=shop.acting("engineer"), act_id=new_id(), draft=anew, reason="not needed")
    assert stands(shop, anew) == "withdrawn"
    with pytest.raises(ProcedureSettledError, match="withdrawn already"):
        drafted(shop, instead_of=anew)


def test_anothers_draft_is_withdrawn_by_who_approves_with_a_proof(shop: Workshop) -> None:
    draft = drafted(shop)
    with pytest.raises(ProveAgainError):
        withdraw_procedure(acting=shop.acting("quality"), act_id=new_id(), draft=draft, reason="no")
    assert withdraw(shop, draft).what == "withdrawn"


def test_one_that_is_in_force_from_a_day_waits_for_it(shop: Workshop) -> None:
    monday = shop.clock + timedelta(days=5)
    draft = drafted(shop, wanted_from=monday)
    approve(shop, draft, "engineer")
    approve(shop, draft)
    assert (stands(shop, draft), now_in_force(shop)) == ("approved, waits for its day", "A")
    assert procedure_at(shop.site, monday - timedelta(seconds=1)).revision == "A"
    assert procedure_at(shop.site, monday).revision == "B"


def test_a_day_that_went_by_before_the_second_approval_changes_nothing_behind_it(shop: Workshop) -> None:
    soon = shop.clock + timedelta(minutes=1)
    draft = drafted(shop, wanted_from=soon)
    approve(shop, draft, "engineer")
    shop.clock += timedelta(hours=1)
    act = approve(shop, draft)
    assert ProcedureVersion.objects.get(draft=draft).valid_from == act.at
    with pytest.raises(RegisterFieldError, match="a moment to come"):
        drafted(shop, revision="C", wanted_from=soon)


def test_one_that_waits_may_be_withdrawn_and_never_comes_in_force(shop: Workshop) -> None:
    monday = shop.clock + timedelta(days=5)
    draft = drafted(shop, wanted_from=monday)
    approve(shop, draft, "engineer")
    approve(shop, draft)
    withdraw(shop, draft)
    shop.clock = monday
    assert (stands(shop, draft), now_in_force(shop)) == ("withdrawn", "A")


def test_a_mounting_keeps_the_version_it_began_under(shop: Workshop) -> None:
    job = start(shop)
    began = job.mounting.procedure_digest
    in_force(shop, directions=["0", "90"])
    assert began == procedure_digest(STANDARD)
    assert job.mounting.procedure_digest == began
    assert now_in_force(shop) == "B"


def test_one_person_puts_the_first_procedure_of_a_site_in_force_and_no_other(shop: Workshop) -> None:
    with pytest.raises(ProcedureThereError):
        put_in_force(acting=shop.proved("quality"), procedure_id=new_id(), site=shop.site, document=revised())
    assert payloads("procedure")[0]["body"]["said"] == dict(STANDARD)
    assert ProcedureVersion.objects.count() == 1


def test_a_procedure_of_a_contract_stands_beside_the_workshops_own(shop: Workshop) -> None:
    theirs = in_force(shop, name="Ostrey trams", revision="1", contract="Ostrey 2026-7")
    own = in_force(shop)
    found = in_force_at(shop.site, shop.clock)
    assert [(v.name, v.revision) for v in found] == [("HM-1", "B"), ("Ostrey trams", "1")]
    assert procedure_at(shop.site, shop.clock).id == own.id
    assert procedure_at(shop.site, shop.clock, "Ostrey trams").id == theirs.id
    with pytest.raises(UnknownObjectError):
        procedure_at(shop.site, shop.clock, "nobody's")


def test_a_procedure_of_a_contract_ends_and_the_last_of_the_workshops_own_does_not(shop: Workshop) -> None:
    theirs = in_force(shop, name="Ostrey trams", revision="1", contract="Ostrey 2026-7")
    own = in_force(shop)
    assert theirs.draft is not None and own.draft is not None
    withdraw(shop, theirs.draft)
    assert stands(shop, theirs.draft) == "ended"
    assert [v.name for v in in_force_at(shop.site, shop.clock)] == ["HM-1"]
    with pytest.raises(LastProcedureError):
        withdraw(shop, own.draft)
    other = in_force(shop, name="HM-2", revision="1")
    assert procedure_at(shop.site, shop.clock).id == other.id
    withdraw(shop, own.draft)
    # The revision before does not come back by one person's act: the name has ended.
    assert [v.name for v in in_force_at(shop.site, shop.clock)] == ["HM-2"]


def test_a_revision_of_a_name_is_one_document_and_a_name_is_of_one_contract(shop: Workshop) -> None:
    with pytest.raises(RegisterFieldError, match="revision"):
        drafted(shop, revision="A")
    with pytest.raises(RegisterFieldError, match="contract"):
        drafted(shop, contract="Ostrey 2026-7")
    one, other = drafted(shop), drafted(shop, directions=["0", "90"])
    for who in ("engineer", "quality"):
        approve(shop, one, who)
    with pytest.raises(RegisterFieldError, match="revision"):
        approve(shop, other)


def test_what_a_procedure_leaves_to_fewer_roles_is_never_wider_than_the_rights(shop: Workshop) -> None:
    with pytest.raises(DocumentError) as refused:
        drafted(shop, may_decide={"concession": ["engineer", "inspector"]})
    assert (refused.value.field, "allowed: engineer" in refused.value.why) == ("may_decide", True)
    assert in_force(shop, may_decide={"accept": ["engineer"]}).document["may_decide"]


def test_the_same_act_sent_again_is_a_replay_and_another_under_its_id_is_refused(shop: Workshop) -> None:
    draft_id, acts = new_id(), [new_id(), new_id()]
    given: dict[str, Any] = {"site": shop.site, "draft_id": draft_id, "reason": "asked for"}
    for _ in range(2):
        draft = draft_procedure(acting=shop.acting("engineer"), document=revised(), **given)
    with pytest.raises(DifferentContentError):
        draft_procedure(acting=shop.acting("engineer"), document=revised("C"), **given)
    for _ in range(2):
        for act_id, who in zip(acts, ("engineer", "quality"), strict=True):
            approve_procedure(acting=shop.proved(who), act_id=act_id, draft=draft)
    assert (ProcedureAct.objects.count(), ProcedureVersion.objects.count()) == (2, 2)
    with pytest.raises(DifferentContentError):
        refuse_procedure(acting=shop.proved("quality"), act_id=acts[1], draft=draft, reason="no")


@pytest.mark.parametrize(
    ("model", "changes", "field"),
    [
        (ProcedureDraft, {"document": revised("Z")}, "document"),
        (ProcedureDraft, {"by": "00000000-0000-0000-0000-000000000001"}, "by"),
        (ProcedureAct, {"by_hash": "0" * 64}, "by_hash"),
        (ProcedureAct, {"reason": "as he said"}, "reason"),
    ],
)
def test_a_draft_changed_behind_everybodys_back_is_named(
    shop: Workshop, model: type[Model], changes: dict[str, object], field: str
) -> None:
    in_force(shop)
    assert list(differences()) == []
    model._default_manager.update(**changes)
    named = list(differences())
    assert named and all(f": {field} says" in each or ": digest says" in each for each in named)


def test_a_version_in_force_that_was_changed_is_named(shop: Workshop) -> None:
    version = in_force(shop)
    ProcedureVersion.objects.filter(id=version.id).update(valid_from=shop.clock - timedelta(days=9))
    (named,) = differences()
    assert named.startswith(f"procedure {version.id}: valid_from says")
