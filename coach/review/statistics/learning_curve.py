"""Fitted learning curves: how much quicker the work gets with each doubling of the number done."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log, sqrt
from statistics import fmean

from coach.errors import CoachError
from coach.review.statistics.number_check import check_confidence, check_positive
from coach.review.statistics.ratio import RatioEnds, ratio_ends, ratio_of
from coach.review.statistics.student_t import t_quantile


@dataclass(frozen=True, slots=True, kw_only=True)
class LearningCurve:
    """A fitted learning curve of the unit model (Crawford): the n-th unit takes T1 * n^b.

    Attributes:
        units: Number of units fitted.
        first: T1, in the unit of the times (minutes, or actual / planned).
        slope: b, no unit; below 0 where the work gets quicker.
        slope_se: Standard error of b; None for two units.
        rate_frac: 2^b.
        rate_ends: Interval of the rate; None for two units.
        r2_frac: Share of the scatter of ln time explained; None where the times do not scatter.
    """

    units: int
    first: float
    slope: float
    slope_se: float | None
    rate_frac: float
    rate_ends: RatioEnds | None
    r2_frac: float | None


def fit_unit(times: Sequence[float], unit_nos: Sequence[int], *, confidence_frac: float = 0.95) -> LearningCurve:
    """Return the unit-model (Crawford) curve by least squares of ln time on ln n.

    Args:
        times: Time of each unit, above 0; any unit, at least two.
        unit_nos: Number n of each unit, from 1, same length; not all the same.
        confidence_frac: Confidence of the rate's interval, 0 to 1, both excluded.

    Raises:
        CoachError: Too few values, values not above 0, lengths that differ, or a confidence out of range.

    Source:
        Crawford (1944) (from memory); tables in RAND RM-6191 (1970).
    """
    check_positive(times, where="times", at_least=2)
    check_positive(unit_nos, where="unit_nos")
    check_confidence(confidence_frac)
    if len(times) != len(unit_nos) or len(set(unit_nos)) < 2:  # noqa: PLR2004 - a slope needs two places
        raise CoachError("each time needs its unit number, and two of them must differ", where="unit_nos")
    line = _least_squares([log(n) for n in unit_nos], [log(t) for t in times])
    ends = None
    if line.slope_se is not None:
        reach = t_quantile((1 + confidence_frac) / 2, len(times) - 2) * line.slope_se
        ends = ratio_ends((line.slope - reach) * log(2), (line.slope + reach) * log(2))
    return LearningCurve(
        units=len(times),
        first=ratio_of(line.intercept),
        slope=line.slope,
        slope_se=line.slope_se,
        rate_frac=ratio_of(line.slope * log(2)),
        rate_ends=ends,
        r2_frac=line.r2_frac,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    intercept: float
    slope: float
    slope_se: float | None
    r2_frac: float | None


def _least_squares(x: Sequence[float], y: Sequence[float]) -> _Line:
    mean_x, mean_y = fmean(x), fmean(y)
    sxx = sum((a - mean_x) ** 2 for a in x)
    syy = sum((b - mean_y) ** 2 for b in y)
    slope = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sxx
    residual = sum((b - mean_y - slope * (a - mean_x)) ** 2 for a, b in zip(x, y, strict=True))
    df = len(x) - 2
    return _Line(
        intercept=mean_y - slope * mean_x,
        slope=slope,
        slope_se=sqrt(residual / df / sxx) if df else None,
        r2_frac=1 - residual / syy if syy > 0 else None,
    )
