"""Row 26: second bearing, spacer, orientation."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, OUT, SILENT, Ruled, chosen

THICK = {"10 times": "spacers are 200 mm wide"}

SOUND: dict[str, Any] = {
    "arranged_on_drawing": "single", "arranged": "single", "marked_face": "outward", "pair_marks": "none",
    "lock_tab": "none", "spacer_width": ("20.002", "mm"), "spacer_least": ("19.995", "mm"),
    "spacer_most": ("20.005", "mm"), "spacer_parallel": ("4", "um"),
}  # fmt: skip
RULED = (
    Ruled("arranged-as-drawn", "arrangement", chosen("arrangement___arranged"), "face to face", OUT, ASKED,
          "a pair the wrong way round has no preload"),
    Ruled("arranged-as-drawn", "drawing", chosen("arrangement___arranged_on_drawing"), "tandem", OUT, ASKED,
          "nobody knows which way without the drawing"),
    Ruled("marked-face", "face", chosen("arrangement___marked_face"), "inward", OUT, ASKED,
          "marked face visible"),
    Ruled("pair-marks", "marks", chosen("arrangement___pair_marks"), "not in line", OUT, ASKED,
          "a pair runs true as it was marked"),
    Ruled("lock-tab", "tab", chosen("arrangement___lock_tab"), "not bent in", OUT, ASKED,
          "a tab that is not bent in lets the nut come off"),
    Ruled("spacer-width", "width", chosen("arrangement___spacer_width"), ("20.01", "mm"), OUT, SILENT,
          "where a spacer is in"),
    Ruled("spacer-width", "least", chosen("arrangement___spacer_least"), ("20.004", "mm"), OUT, ASKED,
          "the drawing says between what"),
    Ruled("spacer-parallel", "parallel", chosen("arrangement___spacer_parallel"), ("14", "um"), OUT, ASKED,
          "as square as a shoulder"),
    Ruled("spacer-parallel", "width", chosen("arrangement___spacer_width"), None, IN, SILENT,
          "no spacer, nothing to be parallel"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "arrangement.spacer_width": Row("20", "0.5…500 mm", THICK, unit="mm"),
    "arrangement.spacer_least": Row("20", "0.5…500 mm", THICK, unit="mm"),
    "arrangement.spacer_most": Row("20", "0.5…500 mm", THICK, unit="mm"),
    "arrangement.spacer_parallel": Row(
        "4", "0…60 um", {"10 times": "40 µm is a fact, and judged"}, unit="um"
    ),
}


def test_row_26_second_bearing_spacer_orientation() -> None:
    """A pair drawn back to back and mounted face to face: seen by its marks, whatever the numbers say."""
    changes = {"arranged_on_drawing": "back to back", "arranged": "face to face", "pair_marks": "in line"}
    book = sound(procedure=everything(), **{f"arrangement___{key}": said for key, said in changes.items()})
    (found,) = book.rule("arranged-as-drawn")
    assert (found.facts["said"], found.facts["wanted"]) == ("face to face", "back to back")
    assert book.flags() == {"arranged-as-drawn": "nonconforming"}
