"""Practice: how much quicker the runs got with each doubling of their number."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from statistics import fmean

from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.runs_needed import CONFIDENCE_FRAC, FEWEST_RUNS, runs_for_reach
from coach.review.statistics.learning_curve import fit_unit
from coach.review.statistics.ratio import RatioEnds, ratio_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """Learning over the runs, for the whole work or for one pass.

    Attributes:
        pass_name: Name of the pass; None for the whole work.
        runs: Runs painted on every canvas that it is made from.
        rate_frac: Time after each doubling of the runs over the time before; None below 6 runs.
        ends: Interval of the rate, or None with it.
        runs_needed: About how many runs it takes to know the rate to within 5 %; 6 where there are fewer.
    """

    pass_name: str | None
    runs: int
    rate_frac: float | None
    ends: RatioEnds | None
    runs_needed: int


def practice(runs: Sequence[RunTimes], *, canvases: int, pass_name: str | None) -> Practice:
    """Return the learning rate by the unit model (Crawford), on the geometric mean of actual / planned.

    Args:
        runs: Runs in the order painted; the n-th counts as unit n. Runs that lack a canvas count as practice
            but give no value.
        canvases: Number of canvases.
        pass_name: Name of the pass these runs belong to, or None for the whole work.
    """
    values = [
        (n, ratio_of(fmean(run.logs()) - log(run.planned_min)))
        for n, run in enumerate(runs, start=1)
        if len(run.order) == canvases
    ]
    if len(values) < FEWEST_RUNS:
        return Practice(
            pass_name=pass_name,
            runs=len(values),
            rate_frac=None,
            ends=None,
            runs_needed=FEWEST_RUNS,
        )
    unit_nos, ratios = zip(*values, strict=True)
    curve = fit_unit(ratios, unit_nos, confidence_frac=CONFIDENCE_FRAC)
    ends = curve.rate_ends
    reach_log = 0.0 if ends is None else (log(ends.high_frac) - log(ends.low_frac)) / 2
    return Practice(
        pass_name=pass_name,
        runs=len(values),
        rate_frac=curve.rate_frac,
        ends=ends,
        runs_needed=runs_for_reach(len(values), reach_log),
    )
