"""The pages of procedures: the list, the form that keeps what was typed, two approvals, comparison, files."""

import html
import re
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.steps.compared import changes
from qrecords.steps.procedure import STANDARD, procedure_digest
from qrecords.steps.procedure_file import as_file, read_file
from qrecords.web.registers.procedure_form import values_of
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion
from tests.cast import PASSWORD, Workshop, make_workshop
from tests.web.desk import main
from tests.workshop.drafts import approve, drafted, in_force, revised

pytestmark = pytest.mark.django_db
POINT = {
    "p0-kind": "witness", "p0-title": "Surveyor sees the fit", "p0-party": "class surveyor",
    "p0-wording": "48 h notice of fit-up.", "p0-c-bore": "yes", "p0-f0": "measurement.journal",
    "p0-notice": "2880",
}  # fmt: skip


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def client_of(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def words(answer: HttpResponse) -> str:
    text = html.unescape(main(answer.content.decode()))
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def read(shop: Workshop, name: str, /, *args: object, who: str = "engineer", **query: Any) -> str:
    answer = client_of(shop, who).get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return words(answer)


def send(shop: Workshop, name: str, /, *args: object, who: str = "engineer", **typed: Any) -> HttpResponse:
    given = {"entry_id": str(new_id()), **typed}
    return client_of(shop, who).post(reverse(name, args=args), given)  # type: ignore[return-value]


def form(**typed: str) -> dict[str, str]:
    """The form as the page of a new draft sends it, with something typed."""
    values = {**values_of(STANDARD), "revision": "B", "reason": "asked for", **typed}
    return {name: value for name, value in values.items() if value}


def test_the_list_says_how_each_version_and_draft_stands_and_what_waits_stands_first(shop: Workshop) -> None:
    in_force(shop, name="Ostrey trams", revision="1", contract="Ostrey 2026-7")
    drafted(shop)
    page = read(shop, "procedure", who="fitter")
    assert "HM-1 rev. B draft Engineer Person" in page
    assert "Ostrey trams rev. 1 Ostrey 2026-7 in force Engineer Person" in page
    assert "HM-1 rev. A in force put in force at the installation" in page
    assert page.index("rev. B draft") < page.index("Ostrey trams") < page.index("rev. A in force")
    assert "draft the next one" not in page
    assert "draft the next one" in read(shop, "procedure")


def test_the_form_begins_with_what_is_in_force_and_sent_untouched_says_the_same(shop: Workshop) -> None:
    answer = client_of(shop, "engineer").get(reverse("procedure-new"))
    page = answer.content.decode()
    assert 'name="house_cap_c" type="text" value="120"' in page
    assert 'name="step.bore" value="yes" checked' in page
    came = send(shop, "procedure-new", **form())
    assert came.status_code == 302
    draft = ProcedureDraft.objects.get()
    assert [line.place for line in changes(STANDARD, draft.document)] == [("revision",)]


def test_what_the_page_has_no_input_for_stays_as_the_document_has_it(shop: Workshop) -> None:
    """A browser sends the inputs that are there: what may always be left out has none."""
    page = client_of(shop, "engineer").get(reverse("procedure-new")).content.decode()
    there = set(re.findall(r'name="([^"]+)"', page))
    sent = {name: value for name, value in form().items() if name in there}
    assert "out.identification.serial" in form() and "out.identification.serial" not in sent
    assert send(shop, "procedure-new", **sent).status_code == 302
    said = changes(STANDARD, ProcedureDraft.objects.get().document)
    assert [line.place for line in said] == [("revision",)]


def test_every_part_of_the_form_changes_its_part_of_the_document(shop: Workshop) -> None:
    typed = form(
        guard="0", agreed_with="Ostrey tram depot, 2 March", house_cap_c="110", field_nt="0,3",
        directions="0, 90", contract="Ostrey 2026-7", name="Ostrey", **POINT,
    )  # fmt: skip
    for gone in ("step.running", "hold.cold", "s0-on", "d.accept.inspector", "na.preparation.zone"):
        del typed[gone]
    typed |= {"out.bore.bore": "optional", "s9-id": "Drive end cover", "s9-new": "yes", "s9-step": "seating"}
    assert send(shop, "procedure-new", **typed).status_code == 302
    said = ProcedureDraft.objects.get().document
    assert said["decision_rule"]["agreed_with"] == "Ostrey tram depot, 2 March"
    assert (said["limits"]["house_cap_c"], said["limits"]["field_nt"]) == (110, 300_000)
    assert (said["directions"], said["contract"], said["holds"]) == (["0", "90"], "Ostrey 2026-7", ["fit"])
    assert "running" not in said["steps"]
    assert "bore.bore" in said["optional"]
    assert "preparation.zone" not in said["not_applicable"]
    assert [shot["id"] for shot in said["photos"]][::7] == ["package", "drive-end-cover"]
    assert said["may_decide"] == {"accept": ["engineer"]}
    assert said["points"] == [
        {
            "id": "surveyor-sees", "kind": "witness", "title": "Surveyor sees the fit",
            "party": "class surveyor", "wording": "48 h notice of fit-up.",
            "covers": ["bore", "measurement.journal"], "notice_min": 2880,
        }
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "beside", "said"),
    [
        ({"house_cap_c": "300"}, "a-house_cap_c", "“300” is not possible. Allowed: 60…150 °C"),
        ({"house_cap_c": "x"}, "a-house_cap_c", "“x” is not possible. Allowed: 60…150 °C"),
        ({"house_cap_c": "120.5"}, "a-house_cap_c", "“120.5” is not possible. Allowed: 60…150 °C"),
        ({"blade_nm": "0.3"}, "a-blade_nm", "“0.3” is not possible. Allowed: 0.01…0.1 mm"),
        ({"guard": "0"}, "a-agreed_with", "simple acceptance is agreed with the customer"),
        ({"directions": "0, 400"}, "a-directions", "'400'° is not possible; allowed: whole degrees, 0…359°"),
        ({"revision": ""}, "a-revision", "1 to 20 characters"),
        ({"revision": "A"}, "a-revision", "“A” is not possible. Allowed: a revision of HM-1"),
        ({"reason": ""}, "a-reason", "what changes, and why, in one line"),
        ({"from_day": "2020-01-01"}, "a-from_day", "a moment to come"),
        ({"from_day": "soon"}, "a-from_day", "a day to come, and a time if it matters"),
        ({**POINT, "p0-notice": "2 days"}, "a-p0-notice", "0…43200 min"),
        ({**POINT, "p0-kind": ""}, "a-p0-kind", "Which kind of point is it?"),
        ({**POINT, "p0-party": ""}, "a-p0-party", "whom it concerns"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field_and_what_was_typed_stays(
    shop: Workshop, typed: dict[str, str], beside: str, said: str
) -> None:
    kept = {"edition": "ISO 14253-1:2017, our copy", "planes": "A, B"}
    answer = send(shop, "procedure-new", **(form(**kept) | typed))
    page = html.unescape(answer.content.decode())
    assert answer.status_code == 422
    told = re.search(f'id="{beside}"[^>]*>(.*?)</p>', page)
    assert told and said in told[1], told and told[1]
    for value in (*kept.values(), *(value for value in typed.values() if value not in ("", "yes"))):
        assert value in page
    assert not ProcedureDraft.objects.exists()


def test_more_rows_record_nothing_and_keep_what_was_typed(shop: Workshop) -> None:
    answer = send(shop, "procedure-new", way="more", **form(**POINT, **{"s8-id": "cover", "s8-new": "yes"}))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert 'name="p1-kind"' in page and 'value="cover"' in page and "48 h notice of fit-up." in page
    assert not ProcedureDraft.objects.exists()


def test_a_draft_shows_what_changes_and_is_in_force_once_two_approved_it(shop: Workshop) -> None:
    draft = drafted(shop, limits={**STANDARD["limits"], "house_cap_c": 110})
    page = read(shop, "procedure-draft", draft.id, who="quality")
    assert "What changes HM-1 rev. A → HM-1 rev. B" in page
    assert "revision A B never above, house 120 °C 110 °C" in page
    assert "approvals 0 of 2" in page
    wrong = send(shop, "procedure-decide", draft.id, who="quality", way="approve", password="not mine")
    assert (wrong.status_code, "This is not your password." in words(wrong)) == (422, True)
    send(shop, "procedure-decide", draft.id, who="quality", way="approve", password=PASSWORD)
    after = read(shop, "procedure-draft", draft.id, who="quality")
    assert "approvals 1 of 2" in after and "Another person approves it too." in after
    send(shop, "procedure-decide", draft.id, way="approve", password=PASSWORD)
    assert "HM-1 rev. B Test hall · in force" in read(shop, "procedure-draft", draft.id)
    assert ProcedureVersion.objects.filter(draft=draft).exists()


def test_who_drafted_is_told_that_the_other_approval_is_anothers(shop: Workshop) -> None:
    first = drafted(shop, "engineer")
    draft = drafted(shop, "quality", instead_of=first)
    approve(shop, draft, "engineer")
    page = read(shop, "procedure-draft", draft.id, who="quality")
    assert "The other approval is by who wrote nothing of it." in page
    refused = send(shop, "procedure-decide", draft.id, who="quality", way="approve", password=PASSWORD)
    assert (refused.status_code, ProcedureAct.objects.count()) == (403, 1)


def test_a_refusal_says_why_and_the_draft_is_written_anew(shop: Workshop) -> None:
    draft = drafted(shop)
    bare = send(shop, "procedure-decide", draft.id, who="quality", way="refuse", password=PASSWORD)
    assert (bare.status_code, "1 to 400 characters" in words(bare)) == (422, True)
    send(
        shop, "procedure-decide", draft.id, who="quality", way="refuse", password=PASSWORD, reason="no letter"
    )
    page = read(shop, "procedure-draft", draft.id)
    assert "refused Quality Person" in page and "no letter" in page
    assert "HM-1 rev. B, drafted anew" in read(shop, "procedure-draft-edit", draft.id)
    came = send(shop, "procedure-draft-edit", draft.id, **form(directions="0, 90"))
    newest = ProcedureDraft.objects.order_by("-nth").first()
    assert newest and came["Location"] == reverse("procedure-draft", args=[newest.id])
    assert (newest.nth, newest.dossier, newest.document["directions"]) == (2, draft.id, ["0", "90"])
    assert "drafted anew Engineer Person" in read(shop, "procedure-draft", draft.id)


def test_ones_own_draft_is_withdrawn_without_a_password(shop: Workshop) -> None:
    draft = drafted(shop)
    send(shop, "procedure-withdraw", draft.id, reason="a slip")
    assert "HM-1 rev. B Test hall · withdrawn" in read(shop, "procedure-draft", draft.id)


def test_a_version_is_exported_and_imported_again_as_a_draft(shop: Workshop) -> None:
    answer = client_of(shop, "fitter").get(reverse("procedure-file", args=[procedure_digest(STANDARD)]))
    assert answer["Content-Disposition"] == 'attachment; filename="hm-1-a.json"'
    assert read_file(answer.content) == dict(STANDARD)
    other = as_file(revised("C", limits={**STANDARD["limits"], "house_cap_c": 110}))
    upload = SimpleUploadedFile("hm-1-c.json", other.encode(), "application/json")
    came = send(shop, "procedure-import", file=upload, reason="as at our other hall")
    draft = ProcedureDraft.objects.get()
    assert came["Location"] == reverse("procedure-draft", args=[draft.id])
    assert as_file(draft.document) == other
    exported = client_of(shop, "fitter").get(reverse("procedure-draft-file", args=[draft.id]))
    assert exported.content.decode() == other


def test_a_file_with_faults_is_told_each_by_its_place_and_leaves_nothing(shop: Workshop) -> None:
    limits = {**STANDARD["limits"], "house_cap_c": 300}
    bad = as_file(revised(limits=limits, may_decide={"accept": ["fitter"]}, optional=["bore.bor"]))
    upload = SimpleUploadedFile("hm.json", bad.encode(), "application/json")
    answer = send(shop, "procedure-import", file=upload, reason="as at our other hall")
    page = words(answer)
    assert answer.status_code == 422
    assert "/limits/house_cap_c: 300 °C is not possible; allowed: 60…150 °C" in page
    assert "/optional/0: 'bore.bor' is no field; allowed: " in page
    assert 'value="as at our other hall"' in answer.content.decode()
    assert not ProcedureDraft.objects.exists()
    nothing = send(shop, "procedure-import", reason="x")
    assert (nothing.status_code, "a file as this page exports it" in words(nothing)) == (422, True)


def test_two_versions_are_compared_in_words_what_changed_first(shop: Workshop) -> None:
    point = {
        "id": "visit", "kind": "witness", "title": "Surveyor sees the fit", "party": "class surveyor",
        "covers": ["measurement.journal"], "notice_min": 2880,
    }  # fmt: skip
    new = in_force(shop, points=[point], may_decide={"accept": ["engineer"]}, holds=["fit"])
    old = ProcedureVersion.objects.get(draft=None)
    page = read(shop, "procedure-compare", old=old.id, new=new.id, who="auditor")
    changed, same = page.split("What is the same")
    assert "revision A B" in changed
    assert "hold point: cold check yes –" in changed
    assert "Surveyor sees the fit, notice time – 48 h" in changed
    assert "Surveyor sees the fit, covers, measurement of the journal: journal – yes" in changed
    assert "accept: engineer – yes" in changed
    assert "never above, house 120 °C 120 °C" in same


def test_a_site_without_a_procedure_has_the_standard_one_put_in_force_by_one_person(shop: Workshop) -> None:
    ProcedureVersion.objects.all().delete()
    assert "Test hall: no procedure is in force" in read(shop, "procedure")
    wrong = send(shop, "procedure-first", site=shop.site, password="not mine")
    assert (wrong.status_code, "This is not your password." in words(wrong)) == (422, True)
    send(shop, "procedure-first", site=shop.site, password=PASSWORD)
    assert ProcedureVersion.objects.get().document == dict(STANDARD)
    assert "HM-1 rev. A" in read(shop, "procedure", who="fitter")


def test_the_list_asks_as_much_of_one_draft_as_of_many(shop: Workshop) -> None:
    in_force(shop)
    client, asked = client_of(shop, "engineer"), []
    for time in range(2):
        with CaptureQueriesContext(connection) as queries:
            client.get(reverse("procedure"))
        asked.append(len(queries))
        for nth in range(10):
            drafted(shop, revision=f"D{nth}", name=f"HM-x{nth}")
        in_force(shop, name="HM-7", revision=f"{time}")
    assert asked[0] == asked[1]
