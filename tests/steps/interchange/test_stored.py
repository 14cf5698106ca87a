"""A case as a ledger holds it: judged as the record itself is, entry by entry, digest by digest."""

import copy
from typing import Any

import pytest

from qrecords.steps.findings import Finding
from qrecords.steps.standard import all_findings
from tests.steps.casebook import Book, sound
from tests.steps.interchange.documents import changed, faults_of, judged, stored

NEWER = {"kind": "weighing", "body": {"said": {"mass": "1.2"}, "seen": {}}}


def of_record(book: Book) -> list[str]:
    findings: list[Finding] = all_findings(book.case())
    return [finding.digest for finding in findings]


def digests(document: Any) -> list[str]:
    return [finding["digest"] for finding in judged(document)["findings"]]


@pytest.mark.parametrize(
    "changes", [{}, {"measurement___shaft": ("29", "°C")}, {"heating___peak": ("131", "°C")}]
)
def test_it_gives_the_findings_of_the_record_to_the_last_digest(changes: dict[str, Any]) -> None:
    book = sound(**changes)
    document = stored(book)
    assert digests(document) == of_record(book)
    assert judged(document)["doubts"] == [] or changes


def test_an_entry_of_a_kind_that_is_not_known_is_kept_as_unread() -> None:
    document = stored(sound())
    newer = {**copy.deepcopy(document["entries"][-1]), **NEWER, "id": "newer"}
    answer = judged({**document, "entries": [*document["entries"], newer]})
    assert answer["unread"] == ["newer"]
    assert [f["digest"] for f in answer["findings"]] == digests(document)


def test_a_known_kind_in_a_form_that_cannot_be_read_is_unread_too() -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if e["kind"] == "tap")
    answer = judged(changed(document, f"/entries/{place}/body/said", {"touched": "heater on"}))
    assert document["entries"][place]["id"] in answer["unread"]


def test_a_step_a_field_and_a_word_of_a_newer_program_pass() -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if e["kind"] == "capture")
    at = f"/entries/{place}/body/said"
    word = {"typed": "melted", "unit": "", "value": "melted"}
    for more in (
        changed(document, f"{at}/fields/colour", word),
        changed(document, f"{at}/fields/package", word),
        changed(document, f"{at}/step", "polishing"),
    ):
        assert faults_of(more) == ()


def test_an_entry_that_is_not_what_its_leaf_hash_says_is_judged_and_told() -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if "journal.A.0" in str(e["body"]))
    key = f"/entries/{place}/body/said/fields/journal.A.0"
    answer = judged(changed(document, key, {"typed": "18.5", "unit": "um from 60 mm", "value": 60_018_500}))
    assert [(doubt["at"], doubt["code"]) for doubt in answer["doubts"]] == [
        (f"/entries/{place}/leaf", "altered")
    ]
    assert answer["measured"]["journal"]["points"][0]["deviation_nm"] == 18_500


def test_an_entry_without_its_version_is_one_written_by_hand_and_may_be_changed_freely() -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if "journal.A.0" in str(e["body"]))
    for name in ("v", "leaf", "kind", "id"):
        if name in ("v", "leaf"):
            document = changed(document, f"/entries/{place}/{name}", ...)
    key = f"/entries/{place}/body/said/fields/journal.A.0"
    answer = judged(changed(document, key, "18.5 um from 60 mm"))
    assert answer["doubts"] == []
    assert answer["measured"]["journal"]["points"][0]["deviation_nm"] == 18_500


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("journal.A.0", {"typed": "18", "unit": "um", "value": "eighteen"}, "type"),
        ("journal.A.0", {"typed": "18", "unit": "um", "value": 2**52}, "range"),
        ("journal.Q", {"typed": "18", "unit": "um", "value": 18_000}, "unknown"),
    ],
)
def test_what_no_rule_could_judge_is_a_fault_with_its_place(field: str, value: Any, code: str) -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if "journal.A.0" in str(e["body"]))
    at = f"/entries/{place}/body/said/fields/{field}"
    found = faults_of(changed(document, at, value))
    assert [(fault.at.removesuffix("/value"), fault.code) for fault in found] == [(at, code)]


def test_gear_that_was_named_and_is_not_frozen_is_a_fault() -> None:
    document = stored(sound())
    place = next(n for n, e in enumerate(document["entries"]) if "journal.A.0" in str(e["body"]))
    found = faults_of(changed(document, f"/entries/{place}/body/seen/gear/gauge", ...))
    assert [(fault.at, fault.code) for fault in found] == [
        (f"/entries/{place}/body/said/fields/gauge", "gear")
    ]
