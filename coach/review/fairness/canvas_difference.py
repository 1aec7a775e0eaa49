"""Which canvas took longer, once the order it was painted in is allowed for."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, pi, sqrt
from statistics import fmean, median

from coach.review.fairness.place_fit import centred_logs, is_told_apart, place_fit
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.runs_needed import CONFIDENCE_FRAC, runs_for_reach, runs_for_spread
from coach.review.statistics.crossover import crossover
from coach.review.statistics.hodges_lehmann import hodges_lehmann
from coach.review.statistics.rank_nulls import Depth, exact_depth, normal_depth, sign_counts
from coach.review.statistics.ratio import RatioEnds, ratio_ends, ratio_of
from coach.review.statistics.relabelling import relabelling_p

MOST_EXACT = 300
"""Up to so many runs the interval of a median is counted exactly; our own limit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasDifference:
    """Time on one canvas against another, or against the mean of the run.

    Attributes:
        canvas: Name of the canvas.
        against: Name of the other of two canvases; None for the mean of the run (three canvases and more).
        ratio_frac: Time on the canvas over the other time; 1.04 means 4 % longer.
        ends: Interval of the ratio, or None where there are too few runs.
        p: Two-sided p of the t test (two canvases); None where there is none.
        rank_ratio_frac: The ratio by ranks (two canvases), or None.
        rank_p: Two-sided p of the rank-sum test (two canvases), or None.
        relabelling_p: Exact p over all labellings of the leads (two canvases, up to 20 runs), or None.
        runs_needed: About how many runs it takes to know it to within 5 %.
    """

    canvas: str
    against: str | None
    ratio_frac: float
    ends: RatioEnds | None
    p: float | None
    rank_ratio_frac: float | None
    rank_p: float | None
    relabelling_p: float | None
    runs_needed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceAllowed:
    """Following against leading with the canvases allowed for, and the canvases with the place allowed for.

    Attributes:
        follow_ratio_frac: Follow / lead, free of differences between the canvases.
        follow_ends: Its interval, or None where there are too few runs.
        follow_runs_needed: About how many runs it takes to know it to within 5 %.
        canvases: One entry for two canvases (the second against the first), else one a canvas.
    """

    follow_ratio_frac: float
    follow_ends: RatioEnds | None
    follow_runs_needed: int
    canvases: tuple[CanvasDifference, ...]


def place_allowed(runs: Sequence[RunTimes], canvases: Sequence[str]) -> PlaceAllowed | None:
    """Return the effects of place and canvas, each free of the other.

    Args:
        runs: Runs painted on every canvas.
        canvases: All canvases, two or more.

    Returns:
        Two canvases: the cross-over analysis of log minutes. More: least squares for the places, then the
        median of each canvas' log ratio to its run's mean (its interval takes the places as known, that of
        following the canvases). None below three runs, or where place and canvas cannot be told apart.
    """
    if len(runs) < 3 or not is_told_apart(runs):  # noqa: PLR2004 - two runs leave no scatter to judge by
        return None
    return _two(runs, *canvases) if len(canvases) == 2 else _many(runs, canvases)  # noqa: PLR2004


def _two(runs: Sequence[RunTimes], a: str, b: str) -> PlaceAllowed:
    def led_by(canvas: str) -> list[float]:
        logs = [run.logs() for run in runs if run.order[0] == canvas]
        return [first - second for first, second in logs]

    a_led, b_led = led_by(a), led_by(b)
    found = crossover(a_led, b_led, confidence_frac=CONFIDENCE_FRAC)
    canvas, place = found.canvas, found.place
    difference = CanvasDifference(
        canvas=b,
        against=a,
        ratio_frac=ratio_of(-canvas.estimate),
        ends=ratio_ends(-canvas.high, -canvas.low),
        p=canvas.p,
        rank_ratio_frac=ratio_of(-found.robust_canvas.estimate),
        rank_p=found.robust_canvas.ranks.p,
        relabelling_p=relabelling_p(a_led, b_led),
        runs_needed=runs_for_reach(len(runs), (canvas.high - canvas.low) / 2),
    )
    return PlaceAllowed(
        follow_ratio_frac=ratio_of(-place.estimate),
        follow_ends=ratio_ends(-place.high, -place.low),
        follow_runs_needed=runs_for_reach(len(runs), (place.high - place.low) / 2),
        canvases=(difference,),
    )


def _many(runs: Sequence[RunTimes], canvases: Sequence[str]) -> PlaceAllowed:
    fit = place_fit(runs, canvases)
    canvas_logs = dict(zip(canvases, fit.canvas_logs, strict=True))
    rests: dict[str, list[float]] = {canvas: [] for canvas in canvases}
    differences = []
    for run in runs:
        logs = centred_logs(run)
        for canvas, value, place in zip(run.order, logs, fit.place_logs, strict=True):
            rests[canvas].append(value - place)
        first, *later = (value - canvas_logs[canvas] for canvas, value in zip(run.order, logs, strict=True))
        differences.append(fmean(later) - first)
    typical = hodges_lehmann(differences, confidence_frac=CONFIDENCE_FRAC)
    return PlaceAllowed(
        follow_ratio_frac=ratio_of(typical.estimate),
        follow_ends=ratio_ends(typical.low, typical.high),
        follow_runs_needed=runs_for_spread(differences),
        canvases=tuple(_against_mean(canvas, sorted(rest)) for canvas, rest in rests.items()),
    )


def _against_mean(canvas: str, ordered: list[float]) -> CanvasDifference:
    k = _median_depth(len(ordered)).k
    return CanvasDifference(
        canvas=canvas,
        against=None,
        ratio_frac=ratio_of(median(ordered)),
        ends=ratio_ends(ordered[k - 1], ordered[-k]) if k else None,
        p=None,
        rank_ratio_frac=None,
        rank_p=None,
        relabelling_p=None,
        # A median needs pi/2 times the runs that a mean of normal values needs.
        runs_needed=ceil(pi / 2 * runs_for_spread(ordered)),
    )


def _median_depth(n: int) -> Depth:
    if n <= MOST_EXACT:
        return exact_depth(sign_counts(n), CONFIDENCE_FRAC)
    return normal_depth(n / 2, sqrt(n) / 2, CONFIDENCE_FRAC)
