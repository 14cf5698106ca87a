"""Folding: later answers stand, earlier ones stay readable, nothing unknown is dropped; states follow."""

from dataclasses import replace
from typing import Any

import pytest

from qrecords.steps.answers import Absent
from qrecords.steps.answers import State as AnswerState
from qrecords.steps.runs import runs
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import (
    State,
    closes,
    refuse_decision,
    refuse_ready,
    refuse_release,
    refuse_return,
    refuse_sign,
    state_of,
    undecided,
)
from tests.cast import REQUIREMENT
from tests.steps.casebook import Book, journal_fields, measure, sound


def test_a_later_answer_stands_and_the_rest_of_the_step_stays() -> None:
    book = Book()
    first = book.say("identification", marking="6212", package="intact")
    book.say("identification", marking="6212 C3", prev=first.id)
    case = book.case()
    assert case.said("identification", "marking").word == "6212 C3"  # type: ignore[union-attr]
    assert case.said("identification", "package").entry == first.id  # type: ignore[union-attr]


def test_a_check_that_names_what_it_replaces_stands_in_its_place() -> None:
    book = Book()
    first = book.say("identification", marking="6212")
    book.say("identification", author="inspector", check=True, prev=first.id, marking="6212 C3")
    assert book.case().said("identification", "marking").author == "inspector"  # type: ignore[union-attr]


def test_who_checks_has_not_worked() -> None:
    book = Book()
    book.say("identification", author="inspector", check=True, marking="6212 C3")
    assert book.case().worked_by == frozenset()


def test_an_entry_of_an_unknown_kind_is_kept_as_unread() -> None:
    book = Book()
    line = book.enter("from a later version", {"x": 1})
    assert book.case().unread == (line.id,)


def test_an_undone_tap_is_struck_out() -> None:
    book = Book()
    tap = book.tap("heater on")
    book.enter("tap", {"what": "undo"}, prev=tap.id)
    assert book.case().taps == ()


def test_a_case_is_asked_once_and_a_varied_one_anew() -> None:
    case = sound().case()
    heated = runs(case)
    assert runs(case) is heated
    assert case.gear("measurement", "gauge") is case.gear("measurement", "gauge")
    assert runs(replace(case, taps=())) == ()


def ready(book: Book) -> Book:
    book.enter("signature", {"meaning": "performed"})
    return book


def test_the_states_of_a_mounting_follow_from_its_entries() -> None:
    book = Book()
    assert state_of(book.case()) == State.OPEN
    assert state_of(ready(book).case()) == State.READY
    book.enter("return", {"items": [{"about": "blade", "reason": "blurred"}]}, author="inspector")
    assert state_of(book.case()) == State.RETURNED
    assert state_of(ready(book).case()) == State.READY
    book.enter("signature", {"meaning": "inspected"}, author="inspector")
    assert state_of(book.case()) == State.SIGNED_OFF


def decide(book: Book, kind: str, closing: str = "") -> None:
    findings = [f.digest for f in book.findings().values() if f.verdict != "conforming"]
    said = {"decision": kind, "findings": findings, "conditions": ""}
    book.enter("decision", said, {"closes": closing}, author="engineer", reason="hardness measured")


def test_scrap_closes_always_and_rework_once_the_ring_is_on() -> None:
    before, after = Book(), sound()
    assert (closes(before.case(), "scrap"), closes(before.case(), "rework")) == (State.SCRAPPED, "")
    assert closes(after.case(), "rework") == State.REWORKED


def test_another_bearing_before_heat_is_another_mounting_and_a_reground_journal_is_not() -> None:
    book = Book(requirement={**REQUIREMENT, "clearance_group": "N"})
    measure(book, **journal_fields({"A": ("33", "33", "33")}, "um from 60 mm"))
    book.say("bore", source="from class")
    forecast, journal = book.rule("clearance-forecast"), book.rule("journal-size")
    assert {f.verdict.value for f in (*forecast, *journal)} == {"nonconforming"}
    assert closes(book.case(), "rework", forecast) == State.REWORKED
    assert closes(book.case(), "rework", forecast + journal) == ""
    assert closes(book.case(), "measure again", forecast) == ""


def test_who_worked_neither_releases_decides_returns_nor_signs() -> None:
    case = ready(sound()).case()
    for refusal in (
        refuse_release(case, "fitter", "fit", ()),
        refuse_decision(case, "fitter", "accept", ()),
        refuse_return(case, "fitter"),
        refuse_sign(case, "fitter", ()),
    ):
        assert refusal is not None
        assert refusal.code == "not-independent"


def test_nothing_is_signed_before_ready_nor_with_an_open_finding() -> None:
    book = sound(running___turns="rough")
    assert refuse_sign(book.case(), "inspector", ()).code == "not-ready"  # type: ignore[union-attr]
    case = ready(book).case()
    findings = list(book.findings().values())
    assert refuse_sign(case, "inspector", findings).code == "open-findings"  # type: ignore[union-attr]


def test_a_concession_settles_exactly_the_finding_with_these_numbers() -> None:
    book = sound(heating___peak=("134", "°C"))
    decide(book, "concession")
    assert undecided(book.case(), book.findings().values()) == []
    peak = book.case().said("heating", "peak").entry  # type: ignore[union-attr]
    book.say("heating", prev=peak, peak=("135", "°C"))
    again = undecided(book.case(), book.findings().values())
    assert "peak temperature" in [finding.characteristic for finding in again]


