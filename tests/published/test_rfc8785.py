"""RFC 8785, as far as our narrow profile goes.

Sources: the test files of the RFC's author (cyberphone/json-canonicalization, Apache-2.0), in
`data/rfc8785_jcs.json`; and the `rfc8785` library as an oracle for values nobody wrote down.
"""

import json
from pathlib import Path
from unicodedata import normalize

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from qrecords.proof.canonical import LARGEST_INTEGER, canonical_bytes, parse_canonical
from qrecords.proof.errors import CanonicalError

VECTORS = json.loads((Path(__file__).parent / "data" / "rfc8785_jcs.json").read_text())
FILES = {case["name"]: case for case in VECTORS["files"]}


def test_the_authors_file_within_the_profile() -> None:
    case = FILES["arrays.json"]
    assert canonical_bytes(json.loads(case["input"])).hex() == case["output_hex"]


@pytest.mark.parametrize("name", sorted(FILES.keys() - {"arrays.json"}))
def test_the_authors_files_outside_the_profile_are_refused(name: str) -> None:
    # They hold floats or keys beyond ASCII: refused, never written in another way than the RFC says.
    with pytest.raises(CanonicalError):
        canonical_bytes(json.loads(FILES[name]["input"]))


@pytest.mark.parametrize("case", VECTORS["reject"], ids=lambda case: case["why"])
def test_what_is_not_json_of_one_meaning_is_refused(case: dict[str, str]) -> None:
    with pytest.raises(CanonicalError):
        parse_canonical(case["input"].encode())


_TEXT = st.text(st.characters(exclude_categories=["Cs"])).map(lambda text: normalize("NFC", text))
_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-LARGEST_INTEGER, LARGEST_INTEGER) | _TEXT,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(st.characters(max_codepoint=127), max_size=6), inner, max_size=4)
    ),
    max_leaves=20,
)


@given(_VALUES)
def test_the_library_writes_the_same_bytes(value: object) -> None:
    assert canonical_bytes(value) == rfc8785.dumps(value)


@given(_VALUES)
def test_what_was_written_reads_back(value: object) -> None:
    assert parse_canonical(canonical_bytes(value)) == value
