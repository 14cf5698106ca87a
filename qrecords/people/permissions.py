"""The one table of rights: role × action, with scope and whether identity must be proved again.

Every address and every API operation names its action here; a test walks every cell. Independence, which
hangs on who wrote what in one mounting, is judged in `signoff`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import IntEnum, StrEnum


class Role(StrEnum):
    FITTER = "fitter"
    INSPECTOR = "inspector"
    ENGINEER = "engineer"
    QUALITY = "quality manager"
    AUDITOR = "auditor"
    ADMINISTRATOR = "administrator"
    STAND_IN = "stand-in inspector"
    """A second fitter who checks, releases and signs on a shift without an inspector, where his competence as
    a stand-in covers it. What he gives is marked *reduced independence* and looked at again (house rule)."""


class Scope(IntEnum):
    """How far a right reaches: nowhere, what is one's own, one's site, everywhere."""

    NONE = 0
    OWN = 1
    SITE = 2
    ALL = 3


class Action(StrEnum):
    PUBLIC = "public"
    """Needs no sign-in: the sign-in page, health, the OpenAPI document."""
    SIGNED_IN = "signed in"
    """Any person who is signed in: the start page, signing out."""
    READ = "read"
    OPEN = "open a mounting"
    WITHDRAW = "withdraw a mounting"
    RECORD = "record work"
    CHECK = "record a check"
    TAP = "tap"
    ATTACH = "attach a file"
    READY = "ready for inspection"
    RELEASE = "release before heat"
    CLOSE_QUERY = "close a query"
    RETURN = "return to the fitter"
    MEASURE_AGAIN = "decide: measure again"
    REWORK = "decide: rework"
    ACCEPT = "decide: accept within the procedure"
    SCRAP = "decide: scrap"
    CONCEDE = "decide: concession"
    POINT = "record at a point of the contract"
    WAIVE = "record that a witness point is waived"
    NOTE = "decide: note a gauge that was calibrated since"
    QUARANTINE = "decide: quarantine"
    JUDGE_AGAIN = "judge again by the right drawing"
    SIGN = "sign off"
    RELEASE_REBUILD = "release a rebuild"
    REVIEW = "look again at reduced independence"
    AMEND = "open a signed record for an amendment"
    TRACE = "search and trace"
    VERIFY = "verify the ledger"
    EXPORT = "take everything out"
    REGISTER = "keep the workshop's registers"
    EQUIP = "keep gauges and heaters"
    CHECK_GAUGE = "check a gauge on its master"
    DAMAGE = "say that a gauge was dropped or damaged"
    DRAFT = "draft a procedure"
    PROCEDURE = "put a procedure in force"
    PROPOSE_ROW = "propose a row of a table"
    APPROVE_ROW = "put a row of a table in force"
    LOOK_BACK = "open and close a look-back"
    ANSWER_DOUBT = "decide what becomes of a mounting in doubt"
    ASSESS = "record competence"
    PEOPLE = "keep people and roles"
    TOKENS = "make tokens"


@dataclass(frozen=True)
class Cell:
    scope: Scope
    prove_again: bool = False


NO = Cell(Scope.NONE)
_SITE = Cell(Scope.SITE)
_ALL = Cell(Scope.ALL)
_OWN = Cell(Scope.OWN)
_SITE_PROVED = Cell(Scope.SITE, prove_again=True)

F, I, E, Q, A, D, S = Role  # noqa: E741 - one letter a role keeps the table readable
TABLE: Mapping[Action, Mapping[Role, Cell]] = {
    Action.READ: {F: _SITE, I: _SITE, E: _SITE, Q: _SITE, A: _ALL, S: _SITE},
    Action.OPEN: {F: _SITE, I: _SITE, E: _SITE, Q: _SITE},
    Action.WITHDRAW: {F: _OWN, I: _OWN, E: _SITE, Q: _OWN},
    Action.RECORD: {F: _SITE},
    Action.CHECK: {I: _SITE, E: _SITE, S: _SITE},
    Action.TAP: {F: _SITE},
    Action.ATTACH: {F: _SITE, I: _SITE, E: _SITE},
    Action.READY: {F: _SITE_PROVED},
    Action.RELEASE: {I: _SITE, S: _SITE},
    Action.CLOSE_QUERY: {F: _SITE, I: _SITE, E: _SITE, S: _SITE},
    Action.RETURN: {I: _SITE, S: _SITE},
    Action.MEASURE_AGAIN: {I: _SITE, E: _SITE},
    Action.REWORK: {I: _SITE, E: _SITE},
    Action.ACCEPT: {I: _SITE, E: _SITE},
    Action.SCRAP: {I: _SITE, E: _SITE},
    Action.CONCEDE: {E: _SITE_PROVED},
    Action.POINT: {F: _SITE, I: _SITE, E: _SITE},
    Action.WAIVE: {I: _SITE, E: _SITE},
    Action.NOTE: {Q: _SITE},
    Action.QUARANTINE: {I: _SITE, E: _SITE},
    Action.JUDGE_AGAIN: {E: _SITE_PROVED},
    Action.SIGN: {I: _SITE_PROVED, S: _SITE_PROVED},
    Action.REVIEW: {I: _SITE_PROVED},
    Action.RELEASE_REBUILD: {I: _SITE_PROVED},
    Action.AMEND: {I: _SITE_PROVED, E: _SITE_PROVED},
    Action.TRACE: {I: _SITE, E: _SITE, Q: _SITE, A: _ALL},
    Action.VERIFY: {I: _SITE, Q: _SITE, A: _ALL, D: _SITE},
    Action.EXPORT: {Q: _SITE, A: _ALL},
    Action.REGISTER: {F: _SITE, I: _SITE, E: _SITE, Q: _SITE},
    Action.EQUIP: {I: _SITE, Q: _SITE},
    Action.CHECK_GAUGE: {F: _SITE, I: _SITE, Q: _SITE},
    Action.DAMAGE: {F: _SITE, I: _SITE, E: _SITE, Q: _SITE},
    Action.DRAFT: {E: _SITE, Q: _SITE},
    Action.PROCEDURE: {E: _SITE_PROVED, Q: _SITE_PROVED},
    Action.PROPOSE_ROW: {E: _SITE, Q: _SITE},
    Action.APPROVE_ROW: {E: _SITE_PROVED, Q: _SITE_PROVED},
    Action.LOOK_BACK: {Q: _SITE},
    Action.ANSWER_DOUBT: {E: _SITE_PROVED},
    Action.ASSESS: {Q: _SITE},
    Action.PEOPLE: {D: _SITE_PROVED},
    Action.TOKENS: {F: _OWN, I: _OWN, E: _OWN, Q: _OWN, A: _OWN},
}
assert set(TABLE) == set(Action) - {Action.PUBLIC, Action.SIGNED_IN}  # noqa: S101 - a table without a row must stop the start

NEVER_BY_TOKEN = frozenset(
    {
        Action.WITHDRAW,
        Action.RELEASE,
        Action.MEASURE_AGAIN,
        Action.REWORK,
        Action.ACCEPT,
        Action.SCRAP,
        Action.CONCEDE,
        Action.WAIVE,
        Action.NOTE,
        Action.QUARANTINE,
        Action.JUDGE_AGAIN,
        Action.SIGN,
        Action.RELEASE_REBUILD,
        Action.REVIEW,
        Action.AMEND,
        Action.READY,
        Action.RETURN,
        Action.PROCEDURE,
        Action.APPROVE_ROW,
        Action.LOOK_BACK,
        Action.ANSWER_DOUBT,
        Action.ASSESS,
        Action.PEOPLE,
        Action.TOKENS,
    }
)
"""What a token can never do: acts of authority belong to a person who is there."""


def apart(one: Role, other: Role) -> bool:
    """Whether no person may hold both: who makes users neither signs nor records. Reading is no harm."""
    return Role.ADMINISTRATOR in (one, other) and {one, other} - {Role.ADMINISTRATOR, Role.AUDITOR} != set()


def best_cell(roles: Iterable[Role], action: Action) -> Cell:
    """The widest right that any of these roles gives for the action; NO if none does."""
    cells = [TABLE[action].get(role, NO) for role in roles]
    return max(cells, key=lambda cell: (cell.scope, not cell.prove_again), default=NO)


def roles_with(action: Action) -> tuple[Role, ...]:
    """The roles that hold this right in some scope, for the sentence that refuses. Who only stands in is not
    named: nobody is sent for him."""
    held = (role for role, cell in TABLE[action].items() if cell.scope > Scope.NONE)
    return tuple(role for role in held if role != Role.STAND_IN)