def test_measure_again_and_rework_settle_nothing() -> None:
    book = sound(running___turns="rough")
    decide(book, "measure again")
    assert len(undecided(book.case(), book.findings().values())) == 1


def test_a_release_is_refused_while_a_finding_of_its_hold_is_open() -> None:
    book = sound(running___turns="rough")
    finding = book.rule("turns-freely")
    assert refuse_release(book.case(), "inspector", "fit", finding).code == "open-findings"  # type: ignore[union-attr]


def test_a_reworked_journal_is_released_once_the_inspector_measured_every_place() -> None:
    book = Book()
    measure(book, **journal_fields(dict.fromkeys("ABC", ("6", "6", "6")), "um from 60 mm"))
    size = [finding.digest for finding in book.rule("journal-size")]
    said = {"decision": "rework", "findings": size, "conditions": ""}
    seen = {"closes": "", "rows": dict.fromkeys(size, "journal-undersize")}
    book.enter("decision", said, seen, author="engineer", reason="sprayed and ground")

    def told() -> str:
        refusal = refuse_release(book.case(), "inspector", "fit", ())
        return refusal.code if refusal else ""

    def checked(**fields: Any) -> None:
        book.say("measurement", author="inspector", check=True, **fields)

    assert told() == "remeasure"
    checked(air=("20", "°C"), shaft=("20", "°C"))
    assert told() == "remeasure"
    places = journal_fields(dict.fromkeys("ABC", ("17", "17", "17")), "um from 60 mm")
    last = places.popitem()
    checked(**places)
    assert told() == "remeasure"
    checked(**{last[0]: Absent(AnswerState.NOT_POSSIBLE, "no room")})
    assert told() == "remeasure"
    checked(**dict([last]))
    assert told() == ""


def test_who_authored_a_reading_grants_no_concession_that_rests_on_it() -> None:
    book = sound()
    felt = book.case().said("shoulder_gap", "gap.180")
    book.say("shoulder_gap", author="engineer", check=True, prev=felt.entry, gap__180=("0.1", "mm"))  # type: ignore[union-attr]
    finding = book.rule("shoulder-gap")
    refusal = refuse_decision(book.case(), "engineer", "concession", finding)
    assert refusal is not None
    assert refusal.code == "own-reading"


def test_an_empty_record_is_not_ready() -> None:
    assert refuse_ready(Book().case(), "fitter").code == "nothing-recorded"  # type: ignore[union-attr]


def test_performed_is_signed_by_who_performed_a_part_of_it() -> None:
    book = Book()
    book.say("identification", marking="6212 C3")
    assert refuse_ready(book.case(), "another fitter").code == "not-performed"  # type: ignore[union-attr]
    assert refuse_ready(book.case(), "fitter") is None
    book.say("preparation", author="another fitter", wiped="yes")
    assert refuse_ready(book.case(), "another fitter") is None


@pytest.mark.parametrize("closing", [State.SCRAPPED, State.REWORKED])
def test_a_closed_mounting_is_decided_no_more(closing: State) -> None:
    book = sound()
    decide(book, "scrap", closing)
    assert state_of(book.case()) == closing
    assert refuse_decision(book.case(), "engineer", "accept", ()).code == "closed"  # type: ignore[union-attr]


def test_a_check_that_corrects_a_check_stays_beside_the_work() -> None:
    book = Book()
    book.say("identification", marking="6212 C3")
    first = book.say("identification", author="inspector", check=True, marking="6212")
    book.say("identification", author="inspector", check=True, prev=first.id, marking="6212 C3")
    case = book.case()
    assert case.said("identification", "marking").author == "fitter"  # type: ignore[union-attr]
    assert case.checks["identification"]["marking"].word == "6212 C3"


def test_once_the_ring_is_on_nothing_before_heat_can_be_measured_again() -> None:
    book = sound()
    journal = RULES["journal-size"]
    assert "measure again" not in journal.decisions(book.rule("journal-size")[0], book.case())
    assert "measure again" in journal.decisions(book.rule("journal-size")[0], Book().case())


def test_an_unread_marking_is_read_and_never_decided() -> None:
    book = Book()
    assert RULES["own-reading"].decisions(book.rule("own-reading")[0], book.case()) == ()


@pytest.mark.parametrize(
    ("kind", "said", "seen"),
    [
        ("capture", {"step": "running", "role": "work", "fields": {"turns": {"volume": 11}}}, {}),
        ("capture", {"step": "running", "role": "work"}, {}),
        ("tap", {}, {}),
        ("release", {"hold": "fit"}, {}),
        ("decision", {"decision": "accept", "findings": None, "conditions": ""}, {"closes": ""}),
        ("elsewhere", {}, {"other_end": 5}),
        ("weather", {"rain": "yes"}, {}),
    ],
)
def test_what_a_newer_form_says_is_kept_as_unread_and_the_rest_is_read(
    kind: str, said: dict[str, object], seen: dict[str, object]
) -> None:
    book = Book()
    newer = book.enter(kind, said, seen)
    book.say("running", turns="smooth")
    case = book.case()
    assert case.unread == (newer.id,)
    assert case.said("running", "turns") is not None


def test_who_recorded_work_in_a_newer_form_has_worked() -> None:
    book = Book()
    book.enter("capture", {"step": "cryogenics"}, {}, author="inspector")
    assert "inspector" in book.case().worked_by
