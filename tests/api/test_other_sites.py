"""What belongs to another site is not here: each id of A asked for by B's people is unknown."""

from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.actions import make_token
from qrecords.people.permissions import TABLE, Action, Scope
from qrecords.tracing.everything.take import take_everything
from tests.api.addresses import every_operation, filled, places
from tests.api.caller import Caller, typed
from tests.api.two_sites import all_ids_of, second_site
from tests.cast import ROLES, Job, Workshop, start


@pytest.fixture
def job(shop: Workshop) -> Job:
    """A job at site A with a release, a tap and a photo."""
    made = start(shop)
    made.receive()
    made.measure()
    made.bore()
    made.tap("heater on", release=made.leaf(made.release()))
    made.photograph("seat")
    return made


@pytest.fixture
def other(shop: Workshop, job: Job) -> Workshop:
    return second_site(shop)


OF_NO_SITE = {"shared/<slug:what>/"}
"""Names a kind of thing, none of A's: what it lists of B is of B alone (below)."""


def role_for(actions: tuple[Action, ...]) -> str:
    """One of B's people who may do it at B."""
    for name, role in ROLES.items():
        cells = [TABLE[action].get(role) for action in actions if action in TABLE]
        if any(cell and cell.scope > Scope.NONE for cell in cells) and name != "auditor":
            return name
    return "fitter"


def test_every_address_with_an_id_of_a_is_unknown_to_b(job: Job, other: Workshop) -> None:
    tap = Entry.objects.filter(kind="tap", subject=job.mounting.id).get().id
    sha256 = next(iter(judged_photos(job)))
    token = make_token(
        acting=job.shop.proved("fitter"), site=job.shop.site, token_id=new_id(), label="bench",
        actions=frozenset({Action.READ}),
    )[0].id  # fmt: skip
    taken = new_id()
    take_everything(acting=job.shop.acting("quality"), entry_id=taken, site=job.shop.site)
    ids = all_ids_of(
        job, entry=tap, tap=tap, sha256=sha256, digest=job.mounting.procedure_digest, token=token
    )
    before = Entry.objects.count()
    asked = [
        item
        for item in every_operation()
        if list(places(item[0])) and item[0] not in OF_NO_SITE and Action.PUBLIC not in item[2].rights
    ]
    assert len(asked) > 60
    for address, method, operation in asked:
        caller = Caller.by_session(other, role_for(operation.rights))
        named = ids | {"entry": taken} if address.startswith("exports/") else ids
        answered = caller.send(method, filled(address, named), b"" if method in ("GET", "DELETE") else b"{}")
        assert answered.status == 404, (method, address, answered)
    assert Entry.objects.count() == before


def judged_photos(job: Job) -> list[str]:
    from qrecords.mountings.queries import case_of

    return [photo.sha256 for photo in case_of(job.mounting).photos]


def test_unknown_elsewhere_and_unknown_anywhere_read_the_same(job: Job, other: Workshop) -> None:
    caller = Caller.by_session(other, "inspector")
    theirs = caller.get(f"mountings/{job.mounting.id}/")
    invented = caller.get(f"mountings/{(id := new_id())}/")
    assert theirs.document["detail"] == invented.document["detail"].replace(str(id), str(job.mounting.id))
    assert {**theirs.document, "detail": "", "facts": {}} == {**invented.document, "detail": "", "facts": {}}


REGISTERS = (
    "mountings", "machines", "rebuilds", "journals", "bearings", "shifts", "deliveries", "parts", "moves",
    "look-backs",
)  # fmt: skip


def test_lists_hold_nothing_of_another_site(job: Job, other: Workshop) -> None:
    caller = Caller.by_session(other, "inspector")
    all_ids_of(job)
    for register in REGISTERS:
        assert caller.get(f"{register}/").document["results"] == [], register
    own = {str(piece.id) for piece in other.gear.values()}
    assert {row["id"] for row in caller.get("equipment/").document["results"]} == own
    assert caller.get("procedures/drafts/").document["rows"] == []
    assert caller.get("search/", q="6212").document["candidates"] == []


def test_what_shares_a_thing_of_another_site_is_nothing_here(job: Job, other: Workshop) -> None:
    ids, day = all_ids_of(job), job.shop.clock.date().isoformat()
    of = {
        "part": ids["parts"],
        "delivery": ids["deliveries"],
        "person": job.shop.people["fitter"].id,
        "day": day,
    }
    for what, named in of.items():
        answered = Caller.by_session(other, "inspector").get(f"shared/{what}/", of=str(named))
        assert (answered.status, answered.document["results"]) == (200, []), (what, answered)
        assert answered.document["touched"] == {"mountings": 0, "machines": 0, "owners": 0}


def test_what_a_body_names_of_another_site_is_unknown(job: Job, other: Workshop) -> None:
    caller = Caller.by_session(other, "fitter")
    here = b_job(other)
    of_b = {"journal": here.journal.id, "bearing": here.bearing.id, "rebuild": here.rebuild.id}
    of_a = {"journal": job.journal.id, "bearing": job.bearing.id, "rebuild": job.rebuild.id}
    for name in of_b:
        answered = caller.post("mountings/", entry_id=new_id(), **{**of_b, name: of_a[name]})
        assert answered.status == 404, name
    for register, body in (("rebuilds", {"work_order": "X"}), ("journals", {"shaft": "1", "position": "DE"})):
        answered = caller.post(f"{register}/", entry_id=new_id(), machine=job.machine.id, **body)
        assert answered.status == 404, register


def test_a_gauge_of_another_site_is_no_gauge_here(job: Job, other: Workshop) -> None:
    here = b_job(other)
    fields = typed(gauge=job.shop.gear["micrometer"].id)
    caller = Caller.by_session(other, "fitter")
    answered = caller.post(
        f"mountings/{here.mounting.id}/captures/measurement/", entry_id=new_id(), fields=fields
    )
    assert (answered.status, answered.document["fields"][0]["field"]) == (422, "gauge")


def test_an_entry_id_of_another_site_gives_no_receipt(job: Job, other: Workshop) -> None:
    """Whatever is asked under an id that is A's: the answer is that it says something else."""
    here = b_job(other)
    fitter, inspector = (Caller.by_session(other, who) for who in ("fitter", "inspector"))
    address = f"mountings/{here.mounting.id}/"
    of_a = {entry.kind: entry.id for entry in Entry.objects.filter(subject=job.mounting.id)}
    asked: list[tuple[Caller, str, str, dict[str, Any]]] = [
        (fitter, "tap", "taps/", {"what": "heater on"}),
        (fitter, "capture", "captures/identification/", {"fields": typed(marking="6212 C3")}),
        (inspector, "release", "releases/", {"hold": "fit", "shown": str(here.shown())}),
    ]
    for caller, kind, act, body in asked:
        answered = caller.post(address + act, entry_id=of_a[kind], **body)
        assert (answered.status, answered.code) == (409, "different-content"), kind
    body = {"journal": here.journal.id, "bearing": here.bearing.id, "rebuild": here.rebuild.id}
    answered = fitter.post("mountings/", entry_id=job.mounting.id, **body)
    assert (answered.status, answered.code) == (409, "different-content")


def b_job(other: Workshop) -> Job:
    return start(other)


def test_the_site_said_must_be_one_where_the_caller_may(job: Job, other: Workshop) -> None:
    caller = Caller.by_session(other, "fitter")
    answered = caller.post(
        "machines/", entry_id=new_id(), site=job.mounting.site, name="Pump", owner="Nobody"
    )
    assert (answered.status, answered.code) == (403, "not-allowed")
