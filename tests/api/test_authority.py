"""Acts of authority: a person who is there, proved where the table says, independent of the work."""

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.queries import case_of
from qrecords.steps.answers import Absent, State
from tests.api.caller import Caller, typed
from tests.cast import PASSWORD, SEEN_BEFORE_HEAT, SEEN_COLD, Job, Workshop, start

BAD_JOURNAL = {"A": ("18", "17", "18"), "B": ("17", "-9", "18"), "C": ("17", "16", "17")}


@pytest.fixture
def job(shop: Workshop) -> Job:
    made = start(shop)
    made.receive()
    made.measure()
    made.bore()
    return made


@pytest.fixture
def ready(job: Job) -> Job:
    """A job that waits for its inspection."""
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(release=job.leaf(job.release()))
    job.check_cold()
    job.photograph(*SEEN_COLD)
    job.release("cold")
    job.close()
    job.ready()
    return job


def test_ready_asks_for_the_password_again(shop: Workshop, job: Job) -> None:
    here, address = Caller.by_session(shop, "fitter"), f"mountings/{job.mounting.id}/ready/"
    shown = str(job.shown())
    without = here.post(address, entry_id=new_id(), shown=shown)
    assert (without.status, without.code) == (403, "prove-again")
    wrong = here.post(address, entry_id=new_id(), password="not this one", shown=shown)
    assert (wrong.status, wrong.code) == (401, "unknown-person")
    assert here.post(address, entry_id=new_id(), password=PASSWORD, shown=shown).status == 201
    assert entries_of(job.mounting.id)[-1].payload["identity"] == "proved"


def test_who_performed_nothing_does_not_sign_that_it_was_performed(shop: Workshop, job: Job) -> None:
    here, address = Caller.by_session(shop, "second_fitter"), f"mountings/{job.mounting.id}/ready/"
    refused = here.post(address, entry_id=new_id(), password=PASSWORD, shown=str(job.shown()))
    assert (refused.status, refused.code) == (403, "not-performed")


def test_a_release_names_the_captures_and_is_void_after_a_new_reading(inspector: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/"
    job.own_reading()
    released = inspector.act(f"{address}releases/", hold="fit", shown=inspector.seen(address))
    assert inspector.get(address).document["standing_releases"]["fit"] == released.leaf
    job.say("measurement", reason="read again", journal__A__0=("19", "um from 60 mm"))
    case = inspector.get(address).document
    assert case["standing_releases"]["fit"] == ""
    assert case["releases"][0]["voided"] is True


def test_who_worked_on_it_releases_nothing(shop: Workshop, job: Job) -> None:
    """The same person holds both roles."""
    from qrecords.people import actions as people
    from qrecords.people.permissions import Role

    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(),
        person=shop.people["fitter"], role=Role.INSPECTOR,
    )  # fmt: skip
    refused = Caller.by_session(shop, "fitter").post(
        f"mountings/{job.mounting.id}/releases/", entry_id=new_id(), hold="fit", shown=str(job.shown())
    )
    assert (refused.status, refused.code) == (403, "not-independent")


def test_no_release_while_a_finding_of_the_fit_is_open(shop: Workshop, inspector: Caller) -> None:
    job = start(shop)
    job.measure(readings=BAD_JOURNAL)
    job.bore()
    refused = inspector.post(
        f"mountings/{job.mounting.id}/releases/", entry_id=new_id(), hold="fit", shown=str(job.shown())
    )
    assert (refused.status, refused.code) == (409, "open-findings")
    assert "journal size" in refused.document["facts"]["findings"]


