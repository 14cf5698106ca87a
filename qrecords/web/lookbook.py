"""The look-book: every part of the look on pages fed with invented values. Served only while DEBUG is on."""

from typing import Any

from qrecords.web.parts import VERDICTS, Cell, Said, Sentence, Step, Strip, Verdict

Page = tuple[str, dict[str, Any]]


def frames() -> Page:
    """Six words, two wordings."""
    pairs = [(Verdict(kind), Verdict(kind, iso=True)) for kind in VERDICTS]
    return "lookbook/frames.html", {"frames": pairs}


def measure() -> Page:
    """The fitter measures a journal that is out at one plane."""
    return "lookbook/measure.html", {
        "strip": Strip("O. Brandreth", "14:06", 3),
        "title_block": (
            Cell("mounting", "26-0214", strong=True),
            Cell("bearing", "6316 C3"),
            Cell("seat", "80 k5", upper="+15", lower="+2", unit="µm"),
            Cell("place", "Sallowmere water works · pump motor · DE", own_row=True),
        ),
        "steps": (
            Step("Receive", "done"),
            Step("Measure", "here", hold="open"),
            Step("Heat", "later"),
            Step("Check cold", "later", hold="open"),
            Step("Close", "later"),
        ),
        "said": Said(
            Verdict("nonconforming"),
            (
                Sentence("C at 60° is −6:", "8 µm under +2."),
                Sentence("Taper (8,1),", "allowed 6,5."),
                Sentence("", "The mean (+3,6) hides both."),
                Sentence("", "Heat waits for the inspector.", follows=True),
            ),
        ),
    }


def pages() -> dict[str, Page]:
    """Every page of the look-book by name."""
    return {"frames": frames(), "measure": measure()}
