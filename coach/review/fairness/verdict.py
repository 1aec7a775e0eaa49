"""What an interval of a ratio says: less, more, the same, or not enough to tell."""

from enum import Enum

from coach.review.fairness.runs_needed import WITHIN_FRAC
from coach.review.fairness.wording import percent
from coach.review.statistics.ratio import RatioEnds
from coach.text import counted


class Verdict(Enum):
    """What can be said of a ratio of times."""

    LESS = "less"
    MORE = "more"
    SAME = "same"
    OPEN = "open"


def verdict(ends: RatioEnds | None) -> Verdict:
    """Return what the interval of a ratio says.

    Args:
        ends: The interval, or None where there is none.

    Returns:
        LESS or MORE where 1 lies outside; SAME where all of it lies within 5 % of 1; else OPEN.
    """
    if ends is None:
        return Verdict.OPEN
    if ends.high_frac < 1:
        return Verdict.LESS
    if ends.low_frac > 1:
        return Verdict.MORE
    is_narrow = ends.low_frac * (1 + WITHIN_FRAC) > 1 and ends.high_frac < 1 + WITHIN_FRAC
    return Verdict.SAME if is_narrow else Verdict.OPEN


def more_runs(runs: int, runs_needed: int) -> str:
    """Return how many more runs an open question takes, as the end of a sentence.

    Args:
        runs: Runs there are.
        runs_needed: About how many it takes in all.
    """
    more = runs_needed - runs
    if more <= 0:
        return f"no more runs are needed to know it to within {percent(WITHIN_FRAC)}"
    # An estimate from a spread is not good to more than two figures.
    rounded = round(more, min(0, 2 - len(str(more))))
    return f"about {counted(rounded, 'more run')} would tell to within {percent(WITHIN_FRAC)}"
