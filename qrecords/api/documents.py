"""The documents that registers hold, in their strict form: numbers as text or whole numbers, never floats."""

from typing import Any

from rest_framework import serializers

from qrecords.api.fields import AsSent, AsTyped, Body, Flag, Text
from qrecords.engineering.ceilings import KINDS
from qrecords.steps.acts import LOG_SHOT
from qrecords.steps.case import HOLD_COVERS
from qrecords.steps.gear import HEATER_KINDS
from qrecords.steps.points import (
    HEAT,
    LONGEST_WORDING,
    POINT_ID,
    POINT_KINDS,
    SIGN_OFF,
)
from qrecords.steps.procedure import DECIDED
from qrecords.steps.requirement import SEATS, TAKEN_FROM
from qrecords.steps.standard import STEPS

STEP_NAMES = sorted(STEPS)
HOLDS = sorted(HOLD_COVERS)
MEASURED = TAKEN_FROM[1:]


def _two_numbers() -> serializers.ListField:
    return serializers.ListField(child=AsTyped(), min_length=2, max_length=2, required=False)


class RequirementDocument(Body):
    """What one revision of a drawing asks of one journal and its bearing."""

    drawing = Text(max_length=60)
    revision = Text(max_length=20)
    designation = Text(max_length=60)
    nominal_mm = AsTyped()
    shaft_class = Text(max_length=8, required=False)
    limits_um = _two_numbers()
    bore_um = _two_numbers()
    kinds = serializers.ListField(child=serializers.ChoiceField(KINDS), required=False, max_length=10)
    clearance_kind = Text(max_length=40, required=False)
    clearance_group = Text(max_length=4, required=False)
    clearance_min_um = AsTyped(required=False)
    outside_mm = AsTyped()
    width_mm = AsTyped()
    size_source = serializers.ChoiceField(TAKEN_FROM, required=False)
    mass_kg = AsTyped(required=False)
    mass_from = serializers.ChoiceField(MEASURED, required=False)
    raceway_mm = AsTyped(required=False)
    raceway_from = serializers.ChoiceField(MEASURED, required=False)
    shaft_bore_mm = AsTyped(required=False)
    seat = serializers.ChoiceField(SEATS, required=False)
    seat_width_mm = AsTyped(required=False)
    form_um = AsTyped(required=False)
    roundness_um = AsTyped(required=False)
    taper_um = AsTyped(required=False)
    gap_um = AsTyped(required=False)
    critical = serializers.ChoiceField(("yes", "no"), required=False)
    interference_um = _two_numbers()
    stabilised_c = AsSent(required=False)
    bore_class = Text(max_length=10, required=False)
    nominal_source = Text(max_length=120, required=False)
    outside_source = Text(max_length=120, required=False)
    width_source = Text(max_length=120, required=False)
    kind_source = Text(max_length=120, required=False)
    group_source = Text(max_length=120, required=False)
    class_source = Text(max_length=120, required=False)
    stabilised_source = Text(max_length=120, required=False)
    seat_width_source = Text(max_length=120, required=False)
    mass_source = Text(max_length=120, required=False)
    limits_source = Text(max_length=120, required=False)
    bore_source = Text(max_length=120, required=False)
    interference_source = Text(max_length=120, required=False)
    form_source = Text(max_length=120, required=False)
    roundness_source = Text(max_length=120, required=False)
    taper_source = Text(max_length=120, required=False)


class CalibrationPoint(Body):
    """At `size` it reads `error` too high, with U (k = 2): in base units."""

    size = AsSent()
    error = AsSent()
    expanded_u = AsSent()


