"""The walking skeleton: identify → journal → fit → release → heater on → gap → ready → sign → verify."""

import pytest

from qrecords.mountings.queries import case_of
from qrecords.steps.transitions import State, state_of
from tests.cast import make_workshop, start

pytestmark = pytest.mark.django_db


def test_a_sound_job_is_signed_off_without_a_flag() -> None:
    job = start(make_workshop())
    job.whole()
    assert job.flags() == {}
    assert state_of(case_of(job.mounting)) == State.SIGNED_OFF
    assert {f.verdict.value for f in job.findings().values()} == {"conforming"}
