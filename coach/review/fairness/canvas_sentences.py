"""Which canvas took longer, in a painter's sentences."""

from coach.review.fairness.canvas_difference import CanvasDifference
from coach.review.fairness.fairness_figures import Fairness
from coach.review.fairness.runs_needed import WITHIN_FRAC
from coach.review.fairness.verdict import Verdict, more_runs, verdict
from coach.review.fairness.wording import change_against, interval, percent
from coach.review.statistics.ratio import RatioEnds
from coach.text import joined


def canvas_sentences(fairness: Fairness) -> list[str]:
    """Return a sentence for each clear difference, or one that says there is none or too little to tell.

    Args:
        fairness: The figures; without differences between canvases the answer is empty.
    """
    differences = () if fairness.allowed is None else fairness.allowed.canvases
    if not differences:
        return []
    clear = [
        _clear(difference, difference.ends)
        for difference in differences
        if difference.ends is not None and verdict(difference.ends) in {Verdict.LESS, Verdict.MORE}
    ]
    if clear:
        return clear
    names = joined([share.canvas for share in fairness.canvases])
    if all(verdict(difference.ends) is Verdict.SAME for difference in differences):
        return [f"{names} took the same time to within {percent(WITHIN_FRAC)}, the order allowed for."]
    needed = max(difference.runs_needed for difference in differences)
    more = more_runs(fairness.compared_runs, needed)
    return [f"No clear difference between {names}, the order allowed for; {more}."]


def _clear(difference: CanvasDifference, ends: RatioEnds) -> str:
    canvas, other, ratio_frac = difference.canvas, difference.against, difference.ratio_frac
    if other is None:
        other = "the mean of its runs"
    elif ratio_frac < 1:
        # Of two canvases the slower one is named, so the ratio is turned over.
        canvas, other, ratio_frac = other, canvas, 1 / ratio_frac
        ends = RatioEnds(low_frac=1 / ends.high_frac, high_frac=1 / ends.low_frac)
    return f"{canvas} took {change_against(ratio_frac, other)}, the order allowed for ({interval(ends)})."
