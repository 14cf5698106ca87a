"""The marking is compared character by character, and the inspector reads it with his own eyes."""

import pytest

from qrecords.steps.identification import OF_ORDER
from qrecords.steps.transitions import refuse_release, voided
from tests.steps.casebook import Book, sound


@pytest.mark.parametrize("read", ["6212 C3", "6212C3", "6212 c3"])
def test_case_and_spacing_of_an_engraving_carry_no_meaning(read: str) -> None:
    assert sound(identification___marking=read).rule("ring-marking")[0].verdict == "conforming"


@pytest.mark.parametrize("read", ["6212 C4", "6212", "6212 C3 S1", "6213 C3", "6221 C3"])
def test_every_other_character_is_another_bearing(read: str) -> None:
    assert sound(identification___marking=read).rule("ring-marking")[0].verdict == "nonconforming"


def test_the_inspectors_reading_is_missing_until_he_has_read_it_himself() -> None:
    book = Book()
    book.say("identification", marking="6212 C3", package="intact")
    assert book.rule("own-reading")[0].verdict == "missing"


def test_the_inspectors_reading_does_not_replace_the_fitters() -> None:
    book = Book()
    book.say("identification", marking="6212 C3")
    book.say("identification", author="inspector", check=True, marking="6212")
    assert book.rule("ring-marking")[0].verdict == "conforming"
    assert book.rule("own-reading")[0].verdict == "nonconforming"


WRITTEN = {
    "L-77": ["l-77", "L- 77", "L77", "L 77", "L–77", "L_77", " L - 77 "],
    "2026-03": ["202603", "2026 03", "2026/03", "2026.03"],
    "AB12-3": ["AB 12-3", "ab-12 3", "AB123"],
}
OTHERS = {
    "L-77": ["L-78", "L-7", "L-777", "77", "I-77", "L+77"],
    "12-3": ["1-23", "12-4"],
    "0417": ["0471", "417", "O417"],
}


@pytest.mark.parametrize("key", OF_ORDER)
@pytest.mark.parametrize(("ordered", "read"), [(each, way) for each, ways in WRITTEN.items() for way in ways])
def test_case_spaces_and_dashes_make_no_other_serial_lot_or_date_code(
    key: str, ordered: str, read: str
) -> None:
    assert as_ordered(key, ordered, read) == as_ordered(key, read, ordered) == "conforming"


@pytest.mark.parametrize("key", OF_ORDER)
@pytest.mark.parametrize(("ordered", "read"), [(each, way) for each, ways in OTHERS.items() for way in ways])
def test_another_serial_lot_or_date_code_is_asked_about(key: str, ordered: str, read: str) -> None:
    assert as_ordered(key, ordered, read) == as_ordered(key, read, ordered) == "query"


def as_ordered(key: str, ordered: str, read: str) -> str:
    book = sound(**{f"identification___{key}": read})
    book.lines[0].payload["body"]["seen"]["bearing"][key] = ordered
    return str(book.findings()[f"{key.replace('_', ' ')} as ordered"].verdict)


def test_a_dash_of_the_marking_is_a_character_of_it() -> None:
    book = sound(identification___marking="6212-C3")
    assert book.rule("ring-marking")[0].verdict == "nonconforming"


def test_a_lot_read_after_the_release_that_is_only_written_otherwise_voids_nothing() -> None:
    book = sound()
    released = book.case().releases[0]
    book.say("identification", lot="L 77")
    assert not voided(book.case(), released)
    book.say("identification", lot="L 78")
    assert voided(book.case(), released)


def test_another_lot_than_ordered_is_looked_at_before_heat() -> None:
    book = sound(identification___lot="L-78")
    assert book.flags() == {"lot as ordered": "query"}
    finding = book.findings()["lot as ordered"]
    assert (finding.facts["read"], finding.facts["wanted"]) == ("L-78", "L-77")
    refusal = refuse_release(book.case(), "inspector", "fit", [finding])
    assert refusal is not None and refusal.code == "open-findings"


def test_a_lot_that_no_order_names_is_taken_as_it_is() -> None:
    book = sound(identification___lot="L-78")
    book.lines[0].payload["body"]["seen"]["bearing"]["lot"] = ""
    others = [finding.characteristic for finding in book.rule("as-ordered")]
    assert others == ["serial as ordered", "date code as ordered"]
