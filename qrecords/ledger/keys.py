"""The key that signs every entry. It lives in a file outside the database, so that whoever can write rows
cannot make an entry look as if this program had recorded it."""

import os
import secrets
from functools import lru_cache
from pathlib import Path

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from django.conf import settings

from qrecords.ledger.errors import KeyMissingError

CONTEXT = b"qrecords entry v1\n"
"""Stands before the leaf hash in what is signed, so that no signature can serve in two roles."""


def entry_key_path() -> Path:
    return Path(settings.KEYS_DIR) / "entry.key"


def session_secret_path() -> Path:
    return Path(settings.KEYS_DIR) / "session.secret"


def make() -> list[Path]:
    """Make the key files that are not there yet, readable by their owner only; return what was made."""
    Path(settings.KEYS_DIR).mkdir(mode=0o700, parents=True, exist_ok=True)
    wanted = {
        entry_key_path(): Ed25519PrivateKey.generate().private_bytes_raw().hex(),
        session_secret_path(): secrets.token_urlsafe(64),
    }
    return [path for path, content in wanted.items() if _write_new(path, content)]


def sign(leaf_hash: bytes) -> bytes:
    """The Ed25519 signature (RFC 8032) of an entry, 64 bytes; `KeyMissingError` before install."""
    return _private_key(entry_key_path()).sign(CONTEXT + leaf_hash)


def public_key() -> bytes:
    """The 32 bytes that anyone needs to check our signatures."""
    return _private_key(entry_key_path()).public_key().public_bytes_raw()


def is_signature(signature: bytes, leaf_hash: bytes, public: bytes) -> bool:
    """Whether the holder of the key signed the entry with this leaf hash."""
    try:
        Ed25519PublicKey.from_public_bytes(public).verify(signature, CONTEXT + leaf_hash)
    except InvalidSignature:
        return False
    return True


@lru_cache(maxsize=4)
def _private_key(path: Path) -> Ed25519PrivateKey:
    try:
        return Ed25519PrivateKey.from_private_bytes(bytes.fromhex(path.read_text().strip()))
    except FileNotFoundError as error:
        raise KeyMissingError(path) from error


def _write_new(path: Path, content: str) -> bool:
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return False
    with os.fdopen(handle, "w") as file:
        file.write(content + "\n")
        file.flush()
        os.fsync(file.fileno())
    return True
