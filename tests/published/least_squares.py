"""Another road to the sums of squares of a crossed study: least squares on dummy columns, with numpy.

What a factor explains is the fall of the residual when its columns come in. Used where the package's own
numbers, which come from means, are to be checked by something that knows no means.
"""

from collections.abc import Sequence

import numpy as np


def sums_of_squares(study: Sequence[Sequence[Sequence[float]]]) -> tuple[float, float, float, float]:
    """Operators, parts, interaction, repeats."""
    y = np.array(study, dtype=float)
    operator, part, _ = (index.ravel() for index in np.indices(y.shape))
    ones = np.ones((y.size, 1))
    operators, parts = np.eye(y.shape[0])[operator], np.eye(y.shape[1])[part]
    cells = np.eye(y.shape[0] * y.shape[1])[operator * y.shape[1] + part]
    left = [
        _residual(np.hstack(columns), y.ravel())
        for columns in ((ones,), (ones, operators), (ones, operators, parts), (cells,))
    ]
    return left[0] - left[1], left[1] - left[2], left[2] - left[3], left[3]


def _residual(columns: "np.ndarray", y: "np.ndarray") -> float:
    fitted = columns @ np.linalg.lstsq(columns, y, rcond=None)[0]
    return float(((y - fitted) ** 2).sum())
