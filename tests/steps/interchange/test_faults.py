"""What is wrong with a case is told with its place, its value, its unit and what would be right."""

from typing import Any

import pytest

from qrecords.steps.interchange.faults import MOST
from qrecords.steps.procedure import STANDARD
from tests.steps.interchange.documents import as_bytes, changed, example, faults_of

SHORT = {**example("short"), "procedure": STANDARD}
ASKED = "/entries/0/body/seen/requirement"
FIELDS = "/entries/1/body/said/fields"
TAP = {
    "kind": "tap",
    "author": "fitter",
    "at_device": "2026-05-04T08:00+02:00",
    "body": {"said": {"what": "heater on"}},
}
SAID = {
    f"{ASKED}/nominal_mm": [
        ("6O", "'6O'", "bore d, 1…2000 mm"),
        ("0", "'0' mm is not possible; allowed: 1…2000 mm", ""),
        (75, "", ""),
        (..., "is not given", ""),
    ],
    f"{ASKED}/outside_mm": [("74", "is not larger than the bore of 75 mm", "up to 3000 mm")],
    f"{ASKED}/shaft_class": [("m55", "no class 'm55' at 75 mm", "m5")],
    f"{ASKED}/seat": [("grounded", "meant ground?", "ground, turned")],
    f"{ASKED}/diameter_mm": [("75", "is not known here", "nominal_mm")],
    f"{FIELDS}/shaft": [
        ("21", "'21'", "a number with its unit, in °C, °F"),
        ("21 K", "'21' K", "°C, °F"),
        ("2l °C", "'2' l °C: is no temperature", "°C, °F"),
        ({"typed": "21", "unit": "C"}, "'C'", "°C, °F"),
        ({"typed": "twenty", "unit": "°C"}, "'twenty' °C", "0…45 °C"),
        ({"state": "forgotten", "reason": "x"}, "'forgotten'", "not done, not possible, not applicable"),
        ({"state": "not done"}, "is not given", ""),
        (21, "21", "text or an object"),
        (None, "null", "text or an object"),
    ],
    f"{FIELDS}/journal.A.0": [
        ("75.017 cm", "'75.017' cm", "mm, um, in, um from 75 mm"),
        ("17 um from 80 mm", "'17' um from 80 mm", "um from 75 mm"),
        ("75.017", "'75.017'", "a number with its unit"),
        ("9999999999 mm", "further than any reading", "in base units"),
    ],
    f"{FIELDS}/journal.A.181": [("75.017 mm", "as journal.A.60", "1[0-7][0-9]")],
    f"{FIELDS}/shaft_temp": [("21 °C", "meant shaft?", "journal.A.60")],
    f"{FIELDS}/gauge": [
        ("micrometer 5", "'micrometer 5': is not known under gear", "micrometer 4, master 75"),
        ("master 75", "is a setting master", "outside micrometer"),
    ],
    "/entries/1/body/said/step": [("measurment", "meant measurement?", "identification, ")],
    "/entries/1/kind": [("captur", "meant capture?", "mounting, capture, ")],
    "/entries/1/author": [(..., "is not given", ""), (7, "7", "text or an object")],
    "/entries/1/at_device": [
        (..., "is not given", "at_device or at_server"),
        ("2026-05-04T07:40", "'2026-05-04T07:40'", "a moment with its zone"),
        ("2026-02-30T07:40Z", "'2026-02-30T07:40Z'", "a moment of the calendar"),
        (None, "null", "a moment with its zone"),
    ],
    "/entries/2/id": [("/entries/1", "names two entries", "")],
    "/entries/2/prev": [("opening", "'opening'", "the id of an entry of this case")],
    "/gear/micrometer 4/expanded_u": [("1.5", "'1.5'", "a whole number"), (-1, "-1", "0…")],
    "/gear/micrometer 4/kind": [("micrometer", "meant", "outside micrometer")],
    "/gear/micrometer 4/range_nm": [([5, 5], "5 nm: is not above 5 nm, where it measures from", "")],
    "/version": [(2, "2", "1…1")],
    "/form": [("case", "'case'", "mounting case")],
    "/entries": [([], "0 of them", "1 to "), ({}, "an object", "a list")],
    "/procedure": [({}, "is not given", "")],
    "/procedure/decision_rule/guard_factor": [
        ("11", "11 u", "0…10 u"),
        ("-1", "-1 u", "0…10 u"),
        ("1,65 u", "'1,65 u'", "multiples of u"),
    ],
    "/procedure/limits/house_cap_c": [(1200, "1200 °C", "0…400 °C")],
    "/files": [({"0" * 64: {"media": "text/csv", "text": "x"}}, "is the SHA-256 of what stands here", "")],
}
ROWS = [(at, *row) for at, rows in SAID.items() for row in rows]


