"""The tables that judge a case are its own: a row laid over them moves what rests on it, and nothing else."""

import ast
import inspect
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

import qrecords.engineering
import qrecords.steps
from qrecords.engineering.tables import BUILT_IN, Row, Tables
from qrecords.steps.findings import Finding
from qrecords.steps.fit import heating_plan
from qrecords.steps.planner.plan import plan_fit, results
from qrecords.steps.planner.reading import read_asked
from tests.steps import casebook as book

CASE = {
    "it_grades 6": {"journal size", "micrometer fine enough for the journal"},
    "it_grades 5": {"journal roundness", "journal taper"},
    "shaft_fundamental_deviations m all ei": {"journal size"},
    "bearing_bore_tolerance Normal": {"bore", "bore_gauge fine enough for the bore"},
    "radial_internal_clearance deep_groove_ball_cyl_bore 3": {"clearance before"},
}
"""Row at 60 mm, by table and key → findings of a sound, measured record (60 m6, 6212 C3) that rest on it."""
FROM_CLASSES = {
    "bearing_bore_tolerance Normal": {"clearance forecast", "could have slid on", "pressed home"},
    "radial_internal_clearance deep_groove_ball_cyl_bore 3": {"clearance forecast", "ring difference"},
}
"""The same where neither bore nor G0 was measured."""


def row_at(name: str, size_mm: int = 60) -> Row:
    table, *key = name.split(" ")
    (row,) = (r for r in BUILT_IN.all_of(table, tuple(key)) if r.over_mm < size_mm <= r.upto_mm)
    return row


def moved(row: Row) -> Row:
    """The row by 2 µm off in its first value, as a later edition might have it."""
    return replace(row, values=(row.values[0] + 2, *row.values[1:]), edition="2099")


def doubted(row: Row) -> Row:
    return replace(row, confirmed=False)


def judged(record: book.Book, tables: Tables) -> dict[str, Finding]:
    record.tables = tables
    return record.findings()


def changed(record: book.Book, row: Row) -> set[str]:
    before, after = judged(record, BUILT_IN), judged(record, BUILT_IN.overlaid([moved(row)]))
    assert before.keys() == after.keys()
    return {name for name in before if before[name].document() != after[name].document()}


def from_classes() -> book.Book:
    return book.sound(
        bore___source="from class", bore___gauge=None,
        clearance_before___g0=None, clearance_before___method=None,
        **{f"bore___bore__{plane}__{at}": None for plane in "AB" for at in ("0", "60", "120")},
    )  # fmt: skip


@pytest.mark.parametrize("name", CASE)
def test_a_row_laid_over_changes_the_findings_that_rest_on_it_and_no_other(name: str) -> None:
    assert changed(book.sound(), row_at(name)) == CASE[name]


@pytest.mark.parametrize("name", FROM_CLASSES)
def test_what_was_not_measured_follows_the_row_of_its_class_or_group(name: str) -> None:
    assert changed(from_classes(), row_at(name)) == FROM_CLASSES[name]


@pytest.mark.parametrize(
    ("name", "measured"), [*((n, True) for n in CASE), *((n, False) for n in FROM_CLASSES)]
)
def test_every_finding_that_a_row_can_change_names_it_while_nobody_confirmed_it(
    name: str, measured: bool
) -> None:
    record, row = (book.sound() if measured else from_classes()), row_at(name)
    moves = changed(record, row)
    findings = judged(record, BUILT_IN.overlaid([doubted(row)]))
    assert {n for n, finding in findings.items() if doubted(row).where in finding.unconfirmed} >= moves


def test_the_heating_plan_takes_its_clearances_from_the_cases_tables() -> None:
    record = book.sound()
    g = row_at("shaft_fundamental_deviations g all es")
    record.tables = BUILT_IN.overlaid([replace(g, values=(g.values[0] - 30,))])
    by_own = heating_plan(record.case())
    record.tables = BUILT_IN
    by_built_in = heating_plan(record.case())
    assert not isinstance(by_own, Exception | None)
    assert not isinstance(by_built_in, Exception | None)
    assert by_own.contact.value > by_built_in.contact.value


