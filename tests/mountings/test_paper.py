"""Paper, the change of shift and marks on a photo, through the actions."""

import uuid
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from qrecords.ledger.envelope import File
from qrecords.ledger.errors import DifferentContentError, NotRecordedError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.handing import hand_over
from qrecords.mountings.actions.marking import mark_photo
from qrecords.mountings.actions.papering import FromPaper, file_sheet
from qrecords.mountings.actions.recording import Typed, record
from qrecords.mountings.actions.tapping import tap, undo
from qrecords.mountings.errors import FieldsError, NeedsReasonError, RefusedError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.people.models import Competence
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.errors import FieldError, LineError
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.django_db
PHOTO = File("ab" * 32, 1, "image/jpeg", "paper_sheet")
DAY = "2026-03-02"
ARROW = {"kind": "arrow", "from": [100, 100], "to": [400, 500]}


def job() -> Job:
    return start(make_workshop())


def sheet_of(job: Job, by: str = "fitter", who: str = "fitter", **changes: Any) -> Entry:
    told: dict[str, Any] = {"day": DAY, "photos": [PHOTO], "by": job.shop.people[by], "entry_id": new_id()}
    return file_sheet(acting=job.shop.acting(who), mounting=job.mounting, **(told | changes))


def intact(job: Job, paper: FromPaper | None, who: str = "fitter") -> Entry:
    return record(
        acting=job.shop.acting(who), mounting=job.mounting, entry_id=new_id(), step_id="preparation",
        given={"wiped": Typed("yes")}, paper=paper,
    )  # fmt: skip


def payload(entry: Entry) -> dict[str, Any]:
    found: dict[str, Any] = parse_canonical(bytes(entry.payload))
    return found


def test_what_is_entered_from_paper_says_so_with_the_time_as_written() -> None:
    on = job()
    sheet = sheet_of(on)
    entry = intact(on, FromPaper(sheet.id, f"{DAY} 07:45"))
    assert payload(entry)["body"]["said"]["paper"] == {"sheet": str(sheet.id), "written": f"{DAY} 07:45"}
    answered = case_of(on.mounting).answers["preparation"]["wiped"]
    assert answered.at == datetime(2026, 3, 2, 6, 45, tzinfo=UTC), "in the zone it was entered in"
    assert payload(entry)["at_device"] is None, "no clock of a device is made up"
    assert payload(entry)["body"]["seen"]["days"] == [DAY, DAY]


def test_a_sheet_without_times_stands_on_its_own_day() -> None:
    on = job()
    sheet = sheet_of(on, day="2026-02-27")
    entry = intact(on, FromPaper(sheet.id))
    assert payload(entry)["body"]["seen"]["days"] == ["2026-02-27", DAY]
    assert "written_at" not in payload(entry)["body"]["seen"]


@pytest.mark.parametrize(
    "written", ["7:45", "2026-02-30 07:45", "2026-03-02 25:00", "yesterday", "9999-99-99"]
)
def test_a_day_or_time_that_is_none_is_asked_back(written: str) -> None:
    on = job()
    sheet = sheet_of(on)
    with pytest.raises(FieldsError, match="HH:MM:SS"):
        intact(on, FromPaper(sheet.id, written))


def test_a_sheet_of_another_mounting_is_none_of_this_one() -> None:
    on = job()
    with pytest.raises(NotRecordedError):
        intact(on, FromPaper(new_id()))


def test_the_competence_is_of_who_wrote_it_on_the_day_it_was_written() -> None:
    on = job()
    second = on.shop.people["second_fitter"]
    sheet = sheet_of(on, by="second_fitter")
    Competence.objects.filter(person=second).delete()
    on.shop.clock += timedelta(hours=3)
    entry = record(
        acting=on.shop.acting("fitter"), mounting=on.mounting, entry_id=new_id(), step_id="measurement",
        given={"shaft": Typed("20", "°C")}, paper=FromPaper(sheet.id, f"{DAY} 10:00"),
    )  # fmt: skip
    assert payload(entry)["body"]["seen"]["competence"] == "none"


def test_who_wrote_it_and_who_entered_it_are_both_barred_from_signing() -> None:
    on = job()
    sheet_of(on, by="second_fitter")
    assert case_of(on.mounting).worked_by == {
        str(on.shop.people[name].id) for name in ("fitter", "second_fitter")
    }


@pytest.mark.parametrize("by", ["inspector", "auditor"])
def test_only_who_records_work_writes_a_sheet(by: str) -> None:
    with pytest.raises(FieldsError, match="records work"):
        sheet_of(job(), by=by)


@pytest.mark.parametrize("day", ["2026-03-04", "soon", "2026-02-30"])
def test_a_day_to_come_is_asked_back(day: str) -> None:
    with pytest.raises(FieldsError, match="up to today"):
        sheet_of(job(), day=day)


def test_a_sheet_sent_twice_is_one() -> None:
    on = job()
    id = new_id()
    assert sheet_of(on, entry_id=id) == sheet_of(on, entry_id=id)
    with pytest.raises(DifferentContentError):
        sheet_of(on, entry_id=id, day="2026-03-01")


