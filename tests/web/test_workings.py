"""Workings on pages and papers: the units of the trade, and what a result takes for granted."""

import pytest
from django.template.loader import render_to_string

from qrecords.mountings.judging import Judged
from qrecords.web.showing import show
from qrecords.web.workings import number_written
from tests.steps.casebook import Book, measure


@pytest.mark.parametrize(
    ("filed", "written"),
    [
        ("59.4 um", "59.4\N{NARROW NO-BREAK SPACE}µm"),
        ("0.857 1", "0.857"),
        ("60 mm", "60 mm"),
        ("0.6", "0.6"),
    ],
)
def test_micrometres_are_written_as_the_trade_writes_them(filed: str, written: str) -> None:
    assert number_written(filed) == written


def test_a_page_says_what_a_figure_takes_for_granted() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    found = book.rule("clearance-forecast")
    working = show(Judged(book.case(), tuple(found)), found[0]).working
    page = render_to_string("parts/working.html", {"working": working})
    assert working is not None and working.assumptions and working.assumptions in page
    assert " um" not in page and "µm" in page
