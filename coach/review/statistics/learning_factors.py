"""Factors of the learning curve, for both of its models.

Unit model (Crawford): the n-th unit takes T1 * n^b. Cumulative-average model (Wright): units 1..n take
T1 * n^b on average. b = log2(rate); a rate of 0.80 means that each doubling of n brings the time to 80 %.

Source:
    T. P. Wright (1936), J. Aeronaut. Sci. 3(4):122-128; Crawford (1944) (from memory); tables of n^b: RAND
    RM-6191 (1970).
"""

from math import log2

from coach.review.statistics.number_check import check_finite, check_positive


def slope_of_rate(rate_frac: float) -> float:
    """Return b = log2(rate), from the rate as a fraction above 0.

    Raises:
        CoachError: The rate is not a finite number above 0.
    """
    check_positive([rate_frac], where="rate_frac")
    return log2(rate_frac)


def curve_factor(n: int, slope: float) -> float:
    """Return n^b: the n-th unit's factor (Crawford), or that of the average of units 1..n (Wright).

    Args:
        n: Number of the unit, from 1.
        slope: b, no unit.

    Raises:
        CoachError: n is not above 0, or the slope is no finite number.
    """
    check_positive([n], where="n")
    check_finite([slope], where="slope")
    return float(n**slope)


def units_factor(n: int, slope: float) -> float:
    """Return the factor of units 1..n together in the unit model: 1^b + ... + n^b.

    Args:
        n: Number of units, from 1.
        slope: b, no unit.

    Raises:
        CoachError: n is not above 0, or the slope is no finite number.
    """
    check_positive([n], where="n")
    return sum(curve_factor(unit, slope) for unit in range(1, n + 1))


def increment_factor(n: int, slope: float) -> float:
    """Return the n-th unit's factor in the cumulative-average model: n^(1+b) - (n-1)^(1+b).

    Args:
        n: Number of the unit, from 1.
        slope: b, no unit.

    Raises:
        CoachError: n is not above 0, or the slope is no finite number.
    """
    before = curve_factor(n - 1, 1 + slope) if n > 1 else 0.0
    return curve_factor(n, 1 + slope) - before