def test_a_signed_record_takes_no_sheet() -> None:
    on = job()
    on.whole()
    with pytest.raises(RefusedError):
        sheet_of(on)


def heater_on(on: Job, paper: FromPaper) -> Entry:
    return tap(
        acting=on.shop.acting("fitter"),
        mounting=on.mounting,
        entry_id=new_id(),
        what="heater on",
        paper=paper,
    )


def test_heat_written_on_paper_names_its_release_by_hand() -> None:
    on = job()
    on.receive()
    on.measure()
    on.bore()
    on.own_reading()
    leaf = on.leaf(on.release())
    sheet = sheet_of(on)
    heater_on(on, FromPaper(sheet.id, f"{DAY} 09:00", f"{leaf[:4].upper()} {leaf[4:8]}"))
    found = on.finding("fit released before heat")
    assert (found.verdict.value, found.message) == ("conforming", "released-before-heat.paper")


def test_a_tap_typed_wrong_from_paper_is_struck_out_whenever_it_is_seen() -> None:
    on = job()
    sheet = sheet_of(on)
    wrong = heater_on(on, FromPaper(sheet.id, f"{DAY} 05:00"))
    undo(acting=on.shop.acting("fitter"), mounting=on.mounting, entry_id=new_id(), tap_id=wrong.id)
    assert case_of(on.mounting).taps == ()


def give(
    on: Job, to: str = "second_fitter", who: str = "fitter", note: str = "", id: uuid.UUID | None = None
) -> Entry:
    return hand_over(
        acting=on.shop.acting(who), mounting=on.mounting, entry_id=id or new_id(), to=on.shop.people[to],
        note=note,
    )  # fmt: skip


def test_a_hand_over_puts_it_on_the_list_of_the_next_and_names_both() -> None:
    on = job()
    entry = give(on, note="C is still to measure")
    assert Mounting.objects.get(id=on.mounting.id).handed_to == on.shop.people["second_fitter"].id
    give(on, to="fitter", who="second_fitter")
    assert Mounting.objects.get(id=on.mounting.id).handed_to == on.shop.people["fitter"].id
    assert payload(entry)["body"]["said"]["note"] == "C is still to measure"
    Mounting.objects.update(handed_to=None)
    assert rebuild().differing["states of mountings"] == 1, "the entries say it"
    assert Mounting.objects.get(id=on.mounting.id).handed_to == on.shop.people["fitter"].id
    assert list(differences()) == []


@pytest.mark.parametrize("to", ["fitter", "inspector", "auditor", "administrator"])
def test_it_is_handed_to_another_who_records_work_here(to: str) -> None:
    with pytest.raises(FieldsError, match="another person who records work"):
        give(job(), to=to)


def test_a_note_is_one_line() -> None:
    on = job()
    for note in ("a\nb", "x" * 201):
        with pytest.raises(FieldsError, match="one line"):
            give(on, note=note)


def test_a_hand_over_sent_twice_is_one_and_a_closed_record_takes_none() -> None:
    on = job()
    id = new_id()
    assert give(on, id=id) == give(on, id=id)
    on.whole()
    assert give(on, id=id).id == id, "what was sent before is there"
    with pytest.raises(RefusedError):
        give(on)


def draw(on: Job, *marks: dict[str, Any], **changes: Any) -> Entry:
    told: dict[str, Any] = {"sha256": photo_of(on), "marks": list(marks), "entry_id": new_id()}
    return mark_photo(
        acting=on.shop.acting(changes.pop("who", "fitter")), mounting=on.mounting, **(told | changes)
    )


def photo_of(on: Job) -> str:
    return next((photo.sha256 for photo in case_of(on.mounting).photos), "")


def test_a_photo_is_drawn_on_by_numbers_and_stays_as_it_was() -> None:
    on = job()
    on.photograph("seat")
    first = draw(on, ARROW, who="inspector")
    second = draw(on, {**ARROW, "to": [500, 500]}, instead_of=first.id, reason="the burr is here")
    draw(on, instead_of=second.id, reason="stoned away")
    drawn = case_of(on.mounting).marks
    assert [each.replaced for each in drawn] == [True, True, False]
    assert drawn[-1].marks == ()
    assert case_of(on.mounting).photos[0].sha256 == drawn[0].sha256


def test_a_drawing_needs_its_photo_its_marks_and_a_reason_to_replace_another() -> None:
    on = job()
    with pytest.raises(FieldError, match="a photo of this mounting"):
        draw(on, ARROW, sha256="0" * 64)
    on.photograph("seat")
    with pytest.raises(LineError):
        draw(on)
    first = draw(on, ARROW)
    with pytest.raises(NeedsReasonError):
        draw(on, ARROW, instead_of=first.id)
    with pytest.raises(NotRecordedError):
        draw(on, ARROW, instead_of=new_id(), reason="seen")
    with pytest.raises(NotAllowedError):
        draw(on, ARROW, who="auditor")


def test_what_is_drawn_after_the_signature_is_kept_as_that() -> None:
    on = job()
    on.whole()
    draw(on, ARROW)
    assert [each.after_signature for each in case_of(on.mounting).marks] == [True]
