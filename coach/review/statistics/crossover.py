"""The AB/BA cross-over analysis: canvas and place effects taken apart.

A run is the block, the canvas the treatment, the place in the run (first, second) the period. d is the value
in first place minus the value in second place, one a run.

There is no preliminary test of carry-over that chooses between two analyses: the test is weak, and taking
the analysis it points to raises the true error of a 5 % test to 7-9 % overall and 25-46 % inside the second
branch (Freeman 1989, Stat. Med. 8:1421-1432; figures simulated for facts/order.md part 2 section H). What
carries over is kept out by the order of work instead.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean

from coach.errors import CoachError
from coach.review.statistics.number_check import check_confidence, check_finite
from coach.review.statistics.rank_sum import RankSum, rank_sum
from coach.review.statistics.student_t import t_quantile, t_two_sided_p


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One effect with its t test, in the unit of the differences.

    Attributes:
        estimate: The effect.
        se: Its standard error, 0 or more.
        df: Degrees of freedom, 1 or more.
        t: estimate / se; None where the differences do not scatter at all.
        p: Two-sided p; None with t.
        low: Lower end of the interval.
        high: Upper end of the interval.
    """

    estimate: float
    se: float
    df: int
    t: float | None
    p: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RobustEffect:
    """One effect by ranks.

    Attributes:
        estimate: Half the Hodges-Lehmann shift, in the unit of the differences.
        low: Lower end of the interval, or None where there are too few runs.
        high: Upper end, or None.
        ranks: The rank-sum test behind it (its shift is not halved).
    """

    estimate: float
    low: float | None
    high: float | None
    ranks: RankSum


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossover:
    """Effects of canvas and place, by t and by ranks.

    Attributes:
        canvas: Canvas A minus canvas B.
        place: First place minus second place.
        robust_canvas: Canvas A minus canvas B, by ranks.
    """

    canvas: Effect
    place: Effect
    robust_canvas: RobustEffect


def crossover(a_first: Sequence[float], b_first: Sequence[float], *, confidence_frac: float = 0.95) -> Crossover:
    """Return the effects of canvas and of place, each free of the other.

    Args:
        a_first: d of the runs that canvas A led, at least one, any unit.
        b_first: d of the runs that canvas B led, at least one, same unit; three in all.
        confidence_frac: Confidence of the intervals, 0 to 1, both excluded.

    Raises:
        CoachError: Too few runs, a value that is not a finite number, or a confidence out of range.

    Source:
        Hills & Armitage (1979), Br. J. Clin. Pharmacol. 8:7-20 (from memory); S. Senn, Cross-over Trials in
        Clinical Research, ch. 3. Ranks: Koch (1972), Biometrics 28:577-584 (from memory).
    """
    flipped = [-d for d in b_first]
    return Crossover(
        canvas=half_difference(a_first, b_first, confidence_frac=confidence_frac),
        place=half_difference(a_first, flipped, confidence_frac=confidence_frac),
        robust_canvas=_half_shift(a_first, b_first, confidence_frac),
    )


def half_difference(first: Sequence[float], second: Sequence[float], *, confidence_frac: float = 0.95) -> Effect:
    """Return half the difference of two group means, with the pooled two-sample t test.

    Args:
        first: Values of the first group, at least one, any unit.
        second: Values of the second group, at least one, same unit; three in all.
        confidence_frac: Confidence of the interval, 0 to 1, both excluded.

    Raises:
        CoachError: Too few values, one that is not a finite number, or a confidence out of range.
    """
    check_finite(first, where="runs that A led", at_least=1)
    check_finite(second, where="runs that B led", at_least=1)
    check_confidence(confidence_frac)
    df = len(first) + len(second) - 2
    if df < 1:
        raise CoachError("two runs say nothing about their scatter; three are needed", where="runs")
    means = fmean(first), fmean(second)
    squares = sum((x - m) ** 2 for xs, m in zip((first, second), means, strict=True) for x in xs)
    se = 0.5 * sqrt(squares / df * (1 / len(first) + 1 / len(second)))
    estimate = (means[0] - means[1]) / 2
    t = estimate / se if se > 0 else None
    reach = t_quantile((1 + confidence_frac) / 2, df) * se
    p = None if t is None else t_two_sided_p(t, df)
    return Effect(estimate=estimate, se=se, df=df, t=t, p=p, low=estimate - reach, high=estimate + reach)


def _half_shift(first: Sequence[float], second: Sequence[float], confidence_frac: float) -> RobustEffect:
    ranks = rank_sum(first, second, confidence_frac=confidence_frac)
    return RobustEffect(
        estimate=ranks.shift / 2,
        low=None if ranks.low is None else ranks.low / 2,
        high=None if ranks.high is None else ranks.high / 2,
        ranks=ranks,
    )
