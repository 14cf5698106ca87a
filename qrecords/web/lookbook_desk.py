"""Invented values for the desktop pages and the certificate of the look-book."""

from datetime import UTC, date, datetime
from typing import Any

from qrecords.engineering.charts import xbar_r
from qrecords.web.lookbook_drawings import probable
from qrecords.web.parts import (
    VERDICTS,
    Bar,
    Cell,
    Comparison,
    ComparisonRow,
    Field,
    FindingRow,
    GridCell,
    GridPlane,
    GridRow,
    HeatingPlan,
    NavItem,
    ReadingGrid,
    Safety,
    SheetBlock,
    Signature,
    Tap,
    Verdict,
    Working,
)
from qrecords.web.pictures.bound import bound_picture
from qrecords.web.pictures.clearance import Bearing, clearance_picture
from qrecords.web.pictures.fit import Part, fit_picture
from qrecords.web.pictures.heat_curve import Curve, Note, heat_curve
from qrecords.web.pictures.timeline import Event, day, life
from qrecords.web.pictures.tolerance import DESK, Plane, Reading, Seat, TolerancePicture, tolerance_picture
from qrecords.web.pictures.xbar_r import XbarRPicture, courses, xbar_r_picture
from qrecords.wording.figures import Figures

Page = tuple[str, dict[str, Any]]
COMMA = Figures(",")
PI = (
    "1415926535897932384626433832795028841971693993751058209749445923078164"
    "0628620899862803482534211706798214808651328230664709384460955058223172"
)
PLANES = (Plane("A", 7), Plane("B", 20), Plane("C", 33))


def frames() -> Page:
    """Six words, two wordings."""
    pairs = [(Verdict(kind), Verdict(kind, iso=True)) for kind in VERDICTS]
    return "lookbook/frames.html", {"frames": pairs}


def _bar(person: str, role: str, words: tuple[str, ...], here: str) -> Bar:
    return Bar(person, role, tuple(NavItem(word, "#", word == here) for word in words))


