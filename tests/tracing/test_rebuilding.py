"""`rebuild_indexes`: what is sound stays; a changed index is found and mended, a changed register found."""

from collections.abc import Callable

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.models import Model

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Node
from qrecords.ledger.opening import open_log
from qrecords.ledger.verifying import verify
from qrecords.mountings.models import EquipmentUse, FindingRow, Mounting, Reading
from qrecords.people.actions import end_role
from qrecords.people.models import Competence, PersonVersion, RoleGrant
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import NODES, STATES, rebuild
from qrecords.workshop.models import (
    Bearing,
    EquipmentVersion,
    Journal,
    JournalRequirement,
    Machine,
    ProcedureVersion,
    Rebuild,
    Site,
)
from tests.cast import Job, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db


@pytest.fixture
def opened() -> Job:
    """A workshop with one mounting begun."""
    return start(make_workshop())


@pytest.fixture
def job() -> Job:
    """One mounting on its way: measured and heated."""
    return once(_on_its_way)


def _on_its_way() -> Job:
    job = start(make_workshop())
    job.measure()
    job.heat()
    return job


def run(capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """Exit status and what the command says."""
    with pytest.raises(SystemExit) as left:
        call_command("rebuild_indexes")
    return int(str(left.value.code)), capsys.readouterr().out


def test_a_sound_record_exits_0(opened: Job, capsys: pytest.CaptureFixture[str]) -> None:
    opened.whole()
    status, said = run(capsys)
    assert status == 0, said
    assert "1 mountings" in said


def test_an_ended_role_and_a_second_mounting_are_sound_too(
    job: Job, capsys: pytest.CaptureFixture[str]
) -> None:
    start(job.shop, position="NDE")
    grant = RoleGrant.objects.get(person=job.shop.people["second_fitter"])
    end_role(acting=job.shop.proved("administrator"), entry_id=new_id(), grant=grant)
    status, said = run(capsys)
    assert status == 0, said


INDEX_CHANGES = [
    ("readings", lambda: Reading.objects.filter(step="measurement").update(base=1), 14),
    ("readings", lambda: Reading.objects.filter(key="journal.A.0").delete(), 1),
    ("findings", lambda: FindingRow.objects.filter(rule="journal-size").update(verdict="nonconforming"), 1),
    ("findings", lambda: FindingRow.objects.filter(rule="journal-size").update(document={}), 1),
    ("uses of equipment", lambda: EquipmentUse.objects.filter(step="heating").delete(), 1),
    (STATES, lambda: Mounting.objects.update(state="signed off"), 1),
    (STATES, lambda: Mounting.objects.update(lot_read="L-99"), 1),
    (NODES, lambda: Node.objects.filter(level=1, index=0).update(hash=bytes(32)), 1),
    (NODES, lambda: Node.objects.filter(level=2).delete(), None),
    (NODES, lambda: Node.objects.create(level=40, index=0, hash=bytes(32)), 1),
]


@pytest.mark.parametrize(("index", "change", "rows"), INDEX_CHANGES)
def test_a_changed_index_is_counted_and_mended(
    job: Job,
    index: str,
    change: Callable[[], object],
    rows: int | None,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = sorted(FindingRow.objects.values_list("rule", "characteristic", "digest"))
    change()
    found = rebuild().differing
    assert {name for name, count in found.items() if count} == {index}
    assert rows is None or found[index] == rows
    assert rebuild().same
    assert sorted(FindingRow.objects.values_list("rule", "characteristic", "digest")) == before


def test_after_mending_the_tree_the_log_verifies() -> None:
    open_log()
    make_workshop()
    Node.objects.filter(level=1, index=0).update(hash=bytes(32))
    assert verify(connection, None, signatures=False).differences
    rebuild()
    assert not verify(connection, None, signatures=False).differences


def test_a_mounting_that_cannot_be_folded_is_named_and_the_others_are_mended(job: Job) -> None:
    other = start(job.shop, position="NDE")
    Mounting.objects.filter(id=job.mounting.id).update(procedure_digest="0" * 64)
    Mounting.objects.filter(id=other.mounting.id).update(state="signed off")
    rebuilt = rebuild()
    assert [text.split(":")[0] for text in rebuilt.unreadable] == [f"mounting {job.mounting.number}"]
    assert rebuilt.differing[STATES] == 1


def changed(model: type[Model], **values: object) -> None:
    """Change one row behind everybody's back."""
    row = model._default_manager.order_by("pk").first()
    assert row is not None
    model._default_manager.filter(pk=row.pk).update(**values)


REGISTER_CHANGES = [
    (Machine, {"owner": "somebody else"}, "machine", "owner"),
    (Machine, {"mark": "2222222"}, "machine", "mark"),
    (Rebuild, {"work_order": "WO-9"}, "rebuild", "work_order"),
    (Journal, {"position": "NDE"}, "journal", "position"),
    (JournalRequirement, {"document": {"nominal_mm": "61"}}, "journal requirement", "document"),
    (Bearing, {"serial": "S-1"}, "bearing", "serial"),
    (EquipmentVersion, {"due": "2030-01-01"}, "calibration", "due"),
    (EquipmentVersion, {"document": {"status": "in use"}}, "calibration", "document"),
    (ProcedureVersion, {"document": {"limits": {}}}, "procedure", "document"),
    (RoleGrant, {"role": "engineer"}, "role", "role"),
    (RoleGrant, {"valid_to": "2026-03-02T09:00:00Z"}, "role", "valid_to"),
    (Competence, {"valid_to": "2040-01-01"}, "competence", "valid_to"),
    (Competence, {"to_mm": "900"}, "competence", "to_mm"),
    (PersonVersion, {"name": "Somebody Else"}, "person", "name"),
    (Site, {"name": "Another hall"}, "site", "name"),
    (Mounting, {"number": "26-0099"}, "mounting", "number"),
    (Mounting, {"opened_by": "00000000-0000-0000-0000-000000000001"}, "mounting", "opened_by"),
]


@pytest.mark.parametrize(("model", "values", "register", "field"), REGISTER_CHANGES)
def test_a_register_row_that_does_not_say_what_its_entry_says_is_named(
    opened: Job, model: type[Model], values: dict[str, object], register: str, field: str
) -> None:
    changed(model, **values)
    named = list(differences())
    assert len(named) == 1, named
    assert named[0].startswith(f"{register} ") and f": {field} " in named[0]


def test_a_row_without_an_entry_is_named(opened: Job) -> None:
    Site.objects.create(id="00000000-0000-0000-0000-000000000002", code="X", name="X")
    assert list(differences()) == ["site 00000000-0000-0000-0000-000000000002: no entry made this row"]


def test_an_entry_whose_row_is_gone_is_named(opened: Job) -> None:
    id = Competence.objects.order_by("pk").values_list("pk", flat=True)[0]
    Competence.objects.filter(pk=id).delete()
    assert list(differences()) == [f"competence {id}: the entry is there, the row is gone"]


def test_a_tampered_register_exits_1_unmended(opened: Job, capsys: pytest.CaptureFixture[str]) -> None:
    changed(Machine, owner="somebody else")
    status, said = run(capsys)
    assert status == 1
    assert "owner says 'somebody else', its entry 'Greyhallow quarry'" in said
    assert run(capsys)[0] == 1


def test_a_tampered_index_exits_1_and_the_next_run_0(job: Job, capsys: pytest.CaptureFixture[str]) -> None:
    Mounting.objects.update(state="signed off")
    assert run(capsys)[0] == 1
    assert run(capsys)[0] == 0
