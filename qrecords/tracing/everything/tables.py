"""Which tables are taken out, with which columns, and how the rows of one site are found.

Every table of these apps is: one that somebody adds comes by itself. What must never leave (passwords, names,
salts, secrets of tokens) is named here; people are their pseudonyms.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db.models import Field, Model, QuerySet

from qrecords.evidence.models import Arrival, StoredFile
from qrecords.mountings.models import Mounting
from qrecords.people.models import Person, PersonVersion, Token
from qrecords.workshop.models import Site

APPS = ("workshop", "people", "mountings", "signoff", "evidence", "tracing")
NEVER: Mapping[type[Model], frozenset[str]] = {
    Person: frozenset({"password", "last_login", "sign_in"}),
    PersonVersion: frozenset({"name", "salt"}),
    Token: frozenset({"secret_hash"}),
}
"""Columns that never leave this installation."""
NAMES: Mapping[str, str] = {
    "workshop.EquipmentVersion": "calibrations",
    "workshop.Equipment": "equipment",
    "workshop.Machine": "machines",
    "workshop.Rebuild": "rebuilds",
    "workshop.Journal": "journals",
    "workshop.JournalRequirement": "requirements",
    "workshop.Bearing": "bearings",
    "people.Person": "people",
    "people.Competence": "competences",
    "mountings.Mounting": "mountings",
    "mountings.Capture": "captures",
    "mountings.Reading": "readings",
    "mountings.FindingRow": "findings",
    "signoff.Release": "releases",
    "signoff.Decision": "decisions",
    "signoff.Signature": "signatures",
    "signoff.RebuildRelease": "rebuild releases",
    "evidence.StoredFile": "files",
}
"""What a table is called in plain words; any other by its own name."""
BATCH = 500


@dataclass(frozen=True)
class Table:
    """One table as a file: its rows by key, its columns without what never leaves."""

    name: str
    model: type[Model]

    @property
    def columns(self) -> list[str]:
        never = NEVER.get(self.model, frozenset())
        return [field.attname for field in self.model._meta.concrete_fields if field.attname not in never]

    def rows(self, sites: Sequence[UUID] | None) -> "QuerySet[Any]":
        """All rows, or those of some sites."""
        rows = self.model._default_manager.order_by("pk")
        return rows if sites is None else _of_sites(self.model, rows, sites)

    def lines(self, sites: Sequence[UUID] | None) -> Iterator[list[str]]:
        """The head, then each row as text; read in batches."""
        yield self.columns
        for row in self.rows(sites).values_list(*self.columns).iterator(BATCH):
            yield [text_of(value) for value in row]


def tables() -> list[Table]:
    """Every table of the record but the log itself, which is taken out entry by entry."""
    models = [model for app in APPS for model in apps.get_app_config(app).get_models()]
    return [Table(NAMES.get(model._meta.label, _spelt(model.__name__)), model) for model in models]


def _spelt(name: str) -> str:
    """`EquipmentUse` → `equipment use`."""
    return "".join(f" {c.lower()}" if c.isupper() else c for c in name).strip()


def text_of(value: object) -> str:
    """A value as a cell: moments with their zone, documents as JSON, bytes in hexadecimal, nothing as ''."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes | memoryview):
        return bytes(value).hex()
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False, sort_keys=True)
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _of_sites(model: type[Model], rows: "QuerySet[Any]", sites: Sequence[UUID]) -> "QuerySet[Any]":
    if model is Person:
        return rows.filter(grants__site__in=sites).distinct()
    return rows.filter(**{f"{path_to_site(model)}__in": _inner(model, sites)})


def _inner(model: type[Model], sites: Sequence[UUID]) -> Any:
    """What the path of a model has to be among: sites themselves, but for files."""
    if model is Arrival:
        return Mounting.objects.filter(site__in=sites).values("id")
    if model is StoredFile:
        return Arrival.objects.filter(mounting__in=_inner(Arrival, sites)).values("sha256")
    return sites


def path_to_site(model: type[Model], before: tuple[type[Model], ...] = ()) -> str:
    """The way from a row to its site: its own column, else through the first of its keys that leads to one;
    LookupError where none does."""
    special: Mapping[type[Model], str] = {Site: "id", Arrival: "mounting", StoredFile: "sha256"}
    if model in special:
        return special[model]
    if model is Person:
        return "grants__site"
    fields: Sequence[Field[Any, Any]] = [f for f in model._meta.concrete_fields if isinstance(f, Field)]
    if any(field.attname == "site" for field in fields):
        return "site"
    for field in fields:
        target = field.related_model
        if isinstance(target, type) and target is not model and target not in before:
            try:
                return f"{field.name}__{path_to_site(target, (*before, model))}"
            except LookupError:
                continue
    raise LookupError(f"{model._meta.label} leads to no site")