@pytest.mark.parametrize(
    ("at", "value", "told", "allowed"), ROWS, ids=[f"{r[0]}={r[1]!r}"[:90] for r in ROWS]
)
def test_a_fault_is_told_with_its_place(at: str, value: Any, told: str, allowed: str) -> None:
    found = faults_of(changed(SHORT, at, value))
    if not told:
        assert found == ()
        return
    assert found
    near = [fault for fault in found if fault.at.startswith(at)]
    assert near, [str(fault) for fault in found]
    assert told in str(near[0]) and allowed in str(near[0]), str(near[0])


def test_a_number_beyond_every_model_is_a_named_fault() -> None:
    """No heater is uncertain by a million kelvin, and no log is judged by it."""
    (fault,) = faults_of(changed(example("whole"), "/gear/heater 1/expanded_u", 10**9))
    assert fault.code == "beyond"
    assert "temperature uncertainty" in str(fault) and "is outside 0 to 50000 mK" in str(fault)


def test_several_faults_are_told_at_once() -> None:
    wrong = changed(SHORT, f"{FIELDS}/shaft", "21")
    wrong = changed(wrong, f"{FIELDS}/journal.A.0", 75)
    wrong = changed(wrong, "/entries/2/author", ...)
    assert {fault.at for fault in faults_of(wrong)} == {
        f"{FIELDS}/shaft",
        f"{FIELDS}/journal.A.0",
        "/entries/2/author",
    }


def test_several_readings_that_yield_no_quantity_are_told_at_once() -> None:
    wrong = changed(changed(SHORT, f"{FIELDS}/shaft", "21 K"), f"{FIELDS}/journal.A.0", "1 cm")
    assert [fault.at for fault in faults_of(wrong)] == [f"{FIELDS}/shaft", f"{FIELDS}/journal.A.0"]


def test_no_more_faults_are_told_than_anybody_mends_at_once() -> None:
    wrong = {**SHORT, "entries": [SHORT["entries"][0], *([{"kind": "tap"}] * 1000)]}
    assert len(faults_of(wrong)) == MOST


def test_the_first_entry_opens_the_mounting() -> None:
    (fault,) = faults_of({**SHORT, "entries": [TAP]})
    assert (fault.at, fault.allowed) == ("/entries/0/kind", "mounting: the first entry says what is asked")


NOT_JSON = {
    "nothing": (b"", "a case document in JSON"),
    "spaces": (b" \n ", "a case document in JSON"),
    "a word": (b"hello", "line 1, column 1"),
    "half of it": (as_bytes(SHORT)[:-40], "line 1, column"),
    "a comma too many": (b'{\n "form": 1,\n}', "line 3, column 1"),
    "UTF-16": ('{"form": "é"}'.encode("utf-16"), "byte 0xff at 0: is not UTF-8"),
    "Latin-1": ('{"form": "é"}'.encode("latin-1"), "byte 0xe9 at 10: is not UTF-8"),
    "a photo": (b"\xff\xd8\xff\xe0", "is not UTF-8"),
    "a number alone": (b"7", "an object"),
    "a list": (b"[]", "an object"),
    "NaN": (b'{"about": NaN}', "/about: NaN: is no number"),
    "infinity": (b'{"form": [-Infinity]}', "/form/0: -Infinity: is no number"),
    "a fraction": (b'{"about": 60.5}', "/about: 60.5: a number with a fraction"),
    "an exponent": (b'{"files": 1e400}', "/files: 1e400: a number with a fraction"),
    "a huge number": (b'{"form": [' + b"9" * 100_000 + b"]}", "whole numbers up to"),
    "one past the largest": (b'{"form": 9007199254740992}', "/form: 9007199254740992: allowed"),
    "a name that stands twice": (b'{"a": {"b/c": 1, "b/c": 1}}', "/a/b~1c: stands twice in one object"),
    "half of a surrogate pair": (b'{"form": "\\ud800"}', "/form: holds half of a surrogate pair"),
    "a null character": (b'{"form": "a\\u0000"}', "/form: holds a null character"),
    "a name that is not ASCII": ('{"ä": 1}'.encode(), "names in printable ASCII"),
    "too deep": (b'{"form": ' + b"[" * 60 + b"]" * 60 + b"}", "deeper than 40 levels"),
    "far too deep": (b"[" * 1_000_000, "deeper than 40 levels"),
    "too large": (b" " * 16_000_001, "more than 16,000,000 bytes"),
}  # fmt: skip


@pytest.mark.parametrize(("raw", "told"), NOT_JSON.values(), ids=NOT_JSON)
def test_what_is_no_case_at_all_is_told_as_well(raw: bytes, told: str) -> None:
    assert any(told in str(fault) for fault in faults_of(raw)), [str(fault) for fault in faults_of(raw)]


def test_a_byte_order_mark_and_decomposed_letters_are_no_fault() -> None:
    text = as_bytes({**SHORT, "about": "e\u0301"})
    assert faults_of(b"\xef\xbb\xbf" + text) == ()
