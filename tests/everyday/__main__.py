"""Print the table for as many mountings of each group as are asked for."""

import os
import sys

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
django.setup()  # the casebook knows the cast, who are rows

from tests.everyday.report import PROCESSES, counted, table  # noqa: E402 - after set-up


def main(count: int) -> None:
    groups = [(inch, cp) for inch in (False, True) for cp in PROCESSES]
    names = [f"{'inch' if inch else 'metric'}, Cp {cp:g}" for inch, cp in groups]
    counts = {name: counted(count, *group) for name, group in zip(names, groups, strict=True)}
    sys.stdout.write(f"{count} mountings of each group\n\n{table(counts)}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
