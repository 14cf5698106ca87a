"""A reworked journal is measured by the inspector himself before it is released for heat."""

import pytest

from qrecords.mountings.errors import RefusedError
from qrecords.mountings.queries import case_of
from tests.cast import JOURNAL_UM, Workshop, start
from tests.web.desk import LOW, sit

pytestmark = pytest.mark.django_db
UM = "um from 60 mm"


def test_his_own_readings_stand_and_let_a_reworked_journal_be_released(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    job.bore()
    job.decide("rework", "journal size", "journal taper", reason="metal spray, then ground")
    ground = {f"journal__{p}__{at}": ("18", UM) for p in "ABC" for at in ("0", "60", "120")}
    job.say("measurement", reason="ground", **ground)
    assert job.flags() == {}
    with pytest.raises(RefusedError) as caught:
        job.release()
    assert caught.value.code == "remeasure"
    desk = sit(shop, "inspector", job)
    assert 'name="reading"' in desk.read("own-measurement")
    readings = [text for plane in JOURNAL_UM.values() for text in plane]
    answer = desk.do("own-measurement", reading=readings, unit=UM, reason="measured after grinding")
    assert answer.status_code == 302
    stands = case_of(job.mounting).said("measurement", "journal.A.0")
    assert stands is not None and stands.check and stands.author == str(shop.people["inspector"].id)
    job.release()


def test_a_reading_that_is_none_is_asked_back_at_its_place(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    desk = sit(shop, "inspector", job)
    answer = desk.do("own-measurement", reading=["17", "much"], unit=UM, reason="measured myself")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'id="a-journal.A.60"' in page and 'value="much"' in page and 'value="17"' in page
    assert "measured myself" in page
