"""Which tables judge a mounting is pinned by its opening; what was opened before this column says so too."""

import json
from typing import Any

from django.db import migrations, models

BATCH = 500


def from_the_openings(apps: Any, schema_editor: Any) -> None:
    """Every mounting's own opening entry tells the digest."""
    mountings = apps.get_model("mountings", "Mounting").objects
    entries = apps.get_model("ledger", "Entry").objects.filter(kind="mounting")
    rows = []
    for id, payload in entries.values_list("id", "payload").iterator(BATCH):
        rows.append((id, json.loads(bytes(payload))["versions"]["tables"] or ""))
        if len(rows) == BATCH:
            _keep(mountings, rows)
            rows = []
    _keep(mountings, rows)


def _keep(mountings: Any, rows: list[tuple[Any, str]]) -> None:
    digests = dict(rows)
    found = list(mountings.filter(id__in=list(digests)))
    for mounting in found:
        mounting.tables_digest = digests[mounting.id]
    mountings.bulk_update(found, ["tables_digest"])


class Migration(migrations.Migration):
    dependencies = [
        ("mountings", "0004_closed_by_decision"),
        ("ledger", "0001_initial"),
        ("workshop", "0003_table_rows"),
    ]

    operations = [
        migrations.AddField(
            model_name="mounting",
            name="tables_digest",
            field=models.CharField(blank=True, db_default="", default="", max_length=64),
        ),
        migrations.RunPython(from_the_openings, migrations.RunPython.noop),
    ]
