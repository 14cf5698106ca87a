"""The shapes of what a case rests on beside its entries: the requirement, the procedure, gear, table rows."""

from qrecords.engineering.ceilings import KINDS
from qrecords.engineering.own_rows import SHAPES
from qrecords.steps.case import HOLD_COVERS
from qrecords.steps.gear import HEATER_KINDS, STATUSES
from qrecords.steps.gear import KINDS as GEAR_KINDS
from qrecords.steps.interchange.plain_shapes import Choice, Day, Flag, Moment, Number, Text, Whole
from qrecords.steps.interchange.shapes import Either, ListOf, Named, Record
from qrecords.steps.points import (
    HEAT,
    LONGEST_WORDING,
    MOST_NOTICE_MIN,
    POINT_ID,
    POINT_KINDS,
    SIGN_OFF,
)
from qrecords.steps.procedure import DECIDED
from qrecords.steps.requirement import BOUNDS, MOST_UM, SEATS, TAKEN_FROM
from qrecords.steps.work import STEPS

WORD = Text(120)
SOURCES = (
    "nominal_source",
    "outside_source",
    "width_source",
    "kind_source",
    "group_source",
    "class_source",
    "stabilised_source",
    "seat_width_source",
    "mass_source",
    "limits_source",
    "bore_source",
    "interference_source",
    "form_source",
    "roundness_source",
    "taper_source",
)


def _size(name: str, what: str) -> Number:
    low, high, unit = BOUNDS[name]
    return Number(unit, f"{what}, {low}…{high} {unit}")


def _micrometres(what: str) -> Number:
    return Number("µm", f"{what}, −{MOST_UM}…{MOST_UM} µm")


REQUIREMENT = Named(
    "requirement",
    Record(
        {
            "drawing": Text(60, 1),
            "revision": Text(20, 1),
            "designation": Text(60, 1, about="of the bearing, as on the drawing: 6213 C3"),
            "nominal_mm": _size("nominal_mm", "bore d"),
            "shaft_class": Text(8, about="tolerance class of the journal, as m5; or limits_um"),
            "bore_um": ListOf(
                _micrometres("a limit of the bore"), 2, 2, "lower and upper, off its own sheet"
            ),
            "limits_um": ListOf(_micrometres("a limit of deviation"), 2, 2, "lower and upper"),
            "kinds": ListOf(Choice(tuple(KINDS)), 0, 10, "what bounds the heating of this bearing"),
            "clearance_kind": Text(
                40, about="the table of internal clearance; none: nothing is asked; adjusted: set at mounting"
            ),
            "clearance_group": Text(4, about="2, N, 3, 4 or 5"),
            "clearance_min_um": _micrometres("least clearance after mounting"),
            "outside_mm": _size("outside_mm", "outside diameter D"),
            "width_mm": _size("width_mm", "width B"),
            "size_source": Choice(TAKEN_FROM),
            "mass_kg": _size("mass_kg", "mass"),
            "mass_from": Choice(TAKEN_FROM[1:]),
            "raceway_mm": _size("raceway_mm", "diameter of the inner raceway"),
            "raceway_from": Choice(TAKEN_FROM[1:]),
            "shaft_bore_mm": _size("shaft_bore_mm", "bore of a hollow shaft"),
            "seat": Choice(SEATS, "how the seat was finished", closed=True),
            "seat_width_mm": _size("seat_width_mm", "width of the seat"),
            "form_um": _micrometres("radial form tolerance, of roundness and taper alike"),
            "roundness_um": _micrometres("radial tolerance of roundness"),
            "taper_um": _micrometres("radial tolerance of taper"),
            "gap_um": _micrometres("the blade that must not enter at the shoulder"),
            "critical": Choice(("yes", "no"), "nothing is conceded here without the customer", closed=True),
            "interference_um": ListOf(_micrometres("a limit of interference"), 2, 2, "least and most"),
            "stabilised_c": Either({"integer": Whole(50, 500, "°C"), "string": Text(40)}),
            "bore_class": Text(10, about="tolerance class of the bearing's bore: Normal, 6, 5, 4 or 2"),
            **dict.fromkeys(SOURCES, WORD),
        },
        required=("drawing", "revision", "designation", "nominal_mm", "outside_mm", "width_mm"),
        about="What one revision of a drawing asks of one journal and its bearing.",
    ),
)

BIGGEST = 10**12
"""Beyond any figure of a gauge, in its base unit."""


def _figure(what: str) -> Whole:
    return Whole(0, BIGGEST, "", f"{what}, in the base unit: nm of lengths, mK of temperatures, nT of fields")


GEAR = Named(
    "gear",
    Record(
        {
            "id": Text(80, 1),
            "kind": Choice(GEAR_KINDS),
            "mark": Text(80, 1, about="what is written on it"),
            "status": Choice(STATUSES),
            "expanded_u": _figure("U (k = 2)"),
            "mpe": _figure("the most its error may be"),
            "resolution": _figure("the digit step"),
            "repeatability": _figure("one standard deviation"),
            "resolution_in_u": Flag("whether U holds the digit step already"),
            "due": Day("the last day of validity"),
            "certificate": Text(120),
            "figures_source": WORD,
            "heater_kind": Choice(("", *HEATER_KINDS)),
            "power_w": Whole(0, BIGGEST, "W", "rated power of a heater"),
            "blades_nm": ListOf(Whole(0, BIGGEST, "nm"), 0, 100),
            "range_nm": ListOf(
                Whole(0, BIGGEST, "nm"), 2, 2, "the sizes it measures, from a smaller to a larger"
            ),
            "data_output": Flag("it sends its readings: nobody types them"),
            "calibration": Text(80),
            "in_force_from": Moment("from when this calibration was first in force"),
        },
        required=("kind",),
        stored=("id", "kind", "mark"),
        about="A gauge, meter, master or heater as it stood at the act.",
    ),
)

