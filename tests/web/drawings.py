"""Reading a drawing back: coordinates out of path data."""

import re


def numbers(path: str) -> list[float]:
    """Every number of a path, in order."""
    return [float(text) for text in re.findall(r"-?\d+(?:\.\d+)?", path)]


def ends(path: str) -> list[tuple[float, float]]:
    """The points of straight lines, as pairs."""
    flat = numbers(path)
    return list(zip(flat[::2], flat[1::2], strict=True))
