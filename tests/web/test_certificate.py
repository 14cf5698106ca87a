"""The certificate: what was signed, as it was signed, on sheets that hold it whole."""

import re
from datetime import date

import pytest
import segno

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of
from qrecords.mountings import judging
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.models import PersonVersion
from qrecords.signoff import actions as signoff
from qrecords.steps import requirement
from qrecords.steps.answers import Absent, State
from qrecords.steps.granting import Saying
from qrecords.steps.standard import RULES
from qrecords.tracing.record import record_of
from qrecords.web.auditor.saying import saying
from qrecords.web.inspector.certificate import grouped
from qrecords.workshop.models import Machine
from tests.cast import Job, make_workshop, start
from tests.kept import once
from tests.papers import paper
from tests.web.certificate_hand import certificate, signed_job, until_signature
from tests.web.desk import make_pictures, sit


@pytest.fixture
def signed() -> Job:
    return once(signed_job)


@pytest.mark.django_db
def test_the_answer_stands_first_in_one_sentence(signed: Job) -> None:
    page = certificate(signed)
    assert "<b>Signed off.</b> All " in page
    assert page.index("Signed off.") < page.index("<table")


@pytest.mark.django_db
def test_nothing_is_judged_again(signed: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    def judge(*_: object) -> None:
        raise AssertionError("a certificate was judged again")

    monkeypatch.setattr(judging, "all_findings", judge)
    assert "Journal, worst reading" in certificate(signed)


@pytest.mark.django_db
def test_limits_and_verdicts_are_the_ones_that_were_stored(
    signed: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = certificate(signed)
    # A table corrected years later: every limit of size another one.
    tables = requirement.limits_of_size
    monkeypatch.setattr(
        requirement, "limits_of_size", lambda *given: tables(*given)._replace(lower_nm=1_000, upper_nm=2_000)
    )
    assert "+11…+30" in before
    assert certificate(signed) == before


def conceded(job: Job) -> None:
    """Overheated by 14 K, and conceded by the engineer with the curve and all that a concession names."""
    paper(job, "heating-curve")
    letter = paper(job, "customer-letter")
    saying = Saying(date(2027, 6, 30), letter, frozenset({"no-temper-colour"}))
    digests = [job.finding("peak temperature").digest]
    signoff.decide(
        acting=job.shop.proved("engineer"), mounting=job.mounting, entry_id=new_id(), kind="concession",
        digests=digests, reason="Brass cage, no polymer, no temper colour.",
        conditions="Vibration after a week.", saying=saying,
    )  # fmt: skip


@pytest.mark.django_db
def test_a_concession_stands_with_all_that_it_names() -> None:
    job = start(make_workshop())
    until_signature(job, peak_c="134")
    conceded(job)
    job.sign()
    page = certificate(job)
    for named in (
        "Brass cage, no polymer, no temper colour.",
        "Condition: Vibration after a week.",
        "Stated: no temper colour anywhere on the bearing.",
        "Proven first: the curve of the heat.",
        "The customer agreed by letter, SHA-256",
        "Holds until 30 Jun 2027.",
        "Engineer Person",
    ):
        assert named in page, named


@pytest.mark.django_db
def test_a_concession_is_counted_named_and_stands_beside_its_finding() -> None:
    job = start(make_workshop())
    until_signature(job, peak_c="134")
    conceded(job)
    job.sign()
    page = certificate(job)
    assert "Signed off with 1 concession." in page
    assert "1 nonconforming, decided in C1; all others conforming." in page
    assert "C1 concession, Engineer Person" in page
    assert "Brass cage, no polymer, no temper colour." in page
    peak = page.split("Peak, inner ring", 1)[1].split("</tr>", 1)[0]
    assert "nonconforming" in peak
    assert peak.split("</span>")[-1].split("</td>")[0].strip() == "C1"


@pytest.mark.django_db
def test_what_is_unsafe_stands_before_what_conforms() -> None:
    job = start(make_workshop())
    until_signature(job, peak_c="134")
    conceded(job)
    job.sign()
    rows = (
        certificate(job).split("findings", 1)[1].split("<tbody>", 1)[1].split("</tbody>", 1)[0].split("<tr>")
    )
    verdicts = ["nonconforming" if "verdict-nonconforming" in row else "conforming" for row in rows[1:]]
    assert verdicts[0] == "nonconforming"
    assert verdicts == sorted(verdicts, reverse=True)


@pytest.mark.django_db
def test_no_rule_field_or_table_is_named_by_its_identifier(signed: Job) -> None:
    words = re.sub(r"<[^>]+>", " ", certificate(signed).split("<main", 1)[1])
    assert re.findall(r"\b[a-z0-9]+_[a-z0-9_]+\b", words) == []
    named = {rule for rule in RULES if "-" in rule and f" {rule} " in words}
    assert named <= {"set-up"}  # which is the word for it, too


@pytest.mark.django_db
def test_every_date_has_one_form_and_every_minus_is_one(signed: Job) -> None:
    words = re.sub(r"<[^>]+>", " ", certificate(signed).split("<main", 1)[1])
    assert re.findall(r"\b\d{4}[-:]\d\d[-:]\d\d\b", words) == []
    assert re.findall(r"(?<![\w–-])-\d[\d.,]*", words) == []
    assert "−" in words


@pytest.mark.django_db
def test_a_field_is_lettered_in_the_unit_in_which_it_is_limited(signed: Job) -> None:
    row = certificate(signed).split("Residual field", 1)[1].split("</tr>", 1)[0]
    assert "≤ 2\u202fA/cm" in row
    assert "<b>0.9\u202fA/cm</b>" in row


@pytest.mark.django_db
def test_a_reading_finer_than_a_degree_is_not_rounded_away() -> None:
    job = start(make_workshop())
    until_signature(job, peak_c="120.4")
    row = certificate(job).split("Peak, inner ring", 1)[1].split("</tr>", 1)[0]
    assert "120.4\u202f°C" in row


@pytest.mark.django_db
def test_each_sheet_names_the_mounting_the_machines_mark_and_its_own_number(signed: Job) -> None:
    blocks = certificate(signed).split('<dl class="sheet-block">')[1:]
    mark = Machine.objects.get(id=signed.machine.id).mark
    for number, block in enumerate(blocks, start=1):
        assert f"<b>{signed.mounting.number}</b> · mark {mark}" in block
        assert f"en · {number}/{len(blocks)}" in block


def with_query() -> Job:
    """A package that was opened before: a query, which blocks no signature."""
    job = start(make_workshop())
    until_signature(job, package="opened")
    return job


@pytest.mark.django_db
def test_a_query_nobody_looked_at_is_said_to_be_that() -> None:
    job = with_query()
    job.sign()
    assert "1 query nobody looked at." in certificate(job)


@pytest.mark.django_db
def test_a_query_that_was_looked_at_is_counted_apart_with_its_words() -> None:
    job = with_query()
    digest = job.finding("package-intact").digest
    signoff.close_query(
        acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), digest=digest,
        explanation="opened at goods-in, greased again",
    )  # fmt: skip
    job.sign()
    page = certificate(job)
    assert "1 query looked at." in page
    assert "opened at goods-in, greased again" in page


@pytest.mark.django_db
def test_before_sign_off_the_title_says_so() -> None:
    job = start(make_workshop())
    job.receive()
    page = certificate(job)
    title = page.split("<h1", 1)[1].split("</h1>", 1)[0]
    assert "not signed off" in title
    assert "Not signed off: this is no certificate." in page
    assert "no entry to prove" in page


@pytest.mark.django_db
def test_the_ledger_line_names_the_signed_entry_by_place_and_leaf(signed: Job) -> None:
    entry = next(
        said for said in entries_of(signed.mounting.id)
        if said.kind == "signature" and said.payload["body"]["said"]["meaning"] == "inspected"
    )  # fmt: skip
    page = certificate(signed)
    assert f"entry {entry.index} " in page
    assert grouped(entry.leaf) in page


@pytest.mark.django_db
def test_names_come_from_the_version_that_the_entry_names(signed: Job) -> None:
    """Married since: the certificate keeps the name under which it was signed."""
    person = signed.shop.people["inspector"]
    PersonVersion.objects.create(
        id=signed.mounting.id, person=person, name="Somebody Else", salt=b"x" * 16, hash="f" * 64,
        valid_from=signed.shop.clock,
    )  # fmt: skip
    page = certificate(signed)
    assert "Inspector Person" in page
    assert "Somebody Else" not in page


@pytest.mark.django_db
def test_what_nobody_could_read_is_told_on_the_certificate() -> None:
    job = start(make_workshop())
    job.receive()
    said = {"step": "seating", "role": "work", "fields": {"dropped": {"newer": "yes"}}}
    newer = Statement(
        acting=job.shop.acting("fitter"), mounting=job.mounting, kind="capture", id=new_id(), said=said
    )
    newer.file()
    page = certificate(job)
    assert "1 entry of a newer form is not shown here." in page and "newer yes" in page


@pytest.mark.django_db
def test_times_are_in_the_zone_the_signature_fixed(signed: Job) -> None:
    desk = sit(signed.shop, "auditor", signed)
    desk.client.cookies["zone"] = "Asia/Tokyo"
    signature = case_of(signed.mounting).signatures[-1]
    page = desk.read("certificate")
    assert "times in Europe/Berlin" in page
    # The cast works on 2 March 2026, when Berlin is an hour ahead of UTC.
    local = f"{signature.at.day} Mar 2026 {signature.at.hour + 1:02d}:{signature.at.minute:02d}"
    assert local in page


@pytest.mark.django_db
def test_every_entry_is_listed_once_with_its_leaf(signed: Job) -> None:
    page = certificate(signed)
    tables = [part.split("</table>", 1)[0] for part in page.split('<table class="entries">')[1:]]
    listed = "".join(tables)
    for said in entries_of(signed.mounting.id):
        assert listed.count(f'<th scope="row">{said.index}</th>') == 1
        assert said.leaf[:8] in listed


@pytest.mark.django_db
def test_a_late_photo_is_listed_as_after_signature_and_not_among_the_photos(signed: Job) -> None:
    make_pictures()
    before = certificate(signed).split("Photos: ", 1)[1].split("</div></div>", 1)[0]
    signed.photograph("one more")
    page = certificate(signed)
    assert "After signature" in page
    assert page.split("Photos: ", 1)[1].split("</div></div>", 1)[0] == before


@pytest.mark.django_db
def test_what_was_not_done_is_said_with_its_reason() -> None:
    job = start(make_workshop())
    job.say("heating", peak_outer=Absent(State.NOT_POSSIBLE, "second probe broken"))
    until_signature(job)
    job.sign()
    page = certificate(job)
    assert "Not done, known at sign-off:" in page
    assert "peak, outer ring: not possible – second probe broken" in page


@pytest.mark.django_db
def test_unconfirmed_tables_are_said_aloud(signed: Job) -> None:
    unconfirmed = {row for f in signed.findings().values() for row in f.unconfirmed}
    page = certificate(signed)
    assert unconfirmed
    assert (
        "Unconfirmed: compare with your copy of the standard: radial clearance, deep groove ball bearing, "
        "group C3, 50…65 mm (ISO 5753-1:2009)." in page
    )
    assert "radial_internal_clearance" not in page


@pytest.mark.django_db
def test_the_safety_wording_and_the_machines_scheme_stand_on_it(signed: Job) -> None:
    Machine.objects.filter(id=signed.machine.id).update(scheme="pressure")
    page = certificate(signed)
    assert "If in doubt, stop." in page
    assert "This sign-off is not that release." in page


@pytest.mark.django_db
def test_the_code_leads_to_the_record(signed: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []
    make = segno.make

    def watched(content: str, **options: object) -> object:
        made.append(content)
        return make(content, **options)

    monkeypatch.setattr(segno, "make", watched)
    certificate(signed)
    assert made == [f"http://testserver/mountings/{signed.mounting.id}/inspect/"]


@pytest.mark.django_db
def test_a_page_nobody_may_read_is_refused(signed: Job) -> None:
    desk = sit(signed.shop, "administrator", signed)
    assert desk.see("certificate").status_code == 403


@pytest.mark.django_db
def test_the_heating_is_drawn_with_its_four_taps(signed: Job) -> None:
    first = certificate(signed).split('class="a4"')[1]
    taps = re.findall(r">(heater on|lifted off \+.*?|home \+.*?|let go \+.*?)</text>", first)
    assert [words.replace("\u202f", " ") for words in taps] == [
        "heater on", "lifted off +250 s", "home +16 s", "let go +200 s",
    ]  # fmt: skip


@pytest.mark.django_db
def test_photos_are_counted_as_on_the_record(signed: Job) -> None:
    make_pictures()
    assert "Photos: 4 of 8 shown, all originals kept; 8 of 8 shots" in certificate(signed)
    assert "8 of 8 shots received; photos taken: 8" in sit(signed.shop, "inspector", signed).read()


@pytest.mark.django_db
def test_a_letter_that_came_is_told_as_a_paper_and_not_as_a_log(job: Job) -> None:
    paper(job, "customer-letter")
    (line,) = [line for line in record_of(job.mounting).lines if line.entry.kind == "file received"]
    assert saying(line).kind == "paper received"
