"""The figures of the fairness report. Its fields are its JSON keys."""

from dataclasses import dataclass
from typing import Final

from coach.review.fairness.lead_balance import LeadBalance, ReturnMarks
from coach.review.fairness.out_by_place import OutByPlace

WITHIN_FRAC: Final = 0.05
"""An answer to within 5 % either way is close enough for a painter; our own choice."""

FEWEST_RUNS: Final = 6
"""Fewer runs are not judged: they tell their own spread too badly (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasShare:
    """What one canvas has had so far.

    Attributes:
        canvas: Name of the canvas.
        turns: Turns painted on it.
        minutes: Minutes painted on it, in all turns.
        leads: Runs on two canvases and more that it led.
        follows: Such runs in which it followed.
        minutes_led: Minutes of the runs it led, a run weighing the mean of its turns.
        minutes_spared: Minutes that following spared it; below 0 where it cost them, None where that is not clear.
    """

    canvas: str
    turns: int
    minutes: float
    leads: int
    follows: int
    minutes_led: float
    minutes_spared: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratio:
    """A ratio of times (0.88: 12 % saved), the ends of its interval, and the runs that would tell it to within 5 %."""

    ratio_frac: float
    low_frac: float
    high_frac: float
    runs_needed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Follow:
    """A following turn over the leading one; the canvases are allowed for where they can be told from the place.

    Attributes:
        runs: Runs painted on two canvases and more.
        ratio_frac: The ratio.
        low_frac: Lower end of its interval; None where there are too few runs, as are the next two.
        high_frac: Upper end.
        p: Two-sided p of "the place makes no difference".
        confidence_frac: Confidence of the interval; 0 where there is none.
        runs_needed: About how many runs tell it to within 5 %.
        sign_flip_p: No longer made.
        sign_flip_exact: No longer made.
    """

    runs: int
    ratio_frac: float
    low_frac: float | None = None
    high_frac: float | None = None
    p: float | None = None
    confidence_frac: float = 0.0
    runs_needed: int = FEWEST_RUNS
    sign_flip_p: None = None
    sign_flip_exact: None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasDifference(Ratio):
    """Time on one canvas against another, or against the mean of all; the place allowed for.

    Among three canvases and more the interval is as wide as Holm's procedure makes it, so that all hold together.

    Attributes:
        canvas: Name of the canvas.
        against: Name of the other of two canvases; None for the mean of all.
        p: Two-sided p, adjusted by Holm among three and more.
        rank_ratio_frac: No longer made, nor are the next two.
    """

    canvas: str
    against: str | None
    p: float
    rank_ratio_frac: None = None
    rank_p: None = None
    relabelling_p: None = None


@dataclass(frozen=True, slots=True)
class Practice:
    """Time after each doubling of the runs over the time before, and the runs it is read from; None for too few."""

    runs: int
    rate_frac: float | None = None
    low_frac: float | None = None
    high_frac: float | None = None
    runs_needed: int | None = FEWEST_RUNS


@dataclass(frozen=True, slots=True, kw_only=True)
class PassPractice(Practice):
    """The runs of a pass. Practice is one figure for all passes, so that nothing else is told of one."""

    pass_: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FairnessReport:
    """Whether the canvases were treated alike, in figures and in sentences.

    Attributes:
        runs: Runs painted.
        compared_runs: Runs painted on two canvases or more.
        left_out_runs: Runs on one canvas alone, where there are more; each catching up alone is one.
        runs_to_come: Runs for two canvases or more that are not begun; None where that is not known.
        canvases: One entry a canvas.
        balance: How evenly the lead was shared; None where no run was painted on two canvases.
        balance_by_pass: The same within each pass, by first appearance; a pass without such runs is left out.
        place_and_canvas_told_apart: Place and canvas were mixed enough to be told apart.
        follow: What following was worth, or None without runs to compare.
        follow_with_canvases_allowed_for: The same figure where the canvases are allowed for, else None.
        follow_a_day_later: A following turn begun on a later day than the lead, over one straight after; None where
            none was, or all were.
        canvas_differences: One entry for two canvases (the second against the first), else one a canvas.
        practice: What each doubling of the runs did.
        practice_by_pass: The runs of each pass; empty for a single pass.
        return_marks: Where the return marks fell.
        out_by_place: Where what a comparison found out lay; None where nothing was compared.
        sentences: The same for the painter, the most important first; names stand as in the plan, plain text.
    """

    runs: int
    compared_runs: int
    left_out_runs: int
    runs_to_come: int | None
    canvases: tuple[CanvasShare, ...]
    balance: LeadBalance | None
    balance_by_pass: dict[str, LeadBalance]
    place_and_canvas_told_apart: bool
    follow: Follow | None
    follow_with_canvases_allowed_for: Ratio | None
    follow_a_day_later: Ratio | None
    canvas_differences: tuple[CanvasDifference, ...]
    practice: Practice
    practice_by_pass: tuple[PassPractice, ...]
    return_marks: ReturnMarks
    out_by_place: OutByPlace | None = None
    sentences: tuple[str, ...] = ()
