"""How much of a record was shown: a prefix of it, by number and root."""

from hypothesis import given
from hypothesis import strategies as st

from qrecords.proof import merkle
from qrecords.steps.shown import NOTHING, Extent, extent_of, not_shown, read_extent, shown_now
from tests.steps.casebook import Book, measure


def test_the_whole_record_leaves_nothing_unseen() -> None:
    book = Book()
    measure(book)
    assert not_shown(book.case(), shown_now(book.case())) == []


def test_what_came_since_is_named_in_order() -> None:
    book = Book()
    shown = shown_now(book.case())
    first, second = book.tap("heater on"), book.tap("lifted off")
    assert not_shown(book.case(), shown) == [first.id, second.id]


def test_the_root_is_that_of_the_tree_over_the_leaves_shown() -> None:
    book = Book()
    measure(book)
    hashes = [bytes.fromhex(line.leaf) for line in book.lines]
    assert shown_now(book.case()) == Extent(2, merkle.root(hashes).hex())


def test_another_record_or_one_that_is_not_there_yet_shows_nothing_of_this_one() -> None:
    book, other = Book(), Book()
    other.tap("alarm")
    book.tap("heater on")
    everything = [line.id for line in book.lines]
    assert not_shown(book.case(), shown_now(other.case())) == everything
    assert not_shown(book.case(), Extent(9, shown_now(book.case()).root)) == everything
    assert not_shown(book.case(), NOTHING) == everything


@given(st.lists(st.binary(min_size=32, max_size=32), max_size=9))
def test_an_extent_is_read_back_as_it_is_written(hashes: list[bytes]) -> None:
    extent = extent_of(value.hex() for value in hashes)
    assert read_extent(str(extent)) == extent


@given(st.text(max_size=80))
def test_any_other_text_shows_nothing(text: str) -> None:
    assert read_extent(text) == NOTHING
