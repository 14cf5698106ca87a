"""What somebody who writes an entry by hand leaves out, filled in as the record itself would hold it: ids,
leaf hashes, base values, gear by its name, and what a release rests on."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from qrecords.engineering.errors import NotAQuantityError
from qrecords.engineering.tables import Tables
from qrecords.engineering.units import known_unit
from qrecords.proof.canonical import canonical_bytes
from qrecords.proof.merkle import leaf_hash
from qrecords.steps.answers import Value
from qrecords.steps.case import Case
from qrecords.steps.errors import FieldError, SlipError
from qrecords.steps.expected import expected_for
from qrecords.steps.fields import Field, Gear, Quantity
from qrecords.steps.folding import Fold, Logs
from qrecords.steps.interchange.captures import FURTHEST
from qrecords.steps.interchange.faults import Fault, below, told
from qrecords.steps.procedure import Procedure
from qrecords.steps.work import STEPS

NUMBER_AND_UNIT = re.compile(r"\s*([+\-−]?[0-9.,]+)\s*(.*)", re.DOTALL)


@dataclass(frozen=True)
class Line:
    """One entry as folding takes it."""

    id: str
    kind: str
    payload: Mapping[str, Any]
    leaf: str


@dataclass
class Filling:
    """Entries written by hand, one after the other. `faults` and `doubts` are what was found on the way: a
    doubt is judged all the same, and told."""

    procedure: Procedure
    tables: Tables
    logs: Logs
    gear: Mapping[str, Mapping[str, Any]]
    fold: Fold
    mounting: str = ""
    opening: Case | None = None
    names: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)
    doubts: list[Fault] = field(default_factory=list)

    def so_far(self) -> Case:
        """What was said so far."""
        return self.fold.case(self.procedure, self.tables, self.logs)

    def line(self, entry: Mapping[str, Any], at: str) -> Line:
        """The entry as the ledger would hold it; what is wrong is added to `faults`."""
        name, kind, body = str(entry.get("id", at)), str(entry["kind"]), entry["body"]
        self.mounting = self.mounting or str(entry.get("mounting", name))
        moments = [moment for key in ("at_device", "at_server") if (moment := entry.get(key))]
        if not moments:
            self.faults.append(Fault(below(at, "at_device"), "missing", "null", "", "a moment with its zone"))
            moments = ["1970-01-01T00:00:00Z"]
        author = entry["author"] if isinstance(entry["author"], dict) else {"person": entry["author"]}
        payload = {
            "kind": kind,
            "id": name,
            "mounting": str(entry.get("mounting", self.mounting)),
            "author": {"hash": ""} | author,
            "at_device": moments[0],
            "at_server": moments[-1],
            "files": entry.get("files", []),
            "prev": entry.get("prev"),
            "reason": entry.get("reason"),
        }
        said, seen = body.get("said", {}), body.get("seen", {})
        payload["body"] = dict(zip(("said", "seen"), self._parts(kind, said, seen, at), strict=True))
        leaf = entry.get("leaf") or leaf_hash(canonical_bytes(payload)).hex()
        return Line(name, kind, payload, leaf)

    def _parts(
        self, kind: str, said: dict[str, Any], seen: dict[str, Any], at: str
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        match kind:
            case "capture" if self.opening:
                return self._capture(said, seen, below(at, "body"))
            case "tap":
                return {**said, "release": self._leaf_of(str(said.get("release", "")), at)}, seen
            case "release" if self.opening:
                return said, self._released(said, seen)
            case "decision":
                return said, {"closes": "", **seen}
            case "elsewhere":
                unsaid = {"other_end": [], "other_end_mounting": "", "earlier_heatings": 0}
                return said, {**unsaid, "photos_seen_before": [], **seen}
        return said, seen

    def _leaf_of(self, named: str, at: str) -> str:
        """A release may be named by the id of its entry. What names none is judged so, and told."""
        leaves = self.fold.leaves
        if named and named not in leaves and named not in leaves.values():
            place = below(below(below(at, "body"), "said"), "release")
            self.doubts.append(Fault(place, "reference", told(named), why="is no entry before this one"))
        return leaves.get(named, named)

    def _released(self, said: Mapping[str, Any], seen: Mapping[str, Any]) -> dict[str, Any]:
        if "captures" in seen:
            return {"means": "sign-in", **seen}
        standing = self.so_far().standing_captures(said["hold"])
        return {"means": "sign-in", "captures": sorted(standing), **seen}

    def _capture(
        self, said: Mapping[str, Any], seen: Mapping[str, Any], at: str
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        step = STEPS[said["step"]]
        frozen, fields = dict(seen.get("gear", {})), {}
        for key, given in said["fields"].items():
            place = below(below(below(at, "said"), "fields"), key)
            if isinstance(given, dict) and "state" in given:
                fields[key] = given
                continue
            asked = step.field(key)
            answer = self._value(step.id, asked, given, place)
            fields[key] = answer
            if isinstance(asked.form, Gear) and key not in frozen:
                frozen |= self._piece(asked.form, key, str(answer["value"]), place)
        filled = {"role": "work", **said, "fields": fields}
        return filled, {**seen, "gear": {key: _known(key, piece) for key, piece in frozen.items()}}

    def _value(self, step: str, asked: Field, given: Any, at: str) -> dict[str, Any]:
        """The answer with its base value. Where one was written beside what was typed it counts, and that
        they differ is told."""
        document = {"typed": given} if isinstance(given, str) else given
        typed, own = document["typed"], document.get("value")
        if not isinstance(asked.form, Quantity):
            if own is not None and own != typed:
                why = f"{typed} was typed; what stands here was judged"
                self.doubts.append(Fault(below(at, "value"), "value", told(own), why=why))
            return {"unit": "", "value": typed, **document}
        unit = document.get("unit", "")
        if isinstance(given, str):
            typed, unit = (part.strip() for part in NUMBER_AND_UNIT.findall(given)[0])
        found = self._parsed(step, asked, typed, unit, at)
        if found is not None and abs(int(found.value)) > FURTHEST:
            why = "further than any reading"
            self.faults.append(Fault(at, "range", told(typed), unit, f"up to {FURTHEST} in base units", why))
            found = None
        if found is None:
            return {"typed": typed, "unit": unit, "value": own or 0}
        if own is not None and own != found.value:
            why = f"{typed} {unit} is {found.value}; what stands here was judged"
            self.doubts.append(Fault(below(at, "value"), "value", told(own), "", "", why))
        return found.document() | ({} if own is None else {"value": own})

    def _parsed(self, step: str, asked: Field, typed: str, unit: str, at: str) -> Value | None:
        assert self.opening is not None  # noqa: S101 - the first entry opens the mounting
        assert isinstance(asked.form, Quantity)  # noqa: S101 - the caller has asked
        expected = expected_for(self.opening, step, asked.id)
        try:
            unit = known_unit(asked.form.quantity, unit)
            return asked.parse(typed, unit, expected)
        except NotAQuantityError:
            allowed = ", ".join(asked.form.units)
            self.faults.append(Fault(at, "field", told(typed), unit, allowed, f"is no {asked.form.quantity}"))
            return None
        except SlipError as slip:
            meant = f"meant {slip.meant} {slip.meant_unit}?" if slip.meant else "far from what is expected"
            self.doubts.append(Fault(at, "far", told(typed), slip.unit, slip.allowed, meant))
        except FieldError as error:
            own = expected.deviation_unit if expected and unit not in asked.form.units else ""
            allowed = ", ".join(word for word in (error.allowed, own) if word)
            self.faults.append(Fault(at, "field", told(typed), unit, allowed, error.why))
            return None
        return asked.parse(typed, unit, expected, sure=True)

    def _piece(self, form: Gear, key: str, name: str, at: str) -> dict[str, Mapping[str, Any]]:
        piece = self.gear.get(name)
        if piece is None:
            known = ", ".join(self.gear) or "a name under gear, where none is given"
            self.faults.append(Fault(at, "gear", told(name), "", known[:200], "is not known under gear"))
            return {}
        if piece["kind"] not in form.kinds:
            allowed = " or ".join(form.kinds)
            self.faults.append(Fault(at, "gear", told(name), "", allowed, f"is a {piece['kind']}"))
        return {key: {"id": name, "mark": name, **piece}}


def _known(key: str, piece: Mapping[str, Any]) -> dict[str, Any]:
    mark = str(piece.get("mark", piece.get("id", key)))
    return {"id": mark, "mark": mark, **piece}


def gear_faults(piece: Mapping[str, Any], at: str) -> Iterator[Fault]:
    """A range of sizes whose ends are swapped."""
    low, high = piece.get("range_nm") or (0, 1)
    if low >= high:
        why = f"is not above {low} nm, where it measures from"
        yield Fault(below(at, "range_nm"), "range", told(high), "nm", f"above {low} nm", why)
