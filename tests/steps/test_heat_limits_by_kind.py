"""How hot each kind of bearing may get: the lowest limit that applies wins, and says which it is."""

from typing import Any

import pytest

from qrecords.steps.fit import ceiling
from qrecords.steps.standard import RULES
from tests.steps.casebook import Book, sound


def of(**asked: Any) -> Book:
    book = sound()
    book.requirement |= asked
    return book


def limit(**asked: Any) -> tuple[str, float, float | None]:
    found = ceiling(of(**asked).case())
    return found.kind, found.cap_c, found.aim_c


def test_kind_open_bearing() -> None:
    assert limit() == ("open", 120, None)


def test_kind_polyamide_cage() -> None:
    """Aim at 100, never above 120: between them it is unusual and no finding (ruling 11)."""
    assert limit(kinds=["polyamide_cage"]) == ("polyamide_cage", 120, 100)


@pytest.mark.parametrize("kind", ["sealed", "greased"])
def test_kind_sealed_or_greased(kind: str) -> None:
    assert limit(kinds=[kind]) == (kind, 80, 80)
    book = of(kinds=[kind])
    (found,) = book.rule("peak-temperature")
    assert (found.verdict, found.facts["ceiling"]) == ("nonconforming", kind)


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        ({"kinds": ["preloaded"]}, "preloaded"),
        ({"kinds": ["precision"]}, "precision"),
        ({"bore_class": "5"}, "precision"),
        ({"bore_class": "P4"}, "precision"),
        ({"clearance_group": "2"}, "small_clearance"),
    ],
)
def test_kind_small_clearance_preload_or_precision(asked: dict[str, Any], kind: str) -> None:
    """Named on the drawing, or told by its class or its clearance group."""
    assert limit(**asked) == (kind, 80, None)


@pytest.mark.parametrize("of_class", ["Normal", "6"])
def test_kind_coarser_classes_are_heated_as_any_bearing(of_class: str) -> None:
    assert limit(bore_class=of_class) == ("open", 120, None)


def test_kind_separable_inner_ring_alone() -> None:
    """Heated alone it clamps nothing, however small its clearance will be."""
    assert limit(kinds=["separable_inner_ring"])[1] == 120
    assert limit(kinds=["separable_inner_ring"], clearance_group="2")[1] == 120


def test_kind_stabilisation_code_decides_after_an_overheat_and_not_before() -> None:
    """S1 bears 200 °C, and is planned as any other; up to there an overheat may be conceded."""
    assert limit(stabilised_c="200")[1] == 120
    hot = sound(heating___peak=("160", "°C"))
    uncoded = hot.rule("peak-temperature")[0]
    rule = RULES["peak-temperature"]
    assert rule.decisions(uncoded, hot.case()) == ("scrap",)
    hot.requirement |= {"stabilised_c": "200"}
    assert rule.decisions(hot.rule("peak-temperature")[0], hot.case()) == ("concession", "scrap")


def test_the_lowest_applicable_limit_wins_and_the_bearings_own_data_replace_all() -> None:
    assert limit(kinds=["polyamide_cage", "greased"])[0] == "greased"
    own = Book()
    own.requirement |= {"kinds": ["greased"]}
    own.say("heating", own_ceiling=("110", "°C"), own_ceiling_source="its own sheet 4")
    found = ceiling(own.case())
    assert (found.kind, found.cap_c, found.source) == ("own_data", 110, "its own sheet 4")
