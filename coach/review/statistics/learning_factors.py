"""The factor of the learning curve, the same in both of its models.

Unit model (Crawford): the n-th unit takes T1 * n^b. Cumulative-average model (Wright): units 1..n take
T1 * n^b on average. b = log2(rate); a rate of 0.80 means that each doubling of n brings the time to 80 %.

Source:
    T. P. Wright (1936), J. Aeronaut. Sci. 3(4):122-128; Crawford (1944) (from memory); tables of n^b: RAND
    RM-6191 (1970).
"""

from coach.review.statistics.number_check import check_finite, check_positive


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