def test_no_release_before_heat_without_the_inspectors_own_reading(inspector: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/releases/"
    refused = inspector.post(address, entry_id=new_id(), hold="fit", shown=str(job.shown()))
    assert (refused.status, refused.code) == (409, "own-reading-missing")
    assert refused.document["facts"]["missing"] == "the inspector's own reading of the ring marking"
    job.own_reading()
    assert inspector.post(address, entry_id=new_id(), hold="fit", shown=str(job.shown())).status == 201


def test_the_inspector_reads_the_ring_and_signs_in_on_the_fitters_device(shop: Workshop, job: Job) -> None:
    here, address = Caller.by_session(shop, "fitter"), f"mountings/{job.mounting.id}/releases/here/"
    read = {"marking": "6212 C3", "reading_id": new_id()}
    here.act(address, hold="fit", name="inspector", password=PASSWORD, shown=str(job.shown()), **read)
    own = case_of(job.mounting).checks["identification"]["marking"]
    assert (own.word, own.author) == ("6212 C3", str(shop.people["inspector"].id))
    payload = entries_of(job.mounting.id)[-2].payload
    assert payload["kind"] == "release"
    assert payload["author"]["person"] == str(shop.people["inspector"].id)
    assert payload["sender"]["person"] == str(shop.people["fitter"].id)
    assert payload["body"]["seen"]["means"] == "sign-in on the fitter's device"


def test_a_ring_that_could_not_be_read_is_read_on_the_fitters_device_with_a_reason(
    shop: Workshop, job: Job
) -> None:
    grease = Absent(State.NOT_POSSIBLE, "hidden by grease")
    job.say("identification", who="inspector", check=True, marking=grease)
    here, address = Caller.by_session(shop, "fitter"), f"mountings/{job.mounting.id}/releases/here/"
    body = {"hold": "fit", "name": "inspector", "password": PASSWORD, "shown": str(job.shown())}
    body |= {"marking": "6212 C3", "reading_id": str(new_id())}
    refused = here.post(address, entry_id=new_id(), **body)
    assert refused.code == "needs-reason"
    here.act(address, **body, marking_reason="wiped clean")
    assert case_of(job.mounting).checks["identification"]["marking"].word == "6212 C3"


def test_a_marking_read_on_the_fitters_device_needs_the_id_of_its_own_entry(shop: Workshop, job: Job) -> None:
    here, address = Caller.by_session(shop, "fitter"), f"mountings/{job.mounting.id}/releases/here/"
    body = {"hold": "fit", "name": "inspector", "password": PASSWORD, "shown": str(job.shown())}
    refused = here.post(address, entry_id=new_id(), marking="6212 C3", **body)
    assert (refused.status, refused.document["fields"][0]["field"]) == (400, "reading_id")
    assert case_of(job.mounting).checks == {}


@pytest.mark.parametrize(
    ("name", "password", "code"),
    [("inspector", "wrong", "unknown-person"), ("second_fitter", PASSWORD, "not-allowed")],
)
def test_nobody_but_an_inspector_releases_on_the_fitters_device(
    shop: Workshop, job: Job, name: str, password: str, code: str
) -> None:
    here, address = Caller.by_session(shop, "fitter"), f"mountings/{job.mounting.id}/releases/here/"
    body = {"hold": "fit", "name": name, "password": password, "shown": str(job.shown())}
    refused = here.post(address, entry_id=new_id(), **body)
    assert refused.code == code
    assert not Entry.objects.filter(kind="release").exists()


def test_a_release_by_telephone_gives_the_answer_code(fitter: Caller, inspector: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/"
    heard = fitter.get(address).document["readings_code"]
    inspector.act(f"{address}releases/telephone/", code=heard, lowest_nm=60_016_000, highest_nm=60_018_000)
    answer = inspector.get(address).document["releases"][0]["answer_code"]
    fitter.act(f"{address}taps/", what="heater on", code=answer)
    found = {f["characteristic"]: f["verdict"] for f in fitter.get(address).document["findings"]}
    assert found["fit released before heat"] == "conforming"


def test_a_telephone_code_misheard_is_asked_for_once_more(inspector: Caller, job: Job) -> None:
    refused = inspector.post(
        f"mountings/{job.mounting.id}/releases/telephone/", entry_id=new_id(), code="222222X",
        lowest_nm=60_016_000, highest_nm=60_018_000,
    )  # fmt: skip
    assert (refused.status, refused.code) == (422, "wrong-code")


def test_a_concession_is_the_engineers_with_proof(shop: Workshop, inspector: Caller) -> None:
    job = start(shop)
    job.measure(readings=dict.fromkeys("ABC", ("12", "12", "12")))
    job.bore()
    address = f"mountings/{job.mounting.id}/decisions/"
    body = {
        "decision": "concession",
        "digests": [job.finding("journal size").digest],
        "reason": "one place, light load",
        "expires": "2027-06-30",
    }
    refused = inspector.post(address, entry_id=new_id(), password=PASSWORD, **body)
    assert (refused.status, refused.code) == (403, "not-allowed")
    engineer = Caller.by_session(shop, "engineer")
    assert engineer.post(address, entry_id=new_id(), **body).code == "prove-again"
    engineer.act(address, password=PASSWORD, **body)
    case = engineer.get(f"mountings/{job.mounting.id}/").document
    assert [decision["kind"] for decision in case["decisions"]] == ["concession"]
    assert "journal size" not in case["open"]


def test_a_decision_about_a_finding_that_no_longer_stands(
    shop: Workshop, inspector: Caller, job: Job
) -> None:
    refused = inspector.post(
        f"mountings/{job.mounting.id}/decisions/", entry_id=new_id(), decision="rework",
        digests=["0" * 64], reason="x",
    )  # fmt: skip
    assert (refused.status, refused.code) == (422, "unknown-finding")


def test_a_record_goes_back_item_by_item(inspector: Caller, ready: Job) -> None:
    address = f"mountings/{ready.mounting.id}/"
    inspector.act(f"{address}returns/", items=[{"about": "shoulder gap", "reason": "180° again, cold"}])
    case = inspector.get(address).document
    assert case["state"] == "returned"
    assert case["returns"][0]["about"] == "shoulder gap"


def test_what_came_since_the_page_was_shown_is_named(inspector: Caller, ready: Job) -> None:
    address = f"mountings/{ready.mounting.id}/"
    shown = inspector.get(address).document["shown"]
    came = ready.say("protection", wrap="film")
    refused = inspector.post(f"{address}signatures/", entry_id=new_id(), shown=shown, password=PASSWORD)
    assert (refused.status, refused.code) == (409, "changed-meanwhile")
    assert refused.document["facts"]["new_entries"] == [str(came.id)]


def test_a_signature_asks_for_the_password_again(inspector: Caller, ready: Job) -> None:
    address = f"mountings/{ready.mounting.id}/"
    shown = inspector.get(address).document["shown"]
    assert inspector.post(f"{address}signatures/", entry_id=new_id(), shown=shown).code == "prove-again"


def test_a_signed_record_is_frozen(shop: Workshop, fitter: Caller, inspector: Caller, ready: Job) -> None:
    address = f"mountings/{ready.mounting.id}/"
    shown = inspector.get(address).document["shown"]
    inspector.act(f"{address}signatures/", shown=shown, password=PASSWORD)
    refused = fitter.post(
        f"{address}captures/running/", entry_id=new_id(), fields=typed(turns="rough"), reason="again"
    )
    assert (refused.status, refused.code) == (409, "closed")


def test_a_query_is_closed_with_an_explanation(fitter: Caller, job: Job) -> None:
    job.say("identification", reason="box was open", package="opened")
    query = next(f for f in job.findings().values() if f.verdict.value == "query")
    address = f"mountings/{job.mounting.id}/"
    fitter.act(f"{address}looked/", digest=query.digest, explanation="opened for the receiving check")
    found = {f["digest"]: f["settled"] for f in fitter.get(address).document["findings"]}
    assert found[query.digest] is True


def test_a_tap_is_undone_within_seconds_by_who_made_it(fitter: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/"
    tap = fitter.act(f"{address}taps/", what="alarm").document["entry"]
    fitter.act(f"{address}taps/{tap}/undo/")
    assert fitter.get(address).document["taps"] == []


def test_the_time_of_an_act_of_authority_is_not_the_callers_to_choose(inspector: Caller, job: Job) -> None:
    refused = inspector.post(
        f"mountings/{job.mounting.id}/releases/", entry_id=new_id(), hold="fit",
        at_device="2026-03-01T08:00:00Z",
    )  # fmt: skip
    assert (refused.status, refused.code) == (400, "malformed")
