"""The package is pure, light, and reads no more than its own tables."""

import subprocess
import sys
from pkgutil import iter_modules

import pytest

from qrecords import engineering

MODULES = sorted(module.name for module in iter_modules(engineering.__path__))
IMPORT_ALL = "; ".join(f"import qrecords.engineering.{name}" for name in MODULES)


def run(code: str) -> str:
    done = subprocess.run(  # noqa: S603  # our own interpreter and our own text
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    return done.stdout


def test_no_framework_and_no_number_library_is_imported() -> None:
    loaded = run(f"import sys; {IMPORT_ALL}; print(*sys.modules)").split()
    roots = {name.split(".")[0] for name in loaded}
    assert not roots & {"django", "rest_framework", "celery", "redis", "numpy", "scipy", "pint"}


def test_importing_reads_no_table() -> None:
    code = f"{IMPORT_ALL}; from qrecords.engineering.tables import BUILT_IN; print('rows' in vars(BUILT_IN))"
    assert run(code).strip() == "False"


def test_the_tables_are_known_by_one_digest_in_every_process() -> None:
    code = "from qrecords.engineering.tables import BUILT_IN; print(BUILT_IN.digest)"
    assert run(code) == run(code)
    assert len(run(code).strip()) == 64


@pytest.mark.parametrize("name", MODULES)
def test_every_module_says_what_it_is_for(name: str) -> None:
    module = __import__(f"qrecords.engineering.{name}", fromlist=["__doc__"])
    assert module.__doc__ and module.__doc__.strip()
