"""People with a role at this site. No password is in the file: whoever is enrolled so comes in only after an
administrator has given a first password on the person's page, one by one."""

import uuid
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from qrecords.people.acting import Acting
from qrecords.people.actions import LONGEST_NAME, enrol, grant_role
from qrecords.people.models import Person, PersonVersion, RoleGrant
from qrecords.people.passwords import not_given
from qrecords.people.permissions import Role
from qrecords.workshop.importing.cells import Cells
from qrecords.workshop.importing.fates import Fate, Row, What, compared, refused

COLUMNS = ("sign_in", "name", "role")
REQUIRED = ("sign_in", "name")
ROLES = tuple(role.value for role in Role)
NewId = Callable[[str], uuid.UUID]


def plan(rows: Sequence[Row], site: uuid.UUID) -> list[Fate]:
    """Three queries, however many rows."""
    read = [_read(row) for row in rows]
    wanted = {fate.values["sign_in"] for fate in read if fate.values}
    people = {person.sign_in: person for person in Person.objects.filter(sign_in__in=wanted)}
    ids = [person.id for person in people.values()]
    names = dict(
        PersonVersion.objects.filter(person__in=ids).order_by("valid_from").values_list("person_id", "name")
    )
    grants = RoleGrant.objects.filter(person__in=ids, site=site, valid_to__isnull=True)
    held: dict[uuid.UUID, set[str]] = {}
    for person_id, role in grants.values_list("person_id", "role"):
        held.setdefault(person_id, set()).add(role)
    seen: dict[str, int] = {}
    fates = []
    for fate in read:
        sign_in = fate.values.get("sign_in", "")
        first = seen.setdefault(sign_in, fate.row.line) if sign_in else fate.row.line
        if not fate.wrong and first != fate.row.line:
            fate = fate.become(What.DUPLICATE, first=first)
        elif not fate.wrong and sign_in in people:
            person = people[sign_in]
            fate = _beside(fate, names.get(person.id, ""), held.get(person.id, set()))
        fates.append(fate)
    return fates


def _read(row: Row) -> Fate:
    cells = Cells(row)
    values = {
        "sign_in": cells.text("sign_in", 60),
        "name": cells.text("name", LONGEST_NAME),
        "role": cells.one_of("role", ROLES, ""),
    }
    if not all(sign.isalnum() or sign in ".-_" for sign in values["sign_in"]):
        cells.fail("sign_in", "letters, digits, . - _")
    return refused(row, cells.wrong) if cells.wrong else Fate(row, What.NEW, values=values)


def _beside(fate: Fate, name: str, held: set[str]) -> Fate:
    """Whose account is of another site alone is told no further than that the name is taken."""
    if not held:
        cells = Cells(fate.row)
        cells.fail("sign_in", "a name that nobody has yet")
        return refused(fate.row, cells.wrong)
    role = fate.values["role"]
    here = role if role in held else ", ".join(sorted(held))
    return compared(fate.row, {"name": (name, fate.values["name"]), "role": (here, role)}, fate.values)


def write(acting: Acting, site: uuid.UUID, values: Mapping[str, Any], new_id: NewId) -> bool:
    """The person with the role, unless the sign-in name came meanwhile."""
    if Person.objects.filter(sign_in=values["sign_in"]).exists():
        return False
    person = enrol(
        acting=acting,
        site=site,
        person_id=new_id("person"),
        sign_in=values["sign_in"],
        name=values["name"],
        password=not_given(),
    )
    if values["role"]:
        role = Role(values["role"])
        grant_role(acting=acting, site=site, grant_id=new_id("first grant"), person=person, role=role)
    return True
