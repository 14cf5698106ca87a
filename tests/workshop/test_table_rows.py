"""A site's own rows of the tables: proposed by one, put in force by another, and what is judged by them."""

from dataclasses import replace
from typing import Any

import pytest
from django.db.models import Model

from qrecords.engineering.errors import FarRowError, TableRowError
from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.errors import NotAllowedError, NotForOneselfError, ProveAgainError
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from qrecords.proof.canonical import parse_canonical
from qrecords.tracing.agreement import differences
from qrecords.workshop.errors import RegisterFieldError, RowSettledError
from qrecords.workshop.models import TableRow, TableRowAct
from qrecords.workshop.table_actions import approve_row, propose_row, refuse_row, withdraw_row
from qrecords.workshop.tables import acts_of, in_force, pinned, standing_of
from tests.cast import Workshop, make_workshop
from tests.workshop.own_copy import CLEARANCE, IT6, approve, propose

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def least_um(shop: Workshop) -> list[str]:
    row = in_force(shop.site).row("radial_internal_clearance", ("deep_groove_ball_cyl_bore", "3"), 60)
    return [] if row is None else [f"{value:f}" for value in row.values]


def stands(row: TableRow) -> str:
    return standing_of(row, acts_of(row.site))


def payload_of(kind: str) -> dict[str, Any]:
    content: dict[str, Any] = parse_canonical(bytes(Entry.objects.get(kind=kind).payload))
    return content


def test_a_proposed_row_judges_nothing_until_another_person_approved_it(shop: Workshop) -> None:
    row = propose(shop)
    assert (in_force(shop.site), stands(row)) == (BUILT_IN, "proposed")
    approve(shop, row)
    assert (least_um(shop), stands(row)) == (["24", "44"], "in force")


def test_the_entries_say_the_row_its_place_in_the_copy_why_and_which_tables_came_of_it(
    shop: Workshop,
) -> None:
    row = propose(shop)
    act = approve(shop, row)
    said, approval = payload_of("table row"), payload_of("table row approval")
    assert said["body"]["said"] == CLEARANCE
    assert said["body"]["seen"] == {"there": ["23", "43"]}
    assert (said["reason"], said["versions"]["tables"]) == ("compared with our copy", BUILT_IN.digest)
    assert approval["body"]["said"] == {"row": str(row.id)}
    assert approval["body"]["seen"]["tables"] == in_force(shop.site).digest != BUILT_IN.digest
    assert approval["at_device"] is None
    own = in_force(shop.site).row("radial_internal_clearance", ("deep_groove_ball_cyl_bore", "3"), 60)
    assert own is not None
    assert own.approval is not None
    assert (own.approval.entry, own.approval.by, own.approval.on) == (
        str(act.id),
        approval["author"]["hash"],
        "2026-03-02",
    )


def test_nobody_approves_or_refuses_a_row_he_proposed_himself(shop: Workshop) -> None:
    row = propose(shop, "quality")
    with pytest.raises(NotForOneselfError):
        approve(shop, row, "quality")
    with pytest.raises(NotForOneselfError):
        refuse_row(acting=shop.proved("quality"), act_id=new_id(), row=row, reason="no")
    approve(shop, row, "engineer")


def test_to_approve_proves_identity_again_and_takes_the_right(shop: Workshop) -> None:
    row = propose(shop)
    with pytest.raises(ProveAgainError):
        approve_row(acting=shop.acting("quality"), act_id=new_id(), row=row)
    for who in ("fitter", "inspector", "auditor", "administrator"):
        with pytest.raises(NotAllowedError):
            approve(shop, row, who)
        with pytest.raises(NotAllowedError):
            propose(shop, who)
    assert not TableRowAct.objects.exists()


def test_what_lies_far_from_the_row_that_stands_is_asked_back_once(shop: Workshop) -> None:
    given: dict[str, Any] = {
        "site": shop.site, "row_id": new_id(), "reason": "as printed", "document": {**IT6, "values": ["25"]},
    }  # fmt: skip
    with pytest.raises(FarRowError, match="16…22 µm, near 19 µm"):
        propose_row(acting=shop.acting("engineer"), **given)
    assert propose_row(acting=shop.acting("engineer"), sure=True, **given)


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"upto_mm": "60"}, "over_mm"), ({"values": ["44", "24"]}, "most"), ({"standard": ""}, "standard")],
)
def test_what_does_not_go_into_the_table_is_refused_and_leaves_nothing(
    shop: Workshop, changes: dict[str, Any], field: str
) -> None:
    with pytest.raises(TableRowError) as refused:
        propose(shop, **changes)
    assert refused.value.field == field
    assert not TableRow.objects.exists()
    assert not Entry.objects.filter(kind="table row").exists()


def test_a_row_without_a_reason_is_asked_for_one(shop: Workshop) -> None:
    with pytest.raises(RegisterFieldError, match="reason"):
        propose(shop, reason=" ")


def test_a_later_row_takes_the_place_of_an_earlier_one_and_the_built_in_one_comes_back(
    shop: Workshop,
) -> None:
    first, second = propose(shop), propose(shop, values=["23", "45"])
    approve(shop, first)
    approve(shop, second)
    assert (stands(first), stands(second), least_um(shop)) == ("replaced", "in force", ["23", "45"])
    withdraw_row(acting=shop.proved("engineer"), act_id=new_id(), row=second, reason="a misprint")
    assert (stands(second), in_force(shop.site)) == ("withdrawn", BUILT_IN)
    with pytest.raises(RowSettledError, match="replaced already"):
        withdraw_row(acting=shop.proved("engineer"), act_id=new_id(), row=first, reason="again")


