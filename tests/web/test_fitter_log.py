"""The heater's own log at the fitter's page, without script: handed in, asked about, shown judged."""

import hashlib
import io

import pytest
from django.test import Client

from qrecords.mountings.queries import case_of
from qrecords.steps.acts import LogFile
from qrecords.steps.case import Case
from tests.cast import Job, Workshop, start
from tests.steps.test_heating_log import HEATED, LOST, OUTER, text
from tests.web.fitter_hand import signed_in

pytestmark = pytest.mark.django_db
ONE = text(HEATED, step=10)
TWO = text(HEATED, OUTER, step=10)


@pytest.fixture
def job(shop: Workshop) -> Job:
    made = start(shop)
    made.until_signature()
    return made


def hand_in(client: Client, job: Job, content: str | bytes, **more: str) -> str:
    """The page that comes of it."""
    file = io.BytesIO(content.encode() if isinstance(content, str) else content)
    file.name = "log.csv"
    address = f"/mountings/{job.mounting.id}/heating-log/"
    answer = client.post(address, {"log": file, **more}, follow=True)
    assert answer.status_code == 200
    return read(answer.content)


def read(content: bytes) -> str:
    """As a person reads it: every space is one."""
    return content.decode().replace("\u202f", " ").replace("\u00a0", " ")


def say(client: Client, job: Job, content: str, **said: str) -> str:
    address = f"/mountings/{job.mounting.id}/heating-log/{digest(content)}/"
    answer = client.post(address, said, follow=True)
    return read(answer.content)


def digest(content: str) -> str:
    return hashlib.sha256(content.encode()).hexdigest()


def case(job: Job) -> Case:
    return case_of(job.mounting)


def only(job: Job) -> LogFile:
    (file,) = case(job).log_files
    return file


def test_a_log_that_says_everything_is_recorded_and_shown_at_once(fitter: Client, job: Job) -> None:
    page = hand_in(fitter, job, ONE)
    assert only(job).said.columns == {"inner ring": 2}
    assert "<b>94.7 °C at most,</b> never above 120 °C" in page
    assert "Hottest 95 °C" in page and "<svg" in page


def test_of_two_columns_a_person_says_which_is_which(fitter: Client, job: Job) -> None:
    asked = hand_in(fitter, job, TWO)
    assert case(job).log_files == () and 'value="inner ring" selected' in asked
    address = f"/mountings/{job.mounting.id}/heating-log/"
    left = read(fitter.get(address).content)
    assert "A log came that does not say everything" in left and f'href="{address}{digest(TWO)}/"' in left
    say(fitter, job, TWO, **{"column.2": "inner ring", "column.3": "outer ring"})
    assert "does not say everything" not in read(fitter.get(address).content)
    assert only(job).said.columns == {"inner ring": 2, "outer ring": 3}


def test_what_was_chosen_for_one_log_is_not_kept_on_the_device_for_the_next(fitter: Client, job: Job) -> None:
    """A draft would bring back the id of an entry that is recorded."""
    assert "data-draft=" not in hand_in(fitter, job, TWO)


def test_degrees_that_the_log_does_not_name_are_asked(fitter: Client, job: Job) -> None:
    nameless = text(HEATED, step=10, header="t;inner")
    assert 'name="unit" value="°F"' in hand_in(fitter, job, nameless)
    again = say(fitter, job, nameless, **{"column.2": "inner ring"})
    assert "°C or °F? The log does not say." in again and case(job).log_files == ()
    say(fitter, job, nameless, **{"column.2": "inner ring", "unit": "°C"})
    assert only(job).said.unit == "°C"


def test_a_peak_no_heating_has_is_asked_once(fitter: Client, job: Job) -> None:
    fahrenheit = text([(at, c * 1.8 + 32) for at, c in HEATED], step=10)
    asked = hand_in(fitter, job, fahrenheit)
    assert "Hottest 203 °C. Are these °F? That would be 95 °C." in asked
    say(fitter, job, fahrenheit, **{"column.2": "inner ring", "unit": "°F"})
    assert only(job).said.unit == "°F"


def test_what_became_of_a_probe_that_fell_off_is_asked(fitter: Client, job: Job) -> None:
    lost = text(LOST, step=2)
    assert "What became of the probe?" in hand_in(fitter, job, lost)
    page = say(fitter, job, lost, **{"column.2": "inner ring", "probe": "came off"})
    assert only(job).said.probe == "came off"
    assert "The probe came off at 200 s, at 90 °C:" in page and "too close to call" in page


def test_what_cannot_be_read_is_kept_and_says_why(fitter: Client, job: Job) -> None:
    page = hand_in(fitter, job, "30.11.2026 08:00;20\n30.11.2026 08:01;21\n")
    assert only(job).received
    assert "The log cannot be read:" in page and "in line 1, column 1 stands “30.11.2026 08:00”" in page


def test_another_log_takes_the_place_of_the_first_with_a_reason_only(fitter: Client, job: Job) -> None:
    hand_in(fitter, job, ONE)
    first = only(job).entry
    other = ONE.replace("95.0", "94.9")
    hand_in(fitter, job, other)
    typed = {"column.2": "inner ring", "instead_of": first}
    assert "Say why it takes the place" in say(fitter, job, other, **typed)
    say(fitter, job, other, **typed, reason="the first was of the spare bearing")
    assert [file.replaced for file in case(job).log_files] == [True, False]


def test_the_log_stands_on_the_inspectors_page_in_the_trace_and_on_the_certificate(
    shop: Workshop, fitter: Client, job: Job
) -> None:
    inspector, auditor = signed_in(shop, "inspector"), signed_in(shop, "auditor")
    hand_in(fitter, job, text(HEATED, step=10))
    at = f"/mountings/{job.mounting.id}"
    own_clock = "By the heater&#x27;s own log and its own clock: inner ring ——; 61 samples."
    assert own_clock in read(inspector.get(f"{at}/inspect/", follow=True).content)
    trace = read(auditor.get(f"{at}/trace/", follow=True).content)
    assert own_clock in trace and "heating log handed in" in trace
    job.sign()
    paper = read(inspector.get(f"{at}/certificate/", follow=True).content)
    assert "Heating by the heater&#x27;s own log" in paper and "Heating log, never above" in paper
