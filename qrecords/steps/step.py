"""One step: its fields, its rules, the screen it stands on. A schema version is additive for ever."""

from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.steps.errors import UnknownFieldError
from qrecords.steps.fields import Field, field_of
from qrecords.steps.rules import Rule, Stage


@dataclass(frozen=True)
class Step:
    id: str
    version: int
    stage: Stage
    fields: tuple[Field, ...]
    rules: tuple[Rule, ...]
    task: str = ""
    """The competence this step's work needs: measure, heat or mount."""

    @property
    def by_id(self) -> Mapping[str, Field]:
        return {field.id: field for field in self.fields}

    def field(self, key: str) -> Field:
        found = field_of(self.by_id, key)
        if found is None:
            raise UnknownFieldError(self.id, key, [field.id for field in self.fields])
        return found
