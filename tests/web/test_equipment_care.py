"""Gauges at the desk: on their master, dropped, calibrated by size with a certificate, and what is due."""

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.workshop.models import Damage, EquipmentVersion, MasterCheck
from tests.api.caller import Caller
from tests.cast import U_HALF_UM, Workshop, add_gear, make_workshop
from tests.papers import pdf

pytestmark = pytest.mark.django_db
PDF = pdf("MIC-114")


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def at(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def words(answer: HttpResponse) -> str:
    assert answer.status_code == 200, answer.content.decode()[:2000]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def page(shop: Workshop, name: str, gear: str = "micrometer") -> str:
    return reverse(name, args=[shop.gear[gear].id])


def send(client: Client, address: str, **given: object) -> HttpResponse:
    return client.post(address, {"entry_id": str(new_id()), **given})  # type: ignore[return-value,arg-type]


def newest(shop: Workshop) -> EquipmentVersion:
    return shop.gear["micrometer"].versions.order_by("-valid_from", "-id")[0]


def test_a_fitter_reads_a_gauge_on_its_master_and_it_stands_on_its_page(shop: Workshop) -> None:
    fitter, master = at(shop, "fitter"), shop.gear["master"].id
    listed = fitter.get(reverse("equipment")).content.decode()
    assert page(shop, "gauge-check") in listed
    assert page(shop, "gauge-check", "feeler") not in listed
    good = send(fitter, page(shop, "gauge-check"), master=master, when="before", off="0,5")
    assert "is within its limit" in words(fitter.get(good["Location"]))
    bad = send(fitter, page(shop, "gauge-check"), master=master, when="after", off="4")
    assert "since its last good check is in doubt" in words(fitter.get(bad["Location"]))
    assert [check.off for check in MasterCheck.objects.order_by("id")] == [500, 4000]
    shown = words(at(shop, "quality").get(page(shop, "equipment-uses")))
    assert "on MASTER-1, after the shift off by 4 µm, may be 1 µm" in shown


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"off": "much"}, "off"), ({"off": ""}, "off"), ({"master": ""}, "master"), ({"when": "noon"}, "when")],
)
def test_a_check_that_cannot_be_is_asked_back_at_its_field(
    shop: Workshop, changes: dict[str, str], field: str
) -> None:
    given = {"master": str(shop.gear["master"].id), "when": "after", "off": "1", **changes}
    answer = send(at(shop, "fitter"), page(shop, "gauge-check"), **given)
    assert answer.status_code == 422
    assert f'id="a-{field}"' in answer.content.decode()
    assert MasterCheck.objects.count() == 0


def test_what_is_not_read_on_a_master_has_no_such_page(shop: Workshop) -> None:
    assert at(shop, "fitter").get(page(shop, "gauge-check", "feeler")).status_code == 404


def test_a_drop_is_said_in_two_taps_and_the_piece_is_out_of_use(shop: Workshop) -> None:
    fitter = at(shop, "fitter")
    answer = send(fitter, page(shop, "gauge-damage"), what="dropped", note="off the bench")
    assert "out of use until it is calibrated" in words(fitter.get(answer["Location"]))
    assert Damage.objects.get().what == "dropped"
    assert newest(shop).document["status"] == "dropped"
    assert "dropped off the bench" in words(at(shop, "quality").get(page(shop, "equipment-uses")))
    assert send(fitter, page(shop, "gauge-damage"), what="bored").status_code == 422


def calibration(**changes: object) -> dict[str, object]:
    return {
        "status": "in use", "valid_from": "2026-03-02T12:00", "certificate": "MH 26/118", "expanded_u": "1",
        "resolution": "1", "mpe": "4", "found_points": "50 0 1; 75 +4 1; 100 -9 3",
        "left_points": "50 0 1; 75 0 1; 100 +1 1", "laboratory": "Marl Hollow", "interval_months": "12",
        "place": "drawer 4", **changes,
    }  # fmt: skip


def test_a_calibration_says_errors_by_size_and_its_interval_gives_the_due_day(shop: Workshop) -> None:
    quality = at(shop, "quality")
    file = SimpleUploadedFile("certificate.pdf", PDF, "application/pdf")
    answer = send(quality, page(shop, "calibration-new"), **calibration(certificate_file=file))
    assert answer.status_code == 302
    document = newest(shop).document
    assert document["due"] == "2027-03-02"
    assert document["mpe"] == 4000
    assert [(p["size"], p["error"], p["expanded_u"]) for p in document["found_points"]] == [
        (50_000_000, 0, 1000),
        (75_000_000, 4000, 1000),
        (100_000_000, -9000, 3000),
    ]
    shown = quality.get(page(shop, "equipment-uses"))
    assert "100 mm −9 ± 3 µm · more than the 4 µm it may be" in words(shown)
    assert "kept at drawer 4. Marl Hollow" in words(shown)
    (link,) = re.findall(r'href="([^"]*/certificates/[0-9a-f]{64}/)"', shown.content.decode())
    saved = quality.get(link)
    assert b"".join(saved.streaming_content) == PDF  # type: ignore[attr-defined]
    assert saved["Content-Disposition"].startswith("attachment")
    other = link.replace(str(shop.gear["micrometer"].id), str(shop.gear["feeler"].id))
    assert quality.get(other).status_code == 404


