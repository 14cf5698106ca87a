"""Coldbeck foundry in the tests: five mountings of 90 m6 measured with one micrometer, and the look-back that
it reads 9 µm high."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.workshop import actions as workshop
from qrecords.workshop.look_back_actions import open_look_back
from qrecords.workshop.models import LookBack
from tests.cast import Job, Workshop, make_workshop
from tests.cast import again as another

ASKED: dict[str, Any] = {
    "nominal_mm": "90", "shaft_class": "m6", "drawing": "CB-118", "revision": "B", "designation": "22218 C3",
    "clearance_kind": "spherical_roller_cyl_bore", "clearance_group": "3", "outside_mm": "160",
    "width_mm": "40", "seat_width_mm": "46", "size_source": "drawing",
}  # fmt: skip
TOLD = {20: "not proven", 24: "not proven", 17: "nonconforming", 31: "conforming", 28: "conforming"}
"""Mean as recorded, µm from nominal → class without the error."""
POINTS = [{"size": 90_000_000, "error": 9_000, "u": 1_500}]


@dataclass
class Foundry:
    """The workshop, and its jobs by the mean that was recorded."""

    shop: Workshop
    jobs: dict[int, Job]

    def __getitem__(self, um: int) -> Job:
        return self.jobs[um]

    def items(self) -> Iterable[tuple[int, Job]]:
        return self.jobs.items()


def measured(shop: Workshop, machine: Any, rebuild: Any, um: int) -> Job:
    job = another(shop, machine, rebuild, f"place {um}", ASKED)
    job.receive()
    even = (f"{um}",) * 3
    job.measure(readings={"A": (f"{um}", f"{um}", f"{um + 1}"), "B": even, "C": even})
    job.bore("-10")
    return job


def foundry() -> Foundry:
    """In the order of the story."""
    shop = make_workshop()
    acting = shop.acting("fitter")
    machine = workshop.register_machine(
        acting=acting, site=shop.site, machine_id=new_id(), name="Sand mixer", owner="Coldbeck foundry"
    )
    rebuild = workshop.open_rebuild(acting=acting, rebuild_id=new_id(), machine=machine, work_order="WO-2210")
    return Foundry(shop, {um: measured(shop, machine, rebuild, um) for um in TOLD})


def document_of(shop: Workshop, **changes: Any) -> dict[str, Any]:
    """The look-back of the micrometer: a day before now to an hour after."""
    return {
        "subject": "equipment",
        "of": str(shop.gear["micrometer"].id),
        "since": (shop.clock - timedelta(days=1)).isoformat(),
        "until": (shop.clock + timedelta(hours=1)).isoformat(),
        "points": POINTS,
        **changes,
    }


def opened(shop: Workshop, who: str = "quality", **changes: Any) -> LookBack:
    return open_look_back(
        acting=shop.acting(who), site=shop.site, look_back_id=new_id(),
        document=document_of(shop, **changes), why="reads 9 µm high at its calibration",
    )  # fmt: skip
