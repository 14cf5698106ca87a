"""The parts of a procedure's form as its page shows them: each with what was typed and what is wrong."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext

from qrecords.people.permissions import roles_with
from qrecords.steps.new_procedure import BOUNDS
from qrecords.steps.points import (
    BUILT_IN_HOLDS,
    HEAT,
    HOLD,
    REVIEW,
    SIGN_OFF,
    SURVEILLANCE,
    WITNESS,
)
from qrecords.steps.standard import STEPS
from qrecords.web.auditor.saying import field_name, step_name
from qrecords.web.names import SHOTS, hold_name
from qrecords.web.registers.asking import Ask, Asked, asked
from qrecords.web.registers.procedure import answer_of, decided_name
from qrecords.web.registers.procedure_form import (
    BLANK_PHOTOS,
    BLANK_POINTS,
    MOST_FIELDS,
    MOST_ROWS,
    Given,
    rows_in,
)
from qrecords.workshop.procedures import DECIDES

Errors = Mapping[str, str]


@dataclass(frozen=True)
class FieldRow:
    """One field of a step: whether it is asked (None: always), may be left out, may be not applicable."""

    key: str
    name: str
    answer: str
    asked: bool | None
    left_out: str
    fixed: bool
    """It may be left out under every procedure."""
    not_applicable: bool


@dataclass(frozen=True)
class StepRow:
    id: str
    name: str
    worked: bool
    fields: tuple[FieldRow, ...]


@dataclass(frozen=True)
class PhotoRow:
    nth: int
    id: str
    name: str
    step: str
    step_name: str
    wanted: bool
    new: bool
    error: str


@dataclass(frozen=True)
class PointRow:
    """`covers` are (step, its name, whether it is covered); `said` and `errors` go by the input's name."""

    nth: int
    said: Mapping[str, str]
    covers: tuple[tuple[str, str, bool], ...]
    fields: tuple[str, ...]
    """The single fields that are covered, with one more place to choose one."""
    errors: Errors
    new: bool


@dataclass(frozen=True)
class Decides:
    kind: str
    name: str
    roles: tuple[tuple[str, str, bool], ...]
    error: str


def which(given: Given, errors: Errors) -> list[Asked]:
    asks = [
        Ask("name", gettext("name"), hint=gettext("as HM-1: one name is one line of revisions")),
        Ask("revision", gettext("revision")),
        Ask("contract", gettext("contract"), hint=gettext("empty: our own, which stands by default")),
    ]
    return asked(asks, given, errors)


def rule(given: Given, errors: Errors) -> list[Asked]:
    guards = [
        ("1.65", gettext("guard 1.65 u (ISO 14253-1:2017)")),
        ("2", gettext("guard 2 u (the older edition)")),
        ("0", gettext("simple acceptance, agreed with the customer")),
    ]
    other = given.get("guard", "")
    if other and other not in dict(guards):
        guards.append((other, gettext("guard %(factor)s u") % {"factor": other}))
    agreed = gettext("of simple acceptance: who agreed, and where it stands")
    asks = [
        Ask("guard", gettext("decision rule"), "select", guards),
        Ask("edition", gettext("standard and edition")),
        Ask("agreed_with", gettext("agreed with"), hint=agreed),
    ]
    return asked(asks, given, errors)


LIMITS = {
    "house_cap_c": "never above, house",
    "greased_cap_c": "never above, sealed or greased",
    "field_nt": "residual field, at most",
    "blade_nm": "blade that must not go in",
    "spread_mk": "shaft, bearing and gauge apart, at most",
}


def limits(given: Given, errors: Errors) -> list[Asked]:
    asks = [
        Ask(
            name,
            gettext(LIMITS[name]),
            unit=bound.unit,
            numeric=True,
            hint=f"{bound.said(bound.least)}…{bound.said(bound.most)} {bound.unit}",
        )
        for name, bound in BOUNDS.items()
    ]
    places = [
        Ask("planes", gettext("planes of the journal"), hint="A, B, C"),
        Ask("directions", gettext("directions"), unit="°", hint="0, 60, 120"),
    ]
    return asked([*asks, *places], given, errors)


def when(given: Given, errors: Errors) -> list[Asked]:
    asks = [
        Ask("from_day", gettext("in force from"), "date", hint=gettext("empty: once two people approved it")),
        Ask("from_time", gettext("at"), "time", hint=gettext("empty: from the beginning of that day")),
        Ask("reason", gettext("what changes, and why")),
    ]
    return asked(asks, given, errors)


def steps(given: Given) -> list[StepRow]:
    return [
        StepRow(
            id=step.id,
            name=step_name(step.id),
            worked=_worked(step.id, given),
            fields=tuple(_field(step.id, each, given) for each in step.fields)
            if _worked(step.id, given)
            else (),
        )
        for step in STEPS.values()
    ]


def _worked(step: str, given: Given) -> bool:
    return bool(given.get(f"step.{step}"))


def _field(step: str, each: Any, given: Given) -> FieldRow:
    key = f"{step}.{each.id}"
    return FieldRow(
        key=key,
        name=field_name(each.id),
        answer=answer_of(each),
        asked=bool(given.get(f"also.{key}")) if each.by_procedure else None,
        left_out=given.get(f"out.{key}", ""),
        fixed=each.optional,
        not_applicable=bool(given.get(f"na.{key}")),
    )


