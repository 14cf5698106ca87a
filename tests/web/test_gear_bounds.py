"""What a calibration can say, by both doors: the form and the API ask back the same, beside the field."""

from dataclasses import dataclass, field
from typing import Any

import pytest

from qrecords.engineering import units
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.steps.new_gear import SCALES
from qrecords.workshop.models import EquipmentVersion
from tests.api.caller import Caller
from tests.cast import Workshop
from tests.web.test_registers_pages import GAUGE, send

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Asked:
    """A piece with one thing wrong: as the API sends it and as the form does, and what is said of it."""

    kind: str
    document: dict[str, Any]
    typed: dict[str, str]
    field: str
    said: str
    input: str = field(default="")


TABLE = {
    "U of two million kelvin": Asked(
        "thermometer", {"expanded_u": 2_000_000_000}, {"expanded_u": "2000000"}, "expanded_u", "0…50 K"
    ),
    "a negative U": Asked(
        "outside micrometer", {"expanded_u": -1000}, {"expanded_u": "-1"}, "expanded_u", "0…1000 µm"
    ),
    "U ten times too large": Asked(
        "outside micrometer",
        {"expanded_u": 12_000, "resolution": 1000},
        {"expanded_u": "12", "resolution": "1"},
        "expanded_u",
        "12 µm is far from the usual 0.3…5 µm (outside micrometer)",
    ),
    "U ten times too small": Asked(
        "outside micrometer",
        {"expanded_u": 120, "resolution": 100},
        {"expanded_u": "0.12", "resolution": "0.1"},
        "expanded_u",
        "0.12 µm is far from the usual 0.3…5 µm",
    ),
    "U in mm where µm are asked": Asked(
        "outside micrometer",
        {"expanded_u": 1, "resolution": 1000},
        {"expanded_u": "0.001", "resolution": "1"},
        "expanded_u",
        "0.001 µm",
    ),
    "U below what the step hides": Asked(
        "outside micrometer",
        {"expanded_u": 400, "resolution": 1000},
        {"expanded_u": "0.4", "resolution": "1"},
        "expanded_u",
        "0.4 µm is less than the step of 1 µm alone hides, 0.577 µm",
    ),
    "a step a thousand times off": Asked(
        "outside micrometer", {"resolution": 1_000_000}, {"resolution": "1000"}, "resolution", "0.1…5 µm"
    ),
    "a spread larger than U": Asked(
        "outside micrometer",
        {"expanded_u": 1000, "repeatability": 3000},
        {"expanded_u": "1", "repeatability": "3"},
        "repeatability",
        "3 µm is more than U, 1 µm",
    ),
    "a feeler set without blades": Asked(
        "feeler set", {"blades_nm": None}, {"blades": ""}, "blades_nm", "1 to 40 blades", "blades"
    ),
    "a blade of 30 nm": Asked(
        "feeler set", {"blades_nm": [30]}, {"blades": "0.00003"}, "blades_nm", "0.01…3 mm", "blades"
    ),
    "a heater of no kind": Asked("heater", {}, {"heater_kind": ""}, "heater_kind", "induction, oven"),
    "a heater of 5 W": Asked(
        "heater",
        {"heater_kind": "oven", "power_w": 5},
        {"heater_kind": "oven", "power_w": "5"},
        "power_w",
        "50…500000 W",
    ),
    "a range in metres": Asked(
        "bore gauge",
        {"range_nm": [50_000_000, 75_000_000_000]},
        {"range_low": "50", "range_high": "75000"},
        "range_nm",
        "0…2000 mm",
        "range_high",
    ),
}


def form(asked: Asked, **more: str) -> dict[str, str]:
    empty = {"expanded_u": "", "resolution": "", "repeatability": "", "mark": "NEW-1", "kind": asked.kind}
    return GAUGE | empty | asked.typed | more


def body(asked: Asked, **more: Any) -> dict[str, Any]:
    said = {"status": "in use"} | {k: v for k, v in asked.document.items() if v is not None} | more
    since = "2026-03-02T07:00:00Z"
    return {
        "entry_id": new_id(), "kind": asked.kind, "mark": "NEW-1", "document": said, "valid_from": since,
    }  # fmt: skip


@pytest.mark.parametrize("asked", TABLE.values(), ids=list(TABLE))
def test_the_form_asks_it_back_beside_its_field(shop: Workshop, asked: Asked) -> None:
    before = Entry.objects.count()
    answer = send(shop, "equipment-new", **form(asked))
    assert answer.status_code == 422
    beside = answer.content.decode().split(f'id="a-{asked.input or asked.field}"')[1].split("</p>")[0]
    assert asked.said in beside
    assert Entry.objects.count() == before


@pytest.mark.parametrize("asked", TABLE.values(), ids=list(TABLE))
def test_the_api_names_the_field_and_says_the_same(shop: Workshop, asked: Asked) -> None:
    before = Entry.objects.count()
    answered = Caller.by_session(shop, "quality").post("equipment/", **body(asked))
    assert (answered.status, answered.code) == (422, "document")
    assert answered.document["facts"]["field"] == asked.field
    assert asked.said in answered.document["facts"]["why"]
    assert Entry.objects.count() == before


UNUSUAL = (
    "U ten times too large", "U ten times too small", "U in mm where µm are asked",
    "U below what the step hides", "a step a thousand times off", "a spread larger than U",
)  # fmt: skip


