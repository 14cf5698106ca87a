"""Everything taken out: the counts are the database's, checksums verify, nothing that must stay leaves."""

import csv
import hashlib
import io
import json
import zipfile
from pathlib import Path
from uuid import UUID

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.db.models import Model
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.evidence import storage
from qrecords.evidence.models import StoredFile
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry, Leaf
from qrecords.people.errors import NotAllowedError
from qrecords.people.models import Person, PersonVersion, Token
from qrecords.proof.merkle import leaf_hash
from qrecords.tracing.everything import made, parts
from qrecords.tracing.everything.made import write_folder, zipped
from qrecords.tracing.everything.tables import NEVER, path_to_site, tables
from qrecords.tracing.everything.take import take_everything
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing, Site
from tests.api.caller import Caller
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    job = start(make_workshop())
    job.photograph("seat")
    workshop.register_bearing(
        acting=job.shop.acting("fitter"), site=job.shop.site, bearing_id=new_id(),
        designation='=HYPERLINK("x";"6212")', lot="L;1", delivery='"two" inches',
    )  # fmt: skip
    return job


def rows_of(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / "tables" / f"{name}.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def checked(folder: Path) -> int:
    """How many files the checksums name; each is there and is what they say."""
    lines = (folder / "SHA256SUMS").read_text().splitlines()
    for line in lines:
        digest, name = line.split("  ", 1)
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest, name
    there = {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()} - {"SHA256SUMS"}
    assert there == {line.split("  ", 1)[1] for line in lines}
    return len(lines)


def test_every_table_has_its_rows_and_every_entry_its_line(job: Job, tmp_path: Path) -> None:
    write_folder(tmp_path, None)
    for table in tables():
        rows = rows_of(tmp_path, table.name.replace(" ", "-"))
        assert len(rows) == table.model._default_manager.count(), table.name
    lines = [json.loads(x) for x in (tmp_path / "entries/from-000000000.jsonl").read_text().splitlines()]
    assert [line["index"] for line in lines] == list(range(Leaf.objects.count()))
    for line in lines:
        assert leaf_hash(line["payload"].encode()).hex() == line["leaf"] and line["holds"]
    with (tmp_path / "counts.csv").open(encoding="utf-8-sig", newline="") as file:
        counts = {row["file"]: int(row["rows"]) for row in csv.DictReader(file)}
    assert counts["tables/bearings.csv"] == Bearing.objects.count()
    assert counts["entries/from-000000000.jsonl"] == len(lines)
    assert checked(tmp_path) == len(tables()) + 5


def test_a_cell_is_no_formula_and_keeps_what_it_says(job: Job, tmp_path: Path) -> None:
    write_folder(tmp_path, None)
    cells = [row for row in rows_of(tmp_path, "bearings") if row["lot"] == "L;1"]
    assert cells[0]["designation"] == '\'=HYPERLINK("x";"6212")'
    assert cells[0]["delivery"] == '"two" inches'


def test_no_name_password_salt_or_secret_leaves(job: Job, tmp_path: Path) -> None:
    write_folder(tmp_path, None)
    kept = [version.name for version in PersonVersion.objects.all()]
    kept += [person.password for person in Person.objects.all()]
    kept += [bytes(version.salt).hex() for version in PersonVersion.objects.all()]
    text = "".join(
        p.read_text(errors="replace") for p in tmp_path.rglob("*") if p.suffix in (".csv", ".jsonl")
    )
    assert len(kept) > 9 and not any(word in text for word in kept)
    people = {row["id"] for row in rows_of(tmp_path, "people")}
    assert people == {str(id) for id in Person.objects.values_list("id", flat=True)}


@pytest.mark.parametrize("model", [table.model for table in tables()], ids=lambda m: m.__name__)
def test_no_column_that_sounds_like_a_secret_is_taken_out(model: type[Model]) -> None:
    (table,) = [table for table in tables() if table.model is model]
    telling = ("password", "salt", "secret")
    assert [c for c in table.columns if any(word in c for word in telling) and c != "first_password"] == []
    assert set(NEVER) == {Person, PersonVersion, Token}


@pytest.mark.parametrize("table", tables(), ids=lambda table: table.name)
def test_every_table_knows_its_site(table: object, job: Job) -> None:
    assert path_to_site(table.model)  # type: ignore[attr-defined]
    here = table.rows([job.shop.site]).count()  # type: ignore[attr-defined]
    assert here == table.model._default_manager.count()  # type: ignore[attr-defined]
    assert table.rows([new_id()]).count() == 0  # type: ignore[attr-defined]


def test_of_one_site_nothing_of_another_leaves(job: Job, tmp_path: Path) -> None:
    other = Site.objects.create(id=new_id(), code="X", name="Other", zone="UTC")
    Bearing.objects.create(id=new_id(), site=other.id, designation="NU 318")
    write_folder(tmp_path, [job.shop.site])
    assert "NU 318" not in {row["designation"] for row in rows_of(tmp_path, "bearings")}
    assert [row["code"] for row in rows_of(tmp_path, "site")] == ["TH"]
    write_folder(tmp_path / "other", [other.id])
    assert [row["designation"] for row in rows_of(tmp_path / "other", "bearings")] == ["NU 318"]
    assert (tmp_path / "other/entries/from-000000000.jsonl").read_text() == ""


def test_originals_are_there_by_their_digest_and_what_is_gone_is_said(job: Job, tmp_path: Path) -> None:
    sha256 = StoredFile.objects.get().sha256
    write_folder(tmp_path, None)
    assert (tmp_path / "originals" / sha256[:2] / sha256).read_bytes() == storage.original(
        sha256
    ).read_bytes()
    storage.original(sha256).unlink()
    tally = write_folder(tmp_path / "again", None)
    assert tally.missing == 1
    assert sha256 in (tmp_path / "again/not-here.csv").read_text()


def test_stopped_in_the_middle_it_goes_on_and_comes_out_the_same(
    job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parts, "ENTRIES_A_FILE", 10)
    whole, broken = tmp_path / "whole", tmp_path / "broken"
    write_folder(whole, None)
    real, done = made._write, list[Path]()

    def breaking(place: Path, chunks: object) -> None:
        if len(done) == len(tables()) + 3:
            raise KeyboardInterrupt
        done.append(place)
        real(place, chunks)  # type: ignore[arg-type]

    monkeypatch.setattr(made, "_write", breaking)
    with pytest.raises(KeyboardInterrupt):
        write_folder(broken, None)
    assert not (broken / "SHA256SUMS").exists()
    monkeypatch.setattr(made, "_write", real)
    tally = write_folder(broken, None)
    assert tally.kept == 2
    assert (broken / "SHA256SUMS").read_text() == (whole / "SHA256SUMS").read_text()
    checked(broken)


def test_the_zip_is_streamed_and_holds_the_same(job: Job, tmp_path: Path) -> None:
    write_folder(tmp_path, None)
    chunks = list(zipped(None, "all"))
    assert len(chunks) > len(tables())
    with zipfile.ZipFile(io.BytesIO(b"".join(chunks))) as archive:
        assert archive.testzip() is None
        assert archive.read("all/SHA256SUMS").decode() == (tmp_path / "SHA256SUMS").read_text()
        assert len(archive.namelist()) == checked(tmp_path) + 1


def test_ten_times_the_rows_take_no_more_memory_at_a_time_and_few_more_queries(job: Job) -> None:
    def counted() -> tuple[int, int]:
        with CaptureQueriesContext(connection) as captured:
            longest = max(len(chunk) for chunk in zipped(None, "all"))
        return len(captured), longest

    few, longest = counted()
    Bearing.objects.bulk_create(
        Bearing(id=new_id(), site=job.shop.site, designation=f"6212 C3 {n}") for n in range(3_000)
    )
    many, longest_then = counted()
    assert many == few and longest_then <= 2 * max(longest, parts.CHUNK_BYTES)


def test_taking_it_out_is_an_act_and_the_file_is_for_who_took_it(job: Job) -> None:
    client = Client()
    client.force_login(job.shop.people["quality"], backend="django.contrib.auth.backends.ModelBackend")
    answer = client.post(reverse("export-everything"), {"entry_id": str(new_id())})
    assert answer.status_code == 302
    entry = Entry.objects.get(kind="export")
    address = reverse("export-file", args=[entry.id])
    assert f'href="{address}"' in client.get(answer["Location"]).content.decode()
    fetched = client.get(address)
    assert fetched["Content-Type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(fetched.getvalue())) as archive:
        assert any(name.endswith("tables/machines.csv") for name in archive.namelist())
    client.force_login(job.shop.people["auditor"], backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(reverse("export-file", args=[entry.id])).status_code == 404
    client.force_login(job.shop.people["fitter"], backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(reverse("export-file", args=[entry.id])).status_code == 403


@pytest.mark.parametrize("who", ["auditor", "quality"])
def test_a_site_that_is_not_there_is_neither_every_site_nor_ones_own(job: Job, who: str) -> None:
    client = Client()
    client.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    answer = client.post(reverse("export-everything"), {"entry_id": str(new_id()), "site": str(new_id())})
    assert (answer.status_code, Entry.objects.filter(kind="export").exists()) == (404, False)


def test_every_site_is_for_who_may_read_everywhere(job: Job) -> None:
    with pytest.raises(NotAllowedError):
        take_everything(acting=job.shop.acting("quality"), entry_id=new_id(), site=None)
    id = new_id()
    first = take_everything(acting=job.shop.acting("auditor"), entry_id=id, site=None)
    assert take_everything(acting=job.shop.acting("auditor"), entry_id=id, site=None) == first


def test_the_api_does_the_same(job: Job) -> None:
    client, id = Client(), new_id()
    client.force_login(job.shop.people["auditor"], backend="django.contrib.auth.backends.ModelBackend")
    caller = Caller(job.shop, "auditor", client)
    assert caller.post("exports/", entry_id=id).status == 201
    answer = caller.client.get(f"/api/v1/exports/{id}/")
    with zipfile.ZipFile(io.BytesIO(answer.getvalue())) as archive:
        assert archive.testzip() is None
    assert caller.get(f"exports/{new_id()}/").status == 404


def test_the_command_writes_a_folder_and_knows_its_sites(job: Job, tmp_path: Path) -> None:
    out = io.StringIO()
    call_command("export_everything", str(tmp_path / "out"), "--site", "TH", stdout=out)
    assert checked(tmp_path / "out") > 30 and "files in" in out.getvalue()
    with pytest.raises(CommandError, match="no site NO; there are TH"):
        call_command("export_everything", str(tmp_path), "--site", "NO")
    assert isinstance(job.shop.site, UUID)
