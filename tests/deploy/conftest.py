"""The repository as the files in deploy/ see it, and a way to run what lies there."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DEPLOY = ROOT / "deploy"
Done = subprocess.CompletedProcess[str]
Run = Callable[..., Done]


def done(*command: object, cwd: Path = ROOT, stdin: str = "", **environment: str) -> Done:
    """A finished command with what it said, in that environment and no other."""
    return subprocess.run(  # noqa: S603 - our own scripts and the tools they need
        [str(part) for part in command],
        cwd=cwd,
        env=environment,
        input=stdin,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.fixture
def run() -> Run:
    """`run("deploy/backup", folder, HOME="…")`: the finished command; environment variables by keyword.

    Settings of the test run itself are taken away first.
    """
    own = ("QRECORDS_", "DJANGO_")
    clean = {name: value for name, value in os.environ.items() if not name.startswith(own)}
    clean["QRECORDS_PYTHON"] = sys.executable

    def finished(command: str, *arguments: object, **environment: object) -> Done:
        given = {name: str(value) for name, value in environment.items()}
        return done(ROOT / command, *arguments, **(clean | given))

    return finished
