"""When a competence was recorded says until when its assessor vouched; older rows learn it from their entry."""

import json
from datetime import datetime
from typing import Any

from django.db import migrations

BATCH = 500


def from_the_entries(apps: Any, schema_editor: Any) -> None:
    """The server's time of the entry that made each row."""
    rows = apps.get_model("people", "Competence").objects
    entries = apps.get_model("ledger", "Entry").objects.filter(kind="competence")
    for id, payload in entries.values_list("id", "payload").iterator(BATCH):
        at = datetime.fromisoformat(json.loads(bytes(payload))["at_server"])
        rows.filter(id=id, recorded_at=None).update(recorded_at=at)


class Migration(migrations.Migration):
    dependencies = [
        ("people", "0003_competence_range"),
        ("ledger", "0001_initial"),
    ]

    operations = [migrations.RunPython(from_the_entries, migrations.RunPython.noop)]