_COVERED = Text(
    82, pattern=r"^[a-z_]{1,40}([.][a-z0-9_]{1,40})?$", allowed="a step, or step.field as measurement.journal"
)
_FIELD = Text(82, pattern=r"^[a-z_]{1,40}[.][a-z0-9_]{1,40}$", allowed="step.field, as measurement.air")


def _limit(unit: str, what: str) -> Whole:
    return Whole(0, BIGGEST, unit, f"{what}, in {unit}")


POINT = Record(
    {
        "id": Text(16, 1, POINT_ID, "a name of lower-case letters, digits and hyphens, as class-visit"),
        "kind": Choice(POINT_KINDS, closed=True),
        "title": Text(80, about="as pages call it"),
        "party": Text(80, about="whom it concerns: inspector, customer, class surveyor"),
        "wording": Text(LONGEST_WORDING, about="the contract's own words"),
        "covers": ListOf(_COVERED, 1, 40, "steps, or fields as step.field"),
        "before": Choice((*STEPS, HEAT, SIGN_OFF), "what waits for the release of a hold"),
        "notice_min": Whole(0, MOST_NOTICE_MIN, "min", "how long before a witness point the party is told"),
    },
    required=("id", "kind", "party", "covers"),
    about="Where somebody else comes in.",
)
MAY_DECIDE = Record(
    {kind: ListOf(Text(40, 1), 1, 10) for kind in DECIDED},
    about="who decides what: narrower than the rights of the roles, never wider",
)
PROCEDURE = Named(
    "procedure",
    Record(
        {
            "name": Text(40),
            "revision": Text(20),
            "decision_rule": Record(
                {
                    "edition": Text(60),
                    "guard_factor": Number("u", "multiples of u; 0: simple acceptance"),
                    "agreed_with": Text(200, about="who agreed to simple acceptance, and where it stands"),
                },
                required=("edition", "guard_factor"),
            ),
            "steps": ListOf(Choice(tuple(STEPS), closed=True), 1, 40),
            "holds": ListOf(Choice(tuple(HOLD_COVERS), closed=True), 0, 10),
            "photos": ListOf(
                Record({"id": Text(40, 1), "step": Choice(tuple(STEPS))}, required=("id", "step")), 0, 100
            ),
            "optional": ListOf(_FIELD, 0, 200),
            "optional_for_ball_and_sealed": ListOf(_FIELD, 0, 200),
            "not_applicable": ListOf(_FIELD, 0, 200),
            "also": ListOf(_FIELD, 0, 200),
            "planes": ListOf(Text(1, 1, "^[A-Z]$", "A…Z"), 1, 24),
            "directions": ListOf(Text(3, 1, "^[0-9]{1,3}$", "whole degrees as text"), 1, 24),
            "contract": Text(80, about="for which contract it is chosen; empty: the workshop's own"),
            "points": ListOf(POINT, 0, 40),
            "may_decide": MAY_DECIDE,
            "limits": Record(
                {
                    "house_cap_c": Whole(0, 400, "°C", "never above, open bearings, in °C"),
                    "greased_cap_c": Whole(0, 400, "°C", "never above, greased ones, in °C"),
                    "field_nt": _limit("nT", "most residual field"),
                    "blade_nm": _limit("nm", "the blade that must not enter"),
                    "spread_mk": _limit("mK", "most difference of temperatures"),
                },
                required=("house_cap_c", "greased_cap_c", "field_nt", "blade_nm", "spread_mk"),
            ),
        },
        required=(
            *("name", "revision", "decision_rule", "steps", "holds", "photos", "optional", "not_applicable"),
            *("planes", "directions", "limits"),
        ),
        about="The workshop's procedure that the mounting began under.",
    ),
)

HASH = Text(64, pattern="^[0-9a-f]{64}$", allowed="64 hexadecimal figures, 0-9 and a-f")
APPROVAL = Record(
    {"entry": Text(80, 1), "by": Text(80, 1), "on": Day()},
    required=("entry", "by", "on"),
    about="who put it in force: the entry, the hash of the person, the day; without it nobody confirmed it",
)
ROW = Record(
    {
        "table": Choice(tuple(SHAPES), closed=True),
        "key": ListOf(Text(60), 1, 4),
        "over_mm": Text(48),
        "upto_mm": Text(48),
        "values": ListOf(Text(48), 1, 8, "numbers as text, in µm; of boundary_dimensions in mm"),
        "standard": Text(60, 1),
        "edition": Text(20, 1),
        "place": Text(80, 1, about="table or page"),
        "copy": Text(80, 1, about="number of the copy, or how it was bought"),
        "approval": APPROVAL,
    },
    required=("table", "key", "over_mm", "upto_mm", "values", "standard", "edition", "place", "copy"),
    about="A row of a table from the site's own copy of a standard, for sizes over … up to and including ….",
)
TABLES = Record(
    {"digest": HASH, "rows": ListOf(ROW, 0, 1000, "laid over those of this program")},
    about="The tables of limits that the case is judged by; those of this program where nothing is said.",
)