def photos(given: Given, errors: Errors) -> list[PhotoRow]:
    found = rows_in(given, "s")
    free = [nth for nth in range(MOST_ROWS) if nth not in found]
    blank = [nth for nth in found if given.get(f"s{nth}-new") and not given.get(f"s{nth}-id")]
    rows = [*found, *free[: max(0, BLANK_PHOTOS - len(blank))]]
    return [_photo(nth, given, errors) for nth in rows]


def _photo(nth: int, given: Given, errors: Errors) -> PhotoRow:
    id = given.get(f"s{nth}-id", "")
    return PhotoRow(
        nth=nth,
        id=id,
        name=gettext(SHOTS.get(id, id)),
        step=given.get(f"s{nth}-step", ""),
        step_name=step_name(given.get(f"s{nth}-step", "")),
        wanted=bool(given.get(f"s{nth}-on")),
        new=bool(given.get(f"s{nth}-new")) or not id,
        error=errors.get(f"s{nth}-id", ""),
    )


def holds(given: Given) -> list[tuple[str, str, bool]]:
    return [(hold, hold_name(hold), bool(given.get(f"hold.{hold}"))) for hold in BUILT_IN_HOLDS]


def kinds() -> list[tuple[str, str]]:
    return [
        ("", gettext("no point")),
        (HOLD, gettext("hold: waits for a release")),
        (WITNESS, gettext("witness: is told, and may come")),
        (REVIEW, gettext("review: looks at the documents")),
        (SURVEILLANCE, gettext("surveillance: looks in, unannounced")),
    ]


def step_options(given: Given) -> list[tuple[str, str]]:
    """The steps that are worked: photos and points are of these."""
    return [(step, step_name(step)) for step in STEPS if _worked(step, given)]


def waits(given: Given) -> list[tuple[str, str]]:
    ends = [(SIGN_OFF, gettext("the sign-off")), (HEAT, gettext("heater on"))]
    return [*ends, *step_options(given)]


def points(given: Given, errors: Errors) -> list[PointRow]:
    found = rows_in(given, "p")
    free = [nth for nth in range(MOST_ROWS) if nth not in found]
    blank = [nth for nth in found if not given.get(f"p{nth}-kind")]
    rows = [*found, *free[: max(0, BLANK_POINTS - len(blank))]]
    return [_point(nth, given, errors) for nth in rows]


POINT_INPUTS = ("id", "kind", "title", "party", "wording", "before", "notice")


def _point(nth: int, given: Given, errors: Errors) -> PointRow:
    own = {name: errors[f"p{nth}-{name}"] for name in (*POINT_INPUTS, "covers") if f"p{nth}-{name}" in errors}
    return PointRow(
        nth=nth,
        said={name: given.get(f"p{nth}-{name}", "") for name in POINT_INPUTS},
        covers=tuple(
            (step, words, bool(given.get(f"p{nth}-c-{step}"))) for step, words in step_options(given)
        ),
        fields=tuple(_chosen(given, nth)),
        errors=own,
        new=not given.get(f"p{nth}-kind"),
    )


def _chosen(given: Given, nth: int) -> list[str]:
    chosen = [given.get(f"p{nth}-f{place}", "") for place in range(MOST_FIELDS)]
    return [*[key for key in chosen if key][: MOST_FIELDS - 1], ""]


def field_options(given: Given) -> list[tuple[str, list[tuple[str, str]]]]:
    """Every field by its step, to choose one from."""
    return [
        (step_name(step.id), [(f"{step.id}.{each.id}", field_name(each.id)) for each in step.fields])
        for step in STEPS.values()
        if _worked(step.id, given)
    ]


def decisions(given: Given, errors: Errors) -> Sequence[Decides]:
    return [
        Decides(
            kind=kind,
            name=decided_name(kind),
            roles=tuple(
                (role.value, gettext(role.value), bool(given.get(f"d.{kind}.{role.value}")))
                for role in roles_with(action)
            ),
            error=errors.get(f"d.{kind}", ""),
        )
        for kind, action in DECIDES.items()
    ]


def parts(given: Given, errors: Errors) -> dict[str, Any]:
    """The whole form for its template."""
    known = dict(_shown(given))
    return {
        "which": which(given, errors),
        "rule": rule(given, errors),
        "limits": limits(given, errors),
        "when": when(given, errors),
        "steps": steps(given),
        "photos": photos(given, errors),
        "holds": holds(given),
        "kinds": kinds(),
        "waits": waits(given),
        "step_options": step_options(given),
        "field_options": field_options(given),
        "points": points(given, errors),
        "decisions": decisions(given, errors),
        "errors": errors,
        "others": [words for name, words in errors.items() if name not in known],
    }


def _shown(given: Given) -> Iterator[tuple[str, bool]]:
    """The inputs beside which an error is shown; any other stands at the top."""
    plain = ("name", "revision", "contract", "guard", "edition", "agreed_with", "planes", "directions")
    for name in (*plain, *BOUNDS, "from_day", "from_time", "reason", "steps"):
        yield name, True
    yield from ((f"d.{kind}", True) for kind in DECIDES)
    yield from ((f"s{row.nth}-id", True) for row in photos(given, {}))
    for row in points(given, {}):
        yield from ((f"p{row.nth}-{name}", True) for name in (*POINT_INPUTS, "covers"))
