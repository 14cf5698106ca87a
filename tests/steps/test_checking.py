"""A check takes the place of what can be measured again, and of nothing that happened hot."""

from typing import Any

import pytest

from qrecords.steps.checking import MEASURED_AGAIN
from qrecords.steps.standard import STEPS
from qrecords.steps.transitions import refuse_sign
from tests.steps.casebook import Book, Line, sound


def checked(book: Book, step: str, key: str, answer: Any) -> Line:
    standing = book.case().said(step, key.replace("__", "."))
    assert standing is not None
    return book.say(step, author="inspector", check=True, prev=standing.entry, **{key: answer})


@pytest.mark.parametrize(
    ("step", "key", "told", "checked_as", "characteristic"),
    [
        ("heating", "peak", ("148", "°C"), ("110", "°C"), "peak temperature"),
        ("heating", "probe", "outer ring", "inner ring", "probe-on-inner-ring"),
        ("seating", "hammered", "yes", "no", "not-hammered"),
        ("seating", "dropped", "yes", "no", "not dropped"),
        ("seating", "went_home", "stuck", "in one move", "went home"),
        ("preparation", "fillet", "too large", "clears the ring", "fillet-clears"),
    ],
)
def test_what_happened_stays_as_who_did_it_told_it(
    step: str, key: str, told: Any, checked_as: Any, characteristic: str
) -> None:
    book = sound(**{f"{step}___{key}": told})
    before = book.flags()[characteristic]
    beside = checked(book, step, key, checked_as)
    assert book.flags()[characteristic] == before
    assert book.case().checks[step][key].entry == beside.id


def test_a_check_brings_no_answer_that_the_work_never_gave() -> None:
    book = sound(heating___peak=None)
    setup = book.case().said("heating", "setup").entry  # type: ignore[union-attr]
    said: dict[str, Any] = {"setup": "on the core leg", "peak": ("95", "°C")}
    book.say("heating", author="inspector", check=True, prev=setup, **said)
    assert book.findings()["peak temperature"].verdict == "missing"


@pytest.mark.parametrize(
    ("step", "key", "answer"),
    [
        ("measurement", "journal__A__0", ("20", "um from 60 mm")),
        ("bore", "bore__A__0", ("-5", "um from 60 mm")),
        ("shoulder_gap", "gap__90", ("0.05", "mm")),
        ("demagnetisation", "field", ("1.5", "A/cm")),
        ("clearance_after", "g1", ("17", "um")),
    ],
)
def test_what_can_be_measured_again_is_and_goes_back_to_the_fitter(step: str, key: str, answer: Any) -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    again = checked(book, step, key, answer)
    assert book.case().said(step, key.replace("__", ".")).entry == again.id  # type: ignore[union-attr]
    assert refuse_sign(book.case(), "inspector", ()).code == "worked-since-ready"  # type: ignore[union-attr]
    assert "inspector" not in book.case().worked_by


def test_a_check_beside_the_work_sends_nothing_back() -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    book.say("measurement", author="inspector", check=True, journal__A__0=("20", "um from 60 mm"))
    checked(book, "heating", "peak", ("96", "°C"))
    assert refuse_sign(book.case(), "inspector", ()) is None


def test_every_field_that_is_measured_again_exists() -> None:
    for step, keys in MEASURED_AGAIN.items():
        assert keys <= set(STEPS[step].by_id)
