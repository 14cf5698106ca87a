"""Wiring of the ledger into Django."""

from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class LedgerConfig(AppConfig):
    name = "qrecords.ledger"

    def ready(self) -> None:
        from qrecords.ledger import checks  # noqa: F401 - registers the checks of the start

        post_migrate.connect(_restore_triggers, sender=self, dispatch_uid="ledger.triggers")


def _restore_triggers(using: str, **_: Any) -> None:
    from django.db import connections

    from qrecords.ledger import triggers
    from qrecords.ledger.errors import TriggersDifferError

    triggers.restore(connections[using])
    differences = triggers.differences(connections[using])
    if differences:
        raise TriggersDifferError(differences)
