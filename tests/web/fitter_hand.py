"""A fitter's hand in the tests: his pages filled in and sent as a browser without script would."""

import re
import uuid
from collections.abc import Mapping
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.steps.shown import shown_now
from tests.cast import PASSWORD, Workshop
from tests.drawing import small_jpeg


def signed_in(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def form_of(page: Any) -> dict[str, str]:
    """What a browser without script would send of the page's capture form, before anybody types."""
    text = page.content.decode()
    form = re.search(r'<form[^>]*class="two-hands-form".*?</form>', text, re.S)
    assert form, "no capture form on this page"
    fields = {}
    for tag in re.findall(r"<input[^>]*>", form[0]):
        if (named := re.search(r' name="([^"]*)"', tag)) is None or 'type="file"' in tag:
            continue
        if ('type="radio"' in tag or 'type="checkbox"' in tag) and " checked" not in tag:
            continue
        value = re.search(r' value="([^"]*)"', tag)
        fields[named[1]] = value[1] if value else ""
    for name, body in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', form[0], re.S):
        options = re.findall(r'<option value="([^"]*)"( selected)?', body)
        fields[name] = next((value for value, chosen in options if chosen), options[0][0])
    return fields


def fill(client: Client, address: str, answers: Mapping[str, Any]) -> HttpResponse:
    page = client.get(address)
    assert page.status_code == 200, page.content[:300]
    return client.post(address, form_of(page) | answers)  # type: ignore[return-value]


def tap(client: Client, job: Mounting, what: str) -> HttpResponse:
    address = f"/mountings/{job.id}/hot/"
    page = client.get(address)
    return client.post(address, form_of(page) | {"tap": what})  # type: ignore[return-value]


ORDER = {
    "work_order": "WO-77",
    "machine_name": "Vent fan 2",
    "owner": "Ostrey tram depot",
    "position": "DE",
    "designation": "6212 C3",
    "drawing": "TH-9",
    "revision": "B",
    "shaft_class": "m6",
    "seat_width": "40",
}
SIZES = {"outside": "110", "width": "22", "nominal": "60"}
READINGS = dict(
    zip(
        [f"measurement.journal.{plane}.{at}" for plane in "ABC" for at in ("0", "60", "120")],
        ("18", "17", "18", "17", "17", "18", "17", "16", "17"),
        strict=True,
    )
)


def opened(client: Client, **changes: str) -> Mounting:
    first = client.post("/mountings/new/", ORDER | changes)
    assert first.status_code == 200, "D and B from the table are shown before they are accepted"
    text = first.content.decode()
    boundary = {
        name: re.search(rf'name="{name}" value="([^"]*)"', text)[1]  # type: ignore[index]
        for name in ("outside", "width", "nominal")
    }
    groups = {"clearance_kind": "deep_groove_ball_cyl_bore", "clearance_group": "3"}
    done = client.post("/mountings/new/", ORDER | boundary | groups | changes)
    assert done.status_code == 302, text
    return Mounting.objects.get(id=done["Location"].split("/")[2])


def receive(client: Client, mounting: Mounting) -> HttpResponse:
    return fill(
        client,
        f"/mountings/{mounting.id}/receive/",
        {
            "identification.marking": "6212 C3",
            "identification.package": "intact",
            "preparation.edge_burrs": "removed",
            "preparation.shoulder_burrs": "none",
            "preparation.fillet": "clears the ring",
            "preparation.wiped": "yes",
            "preparation.gear_ready": "yes",
            "preparation.zone": "yes",
            "shot.marking": photo("marking"),
            "shot.package": photo("package"),
            "shot.seat": photo("seat"),
        },
    )


def photo(seed: str) -> SimpleUploadedFile:
    return SimpleUploadedFile(f"{seed}.jpg", small_jpeg(f"{uuid.uuid4()} {seed}"), "image/jpeg")


TEMPERATURES = {
    "measurement.master_before": "0",
    "unit:measurement.master_before": "um",
    "measurement.shaft": "20",
    "measurement.bearing": "20,5",
    "measurement.gauge_temp": "20",
    "measurement.air": "21",
}


def measure(client: Client, mounting: Mounting, readings: Mapping[str, str] = READINGS) -> None:
    here = f"/mountings/{mounting.id}/measure/"
    assert fill(client, f"{here}?part=gauge", TEMPERATURES)["Location"].endswith("part=readings&after=gauge")
    assert fill(client, f"{here}?part=readings", readings)["Location"].endswith("part=bore&after=readings")
    bore = {"bore.source": "from class", "shot.micrometer": photo("micrometer")}
    assert fill(client, f"{here}?part=bore", bore)["Location"].endswith("part=fit&after=bore")


def shown(mounting: Mounting) -> str:
    return str(shown_now(case_of(mounting)))


def release(client: Client, mounting: Mounting, hold: str, who: str = "inspector") -> HttpResponse:
    """At the tablet: the inspector reads the ring and proves himself."""
    typed = {"sign_in": who, "inspector_password": PASSWORD, "shown": shown(mounting)}
    if hold == "fit":
        typed |= {"marking": "6212 C3", "reading_id": str(new_id())}
    return client.post(f"/mountings/{mounting.id}/release/{hold}/", typed)  # type: ignore[return-value]


def heat(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/heat/"
    set_up = {"heating.setup": "on the core leg", "heating.probe": "inner ring", "shot.probe": photo("probe")}
    assert fill(client, f"{here}?part=set-up", set_up)["Location"].endswith("/hot/")
    for what in ("heater-on", "lifted-off", "home", "let-go"):
        assert tap(client, mounting, what).status_code == 302
    after = {"heating.peak": "95", "demagnetisation.cycle": "done"}
    assert fill(client, f"{here}?part=after", after)["Location"].endswith("/cold/?after=after")


def check_cold(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/cold/"
    seat = {
        "seating.film": "thin oil",
        "seating.went_home": "in one move",
        "seating.dropped": "no",
        "seating.hammered": "no",
        "seating.held_by": "nut",
        "shot.held": photo("held"),
    }
    assert fill(client, f"{here}?part=seat", seat)["Location"].endswith("part=temperatures&after=seat")
    cold = {"shoulder_gap.ring_temp": "21", "shoulder_gap.shaft_temp": "20"}
    assert fill(client, f"{here}?part=temperatures", cold)["Location"].endswith("part=gap&after=temperatures")
    for number in range(4):
        page = client.get(f"{here}?part=gap")
        fields = form_of(page)
        assert fields["at"] == str(90 * number), "the next angle is chosen by itself"
        more = {"shot.blade": photo("blade")} if number == 3 else {}
        client.post(f"{here}?part=gap", fields | {"blade": "0"} | more)
    rest = {"demagnetisation.field": "0.9", "demagnetisation.where": "ring edge"}
    assert fill(client, f"{here}?part=rest", rest)["Location"].endswith("part=hold&after=rest")


def close(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/close/"
    answers = {
        "running.turns": "smooth",
        "protection.covered": "yes",
        "shot.covered": photo("covered"),
    }
    assert fill(client, here, answers).status_code == 302
