"""The figures of the fairness review as plain data."""

from dataclasses import dataclass

from coach.review.fairness.canvas_difference import PlaceAllowed
from coach.review.fairness.follow_effect import FollowEffect
from coach.review.fairness.practice import Practice


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasShare:
    """What one canvas has had so far.

    Attributes:
        canvas: Name of the canvas.
        turns: Turns painted on it.
        minutes: Minutes painted on it, in all turns.
        leads: Runs compared that it led.
        follows: Runs compared in which it followed.
    """

    canvas: str
    turns: int
    minutes: float
    leads: int
    follows: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fairness:
    """Whether the canvases were treated alike, in figures and in sentences.

    Attributes:
        canvases: One entry a canvas.
        runs: Runs painted.
        compared_runs: Runs painted on every one of two or more canvases.
        left_out_runs: Runs that lack a canvas and are not compared.
        is_told_apart: Place and canvas were mixed enough to be told apart; False for one canvas.
        follow: What following was worth, or None without runs to compare.
        allowed: Place and canvas each free of the other, or None.
        practice: Learning over all runs.
        practice_by_pass: Learning in each pass, by first appearance; empty for a single pass.
        sentences: The same for the painter; names stand as in the plan, plain text.
    """

    canvases: tuple[CanvasShare, ...]
    runs: int
    compared_runs: int
    left_out_runs: int
    is_told_apart: bool
    follow: FollowEffect | None
    allowed: PlaceAllowed | None
    practice: Practice
    practice_by_pass: tuple[Practice, ...]
    sentences: tuple[str, ...]
