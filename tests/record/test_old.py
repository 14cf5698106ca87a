"""What was recorded once must be readable for ever (DESIGN: schemas and rules through the years)."""

import pytest

from qrecords.ledger.keys import is_signature
from qrecords.proof.merkle import leaf_hash
from qrecords.steps.folding import Fold, fold
from qrecords.steps.procedure import STANDARD, read_procedure
from tests.record.payloads import OLD, Kept, kept, one_of, wanted

KEPT = kept()
OF_A_MOUNTING = [
    each for each in KEPT if each.kind in Fold.HANDLERS and each.kind not in ("mounting", "unread")
]


def test_every_kind_and_every_schema_of_today_has_its_payload_kept() -> None:
    assert wanted() - {each.name for each in KEPT} == set(), f"python -m tests.record.keep writes into {OLD}"


@pytest.mark.parametrize("each", KEPT, ids=lambda each: each.name)
def test_a_kept_payload_still_has_its_leaf_and_its_signature(each: Kept) -> None:
    leaf = leaf_hash(each.bytes)
    assert leaf.hex() == each.leaf
    key, signature = bytes.fromhex(each.content["key"]), bytes.fromhex(each.content["signature"])
    assert is_signature(signature, leaf, key)
    assert not is_signature(signature, leaf_hash(each.bytes + b" "), key)


@pytest.mark.parametrize("each", OF_A_MOUNTING, ids=lambda each: each.name)
def test_a_kept_payload_of_a_mounting_still_folds(each: Kept) -> None:
    case = fold([one_of("mounting"), each], read_procedure(STANDARD))
    assert case.unread == ()
    if each.kind == "capture":
        step = each.said["step"]
        answered = {**case.answers.get(step, {}), **case.checks.get(step, {})}
        assert set(answered) == set(each.said["fields"])


def test_what_could_not_be_read_stays_unread() -> None:
    case = fold([one_of("mounting"), one_of("unread")], read_procedure(STANDARD))
    assert case.unread == (str(one_of("unread").id),)
