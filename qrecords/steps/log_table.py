"""What a heating log comes to once it is read: times, and columns of temperature."""

from dataclasses import dataclass

MOST_BYTES = 2_000_000
MOST_SAMPLES, LEAST_SAMPLES = 100_000, 2
MOST_COLUMNS = 12


@dataclass(frozen=True)
class Column:
    """One column of temperature: its place in the file, counted from 1, the words over it, and the unit if
    the file says one (°C or °F, else '')."""

    place: int
    name: str
    unit: str
    values: tuple[float | None, ...]

    def __hash__(self) -> int:
        """Without its values, which may be many: its table tells it from others."""
        return hash((self.place, self.name, self.unit))


@dataclass(frozen=True, eq=False)
class LogTable:
    """What a file says: seconds since its first sample and the columns. `started` is the moment of the first
    sample where the file tells the day, as ISO 8601 writes it (with its zone, if it tells that too)."""

    times_s: tuple[float, ...]
    columns: tuple[Column, ...]
    started: str

    def column(self, place: int) -> Column | None:
        return next((column for column in self.columns if column.place == place), None)
