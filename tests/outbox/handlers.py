"""Work for the tests: each handler leaves a line in a file."""

import os
from pathlib import Path


def note(path: str, text: str) -> None:
    """Leave a line."""
    with Path(path).open("a") as file:
        file.write(text + "\n")


def fail_once(path: str) -> None:
    """Fail the first time, succeed the second."""
    note(path, "tried")
    if Path(path).read_text().count("tried") < 2:
        raise RuntimeError("the camera's memory card is not in yet")


def die_once(path: str) -> None:
    """Take the whole process down the first time."""
    note(path, "tried")
    if Path(path).read_text().count("tried") < 2:
        os._exit(9)
