"""Rows 6 and 7: fillet, chamfer, height and squareness of the shoulder."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, JUDGED, NONE, OUT, SILENT, Ruled, chosen

SOUND: dict[str, Any] = {
    "chamfer": ("1.5", "mm"), "undercut": "no", "fillet_radius": ("1.2", "mm"), "radius_gauge": "R-3",
    "height": ("4.5", "mm"), "runout": ("8", "um"), "dial": "dial",
}  # fmt: skip
RULED = (
    Ruled("fillet-radius", "radius", chosen("shoulder___fillet_radius"), ("1.6", "mm"), OUT, ASKED,
          "a ring that rides on the fillet sits tilted"),
    Ruled("fillet-radius", "chamfer", chosen("shoulder___chamfer"), ("1.1", "mm"), OUT, ASKED,
          "without the chamfer nobody knows whether it clears"),
    Ruled("fillet-radius", "undercut", chosen("shoulder___undercut"), "yes", NONE, JUDGED,
          "with an undercut there is no fillet to ride on"),
    Ruled("shoulder-height", "height", chosen("shoulder___height"), ("4.2", "mm"), OUT, ASKED,
          "a low shoulder is crushed"),
    Ruled("shoulder-height", "chamfer", chosen("shoulder___chamfer"), ("3", "mm"), OUT, SILENT,
          "of no known chamfer no height is known; that it lacks is told of the fillet"),
    Ruled("shoulder-runout", "run-out", chosen("shoulder___runout"), ("14", "um"), OUT, ASKED,
          "ruling 9: optional but where it was chosen; a ring wobbles with its shoulder"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "shoulder.chamfer": Row("1.5", "0.3…9 mm", unit="mm"),
    "shoulder.fillet_radius": Row("1.2", "0.2…6 mm", unit="mm"),
    "shoulder.height": Row("4.5", "1…20 mm", unit="mm"),
    "shoulder.runout": Row("8", "0…60 um", unit="um"),
}


def fillet(chamfer: str, radius: str) -> str:
    changes = {"shoulder___chamfer": (chamfer, "mm"), "shoulder___fillet_radius": (radius, "mm")}
    return sound(procedure=everything(), **changes).rule("fillet-radius")[0].verdict.value


def test_row_06_fillet_chamfer_and_shoulder_height() -> None:
    """The table's own radii, between its rows those of the lower one; no guard (ruling 2)."""
    assert [fillet(c, r) for c, r in (("1.1", "1"), ("2.1", "2"), ("3", "2.5"), ("4", "3"))] == [
        "conforming"
    ] * 4
    assert [fillet(c, r) for c, r in (("1.1", "1.1"), ("2.1", "2.1"), ("3", "2.6"))] == ["nonconforming"] * 3
    assert (fillet("1.7", "1.5"), fillet("1.7", "1.6")) == ("conforming", "nonconforming")
    assert (fillet("2.9", "2"), fillet("2.9", "2.1")) == ("conforming", "nonconforming")
    assert (fillet("5", "4"), fillet("5", "4.1")) == ("conforming", "nonconforming")
    assert (fillet("0.6", "0.6"), fillet("0.6", "0.7")) == ("conforming", "nonconforming")
    assert (fillet("1.05", "1"), fillet("1.05", "1.05")) == ("conforming", "nonconforming")
    at_height = {
        h: chosen("shoulder___height")((h, "mm")).rule("shoulder-height")[0] for h in ("4.25", "4.24")
    }
    assert [found.verdict.value for found in at_height.values()] == ["conforming", "nonconforming"]
    assert at_height["4.25"].unconfirmed == ("JIS B 1566, from memory",)


def test_the_shoulder_is_high_enough_for_the_next_lower_chamfer_of_the_table() -> None:
    heights = {c: chosen("shoulder___chamfer")((c, "mm")).rule("shoulder-height") for c in ("2.9", "5", "9")}
    assert {c: found[0].lower for c, found in heights.items()} == {
        "2.9": 6_000_000,
        "5": 11_000_000,
        "9": 18_000_000,
    }
    assert chosen("shoulder___chamfer")(("1", "mm")).rule("shoulder-height") == []


def test_row_07_shoulder_squareness() -> None:
    """IT5 of 60 mm is 13 µm, IT4 8 µm and IT3 5 µm (ISO 286): by the class of the bearing."""
    limits = {}
    for of_class in ("Normal", "6", "5", "P4"):
        book = sound(procedure=everything())
        book.requirement["bore_class"] = of_class
        limits[of_class] = book.rule("shoulder-runout")[0].upper
    assert limits == {"Normal": 13_000, "6": 8_000, "5": 5_000, "P4": 5_000}
    assert [runs_out(um) for um in ("13", "13.1")] == ["conforming", "nonconforming"]


def runs_out(um: str) -> str:
    return (
        sound(procedure=everything(), shoulder___runout=(um, "um")).rule("shoulder-runout")[0].verdict.value
    )
