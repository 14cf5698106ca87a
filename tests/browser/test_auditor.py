"""The auditor's way in a real browser: one box, the bearing's life, every entry, the proof. Looking asks for
no script, and nothing runs over at a phone's width."""

from typing import Any

import pytest
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger.models import Entry
from qrecords.people.models import Person, Token
from qrecords.workshop.models import EquipmentVersion
from tests.cast import PASSWORD, U_HALF_UM, Job, make_workshop, start

pytestmark = pytest.mark.browser
WIDER = """() => [document.documentElement, ...document.querySelectorAll(".scrolls, .picture")]
    .filter(part => part.clientWidth && part.scrollWidth > part.clientWidth + 1)
    .map(part => part.className)"""
"""What has to be pushed sideways to be read: the page, or a table or picture in it."""
DESK, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


@pytest.fixture
def job(server: LiveServer) -> Job:
    job = start(make_workshop())
    job.whole()
    return job


def sit(chromium: Any, server: LiveServer, who: str, *, password: str = PASSWORD, **options: Any) -> Any:
    """A page on which somebody of the cast has signed in."""
    page = chromium.new_context(**{"viewport": DESK, **options}).new_page()
    page.goto(f"{server.url}/sign-in/")
    page.fill("#sign_in", who)
    page.fill("#password", password)
    page.click("main button")
    return page


def test_a_failed_bearing_is_traced_to_its_entries_and_proved_without_scripts(
    chromium: Any, server: LiveServer, job: Job
) -> None:
    page = sit(chromium, server, "auditor", java_script_enabled=False)
    assert page.url.endswith("/search/")
    page.fill("#q", "6212 greyhallow pump DE")
    page.click("form[role=search] button")
    assert "owner greyhallow" in page.inner_text(".read-as")
    assert page.locator(".index .here").inner_text().startswith(f"{job.mounting.number} · 6212 C3")
    assert page.locator("svg.drawing.wide").count() == 2  # the life, and the day of mounting
    page.click("text=every entry of this record")
    page.wait_for_url("**/trace/**")
    assert page.locator(".entries tbody tr").count() == Entry.objects.filter(subject=job.mounting.id).count()
    page.locator(".entries .place a").nth(1).click()
    assert "Verified just now" in page.inner_text("main")
    page.go_back()
    page.click("text=verify here")
    assert "nothing was changed" in page.inner_text("main")


def test_a_keyboard_alone_searches_and_opens_a_candidate(chromium: Any, server: LiveServer, job: Job) -> None:
    page = sit(chromium, server, "auditor")
    page.wait_for_selector("#q:focus")  # the box waits for words
    page.keyboard.type("L-77")
    page.keyboard.press("Enter")
    page.wait_for_selector(".index .here")
    page.locator(".index a.item").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**open=**")
    assert str(job.mounting.id) in page.url


@pytest.mark.layout
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_runs_over_on_a_phone(chromium: Any, server: LiveServer, job: Job, scheme: str) -> None:
    entry = Entry.objects.filter(subject=job.mounting.id).order_by("leaf__index")[0]
    gauge = job.shop.gear["micrometer"].id
    pages = {
        "auditor": [
            "/search/?q=6212",
            f"/bearings/{job.bearing.id}/",
            f"/mountings/{job.mounting.id}/trace/",
            f"/entries/{entry.id}/",
            f"/equipment/{gauge}/",
            f"/verify/?mounting={job.mounting.id}",
        ],
        "quality": [
            "/registers/equipment/",
            "/registers/equipment/new/",
            "/registers/procedure/",
            "/mountings/all/",
            "/competence/new/",
            "/tokens/",
        ],
        "administrator": ["/people/", "/people/new/", f"/people/{job.shop.people['fitter'].id}/"],
    }
    over = []
    for who, addresses in pages.items():
        page = sit(
            chromium, server, "admin" if who == "administrator" else who, viewport=PHONE, color_scheme=scheme
        )
        for address in addresses:
            assert page.goto(server.url + address).status == 200
            over += [(address, wide) for wide in page.evaluate(WIDER)]
    page = chromium.new_context(viewport=PHONE, color_scheme=scheme).new_page()
    page.goto(f"{server.url}/sign-in/")
    over += [("/sign-in/", wide) for wide in page.evaluate(WIDER)]
    assert over == []


def test_a_gauge_that_was_dropped_is_put_aside_and_a_wrong_number_is_asked_back(
    chromium: Any, server: LiveServer, job: Job
) -> None:
    page = sit(chromium, server, "quality")
    page.goto(server.url + "/registers/equipment/?q=micrometer")
    page.click("text=new version")
    page.select_option("#f-status", "quarantine")
    page.fill("#f-note", "dropped on the floor")
    page.fill("#f-expanded_u", "about one")
    page.click("text=record >> nth=-1")
    assert "“about one” is not possible. Allowed: 0…1000 µm" in page.inner_text("#a-expanded_u")
    assert page.input_value("#f-note") == "dropped on the floor"
    page.fill("#f-expanded_u", "1,5")
    page.click("text=record >> nth=-1")
    page.wait_for_selector(".notices")
    newest = EquipmentVersion.objects.filter(equipment__mark="MICROMETER-1").order_by("-valid_from")[0]
    changed = {"status": "quarantine", "note": "dropped on the floor", "expanded_u": 1500}
    # What nobody touched stands as it was; the form says the interval that a micrometer has by default.
    assert newest.document == {**U_HALF_UM, **changed, "interval_months": 12}


def test_a_person_is_enrolled_and_signs_in_and_a_token_shows_its_secret_once(
    chromium: Any, server: LiveServer, job: Job
) -> None:
    page = sit(chromium, server, "admin")
    page.click("text=new")
    for field, text in {
        "name": "O. Brandreth", "sign_in": "brandreth", "first_password": "a long first word",
        "password": PASSWORD,
    }.items():  # fmt: skip
        page.fill(f"#f-{field}", text)
    page.select_option("#f-role", "fitter")
    page.click("text=record >> nth=-1")
    page.wait_for_selector(".notices")
    assert Person.objects.filter(sign_in="brandreth").exists()

    page = sit(chromium, server, "brandreth", password="a long first word")
    assert "Choose your own password" in page.inner_text("h1")
    for field, text in {
        "password": "a long first word", "new_password": "a word of my own", "new_again": "a word of my own",
    }.items():  # fmt: skip
        page.fill(f"#f-{field}", text)
    page.click("text=keep the new password")
    page.wait_for_url("**/mountings/")

    page = sit(chromium, server, "quality")
    page.goto(server.url + "/tokens/")
    page.fill("#label", "wall display")
    page.check("input[value='read']")
    page.click("text=make it")
    assert len(page.inner_text("#secret")) > 40
    page.goto(server.url + "/tokens/")
    assert page.locator("#secret").count() == 0 and Token.objects.count() == 1
