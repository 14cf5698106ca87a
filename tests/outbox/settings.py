"""Settings of the processes that tests start: the real ones, with the handlers of the tests."""

from qrecords.settings import *  # noqa: F403 - this is the real thing

OUTBOX_HANDLERS = {name: f"tests.outbox.handlers.{name}" for name in ("note", "fail_once", "die_once")}
