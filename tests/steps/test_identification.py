"""The marking is compared character by character, and the inspector reads it with his own eyes."""

import pytest

from qrecords.steps.transitions import refuse_release
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


@pytest.mark.parametrize("read", ["l-77", "L- 77"])
def test_a_lot_is_compared_like_a_marking(read: str) -> None:
    assert sound(identification___lot=read).rule("as-ordered")[0].verdict == "conforming"


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
