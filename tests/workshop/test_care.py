"""Between two calibrations: read on its master, dropped, damaged; and what the certificate says by size."""

import hashlib
from datetime import date, timedelta
from typing import Any

import pytest

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import take_in_paper
from qrecords.evidence.queries import original
from qrecords.ledger.identifiers import new_id
from qrecords.people.errors import NotAllowedError
from qrecords.steps.calibration import MONTHS, calibration_faults, due_after, out_of, points_of
from qrecords.steps.errors import DocumentError
from qrecords.steps.gear import KINDS
from qrecords.tracing.agreement import differences
from qrecords.workshop import care_actions as care
from qrecords.workshop.actions import calibrate
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Damage, MasterCheck
from qrecords.workshop.queries import frozen_gear, last_good
from tests.cast import U_HALF_UM, Job, Workshop, make_workshop, start
from tests.drawing import small_jpeg
from tests.papers import pdf

pytestmark = pytest.mark.django_db
FOUND = [
    {"size": 50_000_000, "error": 1000, "expanded_u": 1000},
    {"size": 75_000_000, "error": 4000, "expanded_u": 1000},
    {"size": 100_000_000, "error": 9000, "expanded_u": 3000},
]


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def checked(shop: Workshop, off_um: str, when: str = "after", **changes: Any) -> MasterCheck:
    told: dict[str, Any] = {
        "acting": shop.acting("fitter"), "check_id": new_id(), "equipment": shop.gear["micrometer"],
        "master": shop.gear["master"], "when": when, "off": care.OFF.parse(off_um, "um", sure=True),
        **changes,
    }  # fmt: skip
    return care.check_on_master(**told)


def dropped(shop: Workshop, who: str = "fitter", what: str = "dropped") -> Damage:
    return care.report_damage(
        acting=shop.acting(who), damage_id=new_id(), equipment=shop.gear["micrometer"], what=what,
        note="off the bench onto concrete",
    )  # fmt: skip


def status(shop: Workshop) -> str:
    piece = str(shop.gear["micrometer"].id)
    return str(frozen_gear([piece], shop.clock, shop.site)[piece]["status"])


def version(shop: Workshop, **changes: Any) -> None:
    calibrate(
        acting=shop.acting("quality"), version_id=new_id(), equipment=shop.gear["micrometer"],
        document={"status": "in use", **U_HALF_UM, **changes}, valid_from=shop.clock,
    )  # fmt: skip


def test_a_check_keeps_how_much_it_may_be_off_that_day(shop: Workshop) -> None:
    good, bad = checked(shop, "-1", "before"), checked(shop, "1,5")
    assert (good.off, good.limit, good.within) == (-1000, 1000, True)
    assert (bad.off, bad.within) == (1500, False)
    assert list(differences()) == []


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"when": "noon"}, "when"), ({"equipment": "feeler"}, "gauge"), ({"master": "feeler"}, "master")],
)
def test_what_is_no_check_is_asked_back(shop: Workshop, changes: dict[str, Any], field: str) -> None:
    named = {name: shop.gear.get(value, value) for name, value in changes.items()}
    with pytest.raises(RegisterFieldError) as error:
        checked(shop, "0", **named)
    assert error.value.field == field


def test_a_drop_takes_it_out_of_use_until_it_is_calibrated(shop: Workshop) -> None:
    assert status(shop) == "in use"
    dropped(shop)
    assert status(shop) == "dropped"
    with pytest.raises(RegisterFieldError) as error:
        version(shop)
    assert error.value.field == "status"
    version(shop, status="quarantine")
    assert status(shop) == "quarantine"
    version(shop, certificate="2026/77", due="2099-03-01")
    assert status(shop) == "in use"
    assert list(differences()) == []


def test_what_was_read_with_it_after_the_drop_is_not_proven(shop: Workshop) -> None:
    dropped(shop, what="struck")
    assert status(shop) == "quarantine"
    job = start(shop)
    job.measure()
    assert job.finding("gauge MICROMETER-1").verdict == "not proven"


def test_who_may_say_it(shop: Workshop) -> None:
    for who in ("inspector", "engineer", "quality"):
        dropped(shop, who)
    with pytest.raises(NotAllowedError):
        dropped(shop, "auditor")
    with pytest.raises(NotAllowedError):
        checked(shop, "0", acting=shop.acting("engineer"))
    with pytest.raises(RegisterFieldError):
        dropped(shop, what="bored")


def test_said_twice_it_is_one_drop(shop: Workshop) -> None:
    id = new_id()
    acting = shop.acting("fitter")
    told = {"damage_id": id, "equipment": shop.gear["micrometer"], "what": "dropped", "note": ""}
    first = care.report_damage(acting=acting, **told)  # type: ignore[arg-type]
    assert care.report_damage(acting=acting, **told) == first  # type: ignore[arg-type]
    assert shop.gear["micrometer"].versions.count() == 2


def finished(shop: Workshop) -> Job:
    """Ready for inspection, but for the signature of who performed it."""
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return job


