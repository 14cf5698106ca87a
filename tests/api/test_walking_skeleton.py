"""The whole job through HTTP: the fitter by token, the inspector by session."""

import hashlib
from datetime import timedelta
from typing import Any

from qrecords.proof.merkle import leaf_hash, verify_inclusion
from qrecords.steps.procedure import STANDARD
from tests.api.caller import Caller, typed
from tests.cast import JOURNAL_UM, PASSWORD, REQUIREMENT, Workshop
from tests.drawing import small_jpeg

UM = "um from 60 mm"


def open_by_http(fitter: Caller) -> str:
    """Register machine, rebuild, journal and bearing and open the mounting; its address."""
    machine = fitter.act("machines/", name="Quarry pump 3", owner="Greyhallow quarry").document["entry"]
    rebuild = fitter.act("rebuilds/", machine=machine, work_order="WO-1001").document["entry"]
    journal = fitter.act("journals/", machine=machine, shaft="1", position="DE").document["entry"]
    fitter.act(f"journals/{journal}/requirements/", document=REQUIREMENT)
    bearing = fitter.act("bearings/", designation="6212 C3", lot="L-77").document["entry"]
    opened = fitter.act("mountings/", journal=journal, bearing=bearing, rebuild=rebuild)
    return f"mountings/{opened.document['entry']}/"


def say(caller: Caller, address: str, step: str, check: bool = False, **values: Any) -> None:
    caller.act(f"{address}captures/{step}/", fields=typed(**values), check=check)


def measure(fitter: Caller, address: str, shop: Workshop) -> None:
    say(fitter, address, "identification", marking="6212 C3", package="intact")
    say(
        fitter, address, "preparation", edge_burrs="removed", shoulder_burrs="none",
        fillet="clears the ring", wiped="yes", gear_ready="yes", zone="yes",
    )  # fmt: skip
    places = {
        f"journal__{plane}__{direction}": (text, UM)
        for plane, texts in JOURNAL_UM.items()
        for direction, text in zip(("0", "60", "120"), texts, strict=True)
    }
    twenty = ("20", "°C")
    say(
        fitter, address, "measurement", gauge=shop.gear["micrometer"].id, master=shop.gear["master"].id,
        master_before=("0", "um"), thermometer=shop.gear["thermometer"].id, shaft=twenty, bearing=twenty,
        gauge_temp=twenty, air=twenty, **places,
    )  # fmt: skip
    bore = {f"bore__{plane}__{at}": ("-6", UM) for plane in "AB" for at in ("0", "60", "120")}
    say(fitter, address, "bore", source="measured", gauge=shop.gear["bore_gauge"].id, **bore)


def heat(fitter: Caller, address: str, shop: Workshop, release: str) -> None:
    say(
        fitter, address, "heating", heater=shop.gear["heater"].id, setup="on the core leg",
        probe="inner ring",
    )  # fmt: skip
    for what, waited_s in (("heater on", 0), ("lifted off", 240), ("home", 8), ("let go", 50)):
        shop.clock += timedelta(seconds=waited_s)
        names = {"release": release} if what == "heater on" else {}
        fitter.act(f"{address}taps/", what=what, **names)
    say(fitter, address, "heating", peak=("95", "°C"))
    say(
        fitter, address, "demagnetisation", cycle="done", field=("0.9", "A/cm"), where="ring edge",
        meter=shop.gear["meter"].id,
    )  # fmt: skip


def check_cold(fitter: Caller, address: str, shop: Workshop) -> None:
    say(
        fitter, address, "seating", film="thin oil", went_home="in one move", dropped="no", hammered="no",
        held_by="hand",
    )  # fmt: skip
    gaps = {f"gap__{at}": ("0", "mm") for at in ("0", "90", "180", "270")}
    say(
        fitter, address, "shoulder_gap", feeler=shop.gear["feeler"].id, ring_temp=("21", "°C"),
        shaft_temp=("20", "°C"), **gaps,
    )  # fmt: skip


def photograph(fitter: Caller, address: str) -> None:
    for shot in STANDARD["photos"]:
        content = small_jpeg(f"{address} {shot['id']}")
        sha256 = hashlib.sha256(content).hexdigest()
        fitter.act(
            f"{address}photos/", shot=shot["id"], sha256=sha256, size=len(content), media="image/jpeg",
            camera=True,
        )  # fmt: skip
        sent = fitter.send("PUT", f"{address}photos/{sha256}/", content, "image/jpeg")
        assert sent.status == 201, sent


def test_a_sound_job_is_recorded_released_signed_and_proved(
    shop: Workshop, fitter: Caller, inspector: Caller
) -> None:
    address = open_by_http(fitter)
    measure(fitter, address, shop)
    say(inspector, address, "identification", check=True, marking="6212 C3")
    released = inspector.act(f"{address}releases/", hold="fit", shown=inspector.seen(address))
    heat(fitter, address, shop, released.leaf)
    check_cold(fitter, address, shop)
    photograph(fitter, address)
    inspector.act(f"{address}releases/", hold="cold", shown=inspector.seen(address))
    say(fitter, address, "running", turns="smooth")
    say(fitter, address, "protection", covered="yes")
    fitter_here = Caller.by_session(shop, "fitter")
    fitter_here.act(f"{address}ready/", password=PASSWORD, shown=fitter.seen(address))
    shown = inspector.get(address).document
    assert shown["certificate"] is None
    assert shown["state"] == "ready for inspection"
    assert shown["open"] == []
    signed = inspector.act(f"{address}signatures/", shown=shown["shown"], password=PASSWORD)
    frozen = inspector.get(address).document
    assert frozen["state"] == "signed off"
    page = Caller.by_session(shop, "auditor").client.get(frozen["certificate"])
    assert page.status_code == 200 and f"certificate of mounting {frozen['number']}" in page.content.decode()

    entry = inspector.get(f"entries/{signed.document['entry']}/").document
    leaf = leaf_hash(entry["payload"].encode())
    assert leaf.hex() == entry["leaf"] == signed.leaf
    proof = [bytes.fromhex(node) for node in entry["proof"]]
    assert verify_inclusion(entry["index"], entry["size"], leaf, bytes.fromhex(entry["root"]), proof)


def test_the_case_shows_the_finding_with_limits_margin_and_working(shop: Workshop, fitter: Caller) -> None:
    address = open_by_http(fitter)
    measure(fitter, address, shop)
    case = fitter.get(address).document
    size = next(found for found in case["findings"] if found["rule"] == "journal-size")
    assert (size["value"], size["lower"], size["upper"], size["unit"]) == (16000, 11000, 30000, "nm")
    assert size["margin"] == 5000
    assert size["working"]["formula"]
    assert case["requirement"]["journal"]["lower_nm"] == 11000
    assert case["heating_plan"]["set_c"] > case["heating_plan"]["must_reach_c"] - 5
    assert case["answers"]["measurement"]["journal.A.0"]["typed"] == "18"
    assert case["people"][str(shop.people["fitter"].id)] == "Fitter Person"
