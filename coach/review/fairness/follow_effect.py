"""What following is worth: the time of the later turns of a run against its first."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.runs_needed import CONFIDENCE_FRAC, runs_for_spread
from coach.review.statistics.hodges_lehmann import hodges_lehmann
from coach.review.statistics.ratio import RatioEnds, ratio_ends, ratio_of
from coach.review.statistics.sign_flip import SignFlip, sign_flip


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowEffect:
    """Typical time of a following turn over the leading one, over the runs painted on every canvas.

    A slower canvas biases it where the leads are uneven; `PlaceAllowed` holds the figure free of that.

    Attributes:
        runs: Runs behind it.
        ratio_frac: Follow / lead by the Hodges-Lehmann estimate on log minutes; 0.88 means 12 % saved.
        ends: Interval of the ratio; None below 6 runs.
        confidence_frac: Confidence attained; 0 where there is no interval.
        sign_flip: Test of "the place in the run makes no difference".
        runs_needed: About how many runs it takes to know it to within 5 %.
    """

    runs: int
    ratio_frac: float
    ends: RatioEnds | None
    confidence_frac: float
    sign_flip: SignFlip
    runs_needed: int


def follow_effect(runs: Sequence[RunTimes], *, seed: int) -> FollowEffect | None:
    """Return what following was worth, paired within the run.

    Args:
        runs: Runs painted on every one of two or more canvases.
        seed: Seed of the sign-flip test beyond 20 runs.

    Returns:
        The effect on log minutes, first place against the mean of the later places; None without runs.
    """
    if not runs:
        return None
    logs = [run.logs() for run in runs]
    differences = [fmean(later) - first for first, *later in logs]
    typical = hodges_lehmann(differences, confidence_frac=CONFIDENCE_FRAC)
    return FollowEffect(
        runs=len(runs),
        ratio_frac=ratio_of(typical.estimate),
        ends=ratio_ends(typical.low, typical.high),
        confidence_frac=typical.depth.confidence_frac,
        sign_flip=sign_flip(differences, seed=seed),
        runs_needed=runs_for_spread(differences),
    )
