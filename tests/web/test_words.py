"""No rule is mute: each has its reason, and a sentence for every finding it gives in the book of cases."""

import string
from collections.abc import Mapping
from functools import cache

import pytest

from qrecords.mountings.errors import RefusedError
from qrecords.steps.answers import Absent, State
from qrecords.steps.findings import Fact, Finding
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import refuse_sign
from qrecords.web.fitter.refusals import refusal_sentence
from qrecords.web.messages import FINDINGS, sentence
from qrecords.web.why import WHY
from qrecords.wording.figures import Figures, with_unit
from tests.steps.casebook import Book, sound
from tests.steps.rulebook import RULED
from tests.steps.test_heatings import all_said_again, heated_again


def test_every_rule_says_why_it_exists() -> None:
    assert set(WHY) == set(RULES)


@cache
def every_finding() -> list[Finding]:
    lost = Absent(State.NOT_DONE, "lamp out")
    wrong = [ruled.wrong() for ruled in RULED if ruled.bad is not None]
    books: list[Book] = [sound(), *wrong, *(ruled.told(lost) for ruled in RULED)]
    return [finding for book in books for finding in book.findings().values()]


def _made_of(facts: Mapping[str, Fact]) -> set[str]:
    """What a rule over one number is told as."""
    return {"found", "wanted"} if "base_unit" in facts else set()


def test_every_sentence_finds_the_facts_it_names() -> None:
    lacking = [
        (finding.message, name)
        for finding in every_finding()
        if finding.message in FINDINGS
        for _, name, _, _ in string.Formatter().parse(FINDINGS[finding.message])
        if name and name not in {*finding.facts, *_made_of(finding.facts), "beyond_nm", "size", "why"}
    ]
    assert lacking == []


def test_every_flag_of_the_book_has_a_sentence_of_its_own() -> None:
    mute = {f.message for f in every_finding() if f.verdict not in ("conforming", "missing")} - set(FINDINGS)
    # Rules over one chosen word share their sentences, and so do those over one number.
    of_numbers = {"measured-nonconforming", "measured-not-proven", "measured-query"}
    assert {message.split(".")[1] for message in mute} <= {"nonconforming", "query"} | of_numbers


@pytest.mark.parametrize(("mark", "lead"), [(",", "C at 60° is −6:"), (".", "C at 60° is −6:")])
def test_the_number_comes_first_and_then_the_rule(mark: str, lead: str) -> None:
    facts = {
        "plane": "C",
        "direction": "60",
        "value_nm": -6000,
        "margin_nm": -8000,
        "limit_nm": 2000,
        "mean_nm": 3600,
    }
    said = sentence("journal-size.nonconforming", facts, Figures(mark))
    assert said[0] == lead
    assert said[1] == f"8 µm past +2. The mean is (+3{mark}6)."


def test_two_seconds_before_a_nut_took_over_are_said() -> None:
    assert sentence("pressed-home.held-after", {"by": "nut", "pressed_ms": 2000}, Figures(".")) == (
        "Held by a nut,",
        f"let go after {with_unit('2', 's')}: it holds by itself.",
    )


def test_no_sentence_scolds() -> None:
    words = " ".join([*FINDINGS.values(), *WHY.values()]).lower()
    for word in ("error", "invalid", "failed", "please", "oops", "successfully", "!", "are you sure"):
        assert word not in words


@pytest.mark.parametrize(("ppm", "said"), [(0, "< 0.1"), (999, "< 0.1"), (1000, "0.1"), (52_000, "5.2")])
def test_a_chance_finer_than_is_shown_is_not_said_to_be_none(ppm: int, said: str) -> None:
    facts = {"mean_nm": 9000, "below_ppm": ppm}
    _, rest = sentence("clearance-forecast.not-proven", facts, Figures("."))
    assert rest.startswith(f"too small in {with_unit(said, '%')} of cases"), rest


def test_what_is_open_of_an_earlier_heating_is_named_whole_in_a_refusal() -> None:
    book = all_said_again(heated_again(sound(heating___peak=("134", "°C"), seating___hammered="yes")))
    book.enter("signature", {"meaning": "performed"})
    refusal = refuse_sign(book.case(), "inspector", book.findings().values())
    assert refusal is not None
    said = refusal_sentence(RefusedError("sign", refusal))
    assert "Peak, inner ring, heating 1; " in said and "Hammer used, heating 1" in said
