"""One wording, on every page and paper, for what rests on a cell nobody confirmed, or on the site's own."""

import html
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.mountings.models import Mounting
from qrecords.web.doubts import told
from tests.cast import Job, make_workshop, start
from tests.web.desk import sit
from tests.workshop.own_copy import approve, propose

ROW = "ISO 5753-1:2009 radial_internal_clearance deep_groove_ball_cyl_bore 3 over 50 to 65 mm"
NAMED = "radial clearance, deep groove ball bearing, group C3, 50…65 mm (ISO 5753-1:2009)"
COMPARE = f"compare with your copy of the standard: {NAMED}"
OWN = (
    "rom this site's own copy of ISO 5753-1:2009, table 2, page 7, copy 3, order PO-4471, approved by "
    f"Quality Person on 2 Mar 2026: {NAMED}"
)
AT_WORK = [("fitter", "fit-measure", {"part": "fit"}), ("fitter", "fit-measure", {"part": "bore"})]
READ = [
    ("fitter", "sheet", {}),
    ("inspector", "inspect", {}),
    ("auditor", "mounting-trace", {}),
    ("inspector", "certificate", {}),
]


def opened(*, own: bool) -> Job:
    """Measured, but for the clearance; with the group's row from the site's own copy."""
    shop = make_workshop()
    if own:
        approve(shop, propose(shop))
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return job


def finished(job: Job) -> Job:
    """A sound record, the clearance before the fit felt."""
    job.say("clearance_before", g0=("30", "um"), method="feeler")
    job.whole()
    return job


def words(job: Job, who: str, page: str, query: dict[str, str]) -> str:
    address = reverse(page, args=[job.mounting.id])
    answer = sit(job.shop, who, job).client.get(address, query)
    assert answer.status_code == 200, page
    text = html.unescape(answer.content.decode())
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


@pytest.mark.django_db
@pytest.mark.parametrize(("own", "says", "never"), [(False, COMPARE, OWN), (True, OWN, COMPARE)])
def test_every_page_and_paper_says_it_in_the_same_words(own: bool, says: str, never: str) -> None:
    working = opened(own=own)
    shown_on = {page: words(working, who, page, query) for who, page, query in AT_WORK}
    job = finished(start(working.shop, position="NDE"))
    shown_on |= {page: words(job, who, page, query) for who, page, query in READ}
    for page, shown in shown_on.items():
        assert says in shown, page
        assert never not in shown, page
        assert "second source:" not in shown, page
        assert "radial_internal_clearance" not in shown, page


@pytest.mark.django_db
def test_an_items_own_frame_names_the_row_before_it_is_decided() -> None:
    job = opened(own=False)
    job.say("clearance_before", g0=("60", "um"), method="feeler")
    job.own_reading()
    page = words(job, "engineer", "inspect", {})
    item = page.split("clearance-before", 1)[0] if "clearance-before" in page else page
    assert f"unconfirmed: {COMPARE}" in item


@pytest.mark.django_db
def test_the_record_asks_no_more_of_the_database_for_its_own_rows_once_their_approver_is_known() -> None:
    before = finished(start(make_workshop()))
    approve(before.shop, propose(before.shop))
    after, counts = finished(start(before.shop, position="NDE")), []
    for job in (before, after):
        desk = sit(job.shop, "inspector", job)
        desk.read()
        with CaptureQueriesContext(connection) as asked:
            desk.read()
        counts.append(len(asked))
    assert counts[0] == counts[1]


@pytest.mark.django_db
def test_tables_that_are_not_known_any_more_are_said_where_the_record_is_read() -> None:
    job = finished(start(make_workshop()))
    Mounting.objects.filter(id=job.mounting.id).update(tables_digest="ab" * 32)
    for who, page in (
        ("fitter", "sheet"),
        ("inspector", "inspect"),
        ("auditor", "mounting-trace"),
        ("inspector", "certificate"),
    ):
        assert "Judged by the tables of today: this program does not know those pinned" in words(
            job, who, page, {}
        ), page


def test_rows_are_told_first_then_what_stands_in_no_table_and_each_once() -> None:
    texts = ("seat smoothing: from memory", ROW, ROW)
    assert told(texts) == (
        f"unconfirmed: {COMPARE}",
        "unconfirmed, in no table: seat smoothing: from memory",
    )
    assert told(texts, rows_only=True) == (f"unconfirmed: {COMPARE}",)
    assert told(()) == ()