def test_the_file_stays_with_its_certificate_through_a_change_of_status(shop: Workshop) -> None:
    quality = at(shop, "quality")
    file = SimpleUploadedFile("certificate.pdf", PDF, "application/pdf")
    send(quality, page(shop, "calibration-new"), **calibration(certificate_file=file))
    later = {"status": "quarantine", "valid_from": "2026-03-03T12:00"}
    send(quality, page(shop, "calibration-new"), **calibration(**later))
    assert newest(shop).document["status"] == "quarantine"
    assert "certificate_file" in newest(shop).document
    again = {"certificate": "MH 27/9", "valid_from": "2026-03-04T12:00"}
    send(quality, page(shop, "calibration-new"), **calibration(**again))
    assert "certificate_file" not in newest(shop).document


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"mpe": "none"}, "mpe"),
        ({"found_points": "50 0"}, "found_points"),
        ({"found_points": "50 0 1; 75 0 1"}, "found_points"),
        ({"left_points": "50 0 1; 50 0 1; 75 zero 1"}, "left_points"),
        ({"interval_months": "yearly"}, "interval_months"),
        ({"certificate_file": SimpleUploadedFile("c.txt", b"it is fine", "text/plain")}, "certificate_file"),
    ],
)
def test_what_a_certificate_cannot_say_is_asked_back_at_its_field(
    shop: Workshop, changes: dict[str, object], field: str
) -> None:
    answer = send(at(shop, "quality"), page(shop, "calibration-new"), **calibration(**changes))
    assert answer.status_code == 422
    assert f'id="a-{field}"' in answer.content.decode()
    assert shop.gear["micrometer"].versions.count() == 1


def due_in(shop: Workshop, key: str, days: int, status: str = "in use") -> None:
    due = (datetime.now(UTC).date() + timedelta(days=days)).isoformat()
    add_gear(shop, key, "outside micrometer", {**U_HALF_UM, "due": due, "status": status})


def test_the_due_list_holds_what_is_in_use_and_due_soon_as_page_csv_and_api(shop: Workshop) -> None:
    for key, days, status in (
        ("over", -3, "in use"),
        ("soon", 20, "in use"),
        ("later", 300, "in use"),
        ("lost", 5, "lost"),
    ):
        due_in(shop, key, days, status)
    add_gear(shop, "undated", "setting master", {"expanded_u": 1000, "resolution": 0, "repeatability": 0})
    fitter = at(shop, "fitter")
    shown = words(fitter.get(reverse("due")))
    assert re.search(r"OVER-1 .*3 days over.* SOON-1 .*in 20 days.* UNDATED-1 .*none given", shown)
    assert "LATER-1" not in shown
    assert "LOST-1" not in shown
    csv = b"".join(fitter.get(reverse("due") + "?as=csv").streaming_content).decode()  # type: ignore[attr-defined]
    assert re.findall(r"^([A-Z]+)-1", csv, re.M) == ["OVER", "SOON", "UNDATED"]
    caller = Caller(shop, "fitter", fitter)
    marks = [row["mark"] for row in caller.get("equipment/due/").document["results"]]
    assert marks == ["OVER-1", "SOON-1", "UNDATED-1"]
    nearer = caller.get("equipment/due/?days=10").document["results"]
    assert [row["mark"] for row in nearer] == ["OVER-1", "UNDATED-1"]
    assert date.fromisoformat(nearer[0]["due"]) < date.today()  # noqa: DTZ011 - the list counts by it


def test_the_due_list_holds_as_many_queries_for_a_hundred_as_for_ten(shop: Workshop) -> None:
    fitter = at(shop, "fitter")
    for number in range(10):
        due_in(shop, f"few{number}", 5)
    with CaptureQueriesContext(connection) as few:
        words(fitter.get(reverse("due")))
    for number in range(90):
        due_in(shop, f"many{number}", 5)
    with CaptureQueriesContext(connection) as many:
        words(fitter.get(reverse("due")))
    assert len(many) == len(few)
