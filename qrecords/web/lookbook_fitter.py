"""Invented values for the fitter's pages of the look-book."""

from typing import Any

from qrecords.web.parts import (
    Blade,
    Cell,
    ChainTap,
    GridCell,
    GridPlane,
    GridRow,
    HotTap,
    Keypad,
    ReadingGrid,
    Safety,
    Said,
    Sentence,
    Step,
    Strip,
    Tap,
    Undo,
    Verdict,
)
from qrecords.web.pictures.gap_dial import Gap, Tilt, gap_dial
from qrecords.web.pictures.heat_window import LOW, TALL, HeatWindow, Paper, heat_window
from qrecords.web.pictures.tolerance import PHONE_LOW, Plane, Reading, Seat, tolerance_picture
from qrecords.wording.figures import Figures

Page = tuple[str, dict[str, Any]]
COMMA = Figures(",")
PLANES = (Plane("A", 6), Plane("B", 19), Plane("C", 32))


def _steps(here: int, released: int = 0) -> tuple[Step, ...]:
    words = ("Receive", "Measure", "Heat", "Check cold", "Close")
    holds = {1: "released" if released else "open", 3: "open"}
    return tuple(
        Step(
            word,
            "done" if number < here else "here" if number == here else "later",
            hold=holds.get(number, ""),
        )
        for number, word in enumerate(words)
    )


def _grid() -> ReadingGrid:
    typed = (("+11", "+6", "−5"), ("+10", "+5", "−6"), ("+11", "+6", ""))
    rows = []
    for caption, row in zip(("0° key", "60°", "120°"), typed, strict=True):
        cells = tuple(
            GridCell(
                f"{plane.name}-{caption[:-1]}",
                value,
                f"{plane.name} {caption}",
                "out" if value.startswith("−") else "",
                current=value == "−6",
            )
            for plane, value in zip(PLANES, row, strict=True)
        )
        rows.append(GridRow(caption, cells))
    planes = (GridPlane("A", "6 mm"), GridPlane("B", "19"), GridPlane("C", "32"))
    return ReadingGrid("Readings, µm from 80 mm", planes, tuple(rows), corner="shoulder")


def measure() -> Page:
    """A journal that is out at one plane while the mean looks well."""
    seat = Seat(2_000, 15_000, 38.4, PLANES, guard_nm=1_000)
    typed = [(0, 0, 11), (0, 1, 10), (0, 2, 11), (1, 0, 6), (1, 1, 5), (1, 2, 6), (2, 0, -5), (2, 1, -6)]
    readings = tuple(
        Reading(plane, place, um * 1000, "out" if um < 2 else "in", newest=um == -6)
        for plane, place, um in typed
    )
    return "lookbook/measure.html", {
        "strip": Strip("O. Brandreth", "14:06", 3),
        "title_block": (
            Cell("mounting", "26-0214", strong=True),
            Cell("bearing", "6316 C3"),
            Cell("seat", "80 k5", upper="+15", lower="+2", unit="µm"),
            Cell("place", "Sallowmere water works · pump motor · DE", own_row=True),
        ),
        "steps": _steps(1),
        "picture": tolerance_picture(seat, readings, figures=COMMA, prefix="seat"),
        "low_picture": tolerance_picture(seat, readings, figures=COMMA, prefix="low", paper=PHONE_LOW),
        "grid": _grid(),
        "keypad": Keypad(("µm", "from 80")),
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


def _window(prefix: str, paper: Paper, *, on_its_way: bool = True) -> HeatWindow:
    return heat_window(
        ceiling_mdegc=80_000,
        must_be_mdegc=60_000,
        at_least_mdegc=68_200 if on_its_way else None,
        figures=COMMA,
        prefix=prefix,
        paper=paper,
    )


def heat() -> Page:
    """A sealed bearing on its way from heater to seat."""
    return "lookbook/heat.html", {
        "strip": Strip("O. Brandreth", "14:06", 5),
        "title_block": (
            Cell("mounting", "26-0233", strong=True),
            Cell("bearing", "6309, two seals"),
            Cell("seat", "45 k5"),
            Cell("place", "Ostrey tram depot · vent fan · DE", own_row=True),
        ),
        "taps": (
            ChainTap("heater on", "done", "13:58:40", "2026-11-12T13:58:40Z"),
            ChainTap("lifted off", "done", "14:06:12", "2026-11-12T14:06:12Z"),
            ChainTap("home", "here"),
            ChainTap("let go", "later"),
        ),
        "window": _window("window", TALL),
        "low_window": _window("low", LOW),
        "seconds": "159",
        "seconds_words": "seconds left to carry",
        "hot": HotTap("home", "home", "tap, and keep pressing 35 s"),
        "undo": Undo("undo “lifted off”", "0", seconds="4"),
        "safety": Safety(),
    }


def hold() -> Page:
    """Home: the ring is pressed against its shoulder, 21 s to go."""
    template, context = heat()
    taps = (
        *context["taps"][:2],
        ChainTap("home", "done", "14:07:02", "2026-11-12T14:07:02Z"),
        ChainTap("let go", "here"),
    )
    return template, context | {
        "taps": taps,
        "window": _window("window", TALL, on_its_way=False),
        "low_window": _window("low", LOW, on_its_way=False),
        "seconds": "21",
        "seconds_words": "seconds to press",
        "hot": HotTap("let-go", "let go", "keep pressing 21 s", holding=True),
        "undo": Undo("undo “home”", "0", seconds="8"),
        "safety": Safety("Never hammer or flame."),
    }


def gloves() -> Page:
    """The measuring page of a left-handed fitter in gloves."""
    template, context = measure()
    return template, context | {"gloves": True, "left_handed": True}


def cold() -> Page:
    """A tilted ring against its shoulder, the fourth quarter just chosen."""
    gaps = (Gap(0, 0), Gap(90, 50_000, "out"), Gap(180, 80_000, "out"), Gap(270, 30_000, "out"))
    return "lookbook/cold.html", {
        "strip": Strip("O. Brandreth", "15:32", 2),
        "title_block": (
            Cell("mounting", "26-0220", strong=True),
            Cell("bearing", "6310 C3"),
            Cell("ring, shaft", "16 °C, 14 °C"),
            Cell("place", "MV Corrow Light · mooring winch · DE", own_row=True),
        ),
        "steps": _steps(3, released=1),
        "dial": gap_dial(
            gaps, figures=COMMA, prefix="dial", chosen_deg=270, tilt=Tilt(40_000, -40_000, 10_000)
        ),
        "blades": (
            Blade("0,03 does not go in", "0", none=True),
            *(Blade(mm, mm, chosen=mm == "0,03") for mm in ("0,03", "0,04", "0,05", "0,06", "0,08", "0,10")),
            Blade("more", "more"),
            Blade("cannot reach", "not-possible"),
        ),
        "said": Said(
            Verdict("nonconforming"),
            (
                Sentence("0,08 goes in at 180°.", "Tilted, not dirty:"),
                Sentence("", "0 + 0,08 ≈ 0,05 + 0,03."),
            ),
        ),
        "tap": Tap("stop here, call the inspector", "next", wide=True),
        "safety": Safety("Never tap a ring on cold.", worked_out=False),
    }
