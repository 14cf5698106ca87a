"""From a damage back to the parts of the work that can have caused it, first suspect first.

Groups after ISO 15243:2017; the numbers below a group (5.1.2 and so on) are from memory. Which part of a
mounting is suspected of which damage, and in which order, is common practice, no source. What is no cause of
the mounting stands beside every row (`wording.damage`): nobody is to be accused for what happened in service.
"""

from collections.abc import Mapping
from dataclasses import dataclass

GROUPS: Mapping[str, str] = {
    "5.1": "rolling contact fatigue",
    "5.2": "wear",
    "5.3": "corrosion",
    "5.4": "electrical erosion",
    "5.5": "plastic deformation",
    "5.6": "cracking and fracture",
    "": "no group of its own",
}
"""ISO 15243:2017, contents list."""
GROUP_SOURCE = "ISO 15243:2017, groups as its contents list them; numbers below a group from memory"
SUSPECTS_SOURCE = "common practice, no source"


@dataclass(frozen=True)
class Part:
    """A part of the work: the answers (`step.key`, of a many-field all places) and the rules that tell how it
    was done. One without any is known to the trade and not asked for by this record."""

    fields: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()


PARTS: Mapping[str, Part] = {
    "order": Part(
        ("work_order.drawing_in_hand", "work_order.revision_in_hand", "work_order.mounted_before"),
        ("as-ordered", "drawing-in-hand", "machine-as-ordered"),
    ),
    "identity": Part(
        (
            "identification.marking", "identification.serial", "identification.lot",
            "identification.date_code", "delivery.delivery_number", "delivery.origin",
        ),
        ("ring-marking", "own-reading", "origin-sure"),
    ),
    "storage": Part(
        (
            "identification.package", "storage.shelf_age", "storage.store_humidity", "storage.stored",
            "storage.store_shaken", "storage.open_for", "storage.preserved",
        ),
        ("package-intact", "open-time", "store-dry", "store-still"),
    ),
    "seat as seen": Part(
        (
            "preparation.edge_burrs", "preparation.shoulder_burrs", "preparation.wiped", "seat_look.nicks",
            "seat_look.fretting", "seat_look.repair", "seat_look.keyway", "environment.dust",
        ),
        ("edge-burrs", "shoulder-burrs", "wiped-clean", "seat-nicks", "no-dust"),
    ),
    "fillet and shoulder": Part(
        ("preparation.fillet", "shoulder.fillet_radius", "shoulder.chamfer", "shoulder.height"),
        ("fillet-clears", "fillet-radius", "shoulder-height"),
    ),
    "shoulder run-out": Part(("shoulder.runout", "shoulder.dial"), ("shoulder-runout",)),
    "form of the journal": Part(
        ("measurement.journal", "seat_form.out_of_round", "seat_form.form_by"),
        ("journal-roundness", "journal-taper", "seat-roundness"),
    ),
    "roughness": Part(("roughness.ra", "roughness.ra_by"), ("seat-roughness",)),
    "temperatures when measured": Part(
        (
            "measurement.shaft", "measurement.bearing", "measurement.gauge_temp", "measurement.air",
            "environment.together_for", "environment.dust",
        ),
        ("one-temperature", "together-long"),
    ),
    "gauge": Part(
        ("measurement.gauge", "measurement.master_before", "measurement.master_after"),
        ("gauge-in-date", "gauge-fine-enough", "master-check"),
    ),
    "journal": Part(("measurement.journal",), ("journal-size",)),
    "bore": Part(("bore.bore", "bore.source"), ("bore-in-class",)),
    "fit": Part(rules=("interference", "journal-size", "bore-in-class", "released-before-heat")),
    "clearance before": Part(
        ("clearance_before.g0", "clearance_before.method", "rows_before.g0_second_row"),
        ("clearance-in-group", "clearance-forecast", "rows-agree-before"),
    ),
    "housing and floating side": Part(
        ("housing.floats", "housing.room_outward", "housing.room_inward", "housing.housing_bore"),
        ("one-floats", "room-outward", "room-inward", "housing-bore"),
    ),
    "ring difference": Part(
        ("heating.peak", "heating.peak_outer", "heat_check.turned_hot"),
        ("ring-difference", "not-turned-hot"),
    ),
    "peak": Part(
        (
            "heating.peak", "heating.probe", "heating.cross_check", "heating.set_to",
            "heat_check.above_target_for", "heat_plan.cage_seen",
        ),
        ("peak-temperature", "probe-on-inner-ring", "log-ceiling", "heatings", "contact-check"),
    ),
    "residual field": Part(
        (
            "demagnetisation.field", "demagnetisation.where", "demagnetisation.cycle",
            "field_places.ring_edge", "field_places.ring_chamfer", "field_places.rolling_element",
        ),
        ("residual-field", "field-by-place", "demagnetised"),
    ),
    "seat film": Part(("seating.film", "carrying.film_wiped"), ("seat-film", "film-thin")),
    "carrying": Part(
        ("heating.at_seat", "seating.went_home", "carrying.side_called"), ("slid-on", "went-home")
    ),
    "seating": Part(
        (
            "seating.went_home", "seating.hammered", "seating.dropped", "seating.held_by",
            "carrying.twisted", "carrying.hold_torque", "carrying.hold_force",
        ),
        ("not-hammered", "not-dropped", "held", "pressed-home", "went-home"),
    ),
    "pair and spacers": Part(
        (
            "arrangement.arranged_on_drawing", "arrangement.arranged", "arrangement.marked_face",
            "arrangement.pair_serials", "arrangement.pair_marks", "arrangement.thrust_side",
            "arrangement.spacer_width", "arrangement.spacer_parallel",
        ),
        ("arranged-as-drawn", "marked-face", "pair-marks", "spacer-width", "spacer-parallel"),
    ),
    "shoulder gap": Part(
        ("shoulder_gap.gap", "cooling_down.tightened_again"),
        ("shoulder-gap", "gap-plane", "cold-when-checked", "tightened-again"),
    ),
    "ring face run-out": Part(("face.face_runout", "face.face_dial"), ("face-runout",)),
    "clearance after": Part(
        ("clearance_after.g1", "rows_after.g1_second_row"),
        ("clearance-found", "clearance-as-forecast", "rows-agree-after"),
    ),
    "end play": Part(
        ("end_play.end_play", "end_play.drag_torque", "end_play.shims_new", "end_play.nut_torque"),
        ("end-play", "drag-torque", "play-and-clearance"),
    ),
    "free rotation": Part(
        ("running.turns", "running.spot_at", "running.sound"), ("turns-freely", "runs-quietly")
    ),
    "lubricant": Part(
        (
            "lubrication.product", "lubrication.batch", "lubrication.mass", "lubrication.cavity_mass",
            "lubrication.beside_old",
        ),
        ("lubricant-as-asked", "grease-fill", "agrees-with-old"),
    ),
    "protection": Part(
        (
            "protection.covered", "protection.wrap", "resting.covered_within", "resting.preservative",
            "resting.rotor_locked", "resting.turned_weekly",
        ),
        ("covered", "covered-soon", "rotor-locked", "turned-weekly"),
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Damage:
    """One damage as an auditor sees it. `first` are the answers and rules (`rule:…`) to look at before all
    others; `suspects` the parts of the work from the likeliest to the least. `mounting` is False for a damage
    that no mounting makes."""

    id: str
    group: str
    clause: str
    suspects: tuple[str, ...]
    first: tuple[str, ...]
    mounting: bool = True
    group_source: str = GROUP_SOURCE
    source: str = SUSPECTS_SOURCE


_GAP = ("shoulder_gap.gap", "rule:shoulder-gap", "preparation.fillet")
DAMAGES: tuple[Damage, ...] = (
    Damage(
        "flaking-all-round", "5.1", "5.1.2",
        ("clearance before", "fit", "journal", "clearance after", "peak"),
        ("clearance_before.g0", "rule:interference", "clearance_after.g1", "rule:clearance-forecast",
         "heating.peak"),
    ),
    Damage(
        "oblique-track", "5.1", "5.1.2, 5.1.3",
        ("shoulder gap", "ring face run-out", "shoulder run-out", "form of the journal",
         "fillet and shoulder", "seating"),
        (*_GAP, "shoulder.runout", "shoulder.fillet_radius", "seating.held_by", "rule:pressed-home"),
    ),
    Damage(
        "one-sided-track", "5.1", "5.1",
        ("housing and floating side", "pair and spacers", "end play", "shoulder gap"),
        ("housing.room_outward", "housing.room_inward", "housing.floats", "end_play.end_play",
         "shoulder_gap.gap"),
    ),
    Damage(
        "grey-micro-pits", "5.1", "5.1.3",
        ("lubricant", "storage", "protection", "residual field"),
        ("lubrication.batch", "lubrication.mass", "resting.covered_within", "protection.covered",
         "demagnetisation.field"),
    ),
    Damage(
        "lapped-dull", "5.2", "5.2.2",
        ("storage", "seat as seen", "temperatures when measured", "residual field", "protection"),
        ("storage.open_for", "environment.dust", "identification.package", "preparation.wiped",
         "demagnetisation.field"),
    ),
    Damage(
        "smeared", "5.2", "5.2.3",
        ("end play", "lubricant", "clearance before", "free rotation"),
        ("clearance_after.g1", "end_play.end_play", "lubrication.mass", "clearance_before.g0",
         "running.turns"),
    ),
    Damage(
        "ring-turned-on-shaft", "5.2", "5.2.3",
        ("fit", "journal", "bore", "gauge", "temperatures when measured", "roughness", "form of the journal"),
        ("measurement.journal", "rule:interference", "measurement.gauge", "rule:gauge-in-date",
         "rule:one-temperature", "roughness.ra"),
    ),
    Damage(
        "rust", "5.3", "5.3.2",
        ("storage", "protection", "seat as seen"),
        ("storage.store_humidity", "storage.open_for", "storage.preserved", "resting.preservative",
         "identification.package", "protection.covered"),
    ),
    Damage(
        "fretting-rust-in-bore", "5.3", "5.3.3.2",
        ("fit", "journal", "form of the journal", "roughness", "seat film", "seating"),
        ("rule:interference", "rule:journal-taper", "measurement.journal", "roughness.ra", "seating.film"),
    ),
    Damage(
        "dents-without-rim", "5.3", "5.3.3.3",
        ("protection", "storage", "free rotation"),
        ("resting.rotor_locked", "storage.store_shaken", "resting.turned_weekly", "protection.covered",
         "running.turns"),
    ),
    Damage(
        "fluting-craters", "5.4", "5.4",
        ("order", "lubricant", "residual field"),
        ("work_order.drawing_in_hand", "lubrication.product", "demagnetisation.field",
         "identification.marking"),
        mounting=False,
    ),
    Damage(
        "dents-at-pitch", "5.5", "5.5.2",
        ("seating", "carrying", "ring difference", "pair and spacers"),
        ("seating.hammered", "seating.went_home", "seating.dropped", "heating.peak", "heating.peak_outer",
         "rule:ring-difference", "heat_check.turned_hot"),
    ),
    Damage(
        "axial-scratches", "5.5", "5.5.2",
        ("pair and spacers", "seating"),
        ("arrangement.arranged", "seating.went_home", "seating.hammered"),
    ),
    Damage(
        "scattered-dents", "5.5", "5.5.3",
        ("storage", "seat as seen", "residual field", "protection", "lubricant"),
        ("demagnetisation.field", "preparation.wiped", "storage.open_for", "environment.dust",
         "lubrication.batch", "protection.covered"),
    ),
    Damage(
        "chipped-rim", "5.6", "5.6.2",
        ("seating", "fillet and shoulder", "carrying"),
        ("seating.hammered", "seating.dropped", "shoulder.height", "preparation.fillet"),
    ),
    Damage(
        "crack-through-inner-ring", "5.6", "5.6.3",
        ("fit", "form of the journal", "fillet and shoulder", "seat as seen"),
        ("rule:interference", "measurement.journal", "seat_look.nicks", "preparation.edge_burrs",
         "preparation.shoulder_burrs"),
    ),
    Damage(
        "heat-cracks", "5.6", "5.6.4",
        ("peak", "ring difference", "fit", "end play"),
        ("heating.peak", "heating.probe", "heat_check.above_target_for", "rule:peak-temperature",
         "rule:heatings", "rule:log-ceiling"),
    ),
    Damage(
        "cage-broken", "", "",
        ("ring face run-out", "shoulder gap", "peak", "seating"),
        ("face.face_runout", "shoulder_gap.gap", "heating.peak", "seating.hammered"),
    ),
    Damage(
        "hot-from-day-one", "", "",
        ("clearance before", "clearance after", "end play", "housing and floating side", "lubricant"),
        ("clearance_after.g1", "end_play.end_play", "housing.room_outward", "lubrication.mass",
         "clearance_before.g0", "rule:clearance-forecast"),
    ),
    Damage(
        "pair-reversed", "", "",
        ("pair and spacers", "identity"),
        ("arrangement.marked_face", "arrangement.pair_marks", "arrangement.pair_serials",
         "identification.marking"),
    ),
)  # fmt: skip
BY_ID: Mapping[str, Damage] = {damage.id: damage for damage in DAMAGES}
UNKNOWN = "none of these"
"""A damage was seen and is none of the rows."""


def fields_of(damage: Damage) -> tuple[str, ...]:
    """Every answer and rule that the suspects name, without what is looked at first."""
    named = [
        place
        for part in damage.suspects
        for place in (*PARTS[part].fields, *(f"rule:{rule}" for rule in PARTS[part].rules))
    ]
    return tuple(place for place in dict.fromkeys(named) if place not in damage.first)
