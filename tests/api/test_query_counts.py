"""Lists hold a fixed number of queries, however many rows they show."""

from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import EquipmentUse, Mounting
from qrecords.workshop.models import (
    Bearing,
    Equipment,
    EquipmentVersion,
    Journal,
    JournalRequirement,
    Machine,
    Rebuild,
)
from tests.api.caller import Caller
from tests.cast import Job, Workshop, start

LISTS = ("mountings/", "machines/", "rebuilds/", "journals/", "bearings/", "equipment/", "search/?q=6212")


def fill(job: Job, numbers: range) -> None:
    """Rows of every register, by index rows alone: what lists read."""
    site, at = job.mounting.site, job.mounting.opened_at
    machines = [
        Machine(id=new_id(), site=site, name=f"Pump {n}", owner="Quarry", mark=f"{n:07d}") for n in numbers
    ]
    rebuilds = [Rebuild(id=new_id(), site=site, machine=m, work_order="WO", opened_at=at) for m in machines]
    journals = [Journal(id=new_id(), site=site, machine=m, shaft="1", position="DE") for m in machines]
    bearings = [Bearing(id=new_id(), site=site, designation="6212 C3") for _ in machines]
    pieces = [Equipment(id=new_id(), site=site, kind="feeler set", mark=f"F{n}") for n in numbers]
    Machine.objects.bulk_create(machines)
    Rebuild.objects.bulk_create(rebuilds)
    Journal.objects.bulk_create(journals)
    Bearing.objects.bulk_create(bearings)
    Equipment.objects.bulk_create(pieces)
    JournalRequirement.objects.bulk_create(
        JournalRequirement(id=new_id(), journal=j, drawing="T", revision="A", document={}, valid_from=at)
        for j in journals
    )
    EquipmentVersion.objects.bulk_create(
        EquipmentVersion(id=new_id(), equipment=piece, document={}, valid_from=at) for piece in pieces
    )
    mountings = [
        Mounting(
            id=new_id(), site=site, number=f"T-{n}", journal=j, bearing=b, rebuild=r, opened_at=at,
            procedure_digest=job.mounting.procedure_digest, opened_by=job.mounting.opened_by,
        )
        for n, j, b, r in zip(numbers, journals, bearings, rebuilds, strict=True)
    ]  # fmt: skip
    Mounting.objects.bulk_create(mountings)
    EquipmentUse.objects.bulk_create(
        EquipmentUse(
            equipment=job.shop.gear["micrometer"], mounting=m, entry=new_id(), step="measurement", at=at
        )
        for m in mountings
    )


def queries(caller: Caller, address: str) -> tuple[int, int]:
    """(queries, rows shown)."""
    with CaptureQueriesContext(connection) as captured:
        document = caller.get(address).document
    return len(captured), len(document.get("results", document.get("candidates", [])))


def test_ten_rows_and_two_hundred_take_the_same_queries(shop: Workshop, inspector: Caller) -> None:
    job = start(shop)
    uses = f"equipment/{shop.gear['micrometer'].id}/mountings/"
    fill(job, range(10))
    few = {address: queries(inspector, address) for address in (*LISTS, uses)}
    fill(job, range(10, 200))
    many = {address: queries(inspector, address) for address in (*LISTS, uses)}
    for address, (count, rows) in few.items():
        assert many[address][0] == count <= 9, address
        assert many[address][1] > rows >= 10, address


def test_a_list_goes_on_where_it_stopped_and_shows_every_row_once(shop: Workshop, inspector: Caller) -> None:
    fill(start(shop), range(120))
    seen: list[str] = []
    address: str | None = "mountings/"
    while address:
        page = inspector.get(address).document
        seen += [row["id"] for row in page["results"]]
        address = page["next"] and page["next"].removeprefix("/api/v1/")
    assert len(seen) == len(set(seen)) == 121


def test_a_filter_stays_with_the_next_page(shop: Workshop, inspector: Caller) -> None:
    fill(start(shop), range(60))
    page = inspector.get("mountings/", work_order="wo").document
    assert "work_order=wo" in page["next"]
    assert inspector.get("mountings/", work_order="WO-1001").document["next"] is None
    assert len(inspector.get("mountings/", state="signed off").document["results"]) == 0
    assert len(inspector.get("mountings/", designation="6212 c3").document["results"]) == 50


def test_going_on_after_a_row_that_is_not_here_is_unknown(shop: Workshop, inspector: Caller) -> None:
    assert inspector.get("mountings/", after=str(new_id())).status == 404
