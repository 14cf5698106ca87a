"""Registers: lists that filter, sort, page and export; forms that say what is wrong at the field."""

import csv
import io
import re
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.steps.gear import read_gear
from qrecords.tracing.agreement import differences
from qrecords.tracing.everything.cells import safe
from qrecords.web.registers.lists import due_mark, due_words
from qrecords.workshop import actions as workshop
from qrecords.workshop.marks import is_mark
from qrecords.workshop.models import Bearing, Equipment, EquipmentVersion, Machine
from tests.cast import Workshop, make_workshop, start
from tests.web.desk import main

pytestmark = pytest.mark.django_db
LISTS = ("machines", "rebuilds", "bearings", "equipment", "all-mountings")


@pytest.fixture
def shop() -> Workshop:
    shop = make_workshop()
    start(shop)
    return shop


def client_of(shop: Workshop, who: str = "quality") -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def read(shop: Workshop, name: str, *args: object, who: str = "quality", **query: Any) -> str:
    answer = client_of(shop, who).get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return main(answer.content.decode())


def send(shop: Workshop, page: str, /, *args: object, who: str = "quality", **fields: Any) -> HttpResponse:
    given = {"entry_id": str(new_id()), **fields}
    return client_of(shop, who).post(reverse(page, args=args), given)  # type: ignore[return-value]


def table(shop: Workshop, name: str, who: str = "quality", **query: Any) -> list[dict[str, str]]:
    answer = client_of(shop, who).get(reverse(name), {"as": "csv", **query})
    text = b"".join(answer.streaming_content).decode("utf-8-sig")  # type: ignore[attr-defined]
    return list(csv.DictReader(io.StringIO(text)))


# lists
def test_each_list_shows_what_is_there(shop: Workshop) -> None:
    found = {name: read(shop, name) for name in LISTS}
    assert "Quarry pump 3" in found["machines"] and "WO-1001" in found["rebuilds"]
    assert "6212 C3" in found["bearings"] and "MICROMETER-1" in found["equipment"]
    assert "26-0001" in found["all-mountings"] and "missing" in found["all-mountings"]


@pytest.mark.parametrize("name", LISTS)
def test_a_list_costs_the_same_number_of_queries_however_long(shop: Workshop, name: str) -> None:
    client = client_of(shop)

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            assert client.get(reverse(name)).status_code == 200
        return len(captured)

    few = queries()
    for position in ("NDE", "middle"):
        start(shop, position=position)
    assert queries() == few


def test_a_list_is_filtered_by_a_word_and_by_choices(shop: Workshop) -> None:
    assert "MICROMETER-1" not in read(shop, "equipment", q="heater")
    assert "HEATER-1" in read(shop, "equipment", q="heater")
    assert "HEATER-1" not in read(shop, "equipment", kind="feeler set")
    assert "Nothing has this word" in read(shop, "machines", q="zzz")
    assert "MICROMETER-1" in read(shop, "equipment", kind="not a kind")


def test_a_list_is_sorted_by_a_column_both_ways_and_by_nothing_else(shop: Workshop) -> None:
    up = [row["mark"] for row in table(shop, "equipment", sort="mark")]
    down = [row["mark"] for row in table(shop, "equipment", sort="-mark")]
    assert up == sorted(up) and down == up[::-1]
    assert read(shop, "machines", sort="site") and read(shop, "machines", sort="-owner__password")


def test_what_is_due_first_stands_first_and_what_has_no_day_last(shop: Workshop) -> None:
    for mark, due in (("LATE", "2026-01-31"), ("NEVER", "")):
        workshop.register_equipment(
            acting=shop.acting("quality"), site=shop.site, equipment_id=new_id(), version_id=new_id(),
            kind="dial indicator", mark=mark, document={"status": "in use", "due": due},
        )  # fmt: skip
    marks = [row["mark"] for row in table(shop, "equipment")]
    assert marks[0] == "LATE" and marks[-1] == "NEVER"


