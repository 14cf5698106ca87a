"""What people can be refused for; the edges map the codes to HTTP once."""

import uuid

from qrecords.people.permissions import Action, Role, roles_with


class PeopleError(Exception):
    code = "people"


class NotAllowedError(PeopleError):
    """No role of this person, at this site and moment, covers the action."""

    code = "not-allowed"

    def __init__(self, action: Action, site: uuid.UUID | None) -> None:
        self.action = action
        self.site = site
        self.roles = roles_with(action)
        super().__init__(f"{action.value}: needs {' or '.join(self.roles)} at this site")


class ProveAgainError(PeopleError):
    """The act needs identity proved at the act itself."""

    code = "prove-again"

    def __init__(self, action: Action) -> None:
        self.action = action
        super().__init__(f"{action.value}: give your password again")


class NotForOneselfError(PeopleError):
    """What somebody else has to do for a person: give a role, assess, set a first password."""

    code = "not-for-oneself"

    def __init__(self, action: Action) -> None:
        self.action = action
        super().__init__(f"{action.value}: nobody does this for himself; somebody else with this right does")


class RoleHeldError(PeopleError):
    """The person has the role at this site already."""

    code = "role-held"

    def __init__(self, role: Role) -> None:
        self.role = role
        super().__init__(f"{role.value}: this person holds the role at this site already")


class RolesApartError(PeopleError):
    """Two roles that no person holds at once."""

    code = "roles-apart"

    def __init__(self, role: Role, held: Role) -> None:
        self.role, self.held = role, held
        super().__init__(
            f"{role.value} beside {held.value}: who keeps people and roles neither signs nor records"
        )


class LastAdministratorError(PeopleError):
    """Without this one nobody would be left who makes people known and gives roles."""

    code = "last-administrator"

    def __init__(self) -> None:
        super().__init__("the last administrator: give somebody else the role first")


class HoldsElsewhereError(PeopleError):
    """The person holds a role at a site whose people the actor does not keep: who opens the account anew
    could act there as its owner."""

    code = "holds-elsewhere"

    def __init__(self, site: uuid.UUID) -> None:
        self.site = site
        super().__init__(
            "this person holds a role at another site too: only who keeps people and roles at every one of "
            "these sites does this; here you can end the roles of your own site"
        )


class FirstPasswordError(PeopleError):
    """The password is still the first one, which its giver knows too."""

    code = "first-password"

    def __init__(self) -> None:
        super().__init__("sign in on the page and choose a password of your own first")


class UnknownPersonError(PeopleError):
    code = "unknown-person"

    def __init__(self, sign_in: str) -> None:
        self.sign_in = sign_in
        super().__init__("this name and password do not belong together, or the account is closed")


class NameTakenError(PeopleError):
    code = "name-taken"

    def __init__(self, sign_in: str) -> None:
        self.sign_in = sign_in
        super().__init__(f"sign-in name {sign_in!r} is already somebody's")


class PeopleThereError(PeopleError):
    """An installation begins once."""

    code = "people-there"

    def __init__(self) -> None:
        super().__init__("this installation has its people already; the page People enrols further ones")


class PersonFieldError(PeopleError):
    """A field of a person that does not hold what it should; a password is never repeated."""

    code = "person-field"

    def __init__(self, field: str, value: str, allowed: str) -> None:
        self.field, self.value, self.allowed = field, value[:60], allowed
        super().__init__(f"{field} is {value[:60]!r}; allowed: {allowed}" if value else f"{field}: {allowed}")
