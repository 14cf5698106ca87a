"""Probabilities and quantiles of the normal, χ², t and F distributions, without a number library.

Everything comes from the incomplete gamma and beta functions. Quantiles are found by halving, which is slow
by the standards of a number library and fast enough for a page; between probabilities of 1e-6 and 1 − 1e-6
they are right to eight digits. Source: Abramowitz and Stegun, Handbook of
Mathematical Functions, 6.5, 26.4, 26.5 and 26.7.
"""

import math
from collections.abc import Callable

from .errors import OutOfRangeError

TINY, ENOUGH = 1e-300, 1e-16
MOST_DEGREES = 1e6
MOST_TERMS = 100_000


def in_between(field: str, value: float, low: float, high: float) -> float:
    """`value` if it lies strictly between the two (NaN never does); raises OutOfRangeError."""
    if not low < value < high:
        raise OutOfRangeError(field, value, "", f"more than {low:g}", f"less than {high:g}")
    return value


def normal_quantile(probability: float) -> float:
    """The value of a standard normal variable below which `probability` lies."""
    from statistics import NormalDist  # where it is used: the package itself has to load in 50 ms

    return NormalDist().inv_cdf(in_between("probability", probability, 0, 1))


def chi2_below(value: float, degrees: float) -> float:
    """Probability that a χ² variable of that many degrees of freedom is below `value`."""
    return _gamma_below(_degrees(degrees) / 2, value / 2) if value > 0 else 0.0


def chi2_quantile(probability: float, degrees: float) -> float:
    """The value below which a χ² variable lies with `probability`, strictly between 0 and 1."""
    return _halved(lambda value: chi2_below(value, degrees), probability)


def t_above(value: float, degrees: float) -> float:
    """Probability that a variable of Student's t lies above `value`, which is not negative."""
    nu = _degrees(degrees)
    whole = nu + value * value
    return _beta_below(nu / whole, value * value / whole, nu / 2, 0.5) / 2


def t_quantile(probability: float, degrees: float) -> float:
    """The value below which Student's t lies with `probability`, from 0.5 to below 1."""
    in_between("probability", probability, 0.5 - ENOUGH, 1)
    return _halved(lambda value: _t_within(value, degrees), 2 * probability - 1) if probability > 0.5 else 0.0


def _t_within(value: float, degrees: float) -> float:
    """Probability that Student's t lies between −value and value."""
    nu = _degrees(degrees)
    whole = nu + value * value
    return _beta_below(value * value / whole, nu / whole, 0.5, nu / 2)


def f_above(ratio: float, upper_degrees: float, lower_degrees: float) -> float:
    """Probability that a ratio of two mean squares lies above `ratio` by chance alone (the p-value)."""
    upper, lower = _degrees(upper_degrees), _degrees(lower_degrees)
    whole = lower + upper * ratio
    return _beta_below(lower / whole, upper * ratio / whole, lower / 2, upper / 2)


def _degrees(degrees: float) -> float:
    if not 0 < degrees <= MOST_DEGREES:
        raise OutOfRangeError("degrees of freedom", degrees, "", "more than 0", MOST_DEGREES)
    return degrees


def _halved(below: Callable[[float], float], probability: float) -> float:
    """Where a rising function of a positive value reaches `probability`."""
    in_between("probability", probability, 0, 1)
    low, high = 0.0, 1.0
    while below(high) < probability:
        low, high = high, high * 2
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if below(middle) < probability else (low, middle)
    return high


def _gamma_below(a: float, x: float) -> float:
    """The regularised lower incomplete gamma function: a series below a + 1, a fraction above."""
    scale = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x >= a + 1:
        return 1 - scale * _gamma_fraction(a, x)
    term = total = 1 / a
    for number in range(1, MOST_TERMS):
        term *= x / (a + number)
        total += term
        if term < total * ENOUGH:
            break
    return scale * total


def _gamma_fraction(a: float, x: float) -> float:
    """The continued fraction of the upper incomplete gamma function, by Lentz's rule."""
    b = x + 1 - a
    c, d = 1 / TINY, 1 / b
    found = d
    for number in range(1, MOST_TERMS):
        numerator = -number * (number - a)
        b += 2
        d = 1 / (_off_nought(numerator * d + b))
        c = _off_nought(b + numerator / c)
        found *= d * c
        if abs(d * c - 1) < 2 * ENOUGH:
            break
    return found


def _beta_below(x: float, rest: float, a: float, b: float) -> float:
    """The regularised incomplete beta function, from whichever end its fraction converges fast.

    `rest` is 1 − x, told apart because near 1 the difference would have lost its digits.
    """
    if x <= 0 or rest <= 0:
        return float(rest <= 0)
    log_scale = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log(rest)
    scale = math.exp(log_scale)
    if x < (a + 1) / (a + b + 2):
        return scale * _beta_fraction(x, a, b) / a
    return 1 - scale * _beta_fraction(rest, b, a) / b


def _beta_fraction(x: float, a: float, b: float) -> float:
    """The continued fraction of the incomplete beta function, by Lentz's rule."""
    c, d = 1.0, 1 / _off_nought(1 - (a + b) * x / (a + 1))
    found = d
    for m in range(1, MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for numerator in (even, odd):
            d = 1 / _off_nought(1 + numerator * d)
            c = _off_nought(1 + numerator / c)
            found *= d * c
        if abs(d * c - 1) < 2 * ENOUGH:
            break
    return found


def _off_nought(value: float) -> float:
    return value if abs(value) > TINY else TINY
