"""The inspector's desk in a real browser: a signature without scripts, nothing cut off on paper or screen."""

import re
from typing import Any

import pytest
from django.urls import reverse
from pytest_django.live_server_helper import LiveServer

from qrecords.evidence import derivatives
from qrecords.evidence.models import StoredFile
from qrecords.mountings.queries import case_of
from qrecords.steps.answers import Absent
from qrecords.steps.answers import State as Answer
from qrecords.steps.granting import Saying
from qrecords.steps.transitions import State, state_of
from tests.cast import PASSWORD, SEEN_BEFORE_HEAT, SEEN_COLD, Job, make_workshop, start
from tests.papers import paper

pytestmark = pytest.mark.browser
DESK, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


def sit(chromium: Any, server: LiveServer, who: str = "inspector", **options: Any) -> Any:
    """A page on which somebody of the cast has signed in."""
    page = chromium.new_context(**{"viewport": DESK, **options}).new_page()
    page.goto(f"{server.url}/sign-in/")
    page.fill("#sign_in", who)
    page.fill("#password", PASSWORD)
    page.click("main button")
    return page


def until_ready(job: Job, peak_c: str = "95", *, by_telephone: bool = False) -> None:
    """To the fitter's signature; released by telephone, no inspector has read the ring."""
    job.receive()
    job.measure()
    job.bore()
    named = (
        {"code": job.release_by_telephone()} if by_telephone else {"release": job.leaf(job.release("fit"))}
    )
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(peak_c=peak_c, press_s=200, **named)
    job.check_cold()
    job.photograph(*SEEN_COLD)
    for file in StoredFile.objects.filter(recipe=None):
        derivatives.make(file.sha256)
    StoredFile.objects.update(recipe=derivatives.RECIPE)
    job.release("cold")
    job.close()
    job.ready()


def address(server: LiveServer, page: str, job: Job) -> str:
    return server.url + reverse(page, kwargs={"mounting": job.mounting.id})


def runs_over(page: Any) -> list[list[int]]:
    """The sheets that are higher than A4, or whose body is wider than its frame, with both sizes."""
    sheets = page.evaluate(
        "[...document.querySelectorAll('.a4')].map(a => [Math.floor(a.getBoundingClientRect().height), 1123])"
    )
    cells = page.evaluate(
        "[...document.querySelectorAll('.a4-body, .a4 td')].map(b => [b.scrollWidth, b.clientWidth + 1])"
    )
    heights = sheets + cells
    assert heights
    return [pair for pair in heights if pair[0] > pair[1]]


def test_a_record_is_read_blind_and_signed_without_scripts(chromium: Any, server: LiveServer) -> None:
    job = start(make_workshop())
    until_ready(job, by_telephone=True)
    page = sit(chromium, server, java_script_enabled=False)
    page.click(f"text={job.mounting.number}")
    page.fill("#display-said", "60.018")
    page.click("text=compare")
    assert page.is_visible("text=You read what was typed at A 0°.")
    page.fill("#marking", "6212 C3")
    page.click("text=record my reading")
    page.fill("#sign-password", PASSWORD)
    page.click("text=sign: inspected")
    assert page.is_visible("text=Signed off. The record is frozen.")
    assert state_of(case_of(job.mounting)) == State.SIGNED_OFF


@pytest.mark.layout
def test_the_signature_is_in_the_window_at_once(chromium: Any, server: LiveServer) -> None:
    job = start(make_workshop())
    until_ready(job)
    page = sit(chromium, server)
    page.goto(address(server, "inspect", job))
    page.fill("#display-said", "60.018")
    page.click("text=compare")
    box = page.locator("text=sign: inspected").bounding_box()
    assert box["y"] >= 0
    assert box["y"] + box["height"] <= DESK["height"]
    signed_by = page.locator(".signatures").last.bounding_box()
    assert signed_by["y"] + signed_by["height"] <= page.locator("#sign-form").bounding_box()["y"], (
        "none covered"
    )


@pytest.mark.layout
def test_no_sheet_of_a_certificate_runs_over_and_each_is_one_page(chromium: Any, server: LiveServer) -> None:
    job = start(make_workshop())
    until_ready(job, peak_c="134")
    reason = "The probe sat right; one heating, no temper colour, brass cage, clearance as forecast. " * 9
    paper(job, "heating-curve")
    seen = Saying(states=frozenset({"no-temper-colour"}))
    job.decide("concession", "peak temperature", reason=reason, saying=seen)
    job.sign()
    page = sit(chromium, server, "auditor")
    page.goto(address(server, "certificate", job))
    assert runs_over(page) == []
    pdf = page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == page.locator(".a4").count()


@pytest.mark.layout
def test_a_doubtful_record_with_many_flags_is_whole_on_its_sheets(chromium: Any, server: LiveServer) -> None:
    job = start(make_workshop(), interference_um=["13", "48"])
    job.receive()
    job.measure()
    job.say("bore", source=Absent(Answer.NOT_POSSIBLE, "reading lost, the ring is on"))
    job.heat(peak_c="127")
    job.check_cold(at_90="0.03", at_180="0.05")
    job.ready()
    page = sit(chromium, server, "auditor")
    page.goto(address(server, "certificate", job))
    assert runs_over(page) == []
    assert page.is_visible("h1 >> text=not signed off")


@pytest.mark.layout
@pytest.mark.parametrize("viewport", [DESK, PHONE], ids=["desk", "phone"])
def test_every_page_fits_its_window_with_targets_to_hit(
    chromium: Any, server: LiveServer, viewport: dict[str, int]
) -> None:
    job = start(make_workshop())
    job.receive()
    job.measure(readings={"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "6", "17")})
    job.bore()
    page = sit(chromium, server, viewport=viewport)
    least = 36 if viewport is DESK else 48
    for name in ("inspect", "decide", "return"):
        page.goto(address(server, name, job))
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"], name
        low = page.evaluate(
            "[...document.querySelectorAll('.tap')].map(t => t.getBoundingClientRect().height)"
        )
        assert low
        assert min(low) >= least, name
        assert page.locator(".tap-next").count() <= 1, name
    page.goto(f"{server.url}/waiting/")
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
