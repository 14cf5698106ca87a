"""The form of a procedure: its document as inputs, what was typed as a document again, and which input a
fault of the document belongs to. What the form does not show of a document stays as it is."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any

from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.people.bounds import zone_of
from qrecords.people.permissions import roles_with
from qrecords.steps.acts import LOG_SHOT
from qrecords.steps.interchange.faults import Fault
from qrecords.steps.new_procedure import BOUNDS
from qrecords.steps.points import BUILT_IN_HOLDS, HOLD, SIGN_OFF, WITNESS
from qrecords.steps.standard import STEPS
from qrecords.web.registers.asking import wrong
from qrecords.workshop.procedures import DECIDES

LEFT_OUT = {"optional": "optional", "ball": "optional_for_ball_and_sealed"}
"""What a field is typed as → the list of the document that holds it."""
YES = "yes"
BLANK_PHOTOS, BLANK_POINTS = 2, 1
MOST_ROWS = 60
MOST_FIELDS = 20
"""A point names so many single fields; whole steps beside them."""
Given = Mapping[str, str]


def values_of(document: Mapping[str, Any]) -> dict[str, str]:
    """What stands in the form of a document before anybody types."""
    rule, limits = document["decision_rule"], document["limits"]
    values = {
        "name": str(document["name"]),
        "revision": str(document["revision"]),
        "contract": str(document.get("contract", "")),
        "edition": str(rule["edition"]),
        "guard": str(rule["guard_factor"]).replace(",", "."),
        "agreed_with": str(rule.get("agreed_with", "")),
        "planes": ", ".join(document["planes"]),
        "directions": ", ".join(document["directions"]),
    }
    for name, bound in BOUNDS.items():
        values[name] = units.show(limits[name] * bound.per_unit, bound.quantity, bound.unit)
    values |= {f"step.{step}": YES for step in document["steps"]}
    for choice, name in LEFT_OUT.items():
        values |= {f"out.{key}": choice for key in document.get(name, ())}
    values |= {f"na.{key}": YES for key in document["not_applicable"]}
    values |= {f"also.{key}": YES for key in document.get("also", ())}
    values |= {f"hold.{hold}": YES for hold in document["holds"]}
    return values | dict(_rows(document)) | dict(_roles(document))


def _rows(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for nth, shot in enumerate(document["photos"]):
        yield from ((f"s{nth}-id", shot["id"]), (f"s{nth}-step", shot["step"]), (f"s{nth}-on", YES))
    for nth, point in enumerate(document.get("points", ())):
        for name in ("id", "kind", "title", "party", "wording", "before"):
            yield f"p{nth}-{name}", str(point.get(name, ""))
        yield f"p{nth}-notice", str(point.get("notice_min", "")) if point["kind"] == WITNESS else ""
        fields = [covered for covered in point["covers"] if "." in covered]
        yield from ((f"p{nth}-f{place}", key) for place, key in enumerate(fields))
        yield from ((f"p{nth}-c-{step}", YES) for step in point["covers"] if "." not in step)


def _roles(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    narrowed = document.get("may_decide", {})
    for kind, action in DECIDES.items():
        for role in roles_with(action):
            if kind not in narrowed or role.value in narrowed[kind]:
                yield f"d.{kind}.{role.value}", YES


@dataclass
class Typed:
    """What was typed, as a document; `errors` are of what gave none, `rows` say which row of the form became
    which of the document."""

    document: dict[str, Any]
    errors: dict[str, str] = field(default_factory=dict)
    photo_rows: list[int] = field(default_factory=list)
    point_rows: list[int] = field(default_factory=list)

    def input_of(self, at: str) -> str:
        """The input or part of the form that a place of the document belongs to."""
        _, head, *rest = [*at.split("/"), ""]
        if head in ("limits", "decision_rule"):
            return {"guard_factor": "guard"}.get(rest[0], rest[0])
        if head == "photos" and rest[0]:
            return f"s{self.photo_rows[int(rest[0])]}-id"
        if head == "points" and rest[0]:
            name = {"notice_min": "notice", "": "title", "id": "title"}.get(rest[1], rest[1])
            return f"p{self.point_rows[int(rest[0])]}-{name}"
        if head == "may_decide":
            return f"d.{rest[0]}"
        return head if head in ("name", "revision", "contract", "planes", "directions") else "steps"

    def take(self, faults: list[Fault]) -> None:
        """What is wrong with the document, at its input; what was wrong before it was one says more."""
        for fault in faults:
            told = "; ".join(part for part in (fault.told, fault.why) if part)
            if fault.allowed:
                told += f"; {gettext('allowed:')} {fault.allowed} {fault.unit}".rstrip()
            self.errors.setdefault(self.input_of(fault.at), told.strip("; "))


def document_of(given: Given, base: Mapping[str, Any]) -> Typed:
    """The document as typed, over the one that the form began with."""
    steps = [step for step in STEPS if given.get(f"step.{step}")]
    document: dict[str, Any] = {
        **base,
        "name": given.get("name", ""),
        "revision": given.get("revision", ""),
        "decision_rule": _rule(given, base["decision_rule"]),
        "limits": dict(base["limits"]),
        "steps": steps,
        "holds": [hold for hold in BUILT_IN_HOLDS if given.get(f"hold.{hold}")],
        "planes": _listed(given.get("planes", "")),
        "directions": _listed(given.get("directions", "")),
        **_fields(given, steps, base),
    }
    typed = Typed(document)
    _limits(given, typed)
    document["photos"] = list(_photos(given, typed))
    optional: dict[str, Any] = {
        "contract": given.get("contract", ""),
        "points": list(_points(given, typed)),
        "may_decide": dict(_may_decide(given, typed)),
    }
    for name, value in optional.items():
        document.pop(name, None)
        document |= {name: value} if value else {}
    return typed


def _listed(text: str) -> list[str]:
    return [part.strip(" °") for part in re.split("[,;]", text) if part.strip()]


def _rule(given: Given, base: Mapping[str, Any]) -> dict[str, Any]:
    rule = {**base, "edition": given.get("edition", ""), "guard_factor": given.get("guard", "")}
    rule.pop("agreed_with", None)
    agreed = given.get("agreed_with", "")
    return rule | ({"agreed_with": agreed} if agreed else {})


def _limits(given: Given, typed: Typed) -> None:
    for name, bound in BOUNDS.items():
        text = given.get(name, "")
        try:
            base = units.read(text, bound.quantity, bound.unit).base
        except EngineeringError:
            base = 1 if bound.per_unit > 1 else -1
        if base % bound.per_unit or not bound.least <= base // bound.per_unit <= bound.most:
            ends = "…".join(bound.said(end) for end in (bound.least, bound.most))
            typed.errors[name] = wrong(text, f"{ends} {bound.unit}")
        else:
            typed.document["limits"][name] = base // bound.per_unit


def _fields(given: Given, steps: list[str], base: Mapping[str, Any]) -> dict[str, list[str]]:
    """The lists of fields, of the steps that are worked. What may be left out under every procedure has no
    input: the document goes on naming it where it did, so that nothing seems to change that does not."""
    keys = [(f"{step}.{each.id}", each) for step in steps for each in STEPS[step].fields]
    lists = {
        name: [
            key
            for key, each in keys
            if given.get(f"out.{key}") == choice or (each.optional and key in base.get(name, ()))
        ]
        for choice, name in LEFT_OUT.items()
    }
    lists["not_applicable"] = [key for key, _ in keys if given.get(f"na.{key}")]
    lists["also"] = [key for key, each in keys if each.by_procedure and given.get(f"also.{key}")]
    return lists


def slug(text: str, longest: int) -> str:
    """A name for the document, from words."""
    return re.sub("[^a-z0-9]+", "-", text.lower()).strip("-")[:longest].strip("-")


def _photos(given: Given, typed: Typed) -> Iterator[dict[str, str]]:
    for nth in rows_in(given, "s"):
        id = given.get(f"s{nth}-id", "")
        wanted = given.get(f"s{nth}-on") or given.get(f"s{nth}-new")
        if not id or not wanted:
            continue
        typed.photo_rows.append(nth)
        named = id == LOG_SHOT or re.fullmatch("[a-z0-9_-]{1,40}", id)
        yield {"id": id if named else slug(id, 40), "step": given.get(f"s{nth}-step", "")}


def _points(given: Given, typed: Typed) -> Iterator[dict[str, Any]]:
    for nth in rows_in(given, "p"):
        said = {name: given.get(f"p{nth}-{name}", "") for name in ("title", "party", "wording")}
        kind = given.get(f"p{nth}-kind", "")
        if not kind:
            if any(said.values()) and not given.get(f"p{nth}-id"):
                typed.errors[f"p{nth}-kind"] = gettext("Which kind of point is it?")
            continue
        typed.point_rows.append(nth)
        point: dict[str, Any] = {
            "id": given.get(f"p{nth}-id") or _new_id(said["title"] or kind, given),
            "kind": kind,
            "title": said["title"],
            "party": said["party"],
            "wording": said["wording"],
            "covers": _covers(given, nth),
        }
        if kind == HOLD:
            point["before"] = given.get(f"p{nth}-before") or SIGN_OFF
        if kind == WITNESS:
            point["notice_min"] = _minutes(given.get(f"p{nth}-notice", ""))
        yield point


def _new_id(title: str, given: Given) -> str:
    """A name that no other point of the form has."""
    taken = {given.get(f"p{nth}-id", "") for nth in rows_in(given, "p")} | set(BUILT_IN_HOLDS)
    bare = slug(title, 13).lstrip("-0123456789") or "point"
    return next(id for nth in range(1, 100) if (id := bare if nth == 1 else f"{bare}-{nth}") not in taken)


def _covers(given: Given, nth: int) -> list[str]:
    chosen = (given.get(f"p{nth}-f{place}", "") for place in range(MOST_FIELDS))
    fields = list(dict.fromkeys(key for key in chosen if key))
    return [step for step in STEPS if given.get(f"p{nth}-c-{step}")] + fields


def _minutes(text: str) -> int | str:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 10 else text


def _may_decide(given: Given, typed: Typed) -> Iterator[tuple[str, list[str]]]:
    """Of each kind the roles that were left, where it is not all who have the right."""
    for kind, action in DECIDES.items():
        may = [role.value for role in roles_with(action)]
        left = [role for role in may if given.get(f"d.{kind}.{role}")]
        if not left:
            typed.errors[f"d.{kind}"] = gettext("Somebody has to decide it. Leave at least one role.")
        elif left != may:
            yield kind, left


def rows_in(given: Given, letter: str) -> list[int]:
    """The rows of photos (s) or points (p) that a form holds."""
    found = (re.match(rf"{letter}([0-9]{{1,2}})-", name) for name in given)
    return sorted({int(match[1]) for match in found if match and int(match[1]) < MOST_ROWS})


def wanted_from(given: Given, zone: str) -> tuple[datetime | None, dict[str, str]]:
    """From when it is to be in force, and what is wrong with it: a day of the site's zone, from its beginning
    unless a time is typed; nothing, once it is approved."""
    day, clock = given.get("from_day", ""), given.get("from_time", "")
    if not day and not clock:
        return None, {}
    try:
        at = datetime.combine(date.fromisoformat(day), time.fromisoformat(clock or "00:00"))
        return at.replace(tzinfo=zone_of(zone)).astimezone(UTC), {}
    except (ValueError, OverflowError):
        allowed = gettext("a day to come, and a time if it matters; empty: once it is approved")
        return None, {"from_day": wrong(f"{day} {clock}".strip(), allowed)}
