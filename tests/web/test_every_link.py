"""Nobody types an address: from where signing in leads every page of a role is reached by links alone."""

import re
from collections.abc import Iterator, Sequence
from html import unescape
from http import HTTPStatus
from urllib.parse import urldefrag, urljoin

import pytest
from django.test import Client
from django.urls import Resolver404, resolve
from pytest_django.plugin import DjangoDbBlocker

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.bearing_life import set_aside
from qrecords.signoff.amending import amend
from qrecords.workshop import actions as workshop
from tests.cast import MORNING, Job, make_workshop, start
from tests.conftest import copy_of_the_database
from tests.web.desk import make_pictures
from tests.web.test_every_address import PAGES, filled

OF_EACH = 3
"""How many pages of one name are opened, one a job: a list of a thousand entries leads nowhere else."""
BESIDE = {"sign-in", "healthz", "photo", "offline", "worker"}
"""The entrance itself, what a page shows within it, and what the browser fetches."""


@pytest.fixture(scope="module")
def jobs(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Sequence[Job]]:
    """One signed and amended, one ready for inspection, one before heat with a journal that is out; a bearing
    in quarantine. Only looked at."""
    with copy_of_the_database(django_db_blocker), django_db_blocker.unblock():
        yield _jobs()


def _jobs() -> Sequence[Job]:
    shop = make_workshop()
    signed, ready, out = (start(shop, position) for position in ("DE", "NDE", "intermediate"))
    signed.photograph()
    signed.whole()
    amend(
        acting=shop.proved("inspector"), mounting=signed.mounting, entry_id=new_id(), reason="the field again"
    )
    signed.ready()
    signed.sign()
    ready.until_signature()
    out.receive()
    out.measure(readings=dict.fromkeys("ABC", ("48", "48", "48")))
    out.bore()
    out.own_reading()
    lying = workshop.register_bearing(
        acting=shop.acting("fitter"), site=shop.site, bearing_id=new_id(), designation="6000"
    )
    set_aside(
        acting=shop.acting("fitter"), entry_id=new_id(), bearing=lying, on=MORNING.date(), why="to be seen"
    )
    make_pictures()
    return signed, ready, out


def opens(client: Client, path: str) -> bool:
    answer = client.get(path)
    answer.close()
    return answer.status_code == HTTPStatus.OK


def name_of(path: str) -> str:
    try:
        return resolve(path.partition("?")[0]).url_name or ""
    except Resolver404:
        return ""


def reached(client: Client) -> set[str]:
    """The names of all pages that links lead to, beginning with the start page."""
    waiting, opened, found = ["/"], {"/"}, dict[str, int]()
    while waiting:
        path = waiting.pop(0)
        if found.get(name_of(path), 0) >= OF_EACH:
            continue  # others of its name were opened while it waited
        answer = client.get(path, follow=True)
        answer.close()
        here = answer.request["PATH_INFO"]
        if answer.status_code != HTTPStatus.OK or "html" not in answer.headers["Content-Type"]:
            continue
        found[name_of(here)] = found.get(name_of(here), 0) + 1
        for href in re.findall(r'<a [^>]*?href="([^"]*)"', answer.content.decode()):
            target = urldefrag(urljoin(here, unescape(href))).url
            name = name_of(target)
            if name and target not in opened and found.get(name, 0) < OF_EACH:
                opened.add(target)
                waiting.append(target)
    return set(found)


@pytest.mark.layout
@pytest.mark.parametrize("who", ["inspector", "engineer", "quality", "auditor", "administrator"])
def test_every_page_that_opens_for_a_role_is_reached_by_links(jobs: Sequence[Job], who: str) -> None:
    client = Client()
    client.force_login(jobs[0].shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    linked = reached(client)
    assert len(linked & {page.name for page in PAGES}) > 4
    others = [page for page in PAGES if page.name not in linked | BESIDE]
    assert [page.name for page in others if any(opens(client, filled(page, job)) for job in jobs)] == []
