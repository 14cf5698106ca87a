"""Which hold points wait for a release: entered whole, not released, and not too late."""

from qrecords.steps.procedure import STANDARD
from qrecords.steps.standard import all_findings
from qrecords.steps.waiting import waits
from tests.steps.casebook import Book, measure


def measured(**changes: object) -> Book:
    book = Book()
    book.say("identification", marking="6212 C3", package="intact")
    book.say(
        "preparation", edge_burrs="removed", shoulder_burrs="none", fillet="clears the ring", wiped="yes"
    )
    measure(book, **changes)
    book.say("bore", source="from class")
    return book


def fit_waits(book: Book) -> bool:
    case = book.case()
    return waits(case, all_findings(case), "fit")


def test_a_fit_waits_once_all_that_it_covers_is_entered() -> None:
    assert not fit_waits(Book())
    assert not fit_waits(measured(journal__C__120=None))
    assert fit_waits(measured())


def test_a_finding_that_is_out_waits_too_for_somebody_has_to_look() -> None:
    assert fit_waits(measured(journal__A__0=("60", "um from 60 mm")))


def test_released_it_waits_no_more_until_a_reading_changes() -> None:
    book = measured()
    book.release()
    assert not fit_waits(book)
    book.say("measurement", prev="e3", journal__A__0=("17", "um from 60 mm"))
    assert fit_waits(book)


def test_a_heating_that_began_ends_the_wait_and_one_broken_off_begins_it_again() -> None:
    book = measured()
    book.tap("heater on")
    assert not fit_waits(book)
    book.tap("stopped")
    assert fit_waits(book)


def test_a_ring_that_is_on_waits_for_no_fit() -> None:
    book = measured()
    for what in ("heater on", "lifted off", "home", "alarm"):
        book.tap(what)
    assert not fit_waits(book)


def test_a_hold_that_the_procedure_does_not_have_waits_for_nobody() -> None:
    book = measured()
    book.procedure = {**STANDARD, "holds": ["cold"]}
    assert not fit_waits(book)


def felt(**gaps: tuple[str, str]) -> Book:
    """On and cold; of its gaps these were felt, and the field is still to come."""
    book = measured()
    for what in ("heater on", "lifted off", "home", "let go"):
        book.tap(what)
    book.say("shoulder_gap", feeler="feeler", ring_temp=("21", "°C"), shaft_temp=("20", "°C"), **gaps)
    return book


def cold_waits(book: Book) -> bool:
    case = book.case()
    return waits(case, all_findings(case), "cold")


def test_a_cold_check_with_the_field_to_come_does_not_wait_yet() -> None:
    assert not cold_waits(felt(gap__0=("0", "mm"), gap__90=("0", "mm")))


def test_a_gap_that_is_out_calls_the_inspector_whatever_is_still_to_come() -> None:
    assert cold_waits(felt(gap__0=("0.04", "mm")))


def test_a_ring_that_is_heated_again_calls_nobody_to_the_gap_it_had() -> None:
    book = felt(gap__0=("0.04", "mm"))
    book.tap("heater on")
    assert not cold_waits(book)
