"""How long the engineering takes to import, every module of it, in a fresh process with its bytecode made."""

import os
import subprocess
import sys
import tempfile
from pkgutil import iter_modules

from qrecords import engineering
from tests.bench.ratio import Ratio, alternating

ALL = "; ".join(f"import qrecords.engineering.{module.name}" for module in iter_modules(engineering.__path__))
BASELINE = "import asyncio"
"""Of the standard library, and about as much of it as the engineering asks for itself."""
LOAD_ALLOWED = 1.1
ROUNDS = 9


def measure() -> list[Ratio]:
    with tempfile.TemporaryDirectory() as bytecode:
        environment = {name: said for name, said in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = bytecode

        def load(code: str) -> None:
            subprocess.run([sys.executable, "-S", "-c", code], check=True, env=environment)  # noqa: S603 - our own text

        nothing_ms, _ = alternating(lambda: load("pass"), lambda: load("pass"), ROUNDS)
        ours_ms, asyncio_ms = alternating(lambda: load(ALL), lambda: load(BASELINE), ROUNDS)
    return [
        Ratio(
            "import every module of engineering", ours_ms - nothing_ms, BASELINE, asyncio_ms - nothing_ms,
            LOAD_ALLOWED,
        )
    ]  # fmt: skip
