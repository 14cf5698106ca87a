"""The house holds its own rules: sizes of files and functions, and a place for every folder."""

import ast
import os
import statistics
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

import qrecords

ROOT = Path(qrecords.__path__[0])
FILE_CEILING, FUNCTION_CEILING = 400, 60


def sources() -> list[Path]:
    return [path for path in sorted(ROOT.rglob("*.py")) if "migrations" not in path.parts]


def functions(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield f"{path.relative_to(ROOT)}:{node.name}", (node.end_lineno or 0) - node.lineno + 1


def lines(path: Path) -> int:
    return len(path.read_text().splitlines())


def ninetieth(numbers: list[int]) -> float:
    return statistics.quantiles(numbers, n=10)[8]


def test_no_file_is_longer_than_the_ceiling() -> None:
    assert [(str(path), lines(path)) for path in sources() if lines(path) > FILE_CEILING] == []


def test_no_file_of_the_tests_is_longer_either() -> None:
    tests = sorted(Path(__file__).parent.rglob("*.py"))
    assert [(str(path), lines(path)) for path in tests if lines(path) > FILE_CEILING] == []


def test_no_function_is_longer_than_the_ceiling() -> None:
    every = [found for path in sources() for found in functions(path)]
    assert [(name, length) for name, length in every if length > FUNCTION_CEILING] == []


def test_files_stay_small() -> None:
    sizes = [lines(path) for path in sources() if lines(path) > 0]
    assert statistics.median(sizes) <= 90
    assert ninetieth(sizes) <= 250


def test_functions_stay_small() -> None:
    sizes = [length for path in sources() for _, length in functions(path)]
    assert statistics.median(sizes) <= 10
    assert ninetieth(sizes) <= 30


@pytest.mark.parametrize(
    "package", sorted(path.parent for path in ROOT.glob("*/__init__.py")), ids=lambda p: p.name
)
def test_every_package_says_what_belongs_there(package: Path) -> None:
    text = ast.get_docstring(ast.parse((package / "__init__.py").read_text()))
    assert text
    assert len(text) > 40


def test_no_property_fails_because_the_machine_is_busy() -> None:
    assert settings.default.deadline is None
    assert HealthCheck.too_slow in settings.default.suppress_health_check


def test_a_build_machine_tries_the_same_examples_every_time() -> None:
    assert settings.default.derandomize is bool(os.environ.get("CI"))


def test_no_room_is_called_after_nothing() -> None:
    rooms = {"utils", "helpers", "common", "services", "managers", "misc", "base"}
    assert [path for path in ROOT.rglob("*") if path.stem in rooms and path.suffix in ("", ".py")] == []
