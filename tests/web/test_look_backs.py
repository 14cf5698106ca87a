"""Look-backs at the desk: of what, what it touches before it is opened, three classes, actions, the end."""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.looking_back import end_look_back
from qrecords.mountings.models import JudgedAgain
from qrecords.outbox.jobs import drain
from qrecords.proof.canonical import parse_canonical
from qrecords.workshop.models import LookBack, LookBackAction
from tests.cast import PASSWORD, Job, Workshop, make_workshop, start
from tests.kept import once
from tests.tracing.coldbeck import POINTS, TOLD, Foundry, foundry, opened

pytestmark = pytest.mark.django_db


@pytest.fixture
def works() -> Foundry:
    return once(foundry)


def at(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def words(answer: HttpResponse) -> str:
    assert answer.status_code == 200, answer.content.decode()[:2000]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def form(works: Foundry, **changes: str) -> dict[str, str]:
    clock = works.shop.clock
    return {
        "entry_id": str(new_id()),
        "since": (clock - timedelta(days=1)).date().isoformat(),
        "found": clock.date().isoformat(),
        "why": "reads 9 µm high at its calibration",
        "size-0": "90",
        "error-0": "9",
        "u-0": "3",
        **changes,
    }


def new(works: Foundry, query: str = "") -> str:
    piece = works.shop.gear["micrometer"].id
    return reverse("look-back-new") + (query or f"?subject=equipment&of={piece}")


def test_first_of_what_then_what_it_touches_then_it_is_opened(works: Foundry) -> None:
    quality = at(works.shop, "quality")
    choice = words(quality.get(reverse("look-back-new")))
    assert "MICROMETER-1" in choice
    assert "bearing lot" in choice
    given = form(works)
    entries = Entry.objects.count()
    shown = words(quality.post(new(works), {**given, "way": "preview"}))
    assert Entry.objects.count() == entries
    assert "5 mountings" in shown
    for um, verdict in TOLD.items():
        assert re.search(rf"{works[um].mounting.number} {verdict} Coldbeck foundry", shown)
    answer = quality.post(new(works), {**given, "way": "open"})
    assert answer.status_code == 302
    (row,) = LookBack.objects.all()
    assert row.document["points"] == POINTS
    drain()
    page = words(quality.get(answer["Location"]))
    assert "All 5 mountings are judged again." in page
    assert re.search(r"nonconforming 1 not proven 2 in doubt 0 conforming 2", page)
    assert re.search(r"Coldbeck foundry 1 2 0 2", page)
    assert "90 mm +9 µm 3 µm" in page
    assert "Journal, worst reading" in page


def test_what_is_wrong_is_said_at_its_field_and_what_was_typed_stays(works: Foundry) -> None:
    quality = at(works.shop, "quality")
    bad = {"size-0": "ninety", "why": "", "since": "2026-04-01", "way": "open"}
    answer = quality.post(new(works), form(works, **bad))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "ninety" in page
    assert "mm" in page
    assert page.count('aria-invalid="true"') == 2
    assert LookBack.objects.count() == 0
    twice = form(works, **{"size-1": "90", "error-1": "8", "u-1": "3", "way": "open"})
    answer = quality.post(new(works), twice)
    assert answer.status_code == 422
    assert "one size stands twice" in answer.content.decode()


@pytest.mark.parametrize(
    ("query", "given", "touched"),
    [
        ("?subject=bearing+lot", {"lot": "L-77"}, 5),
        ("?subject=bearing+lot", {"lot": "L-1"}, 0),
        ("?subject=drawing+revision", {"drawing": "CB-118", "revision": "B", "right": "C"}, None),
        ("?subject=lubricant+batch", {"batch": "G-12"}, 0),
    ],
)
def test_what_has_no_error_by_size_is_listed(
    works: Foundry, query: str, given: dict[str, str], touched: int | None
) -> None:
    quality = at(works.shop, "quality")
    asked = form(works, **given, way="open")
    answer = quality.post(new(works, query), asked)
    if touched is None:
        assert answer.status_code == 422
        assert "revision of drawing CB-118 registered here" in answer.content.decode()
        return
    drain()
    assert JudgedAgain.objects.count() == touched
    words(quality.get(answer["Location"]))


def test_a_person_is_chosen_by_name(works: Foundry) -> None:
    quality = at(works.shop, "quality")
    assert "Fitter Person" in words(quality.get(new(works, "?subject=person")))
    given = form(works, person=str(works.shop.people["fitter"].id), way="open")
    answer = quality.post(new(works, "?subject=person"), given)
    drain()
    page = words(quality.get(answer["Location"]))
    assert "Fitter Person person whose authorisation was wrong" in page
    assert "in doubt 5" in page
    assert "Fitter Person" in words(quality.get(reverse("look-backs")))


def given_out(works: Foundry) -> tuple[LookBack, str]:
    row = opened(works.shop)
    drain()
    return row, reverse("look-back-mounting", args=[row.id, works[17].mounting.id])


def action(works: Foundry, **changes: str) -> dict[str, str]:
    owner = str(works.shop.people["engineer"].id)
    return {
        "entry_id": str(new_id()),
        "owner": owner,
        "due": "2099-01-01",
        "what": "measure again",
        **changes,
    }


def test_a_mounting_is_given_to_somebody_and_the_engineer_closes_it(works: Foundry) -> None:
    works[17].own_reading("inspector")  # while nobody has read the ring, who may check is shown no reading
    row, page = given_out(works)
    quality, engineer = at(works.shop, "quality"), at(works.shop, "engineer")
    shown = words(quality.get(page))
    assert "nonconforming" in shown
    assert "as recorded" in shown
    bad = quality.post(f"{page}action/", action(works, due="", what=""))
    assert bad.status_code == 422
    assert quality.post(f"{page}action/", action(works)).status_code == 302
    assert LookBackAction.objects.get().what == "measure again"
    assert "close the action" not in words(quality.get(page))
    assert "close the action" in words(engineer.get(page))
    how = {"entry_id": str(new_id()), "how": "measured on the shaft: +12, stays"}
    assert engineer.post(f"{page}answer/", how).status_code == 422
    assert engineer.post(f"{page}answer/", {**how, "password": PASSWORD}).status_code == 302
    assert "measured on the shaft: +12, stays" in words(engineer.get(page))
    listed = words(quality.get(reverse("look-back", args=[row.id])))
    assert "closed: measured on the shaft: +12, stays" in listed


def test_it_is_closed_only_when_each_is_answered_and_says_which_are_not(works: Foundry) -> None:
    row, _page = given_out(works)
    quality, engineer = at(works.shop, "quality"), at(works.shop, "engineer")
    end = reverse("look-back-end", args=[row.id])
    refused = quality.post(end, {"entry_id": str(new_id()), "reason": "done"})
    assert refused.status_code == 422
    for um in (17, 20, 24):
        assert works[um].mounting.number in refused.content.decode()
        page = reverse("look-back-mounting", args=[row.id, works[um].mounting.id])
        quality.post(f"{page}action/", action(works))
        how = {"entry_id": str(new_id()), "how": "stays", "password": PASSWORD}
        engineer.post(f"{page}answer/", how)
    assert quality.post(end, {"entry_id": str(new_id()), "reason": ""}).status_code == 422
    assert quality.post(end, {"entry_id": str(new_id()), "reason": "all stay"}).status_code == 302
    assert "all stay" in words(quality.get(reverse("look-back", args=[row.id])))


def many(works: Foundry, count: int) -> None:
    """So many look-backs, each with the five mountings."""
    row = opened(works.shop)
    drain()
    rows = list(JudgedAgain.objects.filter(cause=row.id))
    copies, judged = [], []
    for _ in range(count):
        id = new_id()
        fields = {f.attname: getattr(row, f.attname) for f in LookBack._meta.concrete_fields}
        copies.append(LookBack(**{**fields, "id": id}))
        for each in rows:
            told = {f.attname: getattr(each, f.attname) for f in JudgedAgain._meta.concrete_fields}
            judged.append(JudgedAgain(**{**told, "id": None, "cause": id}))
    LookBack.objects.bulk_create(copies)
    JudgedAgain.objects.bulk_create(judged)


def asked_for(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        words(client.get(address))
    return len(asked)


def test_the_lists_hold_as_many_queries_for_a_thousand_as_for_ten(works: Foundry) -> None:
    quality, address = at(works.shop, "quality"), reverse("look-backs")
    many(works, 9)
    few = asked_for(quality, address)
    many(works, 990)
    assert asked_for(quality, address) == few
    row = LookBack.objects.first()
    assert row is not None
    one = reverse("look-back", args=[row.id])
    five = asked_for(quality, one)
    base: dict[str, Any] = {"occasion": "look-back", "at": works.shop.clock, "document": []}
    JudgedAgain.objects.filter(cause=row.id).delete()
    JudgedAgain.objects.create(
        mounting=works[20].mounting, cause=row.id, verdict="not proven", entry=new_id(), **base
    )
    assert asked_for(quality, one) == five


def test_the_list_says_what_is_open_and_goes_out_as_csv(works: Foundry) -> None:
    row, _page = given_out(works)
    auditor = at(works.shop, "auditor")
    page = words(auditor.get(reverse("look-backs")))
    assert re.search(r"MICROMETER-1 gauge, master, meter or heater .* 1 2 0 2 0 open", page)
    csv = b"".join(auditor.get(reverse("look-backs") + "?as=csv").streaming_content).decode()  # type: ignore[attr-defined]
    assert csv.count("MICROMETER-1") == 1
    one = auditor.get(reverse("look-back", args=[row.id]) + "?as=csv")
    told = b"".join(one.streaming_content).decode()  # type: ignore[attr-defined]
    assert told.count("Coldbeck foundry") == 5


def until_signature() -> Job:
    job = start(make_workshop())
    job.until_signature()
    return job


def test_whoever_signs_sees_what_is_open_and_the_certificate_says_it() -> None:
    job = once(until_signature)
    error = [{"size": 60_000_000, "error": 2_000, "u": 500}]
    row = opened(job.shop, points=error)
    drain()
    inspector = at(job.shop, "inspector")
    record = words(inspector.get(reverse("inspect", args=[job.mounting.id])))
    assert record.count("Open look-back: MICROMETER-1") == 2, "above the findings and beside the signature"
    job.sign()
    (signed,) = Entry.objects.filter(kind="signature").order_by("-leaf__index")[:1]
    told = parse_canonical(bytes(signed.payload))["body"]["seen"]["look_backs"]
    assert [(each["id"], each["of"], each["class"]) for each in told] == [
        (str(row.id), "MICROMETER-1", "conforming")
    ]
    certificate = words(inspector.get(reverse("certificate", args=[job.mounting.id])))
    assert "Open at sign-off: look-back of MICROMETER-1: conforming." in certificate
    auditor = at(job.shop, "auditor")
    for page, id in (
        ("bearing-life", job.bearing.id),
        ("mounting-trace", job.mounting.id),
        ("equipment-uses", job.shop.gear["micrometer"].id),
    ):
        assert "Open look-back: MICROMETER-1" in words(auditor.get(reverse(page, args=[id])))
    end_look_back(acting=job.shop.acting("quality"), look_back=row, entry_id=new_id(), reason="conforms")
    assert "Look-back, closed: MICROMETER-1" in words(
        auditor.get(reverse("bearing-life", args=[job.bearing.id]))
    )
    assert (
        "look-back"
        not in words(inspector.get(reverse("inspect", args=[job.mounting.id]))).split("After signature")[0]
    )


def test_a_record_without_one_says_nothing_of_it_on_paper() -> None:
    job = once(until_signature)
    job.sign()
    certificate = words(at(job.shop, "inspector").get(reverse("certificate", args=[job.mounting.id])))
    assert "look-back" not in certificate.lower()
