"""One number that explains itself: what it is, how sure, by which formula, from what, and who says so."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Result:
    """The answer of a model, printed alike by page, API, finding and certificate.

    `value` and `u` (standard uncertainty, None where none is stated) are in `unit`; `put_in` holds the
    symbols of `formula` with the numbers put in, as text; `unconfirmed` names every input or rule that no
    readable copy of a standard or book confirms; a row of the site's own copy stands there too, marked;
    `validity` says how far the model reaches: beyond it, it refuses or is not to be used.
    """

    value: float
    unit: str
    u: float | None
    formula: str
    put_in: tuple[tuple[str, str], ...]
    assumptions: tuple[str, ...]
    source: str
    unconfirmed: tuple[str, ...] = ()
    validity: tuple[str, ...] = ()


def said(value: float, unit: str = "") -> str:
    """A number as it stands in a formula: at most six significant digits, plain, with its unit."""
    return f"{value:.6g} {unit}".rstrip()
