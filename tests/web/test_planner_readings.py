"""Readings without a record: the address holds the question, the page the whole answer, nothing is kept."""

import html
import re

import pytest
from django.test import Client
from pytest_django import Settings

from qrecords.ledger.models import Entry
from qrecords.steps.planner import lines, study
from qrecords.steps.planner.form import NOT_UNDERSTOOD, OUTSIDE
from qrecords.web.planner import series as series_page
from qrecords.web.planner import study as study_page
from qrecords.web.planner.lines_said import SENTENCES
from tests.cast import Workshop
from tests.web.test_no_inner_words import inner_words

pytestmark = pytest.mark.django_db
SERIES, STUDY = "/planner/series/", "/planner/gauge-study/"


def asked(client: Client, path: str, question: dict[str, str]) -> tuple[int, str]:
    """Status and words of the page, its tags left out."""
    answer = client.get(path, question)
    text = html.unescape(re.sub(r"<[^>]*>", " ", answer.content.decode())).replace("\u202f", " ")
    return answer.status_code, " ".join(text.split())


def test_a_series_is_drawn_and_its_indices_stand_with_interval_and_count(fitter: Client) -> None:
    before = Entry.objects.count()
    status, said = asked(fitter, SERIES, series_page.EXAMPLE)
    assert status == 200
    assert "Mean (12.6 µm)" in said
    assert "Means: centre (+12.6) µm, limits" in said
    assert "Every mean and range lies inside what chance explains." in said
    assert re.search(r"Cpk \(2\.\d\d\) 1\.\d\d…2\.\d\d 24 readings, 8 subgroups, provisional", said)
    assert Entry.objects.count() == before


def test_a_series_that_does_not_keep_within_says_which_group_and_that_its_indices_say_nothing(
    fitter: Client,
) -> None:
    more = series_page.EXAMPLE["readings"] + "\n17 18 17,5"
    _, said = asked(fitter, SERIES, {**series_page.EXAMPLE, "readings": more})
    assert "look at this Outside by its mean: subgroup 7, 9." in said
    assert "these indices say nothing of what comes next" in said


def test_a_study_tells_the_share_of_the_tolerance_and_the_rule_of_pooling(fitter: Client) -> None:
    status, said = asked(fitter, STUDY, study_page.EXAMPLE)
    assert status == 200
    assert re.search(r"Gauge and people take \(\d+\.\d %\) of the tolerance, 6 σ wide\.", said)
    assert re.search(r"People × parts: p = 0\.\d+, (not )?over 0\.05, so it counts with the", said)
    assert "2 people, 5 parts, 2 readings of each." in said


def test_in_thou_the_picture_and_the_words_are_in_thou(fitter: Client) -> None:
    _, said = asked(fitter, SERIES, {"readings": "1 2\n1 3", "lengths": "in"})
    assert "means, thou" in said
    assert "µm" not in said.partition("Means and ranges")[2].partition("show the working")[0]


def test_what_gives_no_answer_is_asked_back_by_its_line_and_what_was_typed_stays(fitter: Client) -> None:
    status, said = asked(fitter, SERIES, {"readings": "1 2\n1 x3", "upper": "9m"})
    assert status == 422
    assert "readings , line 2: “x3” is not understood. It wants −2000…2000 µm." in said
    assert "upper limit , 9m µm: outside what is possible." in said
    assert "1 2 1 x3" in said


@pytest.mark.parametrize("path", [SERIES, STUDY])
def test_the_page_is_for_everybody_only_where_the_operator_opens_it(
    client: Client, settings: Settings, path: str, shop: Workshop
) -> None:
    assert client.get(path).status_code == 302
    settings.PLANNER_OPEN = True
    assert client.get(path).status_code == 200


@pytest.mark.parametrize(("path", "question"), [(SERIES, series_page.EXAMPLE), (STUDY, study_page.EXAMPLE)])
def test_no_word_of_the_program_stands_on_it(fitter: Client, path: str, question: dict[str, str]) -> None:
    assert inner_words(fitter.get(path, question).content.decode()) == []


def test_every_reason_why_lines_give_no_answer_has_its_sentence() -> None:
    reasons = {
        lines.TOO_LONG,
        lines.LINES,
        lines.COUNT,
        lines.UNEVEN,
        lines.NO_SPREAD,
        lines.WHOLE,
        NOT_UNDERSTOOD,
        OUTSIDE,
    }
    of_study = {study.NO_LINE, study.TWICE, study.LACKING, study.PEOPLE, study.PARTS}
    assert set(SENTENCES) == reasons | of_study