def test_the_newest_version_gives_due_day_and_status(shop: Workshop) -> None:
    workshop.calibrate(
        acting=shop.acting("quality"), version_id=new_id(), equipment=shop.gear["heater"],
        document={"status": "quarantine", "due": "2030-01-01", "heater_kind": "induction"},
    )  # fmt: skip
    row = next(row for row in table(shop, "equipment") if row["mark"] == "HEATER-1")
    assert (row["status"], row["due"]) == ("quarantine", "2030-01-01")
    assert [r["mark"] for r in table(shop, "equipment", status="quarantine")] == ["HEATER-1"]


def test_a_due_day_says_how_far_it_is() -> None:
    today = date(2026, 3, 2)
    days = {-3: "late", 0: "soon", 30: "soon", 31: ""}
    assert {n: due_mark(today + timedelta(days=n), today) for n in days} == days
    assert due_words(date(2026, 2, 27), today) == "27 Feb 2026, 3 days over"
    assert due_words(date(2026, 3, 8), today) == "8 Mar 2026, in 6 days"
    assert due_words(None, today) == "none given"


def test_a_long_list_has_pages_that_never_overlap(shop: Workshop) -> None:
    Bearing.objects.bulk_create(Bearing(id=new_id(), site=shop.site, designation="6000") for _ in range(120))
    pages = [read(shop, "bearings", page=str(number)) for number in (1, 2, 3)]
    ids = [set(re.findall(r'"/registers/bearings/([0-9a-f-]{36})/"', page)) for page in pages]
    assert [len(one) for one in ids] == [50, 50, 21]
    assert len(set.union(*ids)) == 121
    assert read(shop, "bearings", page="99") == pages[2]
    assert len(table(shop, "bearings")) == 121


@pytest.mark.parametrize("page", ["0", "-1", "x", "²", "9" * 30])
def test_a_strange_page_number_gives_a_page(shop: Workshop, page: str) -> None:
    assert "6212 C3" in read(shop, "bearings", page=page)


def test_an_export_cannot_be_taken_for_a_formula(shop: Workshop) -> None:
    assert [safe(text) for text in ("=1+1", "@x", "-6", "+0.5", "-dash", "plain")] == [
        "'=1+1", "'@x", "-6", "+0.5", "'-dash", "plain",
    ]  # fmt: skip
    workshop.register_machine(
        acting=shop.acting("fitter"), site=shop.site, machine_id=new_id(), name="=HYPERLINK(1)", owner="x"
    )
    assert "'=HYPERLINK(1)" in [row["machine"] for row in table(shop, "machines")]


def test_who_may_not_trace_gets_no_links_that_lead_to_a_refusal(shop: Workshop) -> None:
    of_bearings = re.findall(
        r'href="(/registers/bearings/[0-9a-f-]{36}/)"', read(shop, "bearings", who="fitter")
    )
    assert of_bearings
    assert all(client_of(shop, "fitter").get(link).status_code == 200 for link in of_bearings)
    assert '"/bearings/' not in read(shop, "bearings", who="fitter")
    assert "/trace/" not in read(shop, "all-mountings", who="fitter")
    assert "/calibration/" not in read(shop, "equipment", who="fitter")


def test_the_procedure_in_force_can_be_read(shop: Workshop) -> None:
    page = read(shop, "procedure")
    for words in ("HM-1", "guard 1.65 u", "120", "before heat, cold check", "ring marking", "0.03"):
        assert words in page


# forms
MACHINE = {"name": "Hoist motor 2", "owner": "Brackwater", "scheme": "lifting", "mark": ""}
GAUGE = {
    "mark": "MIC-131", "kind": "outside micrometer", "status": "in use", "valid_from": "2026-03-02T07:00",
    "due": "2027-03-01", "certificate": "K 77", "expanded_u": "1,2", "resolution": "1",
    "repeatability": "0.3", "as_found": "+0.4 at 50 mm", "as_left": "0", "note": "", "blades": "",
    "heater_kind": "",
}  # fmt: skip


