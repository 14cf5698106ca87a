"""The inspector signs exactly what was shown, and the record freezes."""

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings import judging
from qrecords.mountings.queries import case_of
from qrecords.people import actions as people
from qrecords.people.permissions import Role
from qrecords.steps.shown import read_extent
from qrecords.steps.transitions import State as MountingState
from qrecords.steps.transitions import state_of
from tests.cast import Workshop
from tests.web.desk import Desk, beside, hidden, main, make_pictures, make_ready, sit

pytestmark = pytest.mark.django_db


def test_signing_is_dotted_with_its_reason_until_it_is_possible(desk: Desk) -> None:
    assert "sign, when the fitter has said ready" in " ".join(desk.read().split())
    make_ready(desk.job, by_telephone=True)
    assert "sign, when 1 item is closed" in " ".join(desk.read().split())
    desk.do("own-reading", marking="6212 C3")
    assert "sign: inspected" in desk.read()


def test_readings_that_are_kept_back_are_signed_only_when_the_display_was_read(desk: Desk) -> None:
    make_ready(desk.job)
    make_pictures()
    page = " ".join(desk.read().split())
    assert "sign, when you have read the display" in page and "sign: inspected" not in page
    desk.do("read-display", display="60.018")
    assert "sign: inspected" in desk.read()


def test_the_signature_covers_exactly_what_was_shown(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    shown = hidden(desk.read(), "shown")
    assert desk.sign(shown).status_code == 302
    case = case_of(desk.job.mounting)
    assert state_of(case) == MountingState.SIGNED_OFF
    assert case.signatures[-1].said["shown"] == read_extent(shown).document()


def test_what_came_since_the_page_was_shown_stops_the_signature_and_is_named(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    shown = hidden(desk.read(), "shown")
    desk.job.photograph("one more")
    answer = desk.sign(shown)
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "photo taken" in page
    assert "photo received" in page
    assert state_of(case_of(desk.job.mounting)) == MountingState.READY


def test_a_value_that_was_corrected_since_is_told_with_its_reason_and_nothing_is_lost(desk: Desk) -> None:
    make_ready(desk.job)
    shown = hidden(desk.read(), "shown")
    desk.do("read-display", display="60.018")
    desk.job.say("running", turns="rough", reason="turned again")
    before = len(case_of(desk.job.mounting).order)
    answer = desk.sign(shown)
    assert answer.status_code == 409
    page = main(answer.content.decode())
    assert "Not signed: something came since this page was shown" in page
    assert "turned by hand rough" in page and "turned again" in page
    case = case_of(desk.job.mounting)
    assert len(case.order) == before and state_of(case) == MountingState.READY


def test_a_wrong_password_signs_nothing_and_is_said_beside_its_field(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    answer = desk.sign(hidden(desk.read(), "shown"), password="wrong")
    page = answer.content.decode()
    assert answer.status_code == 401
    assert "sign: inspected" in page and "columns-record" in page
    assert beside(page, "password") == "The password is not right. Give it again."
    assert state_of(case_of(desk.job.mounting)) == MountingState.READY


def test_a_signed_record_is_read_only_and_a_late_photo_shows_as_after_signature(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    desk.sign(hidden(desk.read(), "shown"))
    desk.job.photograph("one more")
    make_pictures()
    page = main(desk.read())
    assert "<form" not in page
    assert "2 entries came after the signature" in page
    assert "· after signature" in page


def test_a_signed_record_shows_the_judgement_that_was_signed(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    desk.sign(hidden(desk.read(), "shown"))
    before = desk.read().count("verdict-conforming")
    monkeypatch.setattr(judging, "all_findings", lambda case: [])
    assert desk.read().count("verdict-conforming") == before


def test_who_worked_on_it_is_told_why_he_cannot_sign(shop: Workshop, desk: Desk) -> None:
    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(), role=Role.INSPECTOR,
        person=shop.people["fitter"],
    )  # fmt: skip
    desk.job.ready()
    own = sit(shop, "fitter", desk.job)
    assert "by somebody who did not work on it" in own.read()
    assert own.sign(str(desk.job.shown())).status_code == 403
