"""Row 30: end play and preload."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, LOOK, NONE, OUT, SILENT, Ruled, chosen

PLAY = "so much play is a fact, and judged"
WIDER = {"10 times": PLAY, "25.4 times": PLAY}
FORCE = {"10 times": "a large shaft is moved with kN", "25.4 times": "the same"}
DRAG = {"10 times": "a large pair drags so", "25.4 times": "the same"}

SOUND: dict[str, Any] = {
    "drawing_asks": "both", "play_least": ("0.1", "mm"), "play_most": ("0.2", "mm"), "end_play": ("0.14",
    "mm"),
    "play_dial": "dial", "play_force": ("100", "N"), "turns_before": ("10", "turns"),
    "shims_old": "0.5 + 0.1",
    "shims_new": "0.5", "nut_angle": ("30", "°"), "nut_torque": ("80", "N·m"), "drag_least": ("0.2", "N·m"),
    "drag_most": ("0.6", "N·m"), "drag_torque": ("0.4", "N·m"),
}  # fmt: skip
RULED = (
    Ruled("play-asked", "asked", chosen("end_play___drawing_asks"), None, IN, ASKED,
          "what nobody asked for nobody checks"),
    Ruled("end-play", "play", chosen("end_play___end_play"), ("0.21", "mm"), OUT, ASKED,
          "too little runs hot, too much skids"),
    Ruled("end-play", "least", chosen("end_play___play_least"), ("0.15", "mm"), OUT, ASKED,
          "the drawing says between what"),
    Ruled("end-play", "asked", chosen("end_play___drawing_asks"), "neither", NONE, SILENT,
          "where the drawing asks none, none is judged"),
    Ruled("drag-torque", "drag", chosen("end_play___drag_torque"), ("0.7", "N·m"), OUT, ASKED,
          "preload is felt as drag"),
    Ruled("drag-torque", "asked", chosen("end_play___drawing_asks"), "end play", NONE, SILENT,
          "the same"),
    Ruled("play-and-clearance", "play", chosen("end_play___end_play"), ("1.4", "mm"), LOOK, SILENT,
          "a dial that is set wrong is wrong by ten"),
    Ruled("play-and-clearance", "G1", chosen("clearance_after___g1"), ("2", "um"), LOOK, SILENT,
          "compared only where both were measured"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "end_play.play_least": Row("0.1", "0…3 mm", WIDER, unit="mm"),
    "end_play.play_most": Row("0.2", "0…3 mm", {"10 times": PLAY}, unit="mm"),
    "end_play.end_play": Row("0.14", "0…3 mm", {"10 times": PLAY}, unit="mm"),
    "end_play.play_force": Row("100", "0…20000 N", FORCE, unit="N"),
    "end_play.turns_before": Row(
        "10", "0…200 turns", {"10 times": "100 turns are fewer than a run"}, unit="turns"
    ),
    "end_play.nut_angle": Row("30", "0…360 °", {"10 times": "300° is a turn less sixty"}, unit="°"),
    "end_play.nut_torque": Row("200", "0…5000 N·m", {"10 times": "a large nut takes that"}, unit="N·m"),
    "end_play.drag_least": Row("2", "0…200 N·m", DRAG, unit="N·m"),
    "end_play.drag_most": Row("6", "0…200 N·m", DRAG, unit="N·m"),
    "end_play.drag_torque": Row("4", "0…200 N·m", DRAG, unit="N·m"),
}


def test_row_30_end_play_and_preload() -> None:
    """Inch limits as typed: 0.0055 in where 0.002 to 0.004 in are wanted; shims before and after stand."""
    inch = {"play_least": ("0.002", "in"), "play_most": ("0.004", "in"), "end_play": ("0.0055", "in")}
    book = sound(procedure=everything(), **{f"end_play___{key}": said for key, said in inch.items()})
    (found,) = book.rule("end-play")
    assert (found.verdict, found.value, found.upper) == ("nonconforming", 139_700, 101_600)
    mended = sound(procedure=everything(), end_play___end_play=("0.0055", "in"))
    assert mended.rule("end-play")[0].verdict == "conforming"
    assert mended.case().value_of("end_play", "shims_old") is not None


def test_cross_check_end_play_against_clearance() -> None:
    """0.14 mm is 9 times 16 µm: usual. Ten times off, up or down, is asked about; a roller bearing never."""
    found = {
        mm: chosen("end_play___end_play")((mm, "mm")).rule("play-and-clearance")[0]
        for mm in ("0.14", "1.4", "0.014")
    }
    assert [each.verdict.value for each in found.values()] == ["conforming", "query", "query"]
    assert found["0.14"].facts["times"] == 9
    roller = chosen("end_play___end_play", clearance_kind="cylindrical_roller_cyl_bore")
    assert roller(("1.4", "mm")).rule("play-and-clearance") == []
