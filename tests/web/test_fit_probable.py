"""Where a fit page draws how probable the interference is: only where that says more than the readings."""

import re

import pytest
from django.test import Client

from qrecords.web.fitter.fitting import probable
from tests.cast import Workshop
from tests.steps.casebook import Book, journal_fields, measure, sound
from tests.web.fitter_hand import measure as measure_at_the_page
from tests.web.fitter_hand import opened, receive


def test_a_bore_from_its_class_shows_how_probable_each_interference_is() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    picture = probable(book.case())
    assert picture is not None and picture.probable is not None
    assert "99.73 %" in picture.desc and "normally distributed" in picture.desc


def test_before_the_bore_there_is_no_fit_and_no_picture() -> None:
    book = Book()
    measure(book)
    assert probable(book.case()) is None


def test_a_measured_fit_well_inside_its_limits_needs_no_more_than_its_readings() -> None:
    assert probable(sound().case()) is None


def test_a_measured_fit_near_to_its_limit_shows_how_much_of_it_may_lie_outside() -> None:
    high = journal_fields(dict.fromkeys("ABC", ("+29", "+29", "+29")), "um from 60 mm")
    low = {f"bore__{plane}__{at}": ("-14.5", "um from 60 mm") for plane in "AB" for at in ("0", "60", "120")}
    tight = sound(
        **{f"measurement___{k}": v for k, v in high.items()}, **{f"bore___{k}": v for k, v in low.items()}
    )
    picture = probable(tight.case())
    assert picture is not None
    assert picture.mean_label.text == "(44)" and picture.shares[1].text.startswith("above 45: (")


@pytest.mark.django_db
def test_the_fit_page_of_a_record_draws_it_with_its_words(shop: Workshop, fitter: Client) -> None:
    mounting = opened(fitter)
    receive(fitter, mounting)
    measure_at_the_page(fitter, mounting)
    page = fitter.get(f"/mountings/{mounting.id}/measure/?part=fit").content.decode()
    assert "How probable the interference is" in page
    assert re.search(r'<desc id="probable-d">Interference \(\d+\) µm on the mean, 99\.73 % from', page)
