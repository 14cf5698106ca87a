"""What must hold before anybody is served, whichever way the program is started: `serve` or gunicorn.

Each package registers its own checks under the tag START."""

import sys

from django.core import checks
from django.db import connections

START = "start"
REFUSAL = "The program does not start until this is put right."
NOT_STARTED = 3
"""The exit code. A gunicorn whose processes each read the program in stops as a whole at this one, too."""


def found_at_start() -> tuple[list[str], bool]:
    """What the checks say, and whether it forbids the start."""
    found = checks.run_checks(tags=[START], include_deployment_checks=True, databases=["default"])
    return [str(message) for message in found], any(message.is_serious() for message in found)


def refuse_unless_ready() -> None:
    """Say what is wrong in plain lines and end this process, if anything forbids the start."""
    lines, forbidden = found_at_start()
    connections.close_all()  # the threads that serve open their own
    for line in lines:
        sys.stderr.write(f"{line}\n")
    if forbidden:
        sys.stderr.write(f"{REFUSAL}\n")
        sys.stderr.flush()
        raise SystemExit(NOT_STARTED)