def test_a_new_machine_gets_its_workshop_mark(shop: Workshop) -> None:
    assert send(shop, "machine-new", **MACHINE).status_code == 302
    machine = Machine.objects.get(name="Hoist motor 2")
    assert is_mark(machine.mark) and machine.scheme == "lifting"


@pytest.mark.parametrize(
    ("field", "value", "allowed"),
    [
        ("name", "", "1 to 120 characters"),
        ("name", "x" * 121, "1 to 120 characters"),
        ("owner", " ", "1 to 120 characters"),
        ("mark", "ABC", "six characters"),
        ("scheme", "circus", "lifting"),
    ],
)
def test_a_wrong_machine_field_says_what_is_allowed_and_keeps_the_rest(
    shop: Workshop, field: str, value: str, allowed: str
) -> None:
    answer = send(shop, "machine-new", **{**MACHINE, field: value})
    page = answer.content.decode()
    assert answer.status_code == 422 and allowed in page
    assert allowed in page.split(f'id="a-{field}"')[1].split("</p>")[0]
    kept = {name: text for name, text in MACHINE.items() if name != field and name in ("name", "owner")}
    assert all(f'value="{text}"' in page for text in kept.values())
    assert not Machine.objects.filter(name="Hoist motor 2").exists()


def test_the_same_form_sent_twice_registers_once(shop: Workshop) -> None:
    machine, gauge = str(new_id()), str(new_id())
    for _ in range(2):
        assert send(shop, "machine-new", **MACHINE, entry_id=machine).status_code == 302
        assert send(shop, "equipment-new", **GAUGE, entry_id=gauge).status_code == 302
    assert Machine.objects.filter(name="Hoist motor 2").count() == 1
    assert Equipment.objects.filter(mark="MIC-131").count() == 1


def test_a_gauge_is_registered_in_base_units_with_its_calibration(shop: Workshop) -> None:
    assert send(shop, "equipment-new", **GAUGE).status_code == 302
    version = EquipmentVersion.objects.get(equipment__mark="MIC-131")
    assert version.document == {
        "status": "in use", "due": "2027-03-01", "certificate": "K 77", "expanded_u": 1200,
        "resolution": 1000, "repeatability": 300, "as_found": "+0.4 at 50 mm", "as_left": "0",
    }  # fmt: skip
    assert version.valid_from == datetime(2026, 3, 2, 7, tzinfo=UTC)
    gear = read_gear({**version.document, "id": "x", "kind": "outside micrometer", "mark": "MIC-131"})
    assert gear.standard_u == 731  # √(600² + (1000/√12)² + 300²) = 730.3 nm, rounded up; by hand


def test_the_next_version_begins_as_the_one_that_stands_but_for_what_belongs_to_one_event(
    shop: Workshop,
) -> None:
    send(shop, "equipment-new", **GAUGE, resolution_in_u="yes")
    version = EquipmentVersion.objects.get(equipment__mark="MIC-131")
    page = read(shop, "calibration-new", version.equipment_id)
    for name in ("due", "certificate"):
        assert f'name="{name}" type="{"date" if name == "due" else "text"}" value="{GAUGE[name]}"' in page
    for name, shown in (("expanded_u", "1.2"), ("resolution", "1"), ("repeatability", "0.3")):
        assert f'name="{name}" type="text" value="{shown}"' in page
    assert 'name="resolution_in_u" value="yes" checked' in page
    for name in ("as_found", "as_left", "note"):
        assert f'name="{name}" type="text" value=""' in page


