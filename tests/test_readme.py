"""README shows what the command makes, and nothing that nobody can make again."""

import re
from pathlib import Path

from tests.browser.screenshots import MOST_BYTES, PICTURES

ROOT = Path(__file__).resolve().parents[1]


def test_readme_shows_every_picture_that_is_made_and_no_other() -> None:
    shown = re.findall(r"!\[[^]]+]\(docs/(\w+)\.png\)", (ROOT / "README.md").read_text())
    kept = {file.stem for file in (ROOT / "docs").glob("*.png")}
    assert sorted(shown) == sorted(PICTURES)
    assert kept == set(PICTURES)


def test_pictures_are_small() -> None:
    sizes = {name: (ROOT / "docs" / f"{name}.png").stat().st_size for name in PICTURES}
    assert [name for name, size in sizes.items() if size > MOST_BYTES] == []
