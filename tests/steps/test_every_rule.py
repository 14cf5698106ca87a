"""Every rule with a good and a bad value, *not done*, *not possible*, *not applicable*, and nothing."""

from collections.abc import Mapping

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.findings import Finding
from qrecords.steps.standard import RULES, rules_of
from tests.steps.casebook import Book, sound
from tests.steps.rulebook import RULED
from tests.steps.ruled import CLOSE, GOOD, IN, LOOK, MISSING, NONE, OUT, Ruled

WORST_FIRST = (OUT, CLOSE, MISSING, LOOK, IN)
REASON = "the lamp went out"
OWN_WORDS = {"heatings.field-again", "zone-kept.heater-has-field"}
"""Messages that say by themselves what is missing; every other one tells the reason that was given."""


def worst(book: Book, rule: str) -> Finding | None:
    return min(book.rule(rule), key=lambda finding: WORST_FIRST.index(finding.verdict), default=None)


def verdict_of(book: Book, rule: str) -> str:
    found = worst(book, rule)
    return found.verdict.value if found else NONE


def name(ruled: Ruled) -> str:
    return f"{ruled.rule}, {ruled.about}"


def test_every_rule_stands_in_the_rulebook_with_a_reason_and_no_rule_that_is_none() -> None:
    assert {ruled.rule for ruled in RULED} == set(RULES)
    assert all(ruled.why for ruled in RULED)


def test_every_rule_has_a_value_at_which_it_says_that_something_is_wrong_or_only_asks_for_one() -> None:
    """A rule that every answer satisfies asks only that there is one."""
    flagged = {ruled.rule for ruled in RULED if ruled.bad is not None and ruled.verdict not in (IN, NONE)}
    only_asked = {"journal-readings", "set-up", "seat-film", "held", "twisted-home", "play-asked", "labelled"}
    of_the_old = {"old-track", "old-seat", "old-bearing-kept"}
    of_what_came = {"supplier-named", "delivery-named", "lubricant-kind", "lubricant-batch"}
    assert set(RULES) - flagged == only_asked | of_the_old | of_what_came


def test_a_sound_record_gives_no_flag_and_every_rule_speaks() -> None:
    book = sound()
    assert book.flags() == {}
    asked = {rule.id for rule in rules_of(book.case().procedure)}
    silent = asked - {finding.rule for finding in book.findings().values()}
    # These speak only when the drawing asks, when something does not fit, of a log, of paper, of points of a
    # contract, or of an eyesight test that is recorded here.
    assert silent == {
        "eyesight",
        "interference",
        "hold-released",
        "witness-told",
        "documents-reviewed",
        "gap-plane",
        "paper-sheet-photo",
        "photo-in-time",
        "photo-used-before",
        "reading-speed",
        "same-digits",
        "order-in-time",
        "heat-time",
        "log-readable",
        "log-ceiling",
        "log-as-typed",
        "log-against-taps",
        "log-energy",
    }


@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_what_a_rule_says_of_a_good_value(ruled: Ruled) -> None:
    assert verdict_of(ruled.told(GOOD), ruled.rule) == ruled.good


@pytest.mark.parametrize("ruled", [r for r in RULED if r.bad is not None], ids=name)
def test_a_bad_value_is_recorded_and_flagged(ruled: Ruled) -> None:
    assert verdict_of(ruled.wrong(), ruled.rule) == ruled.verdict


@pytest.mark.parametrize("state", list(State))
@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_what_a_rule_says_where_there_is_no_value(ruled: Ruled, state: State) -> None:
    wanted: Mapping[State, str] = {
        State.NOT_DONE: ruled.lost.not_done,
        State.NOT_POSSIBLE: ruled.lost.not_possible,
        State.NOT_APPLICABLE: ruled.lost.not_applicable,
    }
    found = worst(ruled.told(Absent(state, REASON)), ruled.rule)
    assert (found.verdict.value if found else NONE) == wanted[state], ruled.why
    if found and found.verdict == MISSING and found.message not in OWN_WORDS:
        assert (found.facts["state"], found.facts["reason"]) == (state.value, REASON)


@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_what_a_rule_says_where_nothing_was_entered(ruled: Ruled) -> None:
    assert verdict_of(ruled.told(None), ruled.rule) == ruled.lost.not_entered, ruled.why
