"""Who releases a hold of the fitter's job, on what, at the tablet or by telephone."""

import re

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import judged_now
from qrecords.signoff.actions import release_by_telephone
from qrecords.steps.telephone import answer_code
from qrecords.steps.transitions import standing_release
from tests.cast import Workshop, start
from tests.web.fitter_hand import READINGS, measure, release

pytestmark = pytest.mark.django_db


def test_an_open_finding_keeps_the_inspector_from_releasing_and_says_which(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting, READINGS | {"measurement.journal.C.60": "2"})
    text = release(fitter, job.mounting, "fit").content.decode()
    assert "Not released while this is open: Journal, worst reading" in text


def test_the_fitter_cannot_release_his_own_work(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    text = release(fitter, job.mounting, "fit", who="fitter").content.decode()
    assert "This needs inspector of this site." in text
    assert standing_release(judged_now(job.mounting).case, "fit") is None


def test_a_release_at_the_tablet_names_the_inspector_as_author_and_the_fitter_as_sender(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    release(fitter, job.mounting, "fit")
    standing = standing_release(judged_now(job.mounting).case, "fit")
    assert standing is not None and standing.author == str(shop.people["inspector"].id)
    assert standing.means == "sign-in on the fitter's device"


def test_at_the_tablet_the_inspector_sees_the_readings_and_the_set_up_he_releases(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    job.say("heating", heater=str(shop.gear["heater"].id), setup="on the core leg", probe="inner ring")
    here = f"/mountings/{job.mounting.id}/"
    text = fitter.get(f"{here}measure/?part=fit").content.decode()
    panel = text.split("What he releases", 1)[1].split("f-sign-in", 1)[0]
    assert re.findall(r'class="reading ">(.*?)<', panel) == [READINGS[f"measurement.journal.{plane}.{at}"]
        for at in ("0", "60", "120") for plane in "ABC"]  # fmt: skip
    for shown in ("MICROMETER-1", "20,5 °C", "HEATER-1", "on the core leg", "inner ring"):
        assert shown in panel, shown
    job.check_cold(at_90="0.05")
    panel = fitter.get(f"{here}cold/?part=hold").content.decode().split("What he releases", 1)[1]
    assert "gap at 90°" in panel and "0.05 mm" in panel


def test_a_release_by_telephone_is_named_by_the_code_that_was_read_back(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    text = fitter.get(f"/mountings/{job.mounting.id}/measure/?part=fit").content.decode()
    told = re.search(r'class="code fixed">(\w{7})<.*?lowest <b>(.*?) µm</b>, highest <b>(.*?) µm', text, re.S)
    assert told is not None and (told[2], told[3]) == ("+16", "+18")
    answered = release_by_telephone(
        acting=shop.acting("inspector"),
        mounting=job.mounting,
        entry_id=new_id(),
        code=told[1],
        lowest_nm=60_016_000,
        highest_nm=60_018_000,
    )
    code = answer_code(job.leaf(answered))
    address = f"/mountings/{job.mounting.id}/hot/"
    misheard = code[:-1] + ("2" if code[-1] != "2" else "3")
    fitter.post(address, {"tap": "heater-on", "code": misheard})
    assert judged_now(job.mounting).case.taps == (), "a code whose check does not fit is asked back"
    fitter.post(address, {"tap": "heater-on", "code": code.lower()})
    assert job.finding("fit released before heat").verdict.value == "conforming"