def test_off_its_master_after_the_shift_the_readings_between_are_not_proven(shop: Workshop) -> None:
    job = finished(shop)
    checked(shop, "0", "before")
    job.ready()
    assert job.finding("master check").verdict == "conforming"
    assert job.finding("journal size").verdict == "conforming"
    other = start(shop, position="NDE")
    other.receive()
    other.measure()
    other.bore()
    checked(shop, "4")
    other.ready()
    check, size = other.finding("master check"), other.finding("journal size")
    assert (check.verdict, check.value, check.upper) == ("not proven", 4000, 1000)
    assert (size.verdict, size.message) == ("not proven", "journal-size.master-after-off")
    assert job.finding("journal size").verdict == "conforming", "a good check stands between"


def test_a_good_check_shrinks_what_is_in_doubt(shop: Workshop) -> None:
    piece = shop.gear["micrometer"]
    registered = piece.versions.get().valid_from
    shop.clock += timedelta(hours=1)
    assert last_good(piece, shop.clock) == registered
    good = checked(shop, "0")
    assert last_good(piece, shop.clock) == good.at
    shop.clock += timedelta(hours=8)
    checked(shop, "9")
    assert last_good(piece, shop.clock) == good.at, "one that is off proves nothing"
    version(shop, certificate="2026/77", found_points=FOUND)
    assert last_good(piece, shop.clock) == good.at


def test_the_interval_ends_on_the_same_day_of_its_last_month() -> None:
    assert due_after(date(2026, 3, 2), 12) == date(2027, 3, 2)
    assert due_after(date(2026, 8, 31), 6) == date(2027, 2, 28)
    assert due_after(date(2026, 12, 15), 24) == date(2028, 12, 15)
    assert set(MONTHS) == set(KINDS)


def test_points_beyond_what_is_accepted_are_told() -> None:
    document = {"found_points": FOUND, "mpe": 4000}
    assert [point.size for point in out_of(document, "found_points")] == [100_000_000]
    assert out_of({"found_points": FOUND}, "found_points") == ()
    assert [point.error for point in points_of(document, "found_points")] == [1000, 4000, 9000]
    assert points_of({}, "left_points") == ()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"mpe": 0}, "mpe"),
        ({"mpe": 2_000_000}, "mpe"),
        ({"mpe": "4"}, "mpe"),
        ({"interval_months": 0}, "interval_months"),
        ({"interval_months": 121}, "interval_months"),
        ({"found_points": FOUND[:2]}, "found_points"),
        ({"left_points": [FOUND[0]] * 3}, "left_points"),
        ({"left_points": "none"}, "left_points"),
        ({"left_points": [*FOUND, {"size": 1}]}, "left_points"),
        ({"left_points": [*FOUND, {"size": 1, "error": 2_000_000, "expanded_u": 0}]}, "left_points"),
        ({"laboratory": "x" * 81}, "laboratory"),
        ({"place": "a\nb"}, "place"),
        ({"certificate_file": "certificate.pdf"}, "certificate_file"),
    ],
)
def test_what_a_certificate_cannot_say_is_refused_with_its_field(
    shop: Workshop, changes: dict[str, Any], field: str
) -> None:
    with pytest.raises(DocumentError) as error:
        version(shop, **changes)
    assert error.value.field == field


def test_what_it_may_say_is_kept_and_most_of_it_is_not_frozen_beside_each_capture(shop: Workshop) -> None:
    told = {
        "mpe": 4000, "found_points": FOUND, "left_points": FOUND, "laboratory": "Marl Hollow calibration",
        "place": "drawer 4", "interval_months": 12, "certificate": "MH 26/118", "certificate_file": "0" * 64,
    }  # fmt: skip
    assert list(calibration_faults("outside micrometer", told)) == []
    version(shop, **told)
    newest = shop.gear["micrometer"].versions.order_by("-valid_from", "-id")[0]
    assert {name: newest.document[name] for name in told} == told
    piece = str(newest.equipment_id)
    frozen = frozen_gear([piece], shop.clock, shop.site)[piece]
    assert frozen["mpe"] == 4000
    assert "found_points" not in frozen
    assert list(calibration_faults("feeler set", {"left_points": FOUND[:1]})) == []


PDF = pdf("MIC-114")


def test_a_certificate_is_kept_by_its_content_and_once(shop: Workshop) -> None:
    piece, acting = shop.gear["micrometer"], shop.acting("quality")
    taken = take_in_paper([PDF[:5], PDF[5:]])
    assert (taken.sha256, taken.photo.media) == (hashlib.sha256(PDF).hexdigest(), "application/pdf")
    entry, new = care.receive_certificate(acting=acting, equipment=piece, taken=taken)
    assert new
    assert care.receive_certificate(acting=acting, equipment=piece, taken=taken) == (entry, False)
    held = original(taken.sha256, mounting=piece.id)
    assert held is not None
    assert held.path.read_bytes() == PDF
    assert take_in_paper([small_jpeg("paper")]).photo.media == "image/jpeg"


@pytest.mark.parametrize("content", [b"MIC-114 is fine", b"%PDF-1.4 cut off", b"<html>%PDF-</html>"])
def test_what_is_no_certificate_is_refused(content: bytes) -> None:
    with pytest.raises(FileRefusedError):
        take_in_paper([content])
