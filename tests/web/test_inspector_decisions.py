"""The inspector or engineer decides, looks and returns: each with its reason, what was typed kept."""

import pytest
from django.urls import reverse

from qrecords.mountings.queries import case_of
from qrecords.steps.transitions import State as MountingState
from qrecords.steps.transitions import state_of
from tests.cast import Job, Workshop, start
from tests.web.desk import CLOSE_CALL, LOW, Desk, beside, sit

pytestmark = pytest.mark.django_db


def test_each_finding_says_what_may_be_decided_and_by_whom(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    page = sit(shop, "inspector", job).read()
    assert "measure again: inspector or engineer · rework: engineer" in page


def test_the_inspector_is_not_offered_a_concession_and_the_engineer_is(shop: Workshop, job: Job) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=CLOSE_CALL)
    assert 'value="concession"' not in sit(shop, "inspector", low).read("decide")
    assert 'value="concession"' in sit(shop, "engineer", low).read("decide")


def test_two_findings_of_one_cause_are_closed_by_one_decision(shop: Workshop, job: Job) -> None:
    job.say("preparation", reason="looked again", edge_burrs="left", wiped="no")
    desk = sit(shop, "inspector", job)
    digests = [job.finding(name).digest for name in ("edge-burrs", "wiped-clean")]
    desk.do("decide", about=digests, kind="rework", reason="stoned and wiped in my presence")
    (decision,) = case_of(job.mounting).decisions
    assert decision.digests == set(digests)


def test_a_concession_without_the_password_is_asked_for_it_and_keeps_what_was_typed(shop: Workshop) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=CLOSE_CALL)
    desk = sit(shop, "engineer", low)
    digest = low.finding("journal size").digest
    answer = desk.do("decide", about=[digest], kind="concession", reason="interference still 12")
    assert answer.status_code == 403
    assert "interference still 12" in answer.content.decode()
    assert beside(answer.content.decode(), "password") == "Give your password: it is your signature."
    assert case_of(low.mounting).decisions == ()


def test_a_wrong_password_at_a_decision_keeps_what_was_chosen_and_typed(shop: Workshop) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=CLOSE_CALL)
    digest = low.finding("journal size").digest
    typed = {"reason": "interference still 12", "conditions": "look again in May"}
    desk = sit(shop, "engineer", low)
    answer = desk.do("decide", about=[digest], kind="concession", password="wrong", **typed)
    page = answer.content.decode()
    assert answer.status_code == 401
    assert all(words in page for words in typed.values())
    assert f'value="{digest}" checked' in page and 'value="concession" checked' in page
    assert beside(page, "password") == "The password is not right. Give it again."
    assert "wrong" not in page.split('id="password"', 1)[1].split(">", 1)[0].replace("password-wrong", "")


def test_a_decision_the_rule_does_not_allow_is_refused_in_words(shop: Workshop, job: Job) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=CLOSE_CALL)
    desk = sit(shop, "inspector", low)
    answer = desk.do("decide", about=[low.finding("journal size").digest], kind="accept", reason="fine")
    assert answer.status_code == 422
    assert "accept is not possible; possible: measure again, concession" in (answer.content.decode())


def test_a_decision_needs_a_finding_a_kind_and_a_reason(desk: Desk) -> None:
    assert desk.do("decide", reason="because").status_code == 422
    assert case_of(desk.job.mounting).decisions == ()


def test_a_query_is_closed_by_a_few_words(shop: Workshop, job: Job) -> None:
    job.say("identification", reason="seen now", package="opened")
    desk = sit(shop, "inspector", job)
    page = desk.read()
    assert "Package opened." in page
    digest = job.finding("package-intact").digest
    desk.do("look", about=digest, explanation="opened for the goods-in check")
    assert case_of(job.mounting).looked == {digest: "opened for the goods-in check"}
    assert "Decided or looked at" in desk.read()


def test_a_query_without_words_stays_open(shop: Workshop, job: Job) -> None:
    job.say("identification", reason="seen now", package="opened")
    desk = sit(shop, "inspector", job)
    answer = desk.do("look", about=job.finding("package-intact").digest, explanation=" ")
    assert answer.status_code == 422
    assert beside(answer.content.decode(), "explanation") == "Say in a few words what explains it."
    assert case_of(job.mounting).looked == {}


def test_a_record_goes_back_item_by_item_each_with_its_reason(shop: Workshop, desk: Desk) -> None:
    desk.job.ready()
    reasons = {"about": ["photo blade", "shoulder gap"], "reason": ["no photo came", ""]}
    desk.do("return", **reasons, other="the label is wet")
    (returned,) = case_of(desk.job.mounting).returns
    assert returned.items == (("photo blade", "no photo came"), ("the record", "the label is wet"))
    assert state_of(case_of(desk.job.mounting)) == MountingState.RETURNED


def test_a_return_without_any_reason_is_refused(desk: Desk) -> None:
    desk.job.ready()
    assert desk.do("return", about=["photo blade"], reason=[" "]).status_code == 422
    assert case_of(desk.job.mounting).returns == ()


def test_the_decision_form_says_what_keeps_a_rework_from_closing(
    shop: Workshop, job: Job, desk: Desk
) -> None:
    job.heat(release=job.leaf(job.release("fit")), peak_c="140")
    job.check_cold(at_90="0.05")
    address = reverse("decide", args=[job.mounting.id])
    about = job.finding("shoulder gap").digest
    page = desk.client.post(address, {"kind": "rework", "about": about, "reason": "pull"})
    assert page.status_code == 409
    assert "first decide what the ring went through (Peak, inner ring)" in page.content.decode()
