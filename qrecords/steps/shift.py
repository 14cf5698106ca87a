"""What is recorded once at the start of a shift: the climate of the shop, parsed as every answer is."""

from qrecords.steps.fields import Field, Quantity
from qrecords.steps.measurement import TEMPERATURES

CLIMATE = (
    Field("air", Quantity("temperature", TEMPERATURES, -20_000, 60_000), optional=True),
    Field("humidity", Quantity("ratio", ("%",), 50_000, 1_000_000), optional=True),
)
"""Air, and relative humidity in ppm of saturation: 5 to 100 % is likely (common practice, no source)."""
BY_ID = {field.id: field for field in CLIMATE}
