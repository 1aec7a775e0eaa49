"""The fairness review as plain data for machines: JSON-ready, keys in the words of the trade."""

from coach.review.fairness.canvas_difference import CanvasDifference
from coach.review.fairness.fairness_figures import CanvasShare, Fairness
from coach.review.fairness.follow_effect import FollowEffect
from coach.review.fairness.practice import Practice
from coach.review.statistics.ratio import RatioEnds


def fairness_as_plain(fairness: Fairness) -> dict[str, object]:
    """Return the review as dictionaries, lists, strings, numbers, booleans and None.

    Ratios are fractions (1.04 means 4 % longer), minutes are minutes, p is two-sided; null where there is too
    little to tell.
    """
    allowed = fairness.allowed
    return {
        "runs": fairness.runs,
        "compared_runs": fairness.compared_runs,
        "left_out_runs": fairness.left_out_runs,
        "canvases": [_share(share) for share in fairness.canvases],
        "place_and_canvas_told_apart": fairness.is_told_apart,
        "follow": None if fairness.follow is None else _follow(fairness.follow),
        "follow_with_canvases_allowed_for": None
        if allowed is None
        else {
            "ratio_frac": allowed.follow_ratio_frac,
            **_ends(allowed.follow_ends),
            "runs_needed": allowed.follow_runs_needed,
        },
        "canvas_differences": [] if allowed is None else [_difference(one) for one in allowed.canvases],
        "practice": _practice(fairness.practice),
        "practice_by_pass": [
            {"pass": practice.pass_name, **_practice(practice)} for practice in fairness.practice_by_pass
        ],
        "sentences": list(fairness.sentences),
    }


def _ends(ends: RatioEnds | None) -> dict[str, object]:
    return {
        "low_frac": None if ends is None else ends.low_frac,
        "high_frac": None if ends is None else ends.high_frac,
    }


def _share(share: CanvasShare) -> dict[str, object]:
    return {
        "canvas": share.canvas,
        "turns": share.turns,
        "minutes": share.minutes,
        "leads": share.leads,
        "follows": share.follows,
    }


def _follow(follow: FollowEffect) -> dict[str, object]:
    return {
        "runs": follow.runs,
        "ratio_frac": follow.ratio_frac,
        **_ends(follow.ends),
        "confidence_frac": follow.confidence_frac,
        "sign_flip_p": follow.sign_flip.p,
        "sign_flip_exact": follow.sign_flip.is_exact,
        "runs_needed": follow.runs_needed,
    }


def _difference(difference: CanvasDifference) -> dict[str, object]:
    return {
        "canvas": difference.canvas,
        "against": difference.against,
        "ratio_frac": difference.ratio_frac,
        **_ends(difference.ends),
        "p": difference.p,
        "rank_ratio_frac": difference.rank_ratio_frac,
        "rank_p": difference.rank_p,
        "relabelling_p": difference.relabelling_p,
        "runs_needed": difference.runs_needed,
    }


def _practice(practice: Practice) -> dict[str, object]:
    return {
        "runs": practice.runs,
        "rate_frac": practice.rate_frac,
        **_ends(practice.ends),
        "runs_needed": practice.runs_needed,
    }
