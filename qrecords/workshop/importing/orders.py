"""Work orders: a row is a machine under an order, and a place of it where one is named."""

import uuid
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.db.models.functions import Lower

from qrecords.people.acting import Acting
from qrecords.workshop.actions import SCHEMES, open_rebuild, register_journal, register_machine
from qrecords.workshop.importing.cells import Cells
from qrecords.workshop.importing.fates import Difference, Fate, Row, What, refused
from qrecords.workshop.marks import is_mark
from qrecords.workshop.models import Journal, Machine, Rebuild

COLUMNS = ("work_order", "machine", "owner", "mark", "scheme", "shaft", "position")
REQUIRED = ("work_order", "machine", "owner")
NewId = Callable[[str], uuid.UUID]


def plan(rows: Sequence[Row], site: uuid.UUID) -> list[Fate]:
    """Three queries, however many rows."""
    read = [_read(row) for row in rows]
    machines = _Machines(site, [fate.values for fate in read])
    orders = set(Rebuild.objects.filter(machine__in=machines.ids).values_list("machine_id", "work_order"))
    places = set(
        Journal.objects.filter(machine__in=machines.ids).values_list("machine_id", "shaft", "position")
    )
    seen: dict[object, int] = {}
    fates = []
    for fate in read:
        fates.append(fate if fate.wrong else _fate(fate, machines, orders, places, seen))
    return fates


def _read(row: Row) -> Fate:
    cells = Cells(row)
    values = {
        "work_order": cells.text("work_order", 40),
        "name": cells.text("machine", 120),
        "owner": cells.text("owner", 120),
        "scheme": cells.one_of("scheme", SCHEMES, ""),
        "mark": row.cell("mark").upper(),
        "shaft": cells.text("shaft", 40, optional=True),
        "position": cells.text("position", 40, optional=True),
    }
    if values["mark"] and not is_mark(values["mark"]):
        cells.fail("mark", "six characters and the right check character")
    for one, other in (("shaft", "position"), ("position", "shaft")):
        if values[one] and not values[other]:
            cells.fail(other, "both shaft and position, or neither")
    return refused(row, cells.wrong) if cells.wrong else Fate(row, What.NEW, values=values)


class _Machines:
    """The machines that the rows may speak of: by mark, else by name and owner; two queries."""

    def __init__(self, site: uuid.UUID, rows: Sequence[Mapping[str, Any]]) -> None:
        self.site = site
        marks = {values["mark"] for values in rows if values and values["mark"]}
        names = {values["name"] for values in rows if values}
        lowered = Machine.objects.annotate(lowered=Lower("name"))
        here = lowered.filter(site=site, lowered__in={name.lower() for name in names})
        found = [
            *Machine.objects.filter(mark__in=marks),
            *Machine.objects.filter(site=site, name__in=names),
            *here,
        ]
        self.by_mark = {machine.mark: machine for machine in found}
        self.by_name = {_called(m.name, m.owner): m for m in found if m.site == site}
        self.ids = {machine.id for machine in found if machine.site == site}
        self.coming: dict[tuple[str, str], Fate] = {}
        """Machines that an earlier row of the file makes."""

    def of(self, values: Mapping[str, Any]) -> Machine | None:
        by_mark = self.by_mark.get(values["mark"]) if values["mark"] else None
        return by_mark or self.by_name.get(_called(values["name"], values["owner"]))


def _called(name: str, owner: str) -> tuple[str, str]:
    return name.casefold(), owner.casefold()


def _fate(
    fate: Fate,
    machines: _Machines,
    orders: set[tuple[uuid.UUID, str]],
    places: set[tuple[uuid.UUID, str, str]],
    seen: dict[object, int],
) -> Fate:
    values, machine = fate.values, machines.of(fate.values)
    if machine is not None and machine.site != machines.site:
        cells = Cells(fate.row)
        cells.fail("mark", "a mark that no other machine bears")
        return refused(fate.row, cells.wrong)
    if machine is None:
        earlier = machines.coming.setdefault(_called(values["name"], values["owner"]), fate)
        stands = {name: str(earlier.values[name]) for name in ("mark", "scheme")}
        if wrong := [n for n, text in stands.items() if values[n] and values[n] != text]:
            cells = Cells(fate.row)
            for name in wrong:
                cells.fail(name, f"{stands[name] or 'nothing'}, as in line {earlier.row.line}")
            return refused(fate.row, cells.wrong)
    else:
        stands = {
            "machine": machine.name,
            "owner": machine.owner,
            "mark": machine.mark,
            "scheme": machine.scheme,
        }
        told = {
            "machine": values["name"],
            "owner": values["owner"],
            "mark": values["mark"],
            "scheme": values["scheme"],
        }
        differs = [Difference(n, stands[n], told[n]) for n in stands if told[n] and told[n] != stands[n]]
        if differs:
            return fate.become(What.DIFFERS, differs=tuple(differs))
    key = (machine.id if machine else _called(values["name"], values["owner"]), values["work_order"],
           values["shaft"], values["position"])  # fmt: skip
    first = seen.setdefault(key, fate.row.line)
    if first != fate.row.line:
        return fate.become(What.DUPLICATE, first=first)
    if machine is None or (machine.id, values["work_order"]) not in orders:
        return fate
    placed = not values["shaft"] or (machine.id, values["shaft"], values["position"]) in places
    return fate.become(What.SAME) if placed else fate


def write(acting: Acting, site: uuid.UUID, values: Mapping[str, Any], new_id: NewId) -> bool:
    """What of the row is not here yet; False where all of it came meanwhile."""
    machine = _Machines(site, [values]).of(values)
    made = machine is None
    if machine is None:
        machine = register_machine(
            acting=acting,
            site=site,
            machine_id=new_id("machine"),
            name=values["name"],
            owner=values["owner"],
            scheme=values["scheme"] or "none",
            mark=values["mark"],
        )
    if not Rebuild.objects.filter(machine=machine, work_order=values["work_order"]).exists():
        made = True
        open_rebuild(
            acting=acting, rebuild_id=new_id("rebuild"), machine=machine, work_order=values["work_order"]
        )
    place = {"shaft": values["shaft"], "position": values["position"]}
    if values["shaft"] and not Journal.objects.filter(machine=machine, **place).exists():
        made = True
        register_journal(acting=acting, journal_id=new_id("journal"), machine=machine, **place)
    return made
