"""RFC 9162 sections 2.1.3.2 and 2.1.4.2: proofs that must be believed and proofs that must not.

Source: the probe files of transparency-dev/merkle, `testdata/inclusion` and `testdata/consistency`
(Apache-2.0): happy paths, and every index, size, hash and root spoiled. In `data/rfc9162_proof_probes.json`.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from qrecords.proof import merkle

VECTORS = json.loads((Path(__file__).parent / "data" / "rfc9162_proof_probes.json").read_text())


def _hashes(values: list[str] | None) -> list[bytes]:
    return [bytes.fromhex(value) for value in values or []]


@pytest.mark.parametrize("case", [pytest.param(case, id=case["file"]) for case in VECTORS["inclusion"]])
def test_inclusion(case: dict[str, Any]) -> None:
    leaf, root = bytes.fromhex(case["leaf_hash"] or ""), bytes.fromhex(case["root"] or "")
    verdict = merkle.verify_inclusion(case["index"], case["size"], leaf, root, _hashes(case["proof"]))
    assert verdict is case["valid"]


@pytest.mark.parametrize("case", [pytest.param(case, id=case["file"]) for case in VECTORS["consistency"]])
def test_consistency(case: dict[str, Any]) -> None:
    root1, root2 = bytes.fromhex(case["root1"] or ""), bytes.fromhex(case["root2"] or "")
    verdict = merkle.verify_consistency(case["size1"], case["size2"], root1, root2, _hashes(case["proof"]))
    assert verdict is case["valid"]


def test_the_probes_hold_both_kinds() -> None:
    for kind in ("inclusion", "consistency"):
        assert {case["valid"] for case in VECTORS[kind]} == {True, False}
