"""The same of steps that procedures choose: a finding that changes with an answer had named its capture."""

from copy import copy

import pytest

from qrecords.steps.work import CHOSEN
from tests.steps.casebook import Book, everything, sound
from tests.steps.test_inputs import one_answer_an_entry, others, unnamed


def chosen_whole() -> Book:
    return one_answer_an_entry(sound(procedure=everything(), heating___cross_check=("94", "°C")))


@pytest.mark.parametrize("step", [*CHOSEN, "measurement", "heating", "clearance_after"])
def test_a_finding_that_changes_with_one_answer_had_named_the_capture(step: str) -> None:
    book = chosen_whole()
    before, changed = book.findings(), copy(book)
    missed: dict[str, set[str]] = {}
    for place, line in enumerate(list(book.lines)):
        if line.kind != "capture" or line.payload["body"]["said"]["step"] != step:
            continue
        rest = book.lines[:place], book.lines[place + 1 :]
        for other in [None, *others(line)]:
            changed.lines = [*rest[0], *([other] if other else []), *rest[1]]
            for name in unnamed(before, changed.findings(), line.id, gone=other is None):
                missed.setdefault(name, set()).add(line.id)
    assert missed == {}
