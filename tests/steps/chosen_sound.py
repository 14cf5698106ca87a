"""What a sound record says of each chosen step, as the tests of that step tell it."""

from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import Any

from tests.steps import chosen


@cache
def chosen_tests() -> dict[str, ModuleType]:
    """By step the module that tests it: it holds SOUND, what a sound record says, RULED, the rows of its
    rules, and NUMBERED, its numbers."""
    names = (module.name for module in iter_modules(chosen.__path__))
    return {n.removeprefix("test_"): import_module(f"{chosen.__name__}.{n}") for n in names}


def chosen_sound(step: str) -> dict[str, Any]:
    found: dict[str, Any] = chosen_tests()[step].SOUND
    return found
