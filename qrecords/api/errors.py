"""What the API itself refuses, before any action is asked."""

from collections.abc import Sequence

from qrecords.people.permissions import Action


class ApiError(Exception):
    code = "api"


class NeverByTokenError(ApiError):
    """An act of authority asked for with a token: it needs a person who is there."""

    code = "never-by-token"

    def __init__(self, action: Action) -> None:
        self.action = action.value
        super().__init__(f"{action.value}: no token can do this; sign in in person")


class TokenLacksError(ApiError):
    """This token was not made for this action."""

    code = "token-lacks"

    def __init__(self, wanted: Sequence[Action], held: Sequence[str]) -> None:
        self.wanted = tuple(action.value for action in wanted)
        self.held = tuple(held)
        super().__init__(f"this token may not {' or '.join(self.wanted)}")


class TooManyTriesError(ApiError):
    """Too many failed sign-ins for this name or from this address."""

    code = "too-many-tries"

    def __init__(self, wait_s: int) -> None:
        self.wait_s = wait_s
        super().__init__(f"too many failed sign-ins; wait {wait_s} s")


class UnknownAddressError(ApiError):
    """Nothing is known under this address, or not to this person."""

    code = "not-found"

    def __init__(self, what: str, id: object = "") -> None:
        self.what, self.id = what, str(id)[:80]
        super().__init__(f"no {what} {self.id}".rstrip() + " here")


class TooLargeError(ApiError):
    """More bytes than this address takes."""

    code = "too-large"

    def __init__(self, limit_bytes: int) -> None:
        self.limit_bytes = limit_bytes
        super().__init__(f"more than {limit_bytes} bytes")


class WhichSiteError(ApiError):
    """The person may do this at several sites and has not said at which."""

    code = "which-site"

    def __init__(self, sites: Sequence[str]) -> None:
        self.sites = tuple(sites)
        super().__init__("say at which site")
