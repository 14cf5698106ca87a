"""A right holds at its own site: whoever holds every role at another one does nothing here, at any door."""

import re
import uuid

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.models import RoleGrant
from qrecords.people.passwords import seal
from qrecords.people.permissions import TABLE, Role, Scope
from qrecords.workshop.models import Site
from tests.cast import PASSWORD, Job, own_password
from tests.kept import once
from tests.rights.api_doors import ON
from tests.rights.scenes import Came, Door, Hand, finished
from tests.rights.test_every_cell import DOORS, NAMED
from tests.web.test_every_address import PAGES, filled

pytestmark = pytest.mark.django_db
EVERYWHERE = {role for cells in TABLE.values() for role, cell in cells.items() if cell.scope == Scope.ALL}
"""Whose right is not of one site."""
OF_ONES_OWN_SITE = {
    "machine-new", "equipment-new", "person-new", "tokens", "verify", "POST machines/", "POST bearings/",
    "POST equipment/", "POST procedures/", "POST tokens/", "table-row-propose", "POST tables/rows/",
    "POST procedures/drafts/", "procedure-new", "procedure-import",
    "delivery-new", "part-new", "POST deliveries/", "POST parts/",
}  # fmt: skip
"""What names nothing of this site, and is done there."""
NAMING_A_SITE = (
    "shift-start", "export-everything", "import-orders", "import-bearings", "import-gauges", "import-people",
    "POST shifts/", "POST exports/", "POST imports/work-orders/", "POST imports/bearings/",
    "POST imports/gauges/",
)  # fmt: skip
"""What is done at the site it names, and names this one."""
OTHERWISE = {
    "release-here": 422,
    **dict.fromkeys(("competence-new", "eyesight-new", "machine-moved", "shaft-moved"), 422),
    "POST look-backs/": 422,
    f"POST {ON}releases/here/": 403,
    **{door: 403 for door in NAMING_A_SITE if door.startswith("POST ")},
    "search": 200,
    "GET search/": 200,
}
"""The status where it is not *unknown here*: who signs in or is assessed, the machine that moved and the
piece of a look-back is asked back; a site named at the API is one where the caller may not, there or not;
a search finds nothing."""
OF_NO_SITE = {"damage", "shared"}
"""A row of the trade's own table, and a list of what shares a lot: elsewhere that list is empty."""


def stranger(job: Job) -> str:
    """Somebody with every role of one site, at another."""
    shop, there = job.shop, new_id()
    Site.objects.create(id=there, code="OH", name="Other hall", zone="UTC")
    person = people.enrol(
        acting=shop.proved("administrator"), site=shop.site, person_id=new_id(), sign_in="stranger",
        name="S. Beta", password=seal(PASSWORD),
    )  # fmt: skip
    shop.people["stranger"] = own_password(person)
    for role in set(Role) - EVERYWHERE:
        RoleGrant.objects.create(
            id=new_id(), person=person, role=role.value, site=there, valid_from=shop.clock
        )
    return "stranger"


@pytest.mark.parametrize(("edge", "door"), DOORS, ids=NAMED)
def test_who_holds_every_role_at_another_site_does_nothing_here(edge: str, door: Door) -> None:
    job = once(door.scene)
    hand = Hand(job, stranger(job), mine=False)
    came = door.do(hand)
    there = RoleGrant.objects.filter(person=hand.person)[0].site
    if door.at in OF_ONES_OWN_SITE:
        assert {entry.site for entry in hand.entries()} <= {there}
    else:
        assert (came.status, hand.left()) == (OTHERWISE.get(door.at, 404), False), came
    if door.at == "search":
        assert job.machine.name not in came.words


@pytest.mark.parametrize(
    ("edge", "door"),
    [pytest.param(*each, id=f"{each[0]} {each[1].at}") for each in DOORS if each[1].at in NAMING_A_SITE],
)
def test_a_site_of_others_is_refused_as_one_that_does_not_exist(edge: str, door: Door) -> None:
    job = once(door.scene)
    who, here = stranger(job), job.shop.site
    theirs = door.do(Hand(job, who))
    job.shop.site = new_id()
    invented = Hand(job, who)
    answer = door.do(invented)
    assert (answer.status, answer.code, invented.left()) == (theirs.status, theirs.code, False)
    assert answer.status == (403 if edge == "api" else 404)
    assert told_of(answer, job.shop.site) == told_of(theirs, here)


def told_of(came: Came, site: uuid.UUID) -> str:
    """The words of an answer, without the id that was asked for and what each page is given anew."""
    return re.sub(r'(nonce|value|token)="[^"]*"', "", came.words.replace(str(site), ""))


def test_every_door_that_names_a_site_is_tried() -> None:
    assert {door.at for _, door in DOORS} >= set(NAMING_A_SITE)


def test_no_page_shows_who_is_of_another_site_anything_of_this_one() -> None:
    job = once(finished)
    hand = Hand(job, stranger(job), mine=False)
    here = (job.machine.name, job.mounting.number, str(job.bearing.id), "MICROMETER-1", "Fitter Person")
    told: list[tuple[str, str]] = []
    for page in PAGES:
        answer = hand.client.get(filled(page, job), follow=True)
        shown = answer.content.decode()
        if "<" in page.path and page.name not in OF_NO_SITE and answer.status_code not in (404, 405):
            told.append((page.name, str(answer.status_code)))
        told += [(page.name, word) for word in here if word in shown]
    assert told == []