def test_the_planner_answers_by_the_tables_it_is_given() -> None:
    typed = {"bearing": "6212 C3", "shaft_class": "k5", "shaft_temp": "20"}
    group = row_at("radial_internal_clearance deep_groove_ball_cyl_bore 3")
    width = replace(BUILT_IN.all_of("boundary_dimensions", ("62", "12"))[0])
    sizes = (*width.values[:2], Decimal(23), *width.values[3:])
    tables = BUILT_IN.overlaid([moved(group), replace(width, values=sizes), moved(row_at("it_grades 5"))])
    own, built_in = read_asked(typed, tables)[0], read_asked(typed)[0]
    assert own is not None
    assert built_in is not None
    assert (own.sizes.width_mm, built_in.sizes.width_mm) == (23, 22)
    by_own, by_built_in = (plan_fit(asked) for asked in (own, built_in))
    assert by_own.fit.local_max.value == by_built_in.fit.local_max.value + 2
    assert by_own.left[0].candidate.limits is not None
    assert by_own.left[0].candidate.limits.min_um == 25


def test_every_number_of_a_plan_that_a_row_can_change_names_it_while_nobody_confirmed_it() -> None:
    typed = {"bearing": "6212 C3", "shaft_class": "k5", "shaft_temp": "20", "air_temp": "20"}
    for name in ("bearing_bore_tolerance Normal", "radial_internal_clearance deep_groove_ball_cyl_bore 3"):
        row = row_at(name)
        plain, shifted, unsure = (
            results(plan_fit(asked))
            for each in ((), (moved(row),), (doubted(row),))
            if (asked := read_asked(typed, BUILT_IN.overlaid(each))[0])
        )
        moves = {key for key in plain if plain[key].value != shifted[key].value}
        assert moves
        assert {key for key in plain if doubted(row).where in unsure[key].unconfirmed} >= moves


def modules(package: object) -> Iterator[tuple[Path, ast.Module]]:
    for path in sorted(Path(inspect.getfile(package)).parent.rglob("*.py")):  # type: ignore[arg-type]
        yield path, ast.parse(path.read_text(encoding="utf-8"))


def takes_tables(function: ast.FunctionDef) -> bool:
    arguments = function.args
    return any(a.arg == "tables" for a in (*arguments.args, *arguments.kwonlyargs))


def names_tables(call: ast.Call) -> bool:
    given = (*call.args, *(keyword.value for keyword in call.keywords))
    return any(ast.unparse(each).rpartition(".")[2] == "tables" for each in given)


def test_no_look_up_of_the_steps_or_the_models_falls_back_on_the_built_in_tables() -> None:
    """Whoever has tables hands them on: a default that is left out would judge by other ones, unseen."""
    trees = [*modules(qrecords.engineering), *modules(qrecords.steps)]
    takers = {known_as(path, f.name) for path, t in trees for f in functions(t) if takes_tables(f)}
    assert {"limits_of_size", "bore_limits", "internal_clearance", "read_requirement", "fold"} <= takers
    calls = [
        (path, call)
        for path, tree in trees
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and known_as(path, ast.unparse(call.func).rpartition(".")[2]) in takers
    ]
    assert len(calls) > 20
    assert [f"{path}: {ast.unparse(call)}" for path, call in calls if not names_tables(call)] == []


def functions(tree: ast.Module) -> list[ast.FunctionDef]:
    return [found for found in ast.walk(tree) if isinstance(found, ast.FunctionDef)]


def known_as(path: Path, name: str) -> str:
    """A module's own function is another one than that of the same name elsewhere."""
    return f"{path}: {name}" if name.startswith("_") else name
