"""Release before heat by telephone: what is heard goes in, a one-time code comes out."""

import pytest
from django.http import HttpResponse
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.queries import case_of
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from tests.cast import Job, make_workshop, start
from tests.web.desk import Desk, sit

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Desk:
    shop = make_workshop()
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return sit(shop, "inspector", job)


def code_of(job: Job) -> str:
    return readings_code(str(job.mounting.id), readings_of(case_of(job.mounting)))


def call(desk: Desk, **fields: str) -> HttpResponse:
    heard = {
        "entry_id": str(new_id()), "number": desk.job.mounting.number, "code": code_of(desk.job),
        "lowest": "16", "highest": "18", "unit": "um", **fields,
    }  # fmt: skip
    return desk.client.post(reverse("release-by-telephone"), heard)


def test_the_code_to_read_back_comes_from_the_release_itself(desk: Desk) -> None:
    answer = call(desk)
    page = desk.client.get(answer.headers["Location"]).content.decode()
    (given,) = case_of(desk.job.mounting).releases
    assert answer_code(given.leaf) in page
    assert (given.lowest_nm, given.highest_nm) == (60_016_000, 60_018_000)


def test_heat_that_names_the_code_is_proved_released_before(desk: Desk) -> None:
    call(desk)
    (given,) = case_of(desk.job.mounting).releases
    desk.job.tap("heater on", code=answer_code(given.leaf))
    assert desk.job.finding("fit released before heat").verdict.value == "conforming"


@pytest.mark.parametrize(
    ("heard", "what"),
    [({"highest": "19"}, "highest reading"), ({"lowest": "15"}, "lowest reading"), ({"code": ""}, "code")],
)
def test_what_the_readings_here_contradict_is_refused_and_named(
    desk: Desk, heard: dict[str, str], what: str
) -> None:
    if "code" in heard:
        heard = {"code": readings_code(str(desk.job.mounting.id), {"journal.A.0": 1})}
    answer = call(desk, **heard)
    assert answer.status_code == 409
    assert f"The readings here have another {what}: have it read out again." in answer.content.decode()
    assert case_of(desk.job.mounting).releases == ()


def test_a_code_heard_while_only_some_readings_have_come_is_judged_later() -> None:
    shop = make_workshop()
    job = start(shop)
    job.measure(readings={"A": ("16", "18", "18")})
    code = readings_code(str(job.mounting.id), {"journal.A.0": 1})
    assert call(sit(shop, "inspector", job), code=code).status_code == 302


def test_whole_sizes_in_mm_are_the_same_readings(desk: Desk) -> None:
    call(desk, lowest="60,016", highest="60.018", unit="mm")
    (given,) = case_of(desk.job.mounting).releases
    assert (given.lowest_nm, given.highest_nm) == (60_016_000, 60_018_000)


def test_a_code_with_a_slip_is_asked_again_with_everything_still_typed(desk: Desk) -> None:
    code = code_of(desk.job)
    wrong = ("2" if code[0] != "2" else "3") + code[1:]
    answer = call(desk, code=wrong)
    assert answer.status_code == 422
    assert f'value="{wrong}"' in answer.content.decode()
    assert case_of(desk.job.mounting).releases == ()


def test_a_reading_ten_times_off_is_asked_back_once(desk: Desk) -> None:
    asked = call(desk, highest="1800")
    assert asked.status_code == 422
    assert "that is what he read out" in asked.content.decode()
    sure = call(desk, highest="1800", sure="1")  # said once more it is taken, and is not what is here
    assert (sure.status_code, "another highest reading" in sure.content.decode()) == (409, True)


def test_an_unknown_number_releases_nothing(desk: Desk) -> None:
    answer = call(desk, number="99-9999")
    assert answer.status_code == 404
    assert "no mounting 99-9999 here" in answer.content.decode()


def test_the_code_is_shown_to_who_released_and_to_nobody_else(desk: Desk) -> None:
    address = call(desk).headers["Location"]
    other = sit(desk.job.shop, "engineer", desk.job)
    assert other.client.get(address).status_code == 403


def test_a_code_written_down_in_groups_is_the_same_code(desk: Desk) -> None:
    code = code_of(desk.job)
    assert call(desk, code=f"{code[:3]}-{code[3:5]} {code[5:]}".lower()).status_code == 302
    (given,) = case_of(desk.job.mounting).releases
    answer = answer_code(given.leaf)
    desk.job.tap("heater on", code=f"{answer[:4]} {answer[4:]}")
    assert given.code == code
    assert desk.job.finding("fit released before heat").verdict.value == "conforming"


def test_a_lowest_reading_above_the_highest_is_refused_naming_both(desk: Desk) -> None:
    answer = call(desk, lowest="18", highest="16")
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "60.018 mm" in text and "60.016 mm" in text and 'value="18"' in text
    assert case_of(desk.job.mounting).releases == ()
