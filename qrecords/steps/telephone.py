"""Release by telephone with no network: two short codes that prove what was known when.

The fitter's device makes the *readings code* from the readings; the inspector enters it with the lowest and
highest reading. The *answer code* comes from the leaf hash of his release, which did not exist before; heater
on names it. Later the record shows that these readings existed when he agreed.
"""

import hashlib
import re
from collections.abc import Mapping

from qrecords.proof.canonical import canonical_bytes
from qrecords.steps.case import Case
from qrecords.steps.measurement import wanted_places

ALPHABET = "2346789BCDFGHJKMNPQRTWX"
LENGTH = 6


def _code(digest: bytes) -> str:
    """Six characters from a digest and a check character, easy to read aloud."""
    number = int.from_bytes(digest[:8], "big")
    six = ""
    for _ in range(LENGTH):
        number, place = divmod(number, len(ALPHABET))
        six += ALPHABET[place]
    return six + check(six)


def check(six: str) -> str:
    total = sum((place + 2) * ALPHABET.index(character) for place, character in enumerate(six))
    return ALPHABET[total % len(ALPHABET)]


def as_heard(text: str) -> str:
    """A code as it was written down: read aloud it comes in groups, with spaces, hyphens or dots between."""
    return re.sub(r"[\s.\-‐-–]", "", text).upper()


def is_code(text: str) -> bool:
    text = as_heard(text)
    return (
        len(text) == LENGTH + 1
        and all(character in ALPHABET for character in text)
        and check(text[:LENGTH]) == text[LENGTH]
    )


def readings_code(mounting: str, readings: Mapping[str, int]) -> str:
    """From every journal reading by its place, in nm: one digit changed gives another code."""
    said = {"mounting": mounting, "readings": dict(readings)}
    return _code(hashlib.sha256(b"qrecords readings v1\n" + canonical_bytes(said)).digest())


def readings_of(case: Case) -> dict[str, int]:
    return {a.key: a.base for a in case.many("measurement", "journal") if case.value_of("measurement", a.key)}


def heard_wrong(case: Case, code: str, lowest_nm: int | None, highest_nm: int | None) -> list[str]:
    """What was heard, of *code*, *lowest* and *highest*, that cannot be of the readings here. While only some
    have come the code may be of more, and lower and higher ones may follow; while none has, nothing is."""
    readings = readings_of(case)
    if not readings or lowest_nm is None or highest_nm is None:
        return []
    least, most = min(readings.values()), max(readings.values())
    if all(case.said("measurement", ".".join(("journal", *place))) for place in wanted_places(case)):
        wrong = {
            "code": code != readings_code(case.mounting, readings),
            "lowest": lowest_nm != least,
            "highest": highest_nm != most,
        }
    else:
        wrong = {"lowest": lowest_nm > least, "highest": highest_nm < most}
    return [name for name, differs in wrong.items() if differs]


def answer_code(release_leaf: str) -> str:
    """From the leaf hash of the release: nobody can name it before the release exists."""
    return _code(hashlib.sha256(b"qrecords answer v1\n" + bytes.fromhex(release_leaf)).digest())
