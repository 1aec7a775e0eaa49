"""The fairness review in a painter's sentences: names stand as in the plan, plain text without markup."""

from coach.review.fairness.canvas_sentences import canvas_sentences
from coach.review.fairness.fairness_figures import Fairness
from coach.review.fairness.follow_effect import FollowEffect
from coach.review.fairness.practice_sentences import practice_sentences
from coach.review.fairness.runs_needed import FEWEST_RUNS, WITHIN_FRAC
from coach.review.fairness.verdict import Verdict, more_runs, verdict
from coach.review.fairness.wording import about, change, change_against, interval, percent
from coach.review.statistics.ratio import RatioEnds
from coach.text import counted, joined


def fairness_sentences(fairness: Fairness) -> tuple[str, ...]:
    """Return the review in sentences, most important first.

    Args:
        fairness: The figures; its own sentences are not looked at.
    """
    if not fairness.runs:
        return ("No run has been painted yet.",)
    compared = [] if len(fairness.canvases) == 1 else _compared(fairness)
    shares = ", ".join(f"{share.canvas} {share.minutes:.0f}" for share in fairness.canvases)
    practised = practice_sentences(fairness.practice, fairness.practice_by_pass)
    return (*compared, f"Minutes painted: {shares}.", *practised)


def _compared(fairness: Fairness) -> list[str]:
    found = []
    if fairness.left_out_runs:
        left_out = counted(fairness.left_out_runs, "run")
        found = [f"Left out of the comparison, because a canvas is lacking: {left_out}."]
    follow = fairness.follow
    if follow is None or follow.ends is None:
        return [_too_few(fairness), *found]
    if not fairness.is_told_apart:
        return [_not_told_apart(fairness, follow), *found]
    return [
        _follow(fairness, follow, follow.ends),
        *canvas_sentences(fairness),
        *found,
    ]


def _too_few(fairness: Fairness) -> str:
    going, done = _going(fairness).lower(), counted(fairness.compared_runs, "run")
    more = FEWEST_RUNS - fairness.compared_runs
    turns = f" {_turns_shared(fairness)}" if fairness.compared_runs else ""
    painted = f"{done} painted on every canvas, {more} more needed"
    return f"Too few runs to tell what {going} is worth: {painted}.{turns}"


def _not_told_apart(fairness: Fairness, follow: FollowEffect) -> str:
    always = [share.canvas for share in fairness.canvases if share.leads == fairness.compared_runs]
    cannot = "place and canvas cannot be told apart"
    if not always:
        return f"Some canvases never changed places with the others, so {cannot}."
    leader = always[0]
    others = [share.canvas for share in fairness.canvases if share.canvas != leader]
    if len(others) > 1:
        return f"{leader} led every run, so {cannot} until another canvas leads."
    took = change_against(follow.ratio_frac, leader)
    return f"{others[0]} took {took}, but {leader} led every run, so {cannot} until {others[0]} leads too."


def _follow(fairness: Fairness, follow: FollowEffect, ends: RatioEnds) -> str:
    going, ratio_frac, runs_needed = _going(fairness), follow.ratio_frac, follow.runs_needed
    allowed = fairness.allowed
    if _is_biased(fairness) and allowed is not None and allowed.follow_ends is not None:
        going = f"With the canvases allowed for, {going.lower()}"
        ratio_frac, ends, runs_needed = (
            allowed.follow_ratio_frac,
            allowed.follow_ends,
            allowed.follow_runs_needed,
        )
    found = verdict(ends)
    if found is Verdict.LESS:
        return f"{going} saved {about(1 - ratio_frac)} ({interval(ends)}); {_shared(fairness, 'had that help')}"
    if found is Verdict.MORE:
        shared = _shared(fairness, "had that burden")
        return f"{going} took {change(ratio_frac)} ({interval(ends)}); {shared}"
    if found is Verdict.SAME:
        main = f"{going} made no difference worth naming: less than {percent(WITHIN_FRAC)} either way."
    else:
        more = more_runs(follow.runs, runs_needed)
        main = f"{going} made no clear difference ({interval(ends)}); {more}."
    return f"{main} {_turns_shared(fairness)}"


def _going(fairness: Fairness) -> str:
    return "Going second" if _are_two(fairness) else "Following"


def _are_two(fairness: Fairness) -> bool:
    return len(fairness.canvases) == 2  # noqa: PLR2004


def _shared(fairness: Fairness, verb: str) -> str:
    counts = [share.follows for share in fairness.canvases]
    apart = max(counts) - min(counts)
    evenly = "equally" if apart == 0 else "almost equally" if apart == 1 else "unequally"
    names = joined([share.canvas for share in fairness.canvases])
    return f"{names} {verb} {evenly} ({joined([str(count) for count in counts])} times)."


def _turns_shared(fairness: Fairness) -> str:
    return _shared(fairness, "went second" if _are_two(fairness) else "followed")


def _is_biased(fairness: Fairness) -> bool:
    # A slow canvas that leads more often passes for a help of following; among three and more it also skews
    # the middle of the differences. One lead apart is as even as an odd number of runs allows.
    leads = [share.leads for share in fairness.canvases]
    return not _are_two(fairness) or max(leads) - min(leads) > 1
