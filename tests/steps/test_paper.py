"""What was written on paper and entered later: nothing of it is proved by a clock, and nobody is accused."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from qrecords.steps.errors import LineError
from qrecords.steps.findings import Verdict
from qrecords.steps.marks import read_marks
from qrecords.steps.paper import names, plain_reference, short_reference
from qrecords.steps.runs import runs
from tests.steps.casebook import Book, Line, sound

AS_WRITTEN = {"heater on": "10:00", "lifted off": "10:04", "home": "10:05", "let go": "10:06"}
PHOTO = {"shot": "paper_sheet", "sha256": "ab" * 32, "size": 1, "media": "image/jpeg"}


def paper_sheet(book: Book, by: str = "fitter", *, received: bool = True) -> str:
    sheet = book.enter("paper sheet", {"by": by, "day": "2026-03-02", "from": "camera"}, files=(PHOTO,))
    if received:
        book.enter("file received", {"sha256": PHOTO["sha256"]})
    return sheet.id


def with_said(line: Line, **more: Any) -> Line:
    body = line.payload["body"]
    return replace(line, payload={**line.payload, "body": {**body, "said": {**body["said"], **more}}})


def on_paper(
    book: Book,
    *,
    reference: str | None = None,
    seconds: Mapping[str, str] = AS_WRITTEN,
    photo_late: bool = True,
    received: bool = True,
) -> Book:
    """The same record, all work of it entered from one sheet that was handed in before anything else; a photo
    of the sheet as it was in the end came behind the release."""
    leaf = next(line.leaf for line in book.lines if line.kind == "release")
    named = short_reference(leaf) if reference is None else reference
    first, *rest = book.lines
    book.lines = [first]
    paper_sheet(book, received=received)
    sheet = "s1"
    book.lines[1:] = [replace(line, id=f"s{n}") for n, line in enumerate(book.lines[1:], start=1)]
    for line in rest:
        said = line.payload["body"]["said"]
        if line.kind == "capture" and said["role"] == "work":
            book.lines.append(with_said(line, paper={"sheet": sheet, "written": "2026-03-02 10:00"}))
        elif line.kind == "tap":
            written = f"2026-03-02 {seconds[said['what']]}"
            paper = {"sheet": sheet, "written": written, "reference": named}
            book.lines.append(with_said(line, paper=paper, release=""))
        else:
            book.lines.append(line)
    return again(book) if photo_late else book


def again(book: Book) -> Book:
    """The sheet photographed once more."""
    file = {**PHOTO, "sha256": "cd" * 32}
    book.enter("paper sheet", {"by": "fitter", "day": "2026-03-02", "from": "camera"}, files=(file,))
    book.enter("file received", {"sha256": file["sha256"]})
    return book


def released(book: Book) -> tuple[Verdict, str]:
    found = book.findings()["fit released before heat"]
    return found.verdict, found.message.partition(".")[2]


def test_a_reference_is_written_by_hand_with_gaps_in_any_case() -> None:
    assert plain_reference("3F9A 12-BC") == "3f9a12bc"
    assert names("3F9A 12BC", "3f9a12bc" + "0" * 56)
    assert not names("3f9a 12b", "3f9a12bc" + "0" * 56), "too short to name one"
    assert not names("", "0" * 64)
    assert not names("3f9a 12bd", "3f9a12bc" + "0" * 56)


def test_a_sound_job_on_paper_is_as_sound_as_on_the_tablet() -> None:
    book = on_paper(sound())
    assert book.flags() == sound().flags()
    assert released(book) == (Verdict.CONFORMING, "paper")
    assert book.findings()["paper sheet 1"].verdict == Verdict.CONFORMING


def test_readings_typed_in_a_rush_from_paper_are_no_query_for_they_were_noted_first() -> None:
    def hurried() -> Book:
        book = sound()
        journal = next(
            n
            for n, line in enumerate(book.lines)
            if line.payload["body"]["said"].get("step") == "measurement"
        )
        fields = book.lines[journal].payload["body"]["said"]["fields"]
        keys = [key for key in fields if key.startswith("journal.")]
        rest = {key: value for key, value in fields.items() if key not in keys}
        split = [with_said(book.lines[journal], fields=rest)]
        split += [
            replace(with_said(book.lines[journal], fields={key: fields[key]}), id=f"r{n}")
            for n, key in enumerate(keys)
        ]
        book.lines[journal : journal + 1] = split
        return book

    assert "speed of readings" in hurried().findings(), "nine readings in one moment"
    assert "speed of readings" not in on_paper(hurried()).findings()


def test_on_paper_cold_checks_stand_behind_heat_in_whatever_order_they_are_entered() -> None:
    book = on_paper(sound())
    cold = [
        n for n, line in enumerate(book.lines) if line.payload["body"]["said"].get("step") == "shoulder_gap"
    ]
    gap = book.lines.pop(cold[0])
    heat = next(n for n, line in enumerate(book.lines) if line.kind == "tap")
    book.lines.insert(heat, gap)
    assert book.findings()["shoulder gap"].verdict == Verdict.CONFORMING
    assert book.findings()["cold when checked"].verdict == Verdict.CONFORMING


def test_times_written_to_the_minute_measure_no_pressing_and_no_carrying() -> None:
    case = on_paper(sound()).case()
    assert runs(case)[0].pressed_ms is None
    assert runs(case)[0].carried_ms is None
    assert "pressed home" not in on_paper(sound()).findings()
    short = {"heater on": "10:00:00", "lifted off": "10:04:00", "home": "10:04:10", "let go": "10:04:12"}
    book = on_paper(sound(), seconds=short)
    for n, line in enumerate(book.lines):
        if line.kind == "tap":
            written = line.payload["body"]["said"]["paper"]["written"].replace(" ", "T") + "+00:00"
            body = {**line.payload["body"], "seen": {"written_at": written}}
            book.lines[n] = replace(line, payload={**line.payload, "body": body})
    assert runs(book.case())[0].pressed_ms == 2000
    assert book.findings()["pressed home"].verdict == Verdict.NOT_PROVEN, "seconds on paper are read"


@pytest.mark.parametrize("reference", ["", "released by M. Delacour 9:50", "ffff ffff"])
def test_heat_on_paper_that_names_no_release_that_stands_here_is_not_proven(reference: str) -> None:
    assert released(on_paper(sound(), reference=reference)) == (Verdict.NOT_PROVEN, "paper-names-none")


def test_a_sheet_filed_before_the_release_it_names_is_photographed_again() -> None:
    book = on_paper(sound(), photo_late=False)
    assert released(book) == (Verdict.NOT_PROVEN, "paper-before")
    assert released(again(book)) == (Verdict.CONFORMING, "paper")


def test_a_release_after_the_heat_was_entered_does_not_conform() -> None:
    book = on_paper(sound(), reference="")
    release = next(n for n, line in enumerate(book.lines) if line.kind == "release")
    book.lines.append(book.lines.pop(release))
    assert released(book) == (Verdict.NONCONFORMING, "later")


def test_the_code_read_back_by_telephone_is_named_on_paper_too() -> None:
    from qrecords.steps.telephone import answer_code, readings_code, readings_of

    plain = sound()
    readings = readings_of(plain.case())
    heard = {
        "code": readings_code("m1", readings), "lowest_nm": min(readings.values()),
        "highest_nm": max(readings.values()), "means": "telephone",
    }  # fmt: skip
    n = next(n for n, line in enumerate(plain.lines) if line.kind == "release")
    body = plain.lines[n].payload["body"]
    said = {**body["said"], **{key: heard[key] for key in heard if key != "means"}}
    payload = {
        **plain.lines[n].payload,
        "body": {"said": said, "seen": {**body["seen"], "means": "telephone"}},
    }
    plain.lines[n] = replace(plain.lines[n], payload=payload)
    book = on_paper(plain, reference=answer_code(plain.lines[n].leaf))
    assert released(book) == (Verdict.CONFORMING, "paper")


def test_a_sheet_without_its_photo_is_missing_it() -> None:
    book = on_paper(sound(), received=False, photo_late=False)
    assert book.findings()["paper sheet 1"].verdict == Verdict.MISSING


def test_who_wrote_the_sheet_worked_on_it_whoever_entered_it() -> None:
    book = sound()
    paper_sheet(book, by="second")
    assert {"fitter", "second"} <= book.case().worked_by
    entry = book.lines[-2].id
    seating = next(line for line in book.lines if line.payload["body"]["said"].get("step") == "seating")
    typed = with_said(seating, paper={"sheet": entry})
    book.lines.append(replace(typed, id="typed"))
    assert book.case().authors["typed"] == "second"
    assert book.case().answers["seating"]["film"].author == "fitter", "who typed it says so too"
    assert "second" not in sound().case().worked_by


def test_a_hand_over_names_both_and_bars_nobody() -> None:
    book = sound()
    book.enter("hand over", {"to": "second", "note": "C still to measure"})
    (handed,) = book.case().hand_overs
    assert (handed.author, handed.to, handed.note) == ("fitter", "second", "C still to measure")
    assert "second" not in book.case().worked_by
    assert book.flags() == sound().flags()


ARROW = {"kind": "arrow", "from": [100, 100], "to": [400, 500]}
CIRCLE = {"kind": "circle", "at": [500, 500], "radius": 80}
WORDS = {"kind": "text", "at": [20, 980], "text": "burr here"}


def test_marks_are_kept_as_numbers_and_read_back_the_same() -> None:
    assert [mark.document() for mark in read_marks([ARROW, CIRCLE, WORDS])] == [ARROW, CIRCLE, WORDS]


@pytest.mark.parametrize(
    ("mark", "field"),
    [
        ({**ARROW, "to": [400]}, "to"),
        ({**ARROW, "to": [400, 1001]}, "to"),
        ({**ARROW, "to": [100, 100]}, "to"),
        ({**ARROW, "from": [-1, 3]}, "from"),
        ({**ARROW, "from": [True, 3]}, "from"),
        ({**ARROW, "from": ["100", 3]}, "from"),
        ({**CIRCLE, "radius": 9}, "radius"),
        ({**CIRCLE, "radius": 0.5}, "radius"),
        ({**CIRCLE, "at": None}, "at"),
        ({**WORDS, "text": " "}, "text"),
        ({**WORDS, "text": "a\nb"}, "text"),
        ({**WORDS, "text": "x" * 61}, "text"),
        ({"kind": "star"}, "kind"),
        ({}, "kind"),
    ],
)
def test_a_mark_that_cannot_be_drawn_is_named_with_its_line(mark: dict[str, Any], field: str) -> None:
    with pytest.raises(LineError) as refused:
        read_marks([CIRCLE, mark])
    assert (refused.value.field, refused.value.line) == (field, 2)
    assert refused.value.allowed


def test_no_more_marks_than_a_picture_bears() -> None:
    assert len(read_marks([CIRCLE] * 20)) == 20
    with pytest.raises(LineError, match="up to 20 marks"):
        read_marks([CIRCLE] * 21)


def test_a_drawing_takes_the_place_of_another_and_both_stay() -> None:
    book = sound()
    photo = "ab" * 32
    first = book.enter("photo marks", {"sha256": photo, "marks": [ARROW]})
    book.enter("photo marks", {"sha256": photo, "marks": [CIRCLE]}, prev=first.id, reason="the other side")
    drawn = book.case().marks
    assert [each.replaced for each in drawn] == [True, False]
    assert book.flags() == sound().flags()