def _seat_picture(seat: Seat, um: tuple[int, ...], prefix: str) -> TolerancePicture:
    readings = tuple(Reading(number // 3, number % 3, value * 1000) for number, value in enumerate(um))
    return tolerance_picture(seat, readings, figures=COMMA, prefix=prefix, paper=DESK)


def inspector() -> Page:
    """A record that waits: a lost bore reading, and both ends with the same nine digits."""
    seat = Seat(13_000, 28_000, 40, PLANES, guard_nm=1_000, shoulder=False)
    same = (20, 20, 21, 20, 21, 21, 21, 20, 21)
    hidden = GridRow("0°", (GridCell("", hidden=True), GridCell("", "+20"), GridCell("", "+21")))
    shown = (
        GridRow("60°", tuple(GridCell("", v) for v in ("+20", "+21", "+20"))),
        GridRow("120°", tuple(GridCell("", v) for v in ("+21", "+21", "+21"))),
    )
    rows = (
        ComparisonRow("lowest", ("+20", "+20", "+17"), "7", "11"),
        ComparisonRow("highest", ("+21", "+21", "+19"), "7", "11"),
        ComparisonRow("form", ("0,5", "0,5", "1,0"), "7,0", "11"),
        ComparisonRow("bore", ("–", "−8", "−9")),
        ComparisonRow("fit", ("20…41", "29", "27"), "7"),
        ComparisonRow("peak", ("106", "106", "104"), "14", "14"),
        ComparisonRow("gap", ("none", "none", "none")),
    )
    return "lookbook/inspector.html", {
        "bar": _bar(
            "M. Delacour",
            "inspector",
            ("Waiting for you", "Mountings", "Rebuilds", "Registers", "Planner"),
            "Waiting for you",
        ),
        "title_block": (
            Cell("mounting", "26-0261", strong=True),
            Cell("machine", "Ullsvane hydro · intake hoist"),
            Cell("place", "shaft 2, DE"),
            Cell("bearing", "NU 1024"),
            Cell("seat", "120 m5", upper="+28", lower="+13", unit="µm"),
            Cell("procedure", "HM-4 rev. C, guard 1,65 u"),
            Cell("state", "ready for inspection", strong=True),
        ),
        "missing": Verdict("missing", iso=True),
        "query": Verdict("query"),
        "conforming": Verdict("conforming", iso=True),
        "bound": bound_picture(
            window_nm=(13_000, 48_000),
            range_nm=(20_000, 41_000),
            what="interference",
            figures=COMMA,
            prefix="bound",
        ),
        "de": _seat_picture(seat, same, "de"),
        "nde": _seat_picture(seat, same, "nde"),
        "grid": ReadingGrid(
            "Readings", tuple(GridPlane(n) for n in "ABC"), (hidden, *shown), corner="", small=True
        ),
        "comparison": Comparison("Beside the other end and last time", ("DE", "NDE", "2021"), rows),
        "signatures": (
            Signature("performed", "I. Vaskova", "12 Nov 2026 16:40"),
            Signature("inspected", "M. Delacour", "3 items open: not yet to sign"),
            Signature("concession", "", "P. Hollin, if asked"),
            Signature("sheet", value="1 of 1, no amendment"),
        ),
        "sign": Tap("sign, when 3 items are closed", "waits", wide=True),
        "safety": Safety(scheme="Scheme: lifting. Released by the hoist's competent person."),
    }


def _suspects() -> tuple[tuple[object, ...], ...]:
    """The suspect steps of a creep, first to last, as judged then and again."""
    conforming, nothing = Verdict("conforming", iso=True), None
    return (
        ("14", "fit, interference", "30, required 13…55", conforming, "(21)", conforming),
        (
            "12",
            "journal",
            "mean +20, limits +13…+35",
            conforming,
            "(+11), 2 under",
            Verdict("not-proven", iso=True),
        ),
        ("11", "gauge MIC-114", "in date, ±2", conforming, "9 high, U 3", Verdict("nonconforming", iso=True)),
        ("10", "one temperature", "shaft 24, gauge 24 °C", conforming, "same", nothing),
        ("9", "roughness Ra", "0,6, limit 0,8", conforming, "same", nothing),
        ("8", "form, half", "0,5, limit 7,5", conforming, "same", nothing),
    )


def auditor() -> Page:
    """A bearing that crept after five years, and the gauge that was found high."""

    def at(year: int, month: int, when: int, hour: int = 9, minute: int = 0) -> datetime:
        return datetime(year, month, when, hour, minute, tzinfo=UTC)

    def of_day(hour: int, minute: int) -> datetime:
        return at(2026, 3, 11, hour, minute)

    events = (
        Event(at(2026, 3, 11), "D mounted 11 Mar 2026", "detail"),
        Event(at(2027, 1, 19), "19 Jan 2027: MIC-114 found 9 µm high; judged again", "looked"),
        Event(at(2031, 6, 14), "14 Jun 2031: ring turned on the shaft", "end", bold=True),
    )
    hours = (
        Event(of_day(8, 5), "unwrapped"),
        Event(of_day(8, 22), "9 readings"),
        Event(of_day(8, 43), "fit released, S. Ngata"),
        Event(of_day(8, 52), "heater on"),
        Event(of_day(9, 4), "lifted off, home 16 s later"),
        Event(of_day(13, 20), "gap none, G1 94"),
        Event(of_day(14, 2), "ready"),
        Event(of_day(15, 10), "signed, M. Delacour"),
    )
    return "lookbook/auditor.html", {
        "bar": _bar(
            "T. Lindqvaern",
            "auditor",
            ("Search", "Look-back", "Shared causes", "Trends", "Verify"),
            "Search",
        ),
        "cells": (
            Cell("bearing", "22218 C3", strong=True),
            Cell("seat", "90 m6"),
            Cell("place", "Coldbeck foundry · sand mixer · DE"),
            Cell("workshop mark", "K7QD4M"),
            Cell("mounting", "26-0097, signed"),
        ),
        "life": life(
            events,
            until=date(2032, 1, 1),
            prefix="life",
            served=(at(2026, 3, 11), at(2031, 6, 14), "5 years 2 months in service"),
        ),
        "day": day(hours, prefix="day", spanned=(of_day(9, 9), of_day(13, 20), "cooling 4 h 11 min")),
        "suspects": _suspects(),
    }


def _planned() -> tuple[Field, ...]:
    """What the planner asks for."""
    return (
        Field("bearing", "bearing", "6213"),
        Field("shaft", "shaft, class", "65 m5", "mm"),
        Field("journal", "journal, lowest … highest", "+18 … +20", "µm"),
        Field("bore", "bore, measured", "−9", "µm", numeric=True),
        Field("g0", "clearance G0, measured", "14", "µm", numeric=True),
        Field("other", "or take: 6213 C3, G0", "35", "µm", numeric=True),
        Field("temperatures", "shaft, air now", "11 / 11", "°C"),
        Field("kind", "kind, ceiling", "open, 120", "°C"),
        Field("even", "rings evenly hot, within", "5", "K", numeric=True),
    )


def planner() -> Page:
    """A fit and a heating plan without a record."""
    decline = tuple((float(s), round(86_000 - 75_000 * (s / 330) * 0.36)) for s in range(0, 331, 10))
    return "lookbook/planner.html", {
        "bar": _bar("J. Pell", "fitter", ("Mountings", "Registers", "Planner"), "Planner"),
        "fields": _planned(),
        "fit": fit_picture(
            Part(
                "shaft m5",
                11_000,
                24_000,
                (19_000, 19_000, 20_000, 19_000, 18_000, 19_000, 19_000, 19_000, 19_000),
            ),
            Part("bore, Normal", -15_000, 0, (-9_000,)),
            figures=COMMA,
            prefix="fit",
        ),
        "probable": probable(),
        "frame": FindingRow("interference", "interference", "11…39", "(28)", "", Verdict("conforming")),
        "clearance": clearance_picture(
            (
                Bearing("6213", "G0 14 measured", (8_000, 28_000), -10_000, 14_000, "out"),
                Bearing("6213 C3", "G0 35 measured", (23_000, 43_000), 11_000, 35_000),
            ),
            figures=COMMA,
            prefix="clearance",
        ),
        "out": Verdict("nonconforming"),
        "inside": Verdict("conforming"),
        "plan": HeatingPlan(
            "90 °C",
            "65 °C",
            "120 °C",
            "4 min",
            "35 s",
            Working(
                "show the working",
                "t = t_shaft + (I + g) / (d · α)",
                "11 + (0,030 + 0,012) / (65 × 12,0 · 10⁻⁶)",
                "64,8 °C",
                "textbook formula for a free ring; g from ISO 286-2, H7/g6",
                ("unconfirmed: compare with your copy of the standard: radial clearance",),
                (("I, local maximum interference", "30 µm"), ("g, sliding clearance", "12 µm")),
            ),
        ),
        "curve": heat_curve(
            (Curve(((0.0, 90_000), *decline)),),
            ceiling_mdegc=120_000,
            must_be_mdegc=65_000,
            figures=COMMA,
            prefix="carry",
            notes=(Note((0.0, 90_000), "90: set; the rings even out to (86)", dot=True),),
            span=(0.0, 257.0, "carry (4 min 20 s)"),
        ),
        "safety": Safety(),
    }


def certificate() -> Page:
    """A certificate with one concession."""
    conforming, nonconforming = Verdict("conforming", iso=True), Verdict("nonconforming", iso=True)
    seat = Seat(43_000, 68_000, 80, (Plane("A", 14), Plane("B", 40), Plane("C", 66)), 2_800, shoulder=False)
    um = (55, 54, 54, 54, 53, 54, 53, 54, 54)
    inner = ((0.0, 27_000), (1080.0, 120_000), (1200.0, 134_000), (1270.0, 120_000), (1420.0, 117_500))
    outer = ((0.0, 27_000), (1210.0, 114_000), (1420.0, 113_000))
    return "lookbook/certificate.html", {
        "seat": _seat_picture(seat, um, "seat"),
        "curve": heat_curve(
            (Curve(inner), Curve(outer, dashed=True)),
            ceiling_mdegc=120_000,
            figures=COMMA,
            prefix="heat",
            width=400,
            height=196,
            notes=(
                Note((1200.0, 134_000), "134", "middle", bold=True),
                Note((1420.0, 113_000), "114", below=True),
                Note((0.0, 27_000), "27", "end"),
            ),
            span=(1080.0, 1270.0, "190 s"),
        ),
        "findings": (
            FindingRow("diameter", "journal, worst of 9", "+43…+68", "+54", "11 · 6 u", conforming),
            FindingRow("form", "form, half", "9", "0,5", "8,5 · 5 u", conforming),
            FindingRow(
                "interference", "interference, least / most", "43…93", "(66 / 68)", "23 · 12 u", conforming
            ),
            FindingRow("temperature", "peak, inner ring °C", "120", "134", "−14 · 14 u", nonconforming),
            FindingRow("temperature", "probe on the inner ring", "yes", "outer ring", "", nonconforming),
            FindingRow("time", "held home, s", "(220)", "360", "140", conforming),
            FindingRow("gap", "gap, 4 angles, mm", "0,03 not in", "none", "", conforming),
            FindingRow("clearance", "clearance left", "(158) ± 6", "157", "", conforming),
            FindingRow("field", "field, A/cm", "2", "1,1", "0,9 · 9 u", conforming),
        ),
        "safety": Safety(scheme="Machine scheme: pressure.", worked_out=False),
        "sheet_block": SheetBlock(
            owner="Tarn Hollow Rebuild Hall",
            document_type="certificate of mounting",
            status="signed off",
            title="Two Alders paper mill, dryer · bearing DE",
            number="26-0198",
            language_and_sheet="en · 1/2",
            performed=("I. Vaskova", "4 Jun 2026 16:02"),
            inspected=("S. Ngata", "5 Jun 2026 10:20"),
            concession=("P. Hollin", "5 Jun 2026 09:12"),
            ledger="ledger: entry 9 417 of checkpoint 9 502, proved without this software",
            hashes="a91f 3c07 e2d4 5b18 90cc 47fa 2e6d 81b3 · c5d0 7a92 13ef 6684 0bd7 f25e 9a3c 48e1",
        ),
        "photos": ("B 0°, 10:12:40", "ring marking, 09:20", "inner ring, 11:31", "gap 180°, 15:40"),
    }


def trends() -> Page:
    """Two charts of journals in µm from nominal: one steady, one moved by a tool change."""
    return "lookbook/trends.html", {
        "bar": _bar("T. Lindqvaern", "auditor", ("Search", "Look-back", "Trends", "Verify"), "Trends"),
        "steady": _chart_of(_shafts(25, 5), "steady"),
        "moved": _chart_of(
            (*_shafts(8, 7), *(tuple(v + 9 for v in shaft) for shaft in _shafts(2, 7))), "moved"
        ),
    }


def _shafts(count: int, size: int) -> tuple[tuple[float, ...], ...]:
    """Deviations from the digits of π: no pattern to the eye, and the same at every start."""
    readings = [18 + (int(digit) - 4) / 2 for digit in PI[: count * size]]
    return tuple(tuple(readings[start : start + size]) for start in range(0, count * size, size))


def _chart_of(shafts: tuple[tuple[float, ...], ...], prefix: str) -> XbarRPicture:
    chart = xbar_r(shafts)
    means, ranges = courses(chart)
    return xbar_r_picture(
        means, ranges, size=chart.n, figures=COMMA, prefix=prefix, provisional=chart.provisional
    )
