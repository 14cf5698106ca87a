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
    "order": Part(rules=("as-ordered",)),
    "identity": Part(
        ("identification.marking", "identification.serial", "identification.lot", "identification.date_code"),
        ("ring-marking", "own-reading"),
    ),
    "storage": Part(("identification.package",), ("package-intact",)),
    "seat as seen": Part(
        ("preparation.edge_burrs", "preparation.shoulder_burrs", "preparation.wiped"),
        ("edge-burrs", "shoulder-burrs", "wiped-clean"),
    ),
    "fillet and shoulder": Part(("preparation.fillet",), ("fillet-clears",)),
    "shoulder run-out": Part(),
    "form of the journal": Part(("measurement.journal",), ("journal-roundness", "journal-taper")),
    "roughness": Part(),
    "temperatures when measured": Part(
        ("measurement.shaft", "measurement.bearing", "measurement.gauge_temp", "measurement.air"),
        ("one-temperature",),
    ),
    "gauge": Part(
        ("measurement.gauge", "measurement.master_before", "measurement.master_after"),
        ("gauge-in-date", "gauge-fine-enough", "master-check"),
    ),
    "journal": Part(("measurement.journal",), ("journal-size",)),
    "bore": Part(("bore.bore", "bore.source"), ("bore-in-class",)),
    "fit": Part(rules=("interference", "journal-size", "bore-in-class", "released-before-heat")),
    "clearance before": Part(
        ("clearance_before.g0", "clearance_before.method"), ("clearance-in-group", "clearance-forecast")
    ),
    "housing and floating side": Part(),
    "ring difference": Part(("heating.peak", "heating.peak_outer"), ("ring-difference",)),
    "peak": Part(
        ("heating.peak", "heating.probe", "heating.cross_check", "heating.set_to"),
        ("peak-temperature", "probe-on-inner-ring", "log-ceiling", "heatings"),
    ),
    "residual field": Part(
        ("demagnetisation.field", "demagnetisation.where", "demagnetisation.cycle"),
        ("residual-field", "demagnetised"),
    ),
    "seat film": Part(("seating.film",), ("seat-film",)),
    "carrying": Part(("heating.at_seat", "seating.went_home"), ("slid-on", "went-home")),
    "seating": Part(
        ("seating.went_home", "seating.hammered", "seating.dropped", "seating.held_by"),
        ("not-hammered", "not-dropped", "held", "pressed-home", "went-home"),
    ),
    "pair and spacers": Part(),
    "shoulder gap": Part(("shoulder_gap.gap",), ("shoulder-gap", "gap-plane", "cold-when-checked")),
    "ring face run-out": Part(),
    "clearance after": Part(("clearance_after.g1",), ("clearance-found", "clearance-as-forecast")),
    "end play": Part(),
    "free rotation": Part(("running.turns",), ("turns-freely",)),
    "lubricant": Part(),
    "protection": Part(("protection.covered", "protection.wrap"), ("covered",)),
}


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
        (*_GAP, "seating.held_by", "rule:pressed-home"),
    ),
    Damage(
        "one-sided-track", "5.1", "5.1",
        ("housing and floating side", "pair and spacers", "end play", "shoulder gap"),
        ("shoulder_gap.gap", "rule:shoulder-gap"),
    ),
    Damage(
        "grey-micro-pits", "5.1", "5.1.3",
        ("lubricant", "storage", "protection", "residual field"),
        ("protection.covered", "demagnetisation.field", "identification.package"),
    ),
    Damage(
        "lapped-dull", "5.2", "5.2.2",
        ("storage", "seat as seen", "temperatures when measured", "residual field", "protection"),
        ("identification.package", "preparation.wiped", "demagnetisation.field"),
    ),
    Damage(
        "smeared", "5.2", "5.2.3",
        ("end play", "lubricant", "clearance before", "free rotation"),
        ("clearance_after.g1", "clearance_before.g0", "running.turns"),
    ),
    Damage(
        "ring-turned-on-shaft", "5.2", "5.2.3",
        ("fit", "journal", "bore", "gauge", "temperatures when measured", "roughness", "form of the journal"),
        ("measurement.journal", "rule:interference", "measurement.gauge", "rule:gauge-in-date",
         "rule:one-temperature"),
    ),
    Damage(
        "rust", "5.3", "5.3.2",
        ("storage", "protection", "seat as seen"),
        ("identification.package", "protection.covered", "protection.wrap"),
    ),
    Damage(
        "fretting-rust-in-bore", "5.3", "5.3.3.2",
        ("fit", "journal", "form of the journal", "roughness", "seat film", "seating"),
        ("rule:interference", "rule:journal-taper", "measurement.journal", "seating.film"),
    ),
    Damage(
        "dents-without-rim", "5.3", "5.3.3.3",
        ("protection", "storage", "free rotation"),
        ("protection.covered", "identification.package", "running.turns"),
    ),
    Damage(
        "fluting-craters", "5.4", "5.4",
        ("order", "lubricant", "residual field"),
        ("demagnetisation.field", "identification.marking"),
        mounting=False,
    ),
    Damage(
        "dents-at-pitch", "5.5", "5.5.2",
        ("seating", "carrying", "ring difference", "pair and spacers"),
        ("seating.hammered", "seating.went_home", "seating.dropped", "heating.peak", "heating.peak_outer",
         "rule:ring-difference"),
    ),
    Damage(
        "axial-scratches", "5.5", "5.5.2",
        ("pair and spacers", "seating"),
        ("seating.went_home", "seating.hammered"),
    ),
    Damage(
        "scattered-dents", "5.5", "5.5.3",
        ("storage", "seat as seen", "residual field", "protection", "lubricant"),
        ("demagnetisation.field", "preparation.wiped", "identification.package", "protection.covered"),
    ),
    Damage(
        "chipped-rim", "5.6", "5.6.2",
        ("seating", "fillet and shoulder", "carrying"),
        ("seating.hammered", "seating.dropped", "preparation.fillet"),
    ),
    Damage(
        "crack-through-inner-ring", "5.6", "5.6.3",
        ("fit", "form of the journal", "fillet and shoulder", "seat as seen"),
        ("rule:interference", "measurement.journal", "preparation.edge_burrs", "preparation.shoulder_burrs"),
    ),
    Damage(
        "heat-cracks", "5.6", "5.6.4",
        ("peak", "ring difference", "fit", "end play"),
        ("heating.peak", "heating.probe", "rule:peak-temperature", "rule:heatings", "rule:log-ceiling"),
    ),
    Damage(
        "cage-broken", "", "",
        ("ring face run-out", "shoulder gap", "peak", "seating"),
        ("shoulder_gap.gap", "heating.peak", "seating.hammered"),
    ),
    Damage(
        "hot-from-day-one", "", "",
        ("clearance before", "clearance after", "end play", "housing and floating side", "lubricant"),
        ("clearance_after.g1", "clearance_before.g0", "rule:clearance-forecast"),
    ),
    Damage(
        "pair-reversed", "", "",
        ("pair and spacers", "identity"),
        ("identification.marking", "identification.serial"),
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
