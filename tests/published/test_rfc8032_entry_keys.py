"""RFC 8032 section 7.1, Ed25519: the signatures our entries carry.

Source: test vectors 1 to 3 of the RFC, typed from memory and kept only because seed, public key and signature
belong together when computed again. In `data/rfc8032_ed25519.json`.
"""

import json
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

VECTORS = json.loads((Path(__file__).parent / "data" / "rfc8032_ed25519.json").read_text())


@pytest.mark.parametrize("case", VECTORS["tests"], ids=lambda case: case["name"])
def test_the_same_seed_gives_the_published_key_and_signature(case: dict[str, str]) -> None:
    key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(case["seed"]))
    assert key.public_key().public_bytes_raw().hex() == case["public"]
    assert key.sign(bytes.fromhex(case["msg"])).hex() == case["sig"]
