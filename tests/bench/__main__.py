"""Print the table of measured ratios; exit 1 if one is over what we allow ourselves."""

import importlib
import os
import pkgutil
import sys

import tests.bench
from tests.bench.ratio import Ratio


def main() -> int:
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import django

    django.setup()
    found: list[Ratio] = []
    for module in pkgutil.iter_modules(tests.bench.__path__):
        if not module.name.startswith("__"):
            measure = getattr(importlib.import_module(f"tests.bench.{module.name}"), "measure", None)
            found += measure() if measure else []
    print(f"{'what':40} {'ours ms':>10} {'baseline ms':>12} {'ratio':>6} {'allowed':>8}  baseline")  # noqa: T201
    for row in found:
        mark = "" if row.value <= row.allowed else "  OVER"
        print(  # noqa: T201
            f"{row.what:40} {row.ours_ms:10.2f} {row.baseline_ms:12.2f} {row.value:6.2f} {row.allowed:8.2f}"
            f"  {row.baseline}{mark}"
        )
    return 0 if found and all(row.value <= row.allowed for row in found) else 1


if __name__ == "__main__":
    sys.exit(main())
