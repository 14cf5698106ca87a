"""The table of the trade's rows in DEVELOPERS.md: whole, true, and as the command makes it."""

from qrecords.steps.decision_rows import ROWS
from qrecords.steps.standard import RULES, STEPS
from tests.trade_decisions import DECISIONS, rules_of_row
from tests.trade_rows import CHECKS, JOB, KINDS, PAPER, TRADE, fields_answered, named_tests, paper_with


def test_the_paper_is_as_the_command_makes_it() -> None:
    text = PAPER.read_text()
    assert text == paper_with(text), "python -m tests.trade_rows"


def test_every_row_of_the_job_stands_there_once() -> None:
    assert [row.name for row in JOB] == [str(number) for number in range(1, 35)]
    assert (len(KINDS), len(CHECKS)) == (6, 13)


def test_every_row_of_findings_and_decisions_stands_there() -> None:
    assert set(DECISIONS) == set(ROWS)
    assert [test for test in DECISIONS.values() if test not in named_tests()] == []
    undecided = {name for name in DECISIONS if not rules_of_row(name)}
    assert undecided == {"implant", "gauge-out", "wrong-drawing"}


def test_every_step_field_and_rule_that_a_row_names_exists() -> None:
    known = {f"{step.id}.{field.id}" for step in STEPS.values() for field in step.fields}
    assert {name for row in TRADE for name in row.fields} <= known
    assert {step for row in TRADE for step in row.steps} <= set(STEPS)
    assert {rule for row in TRADE for rule in row.rules} <= set(RULES)


def test_every_field_answers_a_row() -> None:
    """A field that no row asks for is one that the trade does not know."""
    known = {f"{step.id}.{field.id}" for step in STEPS.values() for field in step.fields}
    assert known == set(fields_answered())


def test_every_row_has_its_test_named_after_it() -> None:
    there = named_tests()
    assert [test for row in TRADE for test in row.tests if test not in there] == []
    for row in JOB:
        assert row.tests[0].startswith(f"test_row_{int(row.name):02d}_")
