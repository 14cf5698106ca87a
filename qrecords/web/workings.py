"""How a worked-out figure came about, as pages and papers write it: the units of the core become those of the
trade, whatever filed the working."""

from collections.abc import Iterable, Sequence

from qrecords.web.doubts import told
from qrecords.web.parts import Working
from qrecords.wording.figures import with_unit

WRITTEN = {"um": "µm", "1": "", "um/K": "µm/K"}
"""Unit of the engineering core → as it is written, where they differ."""


def unit_written(unit: str) -> str:
    return WRITTEN.get(unit, unit)


def number_written(said: str) -> str:
    """`59.4 um` as `59.4 µm`; a number alone, or words, as they are."""
    number, gap, unit = said.rpartition(" ")
    return figure_written(number, unit) if gap and unit in WRITTEN else said


def figure_written(number: str, unit: str) -> str:
    written = unit_written(unit)
    return with_unit(number, written) if written else number


def worked_out(
    *,
    summary: str,
    formula: str,
    put_in: Iterable[Sequence[str]],
    figure: str,
    unit: str,
    assumptions: Iterable[str],
    source: str,
    unconfirmed: Iterable[str],
    more: Sequence[tuple[str, str]] = (),
    validity: Iterable[str] = (),
) -> Working:
    """A working, its numbers put in. `figure` is the result without its unit; `more` follows the inputs."""
    inputs = tuple((symbol, number_written(number)) for symbol, number in put_in)
    return Working(
        summary=summary,
        formula=formula,
        numbers=", ".join(f"{symbol} = {number}" for symbol, number in inputs),
        result=figure_written(figure, unit),
        source=source,
        unconfirmed=told(unconfirmed),
        inputs=(*inputs, *more),
        assumptions="; ".join(assumptions),
        validity="; ".join(validity),
    )
