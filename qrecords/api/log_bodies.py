"""What is said of a heating log at the API, because its text does not say it."""

from typing import Any

from rest_framework import serializers

from qrecords.api.fields import Body, Whole
from qrecords.steps.heating_log import PROBES, RINGS


class LogColumns(serializers.DictField):
    """Ring → column of the file, counted from 1."""

    child = Whole(least=1, most=200)

    def to_internal_value(self, data: Any) -> dict[str, int]:
        unknown = (
            sorted(str(ring)[:40] for ring in data if ring not in RINGS) if isinstance(data, dict) else []
        )
        if unknown:
            raise serializers.ValidationError(f"{', '.join(unknown)}: no ring; allowed: {', '.join(RINGS)}")
        return {str(ring): place for ring, place in super().to_internal_value(data).items()}


class LogSaying(Body):
    """What the text of a log does not say: which column is which ring, the unit, what became of the probe,
    and the number of the heating where it is not the last."""

    columns = LogColumns(required=False)
    unit = serializers.ChoiceField(["°C", "°F"], required=False)
    probe = serializers.ChoiceField(PROBES, required=False)
    heating = Whole(least=1, most=99, required=False)