@pytest.mark.parametrize("name", UNUSUAL)
def test_what_is_only_unlikely_is_taken_once_it_says_where_it_is_written(shop: Workshop, name: str) -> None:
    asked = TABLE[name]
    written = "certificate K 77, page 2"
    assert send(shop, "equipment-new", **form(asked, figures_source=written)).status_code == 302
    by_api = body(asked, figures_source=written) | {"mark": "NEW-2"}
    assert Caller.by_session(shop, "quality").post("equipment/", **by_api).status == 201
    held = EquipmentVersion.objects.filter(equipment__mark__startswith="NEW-")
    assert [version.document["figures_source"] for version in held] == [written, written]


@pytest.mark.parametrize("kind", SCALES)
def test_ten_times_more_or_less_than_a_usual_calibration_is_asked(shop: Workshop, kind: str) -> None:
    usual = {"setting master": 600, "feeler set": 2000, "thermometer": 1000, "heater": 2000}
    u = usual.get(kind, 10_000 if kind == "field meter" else 1200)
    scale = SCALES[kind]
    for wrong in (10 * u, u // 10):
        asked = Asked(kind, {"expanded_u": wrong}, {}, "expanded_u", "")
        made = body(asked, heater_kind="oven", blades_nm=[30_000])
        answered = Caller.by_session(shop, "quality").post("equipment/", **made)
        assert answered.document["facts"]["field"] == "expanded_u", wrong
        assert units.show(wrong, scale.quantity, scale.unit) in answered.document["facts"]["why"]


def test_the_next_version_keeps_where_the_figures_are_written(shop: Workshop) -> None:
    asked = TABLE["U ten times too large"]
    send(shop, "equipment-new", **form(asked, figures_source="K 77, page 2"))
    version = EquipmentVersion.objects.get(equipment__mark="NEW-1")
    again = {name: text for name, text in form(asked).items() if name not in ("mark", "kind")}
    page = send(shop, "calibration-new", version.equipment_id, **again)
    assert page.status_code == 422
    kept = send(shop, "calibration-new", version.equipment_id, **again, figures_source="K 77, page 2")
    assert kept.status_code == 302


OUT_OF_USE = {
    "a lost feeler set of which nobody knows the blades": ("feeler", "lost", {}, {}),
    "a quarantined heater of which nobody says the kind": ("heater", "quarantine", {}, {}),
    "a dropped micrometer with the U it always had": (
        "micrometer", "quarantine", {"expanded_u": 200, "resolution": 1000},
        {"expanded_u": "0.2", "resolution": "1"},
    ),
    "a scrapped micrometer whose spread is why": (
        "micrometer", "scrapped", {"expanded_u": 1000, "repeatability": 3000},
        {"expanded_u": "1", "repeatability": "3"},
    ),
}  # fmt: skip
SINCE = "2026-03-02T12:00:00Z"
UNTOLD = {"valid_from": "2026-03-02T12:00", "blades": "", "heater_kind": ""}


@pytest.mark.parametrize("key", OUT_OF_USE)
def test_a_piece_is_taken_out_of_use_whatever_is_known_of_it(shop: Workshop, key: str) -> None:
    gear, status, document, typed = OUT_OF_USE[key]
    piece = shop.gear[gear]
    assert send(shop, "calibration-new", piece.id, **UNTOLD, **typed, status=status).status_code == 302
    said = {"status": status, **document}
    by_api = Caller.by_session(shop, "quality").act(
        f"equipment/{piece.id}/calibrations/", document=said, valid_from=SINCE
    )
    assert by_api.status == 201
    later = [version.document for version in piece.versions.order_by("id")][1:]
    assert [{name: each.get(name) for name in said} for each in later] == [said, said]


@pytest.mark.parametrize("key", OUT_OF_USE)
def test_back_in_use_it_is_asked_again(shop: Workshop, key: str) -> None:
    gear, _, document, typed = OUT_OF_USE[key]
    piece = shop.gear[gear]
    assert send(shop, "calibration-new", piece.id, **UNTOLD, **typed, status="in use").status_code == 422
    answered = Caller.by_session(shop, "quality").post(
        f"equipment/{piece.id}/calibrations/", entry_id=new_id(), valid_from=SINCE,
        document={"status": "in use", **document},
    )  # fmt: skip
    assert (answered.status, answered.code) == (422, "document")
    assert piece.versions.count() == 1


@pytest.mark.parametrize(
    ("gear", "document", "named"),
    [
        ("micrometer", {"expanded_u": -1000}, "expanded_u"),
        ("micrometer", {"range_nm": [75_000_000, 50_000_000]}, "range_nm"),
        ("feeler", {"blades_nm": [30]}, "blades_nm"),
    ],
)
def test_what_cannot_be_is_asked_back_out_of_use_too(
    shop: Workshop, gear: str, document: dict[str, Any], named: str
) -> None:
    piece = shop.gear[gear]
    answered = Caller.by_session(shop, "quality").post(
        f"equipment/{piece.id}/calibrations/", entry_id=new_id(), valid_from=SINCE,
        document={"status": "lost", **document},
    )  # fmt: skip
    assert (answered.status, answered.document["facts"]["field"]) == (422, named)


def test_a_status_that_is_none_does_not_pass_for_out_of_use(shop: Workshop) -> None:
    answered = Caller.by_session(shop, "quality").post(
        f"equipment/{shop.gear['feeler'].id}/calibrations/", entry_id=new_id(), valid_from=SINCE,
        document={"status": "In use"},
    )  # fmt: skip
    assert (answered.status, answered.document["facts"]["field"]) == (422, "status")
    assert "in use, quarantine, dropped, lost, scrapped" in answered.document["facts"]["why"]
