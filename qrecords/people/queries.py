"""What is known about people at a moment. Every function holds a fixed number of queries."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from qrecords.people.models import Person, PersonVersion, RoleGrant
from qrecords.people.permissions import NO, Action, Cell, Role, Scope, best_cell, roles_with


def grants_at(person: uuid.UUID, at: datetime) -> list[tuple[Role, uuid.UUID]]:
    """The roles a person held at a moment, each with its site."""
    rows = RoleGrant.objects.filter(person_id=person, valid_from__lte=at)
    held = rows.values_list("role", "site", "valid_to")  # asked by every page, several times
    return [(Role(role), site) for role, site, until in held if until is None or until > at]


@dataclass(frozen=True)
class Rights:
    """What the roles of one person gave at one moment: the one reading of the table of rights. The actions
    ask it through `require`, which also knows the token and the proof; pages and API ask what to offer."""

    grants: tuple[tuple[Role, uuid.UUID], ...]

    def __and__(self, other: "Rights") -> "Rights":
        return Rights(tuple(grant for grant in self.grants if grant in other.grants))

    def __or__(self, other: "Rights") -> "Rights":
        return Rights(tuple(dict.fromkeys(self.grants + other.grants)))

    @property
    def roles(self) -> tuple[Role, ...]:
        return tuple(dict.fromkeys(role for role, _ in self.grants))

    def roles_at(self, site: uuid.UUID) -> tuple[Role, ...]:
        """The roles held at one site."""
        return tuple(dict.fromkeys(role for role, where in self.grants if where == site))

    def somewhere(self, action: Action) -> bool:
        """At some site, or of one's own: enough to be let in; the act itself asks for its site."""
        return best_cell(self.roles, action).scope > Scope.NONE

    def at(self, action: Action, site: uuid.UUID, *, own: bool = False) -> Cell:
        """The right at a site: a role held there, or one that reaches everywhere; NO without any."""
        cell = best_cell([role for role, where in self.grants if where == site], action)
        if cell.scope >= Scope.SITE or (cell.scope == Scope.OWN and own):
            return cell
        cell = best_cell(self.roles, action)
        return cell if cell.scope == Scope.ALL else NO

    def without(self, role: Role) -> "Rights":
        """What would be left without one of the roles: whether it is that role alone which gives a right."""
        return Rights(tuple(grant for grant in self.grants if grant[0] != role))

    def where(self, action: Action) -> "Reach":
        """The sites on which the action may be done."""
        cells = [(best_cell([role], action).scope, site) for role, site in self.grants]
        return Reach(
            everywhere=any(scope == Scope.ALL for scope, _ in cells),
            sites=frozenset(site for scope, site in cells if scope >= Scope.OWN),
        )


def rights_of(person: uuid.UUID, at: datetime) -> Rights:
    """One query."""
    return Rights(tuple(grants_at(person, at)))


@dataclass(frozen=True)
class Reach:
    """The sites a person may act on: `everywhere`, or the ones named."""

    everywhere: bool
    sites: frozenset[uuid.UUID]


def reach(person: uuid.UUID, action: Action, at: datetime) -> Reach:
    """Where this person may do this action; every list begins from it."""
    return rights_of(person, at).where(action)


def version_at(person: uuid.UUID, at: datetime) -> PersonVersion:
    """The name and hash that stood at a moment (the first one for moments before it)."""
    versions = list(PersonVersion.objects.filter(person_id=person).order_by("valid_from"))
    standing = [version for version in versions if version.valid_from <= at]
    return (standing or versions)[-1 if standing else 0]


def who_may(action: Action, site: uuid.UUID, at: datetime) -> list[Person]:
    """Everybody whose roles give an action at a site, by name; two queries."""
    roles = [role.value for role in roles_with(action)]
    grants = RoleGrant.objects.filter(site=site, role__in=roles, valid_from__lte=at).select_related("person")
    held = grants.exclude(valid_to__lte=at).filter(person__is_active=True)
    people = {grant.person_id: grant.person for grant in held}
    called = names(people)
    return sorted(people.values(), key=lambda person: called[str(person.id)])


def names(people: Iterable[uuid.UUID | str]) -> dict[str, str]:
    """Printed names by pseudonym, for pages; an erased person is shown by the first eight characters."""
    wanted = {str(person) for person in people}
    found = {
        str(row.person_id): row.name
        for row in PersonVersion.objects.filter(person_id__in=wanted).order_by("valid_from")
    }
    return {person: found.get(person, f"person {person[:8]}") for person in wanted}


def names_by_hash(hashes: Iterable[str]) -> dict[str, str]:
    """The printed name from exactly the version an entry names by its hash."""
    return {row.hash: row.name for row in PersonVersion.objects.filter(hash__in=set(hashes))}
