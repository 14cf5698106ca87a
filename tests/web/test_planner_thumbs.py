"""Rules of thumb on the plan's page: what people say, what that is here, what is worked out, and why."""

import html
import re

import pytest
from django.test import Client

from qrecords.steps.planner.plan import plan_fit
from qrecords.steps.planner.reading import read_asked
from qrecords.steps.planner.thumb import rules_of_thumb
from qrecords.web.planner.page import EXAMPLE
from qrecords.web.planner.thumbs import SENTENCES, thumbs
from qrecords.wording.lettering import Lettering
from tests.web.test_planner import STANDINGS

WARM = {**EXAMPLE, "shaft_temp": "38", "air_temp": "25"}


def lettered(letters: Lettering, **changed: str) -> dict[str, tuple[str, str]]:
    asked, asks = read_asked({**WARM, **changed})
    assert asked is not None, asks
    found = thumbs(plan_fit(asked), letters)
    return {
        thumb.rule: (thumb.says.replace("\u202f", " "), thumb.worked_out.replace("\u202f", " "))
        for thumb in found
    }


def test_every_rule_that_can_come_up_has_its_sentence() -> None:
    asked = [read_asked({**WARM, **each})[0] for each in STANDINGS]
    keys = {habit.key for each in asked if each for habit in rules_of_thumb(plan_fit(each))}
    assert keys == set(SENTENCES)


def test_numbers_stand_in_the_units_that_were_asked_for() -> None:
    metric = lettered(Lettering())
    assert metric["Hold it for 10 s."] == ("10 s", "(31 s)")
    assert metric["The rise counts from the air."] == ("75 °C", "(87 °C)")
    assert metric["The guard is the whole U of the gauge."] == ("2 µm", "(1.65 µm)")
    assert metric["A warm shaft reads near enough."] == ("as read", "(−10 µm)")
    imperial = lettered(Lettering("in", "F"))
    assert imperial["The rise counts from the air."] == ("167 °F", "(189 °F)")
    assert imperial["The clearance loses 80 % of the interference."] == ("0.88 thou", "(0.94 thou)")


@pytest.mark.django_db
def test_the_page_folds_them_away_each_with_its_working(fitter: Client) -> None:
    page = fitter.get("/planner/", WARM).content.decode()
    table = page.partition('class="table plan-thumbs"')[2].partition("</table>")[0]
    text = " ".join(html.unescape(re.sub(r"<[^>]*>", " ", table)).split())
    assert "people say that is worked out why" in text
    assert table.count('class="working-fold"') == len(lettered(Lettering()))
    assert "δ·d/F" in text
