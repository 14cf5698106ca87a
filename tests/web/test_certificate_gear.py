"""Each gauge on the certificate with the calibration it had, whatever is entered later."""

import re
from datetime import UTC, datetime

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import EquipmentVersion
from tests.cast import Job, make_workshop, start
from tests.kept import once
from tests.web.certificate_hand import certificate, signed_job, until_signature


@pytest.fixture
def signed() -> Job:
    return once(signed_job)


@pytest.mark.django_db
def test_the_first_sheet_names_the_bearing_and_each_gauge_with_its_calibration(signed: Job) -> None:
    first = certificate(signed).split('class="a4"')[1]
    assert "lot L-77" in first and f"work order {signed.rebuild.work_order}" in first
    gauges = first.split("Gauges and heater", 1)[1]
    row = gauges.split("<b>MICROMETER-1</b>", 1)[1].split("</tr>", 1)[0]
    assert re.findall(r"<td>(.*?)</td>", row) == ["31 Jan 2026", "31 Jan 2099"]
    named = re.findall(r"<b>([A-Z_-]+-1)</b>", gauges)
    used = ["MICROMETER-1", "MASTER-1", "THERMOMETER-1", "BORE-GAUGE-1", "HEATER-1", "METER-1", "FEELER-1"]
    assert sorted(named) == sorted(used)


def gauges_on(job: Job) -> str:
    return certificate(job).split("Gauges and heater", 1)[1].split("</div></div>", 1)[0]


def days_of(job: Job, mark: str) -> list[list[str]]:
    """What each row of a piece says: from when its calibration was in force, and to when."""
    rows = gauges_on(job).split(f"<b>{mark}</b>")[1:]
    return [re.findall(r"<td>(.*?)</td>", row.split("</tr>", 1)[0]) for row in rows]


def change(job: Job, gauge: str, valid_from: datetime | None = None, **document: object) -> None:
    """A next version of a gauge, which begins as the one that stands."""
    piece = job.shop.gear[gauge]
    standing = piece.versions.order_by("-valid_from").values_list("document", flat=True)[0]
    workshop.calibrate(
        acting=job.shop.acting("quality"), version_id=new_id(), equipment=piece,
        document=standing | document, valid_from=valid_from,
    )  # fmt: skip


@pytest.mark.django_db
def test_a_gauge_back_from_quarantine_has_the_calibration_it_had() -> None:
    job = start(make_workshop())
    change(job, "micrometer", status="quarantine", note="dropped")
    change(job, "micrometer", status="in use", note="found good")
    until_signature(job)
    job.sign()
    assert "in force from" in gauges_on(job)
    assert days_of(job, "MICROMETER-1") == [["31 Jan 2026", "31 Jan 2099"]]


@pytest.mark.django_db
def test_a_new_calibration_is_in_force_from_its_own_day() -> None:
    job = start(make_workshop())
    change(job, "micrometer", datetime(2026, 3, 1, tzinfo=UTC), certificate="K 78", due="2027-02-28")
    until_signature(job)
    job.sign()
    assert days_of(job, "MICROMETER-1") == [["1 Mar 2026", "28 Feb 2027"]]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("told", "days"),
    [
        ({"certificate": "K 79"}, ["1 Mar 2026", "–"]),
        ({"due": "2027-02-28"}, ["1 Mar 2026", "28 Feb 2027"]),
        ({}, ["not calibrated", "–"]),
    ],
)
def test_a_piece_of_which_a_certificate_or_a_day_is_known_is_not_called_uncalibrated(
    told: dict[str, str], days: list[str]
) -> None:
    job = start(make_workshop())
    workshop.calibrate(
        acting=job.shop.acting("quality"), version_id=new_id(), equipment=job.shop.gear["thermometer"],
        document=told, valid_from=datetime(2026, 3, 1, tzinfo=UTC),
    )  # fmt: skip
    job.measure()
    assert days_of(job, "THERMOMETER-1") == [days]


@pytest.mark.django_db
def test_what_is_entered_later_of_a_gauge_changes_no_signed_certificate(signed: Job) -> None:
    before = gauges_on(signed)
    change(signed, "micrometer", datetime(2026, 2, 1, tzinfo=UTC), certificate="K 80", due="2026-02-28")
    EquipmentVersion.objects.update(valid_from=datetime(2020, 1, 1, tzinfo=UTC))
    assert gauges_on(signed) == before
