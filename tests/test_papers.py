"""What README and DEVELOPERS.md name is there, and what README shows can be made again."""

import re
from pathlib import Path

import pytest

from tests.browser.screenshots import MOST_BYTES, PICTURES

ROOT = Path(__file__).resolve().parents[1]
HOUSES = ("qrecords", "tests", "deploy")
OF_AN_INSTALLATION = {"keys/"}


def paper(name: str) -> str:
    return (ROOT / name).read_text()


def test_readme_shows_every_picture_that_is_made_and_no_other() -> None:
    shown = re.findall(r"!\[[^]]+]\(docs/(\w+)\.png\)", paper("README.md"))
    kept = {file.stem for file in (ROOT / "docs").glob("*.png")}
    assert sorted(shown) == sorted(PICTURES)
    assert kept == set(PICTURES)


def test_pictures_are_small() -> None:
    sizes = {name: (ROOT / "docs" / f"{name}.png").stat().st_size for name in PICTURES}
    assert [name for name, size in sizes.items() if size > MOST_BYTES] == []


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_a_file_or_folder_that_is_named_is_there(name: str) -> None:
    """By its path from the top, or by the end of its path where the text has named the folder."""
    quoted = set(re.findall(r"`(\w[\w./-]*)[`:]", paper(name)))
    named = {each for each in quoted if each.endswith((".py", ".md", ".txt", ".toml")) or "/" in each}
    lost = {each for each in named if not (ROOT / each).exists() and not somewhere(each)}
    assert len(named) > len(lost) and lost <= OF_AN_INSTALLATION


def somewhere(end: str) -> bool:
    return any(any((ROOT / house).rglob(end)) for house in HOUSES)


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_a_command_that_is_named_is_there(name: str) -> None:
    text = paper(name)
    known = {path.stem for path in (ROOT / "qrecords").glob("*/management/commands/*.py")}
    made = set(re.findall(r"^([a-z-]+):", paper("Makefile"), re.MULTILINE))
    modules = {each.replace(".", "/") for each in re.findall(r"python -m (tests[\w.]+)", text)}
    assert set(re.findall(r"manage\.py (\w+)", text)) - known == set()
    assert set(re.findall(r"`make ([a-z-]+)`", text)) - made == set()
    assert {module for module in modules if not (ROOT / f"{module}.py").exists()} == set()


def test_readme_names_every_setting_that_is_read_and_no_other() -> None:
    settings = set(re.findall(r"QRECORDS_[A-Z_]+", paper("qrecords/settings.py")))
    table = "".join(line for line in paper("README.md").splitlines() if line.startswith("| `QRECORDS"))
    assert settings == set(re.findall(r"QRECORDS_[A-Z_]+", table))
