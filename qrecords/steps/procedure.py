"""The workshop's procedure: steps, limits, decision rule, wanted photos and hold points, as a document."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from qrecords.engineering.units import parse_number
from qrecords.proof.canonical import canonical_bytes
from qrecords.steps.errors import DocumentError
from qrecords.steps.points import HOLD, Point, read_point
from qrecords.steps.requirement import Requirement

DECIDED = ("release", "measure again", "rework", "accept", "concession", "quarantine", "scrap")
"""What a procedure may give to fewer roles than the table of rights does."""


@dataclass(frozen=True)
class Shot:
    """One wanted photo: its id, the step it belongs to."""

    id: str
    step: str


@dataclass(frozen=True)
class Procedure:
    name: str
    revision: str
    edition: str
    guard_factor: Decimal
    steps: tuple[str, ...]
    holds: tuple[str, ...]
    """The built-in ones it keeps, and after them its own hold points."""
    shots: tuple[Shot, ...]
    optional: frozenset[str]
    """`step.field` for which *not done* and *not possible* are complete answers."""
    optional_for_ball_and_sealed: frozenset[str]
    """The same, where no feeler fits between the rolling elements and the ring."""
    not_applicable: frozenset[str]
    """`step.field` where *not applicable* satisfies a rule."""
    also: frozenset[str]
    """`step.field` that is asked here and not everywhere; what other procedures ask beside stays unasked."""
    planes: tuple[str, ...]
    directions: tuple[str, ...]
    house_cap_c: int
    greased_cap_c: int
    field_limit_nt: int
    blade_limit_nm: int
    spread_limit_mk: int
    digest: str
    document: Mapping[str, Any]
    contract: str = ""
    """For which contract it is chosen; '' for the workshop's own."""
    agreed_with: str = ""
    """Who agreed to simple acceptance, and where that stands."""
    points: tuple[Point, ...] = ()
    """Its own hold, witness, review and surveillance points."""
    may_decide: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """Kind of decision → the roles that decide it; where nothing is said, the table of rights alone."""

    def allows(self, field: str) -> bool:
        return field in self.not_applicable

    def optional_for(self, asked: Requirement) -> frozenset[str]:
        """What may be left out of a mounting of which this is asked."""
        return self.optional | self.optional_for_ball_and_sealed if asked.no_feeler_fits else self.optional

    def point(self, id: str) -> Point | None:
        """One of its own points."""
        return next((point for point in self.points if point.id == id), None)


def procedure_digest(document: Mapping[str, Any]) -> str:
    """SHA-256 over the canonical document: what a mounting pins."""
    return hashlib.sha256(canonical_bytes(document)).hexdigest()


def read_procedure(document: Mapping[str, Any]) -> Procedure:
    """The procedure from its document; DocumentError names what is missing."""
    try:
        rule = document["decision_rule"]
        limits = document["limits"]
        points = tuple(read_point(point) for point in document.get("points", ()))
        return Procedure(
            name=str(document["name"]),
            revision=str(document["revision"]),
            edition=str(rule["edition"]),
            guard_factor=parse_number(str(rule["guard_factor"])),
            steps=tuple(document["steps"]),
            holds=(*document["holds"], *(point.id for point in points if point.kind == HOLD)),
            shots=tuple(Shot(shot["id"], shot["step"]) for shot in document["photos"]),
            optional=frozenset(document["optional"]),
            optional_for_ball_and_sealed=frozenset(document.get("optional_for_ball_and_sealed", ())),
            not_applicable=frozenset(document["not_applicable"]),
            also=frozenset(document.get("also", ())),
            planes=tuple(document["planes"]),
            directions=tuple(document["directions"]),
            house_cap_c=int(limits["house_cap_c"]),
            greased_cap_c=int(limits["greased_cap_c"]),
            field_limit_nt=int(limits["field_nt"]),
            blade_limit_nm=int(limits["blade_nm"]),
            spread_limit_mk=int(limits["spread_mk"]),
            digest=procedure_digest(document),
            document=dict(document),
            contract=str(document.get("contract", "")),
            agreed_with=str(rule.get("agreed_with", "")),
            points=points,
            may_decide={kind: frozenset(roles) for kind, roles in document.get("may_decide", {}).items()},
        )
    except KeyError as error:
        raise DocumentError("procedure", str(error.args[0]), "is not given") from error


STANDARD: Mapping[str, Any] = {
    "name": "HM-1",
    "revision": "A",
    "decision_rule": {"edition": "ISO 14253-1:2017", "guard_factor": "1.65"},
    "steps": [
        "identification",
        "preparation",
        "measurement",
        "bore",
        "clearance_before",
        "heating",
        "demagnetisation",
        "seating",
        "shoulder_gap",
        "clearance_after",
        "running",
        "protection",
    ],
    "holds": ["fit", "cold"],
    "photos": [
        {"id": "marking", "step": "identification"},
        {"id": "package", "step": "identification"},
        {"id": "seat", "step": "preparation"},
        {"id": "micrometer", "step": "measurement"},
        {"id": "probe", "step": "heating"},
        {"id": "held", "step": "seating"},
        {"id": "blade", "step": "shoulder_gap"},
        {"id": "covered", "step": "protection"},
    ],
    "optional": [
        "identification.serial",
        "identification.lot",
        "identification.date_code",
        "measurement.air",
        "measurement.master_after",
        "heating.peak_outer",
        "heating.at_seat",
        "heating.cross_check",
        "heating.own_ceiling",
        "heating.own_ceiling_source",
        "demagnetisation.where",
        "demagnetisation.meter",
        "protection.wrap",
    ],
    "optional_for_ball_and_sealed": ["clearance_before.g0", "clearance_after.g1"],
    "not_applicable": [
        "preparation.zone",
        "measurement.master",
        "measurement.master_before",
    ],
    "planes": ["A", "B", "C"],
    "directions": ["0", "60", "120"],
    "limits": {
        "house_cap_c": 120,
        "greased_cap_c": 80,
        # 2 A/cm in air, exactly 200 A/m × μ0 (house limit, common practice, no source)
        "field_nt": 251327,
        "blade_nm": 30000,
        "spread_mk": 5000,
    },
}
"""The standard procedure as it is put in force at install; limits are house defaults."""
