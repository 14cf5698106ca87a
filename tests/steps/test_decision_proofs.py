"""What proves nothing before a decision: what was found before the heat, and what nobody can read."""

from datetime import timedelta
from typing import Any

import pytest

from qrecords.steps.first import PROOFS
from tests.steps.casebook import sound
from tests.steps.test_decision_rows import PEAK, ROLLER, found, heated, lacking
from tests.steps.test_paper import paper_sheet, with_said


def test_a_clearance_written_on_paper_before_the_heat_and_entered_later_is_not_felt_again() -> None:
    for written, told in (("07:00", ("clearance-again",)), ("12:00", ())):
        book = heated("125", **ROLLER)
        sheet = paper_sheet(book)
        felt = book.case().said("clearance_before", "g0")
        book.say("clearance_before", prev=felt.entry, g0=("29", "um"))  # type: ignore[union-attr]
        book.lines[-1].payload["body"]["seen"]["written_at"] = f"2026-03-02T{written}:00+00:00"
        book.lines[-1] = with_said(book.lines[-1], paper={"sheet": sheet, "written": f"2026-03-02 {written}"})
        assert lacking(book, PEAK, "accept") == told


def test_a_clearance_whose_clock_stands_before_the_heat_is_not_felt_again() -> None:
    book = heated("125", **ROLLER)
    felt, now = book.case().said("clearance_before", "g0"), book.now
    book.now = now - timedelta(hours=1)
    book.say("clearance_before", prev=felt.entry, g0=("29", "um"))  # type: ignore[union-attr]
    assert lacking(book, PEAK, "accept") == ("clearance-again",)


def test_a_log_that_cannot_be_read_is_no_curve() -> None:
    on = sound(heating___peak=("134", "°C"))
    on.log("%PDF-1.7 no columns here")
    assert lacking(on, PEAK) == ("heating-curve",)
    on.log("time_s;inner\n0;20\n10;60\n20;134\n")
    assert lacking(on, PEAK) == ()


@pytest.mark.parametrize(
    ("step", "rule", "told", "name"),
    [
        ("demagnetisation", "residual-field", {"field": ("6.4", "A/cm")}, "field-again"),
        ("shoulder_gap", "shoulder-gap", {"gap__90": ("0.05", "mm")}, "gap-again"),
    ],
)
def test_what_the_clock_puts_before_the_heat_is_not_measured_again(
    step: str, rule: str, told: dict[str, Any], name: str
) -> None:
    ((key, value),) = told.items()
    book = sound(**{f"{step}___{key}": value})
    first = book.case().said(step, key.replace("__", "."))
    now, book.now = book.now, book.now - timedelta(days=1)
    book.say(step, prev=first.entry, **told)  # type: ignore[union-attr]
    book.now = now
    assert name in PROOFS and PROOFS[name](found(book, rule), book.case()) is None
    book.say(step, prev=first.entry, **told)  # type: ignore[union-attr]
    assert lacking(book, rule) == ()
