"""One step: its fields, its rules, the screen it stands on. A schema version is additive for ever."""

from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.steps.case import Traits
from qrecords.steps.errors import UnknownFieldError
from qrecords.steps.fields import Field, field_of
from qrecords.steps.procedure import Procedure
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
    row: int = 0
    """Its place in the order of the work: the row of the trade's list that it begins with."""
    repeated: bool = False
    """A further heating overtakes its answers; of a step that procedures choose."""
    of_one_heating: tuple[str, ...] = ()
    """Fields that are said of one heating; of a step that procedures choose."""

    @property
    def traits(self) -> Traits:
        return Traits(
            holds=frozenset(rule.hold for rule in self.rules if rule.hold),
            under=self.stage in (Stage.RECEIVE, Stage.MEASURE),
            on_the_shaft=self.stage in (Stage.COLD, Stage.CLOSE),
            repeated=self.repeated,
            of_one_heating=frozenset(self.of_one_heating),
        )

    @property
    def by_id(self) -> Mapping[str, Field]:
        return {field.id: field for field in self.fields}

    def asked(self, procedure: Procedure) -> tuple[Field, ...]:
        """The fields that are asked under a procedure which has this step."""
        return tuple(
            each for each in self.fields if not each.by_procedure or self._name(each) in procedure.also
        )

    def switched(self) -> frozenset[str]:
        """What a procedure may list under *also*, as `step.field`."""
        return frozenset(self._name(field) for field in self.fields if field.by_procedure)

    def _name(self, field: Field) -> str:
        return f"{self.id}.{field.id}"

    def field(self, key: str) -> Field:
        found = field_of(self.by_id, key)
        if found is None:
            raise UnknownFieldError(self.id, key, [field.id for field in self.fields])
        return found
