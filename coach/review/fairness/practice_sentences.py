"""What practice did, in a painter's sentences."""

from collections.abc import Sequence

from coach.review.fairness.practice import Practice
from coach.review.fairness.runs_needed import WITHIN_FRAC
from coach.review.fairness.verdict import Verdict, more_runs, verdict
from coach.review.fairness.wording import about, change, interval, percent
from coach.review.statistics.ratio import RatioEnds
from coach.text import joined


def practice_sentences(whole: Practice, by_pass: Sequence[Practice]) -> list[str]:
    """Return a sentence for the whole work, one for each pass long enough, and one for those too short.

    Args:
        whole: Practice over all runs.
        by_pass: Practice in each pass.
    """
    if whole.rate_frac is None:
        return [f"Too few runs to tell what practice did: {_more(whole)} more needed."]
    found = [
        _sentence(own, own.rate_frac, own.ends)
        for own in (whole, *by_pass)
        if own.rate_frac is not None and own.ends is not None
    ]
    short = [f"{own.pass_name} ({_more(own)} more)" for own in by_pass if own.rate_frac is None]
    return [*found, f"Too few runs to tell what practice did in {joined(short)}."] if short else found


def _more(practice: Practice) -> int:
    return practice.runs_needed - practice.runs


def _sentence(practice: Practice, rate_frac: float, ends: RatioEnds) -> str:
    where = "over all runs" if practice.pass_name is None else f"in {practice.pass_name}"
    doubling = f"Practice {where}: each doubling of the runs"
    found = verdict(ends)
    if found is Verdict.LESS:
        return f"{doubling} saved {about(1 - rate_frac)} ({interval(ends)})."
    if found is Verdict.MORE:
        return f"{doubling} took {change(rate_frac)} ({interval(ends)})."
    if found is Verdict.SAME:
        return f"{doubling} changed the time by less than {percent(WITHIN_FRAC)}."
    more = more_runs(practice.runs, practice.runs_needed)
    return f"{doubling} made no clear difference ({interval(ends)}); {more}."