@pytest.mark.parametrize(
    ("field", "value", "allowed"),
    [
        ("expanded_u", "about 1", "0…1000 µm"),
        ("expanded_u", "-1", "0…1000 µm"),
        ("expanded_u", "NaN", "0…1000 µm"),
        ("expanded_u", "9" * 400, "0…1000 µm"),
        ("resolution", "1e3", "0…1000 µm"),
        ("due", "31.12.2027", "YYYY-MM-DD"),
        ("due", "0001-01-01", "YYYY-MM-DD"),
        ("valid_from", "", "YYYY-MM-DD"),
        ("status", "fine", "quarantine"),
        ("kind", "", "outside micrometer"),
        ("mark", "", "1 to 30 characters"),
        ("mark", "MICROMETER-1", "no other piece"),
    ],
)
def test_a_wrong_gauge_field_says_what_was_typed_and_what_is_allowed(
    shop: Workshop, field: str, value: str, allowed: str
) -> None:
    before = Entry.objects.count()
    answer = send(shop, "equipment-new", **{**GAUGE, field: value})
    page = answer.content.decode()
    said = page.split(f'id="a-{field}"')[1].split("</p>")[0]
    assert answer.status_code == 422 and allowed in said
    assert value[:60] in said or value == ""
    assert "K 77" in page and Entry.objects.count() == before


@pytest.mark.parametrize(
    ("low", "high", "field", "said"),
    [
        ("75", "50", "range_high", "50 mm is not above 75 mm"),
        ("50", "50", "range_high", "50 mm is not above 50 mm"),
        ("50", "", "range_high", "both ends"),
        ("", "75", "range_low", "both ends"),
        ("wide", "75", "range_low", "0…2000 mm"),
    ],
)
def test_a_range_that_is_none_is_asked_back_beside_its_field(
    shop: Workshop, low: str, high: str, field: str, said: str
) -> None:
    answer = send(shop, "equipment-new", **{**GAUGE, "range_low": low, "range_high": high})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page.split(f'id="a-{field}"')[1].split("</p>")[0]


def test_a_feeler_set_has_blades_and_a_heater_a_kind(shop: Workshop) -> None:
    feeler = {**GAUGE, "mark": "FEEL-2", "kind": "feeler set", "blades": "0,03 0.04; 0.05"}
    heater = {**GAUGE, "mark": "HEAT-2", "kind": "heater", "heater_kind": "oil bath", "expanded_u": "2"}
    for form in (feeler, heater):
        assert send(shop, "equipment-new", **form).status_code == 302
    documents = {v.equipment.mark: v.document for v in EquipmentVersion.objects.select_related("equipment")}
    assert documents["FEEL-2"]["blades_nm"] == [30_000, 40_000, 50_000]
    assert documents["HEAT-2"]["heater_kind"] == "oil bath" and documents["HEAT-2"]["expanded_u"] == 2000


@pytest.mark.parametrize("blades", ["", "0.03 thick", "0.001", "5", "0.03 " * 41])
def test_blades_that_are_none_are_asked_back(shop: Workshop, blades: str) -> None:
    answer = send(shop, "equipment-new", **{**GAUGE, "kind": "feeler set", "blades": blades})
    assert answer.status_code == 422 and 'id="a-blades"' in answer.content.decode()


def test_a_heater_without_a_kind_is_asked_back(shop: Workshop) -> None:
    answer = send(shop, "equipment-new", **{**GAUGE, "kind": "heater"})
    assert answer.status_code == 422 and "induction" in answer.content.decode()


def test_a_new_calibration_stands_beside_the_ones_before(shop: Workshop) -> None:
    micrometer = shop.gear["micrometer"]
    fields = {name: value for name, value in GAUGE.items() if name not in ("mark", "kind")}
    form = {**fields, "status": "quarantine", "note": "dropped"}
    assert send(shop, "calibration-new", micrometer.id, **form).status_code == 302
    assert [v.document["status"] for v in micrometer.versions.order_by("valid_from")] == [
        "in use",
        "quarantine",
    ]
    assert list(differences()) == []


def test_a_fitter_may_register_a_machine_and_no_gauge(shop: Workshop) -> None:
    assert send(shop, "machine-new", who="fitter", **MACHINE).status_code == 302
    assert send(shop, "equipment-new", who="fitter", **GAUGE).status_code == 403


def test_gear_of_another_site_is_as_if_it_did_not_exist(shop: Workshop) -> None:
    Equipment.objects.filter(id=shop.gear["micrometer"].id).update(site=new_id())
    answer = client_of(shop).get(reverse("calibration-new", args=[shop.gear["micrometer"].id]))
    assert answer.status_code == 404