def test_who_proposed_a_row_takes_it_back_without_a_proof_and_then_nobody_approves_it(shop: Workshop) -> None:
    row = propose(shop)
    with pytest.raises(ProveAgainError):
        withdraw_row(acting=shop.acting("quality"), act_id=new_id(), row=row, reason="not mine")
    withdraw_row(acting=shop.acting("engineer"), act_id=new_id(), row=row, reason="read wrong")
    with pytest.raises(RowSettledError, match="withdrawn already"):
        approve(shop, row)


def test_a_refused_row_stays_refused(shop: Workshop) -> None:
    row = propose(shop)
    refuse_row(acting=shop.proved("quality"), act_id=new_id(), row=row, reason="another edition")
    assert (stands(row), in_force(shop.site)) == ("refused", BUILT_IN)
    with pytest.raises(RowSettledError):
        approve(shop, row)


def test_a_row_between_two_others_is_not_withdrawn_before_the_outer_one(shop: Workshop) -> None:
    inner = propose(shop, over_mm="500", upto_mm="560", values=["160", "260"])
    approve(shop, inner)
    outer = propose(shop, over_mm="560", upto_mm="630", values=["175", "285"])
    approve(shop, outer)
    with pytest.raises(TableRowError, match="the row over 560 mm withdrawn first"):
        withdraw_row(acting=shop.proved("quality"), act_id=new_id(), row=inner, reason="a slip")
    withdraw_row(acting=shop.proved("quality"), act_id=new_id(), row=outer, reason="a slip")
    withdraw_row(acting=shop.proved("quality"), act_id=new_id(), row=inner, reason="a slip")
    assert in_force(shop.site) is BUILT_IN


def test_the_same_act_sent_again_is_a_replay_and_another_under_its_id_is_refused(shop: Workshop) -> None:
    row_id, act_id = new_id(), new_id()
    for _ in range(2):
        row = propose_row(
            acting=shop.acting("engineer"),
            site=shop.site,
            row_id=row_id,
            document=CLEARANCE,
            reason="compared",
        )
    with pytest.raises(DifferentContentError):
        propose_row(
            acting=shop.acting("engineer"), site=shop.site, row_id=row_id, document=IT6, reason="compared"
        )
    acts = [approve_row(acting=shop.proved("quality"), act_id=act_id, row=row) for _ in range(2)]
    assert acts[0] == acts[1]
    assert (TableRow.objects.count(), TableRowAct.objects.count()) == (1, 1)
    with pytest.raises(DifferentContentError):
        withdraw_row(acting=shop.proved("quality"), act_id=act_id, row=row, reason="no")


def test_every_set_that_was_in_force_is_found_again_by_its_digest(shop: Workshop) -> None:
    digests = []
    for document in (CLEARANCE, IT6):
        approve(shop, propose(shop, **document))
        digests.append(in_force(shop.site).digest)
    withdraw_row(
        acting=shop.proved("quality"), act_id=new_id(), row=TableRow.objects.get(document=IT6), reason="no"
    )
    assert len({*digests, BUILT_IN.digest}) == 3
    assert [pinned(digest, shop.site, shop.clock).digest for digest in digests] == digests
    assert in_force(shop.site).digest == digests[0]
    assert pinned(BUILT_IN.digest, shop.site, shop.clock) is BUILT_IN


def test_a_set_that_is_not_known_any_more_is_stood_for_by_todays_with_the_rows_of_then(
    shop: Workshop,
) -> None:
    before = shop.clock
    approve(shop, propose(shop))
    old, new = (pinned("0" * 64, shop.site, at) for at in (before, shop.clock))
    assert (old.digest, new.digest) == (BUILT_IN.digest, in_force(shop.site).digest)
    assert {old.stands_for, new.stands_for} == {"0" * 64}
    assert in_force(shop.site).stands_for == ""


def test_rows_of_one_site_judge_nothing_at_another(shop: Workshop) -> None:
    approve(shop, propose(shop))
    assert in_force(new_id()) is BUILT_IN
    with pytest.raises(NotAllowedError):
        propose_row(
            acting=shop.acting("engineer"), site=new_id(), row_id=new_id(), document=CLEARANCE, reason="ours"
        )


def test_a_token_never_approves(shop: Workshop) -> None:
    assert Action.APPROVE_ROW in NEVER_BY_TOKEN
    row = propose(shop)
    acting = replace(shop.proved("quality"), token_actions=frozenset({Action.PROPOSE_ROW}))
    with pytest.raises(NotAllowedError):
        approve_row(acting=acting, act_id=new_id(), row=row)


@pytest.mark.parametrize(
    ("model", "changes", "field"),
    [
        (TableRow, {"document": {**CLEARANCE, "values": ["24", "54"]}}, "document"),
        (TableRow, {"proposed_by": "00000000-0000-0000-0000-000000000001"}, "proposed_by"),
        (TableRowAct, {"nth": 7}, "nth"),
        (TableRowAct, {"by_hash": "0" * 64}, "by_hash"),
        (TableRowAct, {"on": "2026-01-01"}, "on"),
    ],
)
def test_a_row_changed_behind_everybodys_back_is_named(
    shop: Workshop, model: type[Model], changes: dict[str, object], field: str
) -> None:
    approve(shop, propose(shop))
    assert list(differences()) == []
    model._default_manager.update(**changes)
    (named,) = differences()
    assert named.startswith("row of a table")
    assert f": {field} says" in named