class EquipmentDocument(Body):
    """Status and calibration; U (k = 2), resolution, repeatability in the base unit of what it measures."""

    status = Text(max_length=30, required=False)
    due = serializers.RegexField(r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$", required=False)
    certificate = Text(max_length=80, required=False)
    expanded_u = AsSent(required=False)
    resolution = AsSent(required=False)
    repeatability = AsSent(required=False)
    resolution_in_u = Flag(required=False)
    figures_source = Text(max_length=120, required=False)
    range_nm = serializers.ListField(child=AsSent(), min_length=2, max_length=2, required=False)
    heater_kind = serializers.ChoiceField(HEATER_KINDS, required=False)
    power_w = AsSent(required=False)
    blades_nm = serializers.ListField(child=AsSent(), required=False)
    mpe = AsSent(required=False, help_text="the most its error may be")
    found_points = serializers.ListField(child=CalibrationPoint(), required=False, max_length=40)
    left_points = serializers.ListField(child=CalibrationPoint(), required=False, max_length=40)
    laboratory = Text(max_length=80, required=False)
    interval_months = AsSent(required=False)
    place = Text(max_length=60, required=False)
    certificate_file = Text(max_length=64, required=False, help_text="SHA-256 of a file that was sent")
    as_found = Text(max_length=400, required=False)
    as_left = Text(max_length=400, required=False)
    note = Text(max_length=400, required=False)


class DecisionRule(Body):
    edition = Text(max_length=60)
    guard_factor = AsTyped()
    agreed_with = Text(max_length=200, required=False, allow_blank=True)


class ShotDocument(Body):
    id = serializers.RegexField(rf"^([a-z0-9_-]{{1,40}}|{LOG_SHOT})$")
    step = serializers.ChoiceField(STEP_NAMES)


class LimitsDocument(Body):
    house_cap_c = AsSent()
    greased_cap_c = AsSent()
    field_nt = AsSent()
    blade_nm = AsSent()
    spread_mk = AsSent()


def _fields(*, required: bool = True) -> serializers.ListField:
    child = serializers.RegexField(r"^[a-z_]{1,40}\.[a-z0-9_]{1,40}$")
    return serializers.ListField(child=child, max_length=200, required=required)


def _places(pattern: str) -> serializers.ListField:
    return serializers.ListField(child=serializers.RegexField(pattern), allow_empty=False, max_length=24)


class PointDocument(Body):
    """Where somebody else comes in: a hold, witness, review or surveillance point."""

    id = serializers.RegexField(POINT_ID)
    kind = serializers.ChoiceField(POINT_KINDS)
    title = Text(max_length=80, required=False, allow_blank=True)
    party = Text(max_length=80)
    wording = Text(max_length=LONGEST_WORDING, required=False, allow_blank=True)
    covers = serializers.ListField(
        child=serializers.RegexField(r"^[a-z_]{1,40}([.][a-z0-9_]{1,40})?$"), min_length=1, max_length=40
    )
    before = serializers.ChoiceField((*STEP_NAMES, HEAT, SIGN_OFF), required=False)
    notice_min = AsSent(required=False)


class MayDecide(Body):
    """Who decides what: narrower than the rights of the roles, never wider."""

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        def roles() -> serializers.ListField:
            return serializers.ListField(
                child=Text(max_length=40), min_length=1, max_length=10, required=False
            )

        return {kind: roles() for kind in DECIDED}


class ProcedureDocument(Body):
    """The workshop's procedure: steps, limits, decision rule, wanted photos and hold points."""

    name = Text(max_length=40)
    revision = Text(max_length=20)
    decision_rule = DecisionRule()
    steps = serializers.ListField(child=serializers.ChoiceField(STEP_NAMES), allow_empty=False)
    holds = serializers.ListField(child=serializers.ChoiceField(HOLDS))
    photos = ShotDocument(many=True)
    optional = _fields()
    optional_for_ball_and_sealed = _fields(required=False)
    not_applicable = _fields()
    also = _fields(required=False)
    planes = _places(r"^[A-Z]$")
    directions = serializers.ListField(child=AsTyped(), allow_empty=False, max_length=24)
    limits = LimitsDocument()
    contract = Text(max_length=80, required=False, allow_blank=True)
    points = PointDocument(many=True, required=False)
    may_decide = MayDecide(required=False)
