"""The drawing symbol beside a characteristic, by its rule (shapes after ISO 1101 where there is one)."""

from collections.abc import Mapping

SYMBOLS: Mapping[str, str] = {
    "journal-size": "diameter",
    "journal-readings": "diameter",
    "bore-in-class": "diameter",
    "gauge-fine-enough": "diameter",
    "master-check": "diameter",
    "journal-roundness": "form",
    "journal-taper": "form",
    "interference": "interference",
    "slid-on": "interference",
    "one-temperature": "temperature",
    "peak-temperature": "temperature",
    "probe-on-inner-ring": "temperature",
    "ring-difference": "temperature",
    "log-ceiling": "temperature",
    "log-as-typed": "temperature",
    "log-against-taps": "time",
    "log-energy": "time",
    "cold-when-checked": "temperature",
    "pressed-home": "time",
    "released-before-heat": "time",
    "shoulder-gap": "gap",
    "gap-plane": "gap",
    "clearance-in-group": "clearance",
    "clearance-forecast": "clearance",
    "clearance-found": "clearance",
    "clearance-as-forecast": "clearance",
    "demagnetised": "field",
    "residual-field": "field",
    "turns-freely": "runout",
    "seat-film": "grease",
}


def symbol_of(rule: str) -> str:
    """A name in `parts/symbol.html`; a sheet of paper for what no drawing symbol shows."""
    return SYMBOLS.get(rule, "paper")
