"""Area of every passage on all canvases: stated, or estimated from the head and the canvas."""

from collections.abc import Sequence
from dataclasses import dataclass

from coach.composition.feature_share_table import (
    HEAD_SHARE_OF_CANVAS_FRAC,
    OTHER_SHARE_OF_HEAD_FRAC,
    SHARE_OF_CANVAS_FRAC,
    SHARE_OF_HEAD_FRAC,
)
from coach.plan.commission import Canvas, Pass, Passage, Plan

_MM2_PER_CM2 = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageArea:
    """Area of one passage.

    Attributes:
        pass_name: Its pass.
        passage: The passage.
        cm2: On all canvases together, in square centimetres; None where a canvas has no size to estimate from.
        is_estimate: Whether the plan states none.
    """

    pass_name: str
    passage: Passage
    cm2: float | None
    is_estimate: bool


def areas_of(plan: Plan, head_cm2: float | None = None) -> tuple[PassageArea, ...]:
    """Return the area of every passage, in the order of the plan.

    A stated area holds on every canvas. The passages of a pass that state none share what is left of the pass: its
    share of the heads' boxes or of the canvas, less what the others state; where nothing is left, each is as large as
    the mean of those stated.

    Args:
        plan: The plan.
        head_cm2: Area of all heads' boxes on one canvas, in square centimetres; None for a share of the canvas.
    """
    return tuple(area for one_pass in plan.passes for area in _areas_of_pass(plan.canvases, one_pass, head_cm2))


def _areas_of_pass(canvases: Sequence[Canvas], one_pass: Pass, head_cm2: float | None) -> list[PassageArea]:
    stated = [passage.area_cm2 for passage in one_pass.passages if passage.area_cm2 is not None]
    unstated = len(one_pass.passages) - len(stated)
    guess = _guessed_cm2(canvases, one_pass.name, head_cm2, stated, unstated) if unstated else None
    return [
        PassageArea(
            pass_name=one_pass.name,
            passage=passage,
            cm2=guess if passage.area_cm2 is None else passage.area_cm2 * len(canvases),
            is_estimate=passage.area_cm2 is None,
        )
        for passage in one_pass.passages
    ]


def _guessed_cm2(
    canvases: Sequence[Canvas], pass_name: str, head_cm2: float | None, stated: Sequence[float], unstated: int
) -> float | None:
    total = 0.0
    for canvas in canvases:
        whole_cm2 = _pass_cm2(canvas, pass_name, head_cm2)
        if whole_cm2 is None:
            return None
        left_cm2 = (whole_cm2 - sum(stated)) / unstated
        total += left_cm2 if left_cm2 > 0 else sum(stated) / len(stated)
    return total


def _pass_cm2(canvas: Canvas, pass_name: str, head_cm2: float | None) -> float | None:
    of_canvas, of_head = _share(pass_name, SHARE_OF_CANVAS_FRAC), _share(pass_name, SHARE_OF_HEAD_FRAC)
    if not of_canvas and not of_head:
        of_head = OTHER_SHARE_OF_HEAD_FRAC
    canvas_cm2 = None if canvas.size is None else canvas.size.width_mm * canvas.size.height_mm / _MM2_PER_CM2
    if head_cm2 is None and canvas_cm2 is not None:
        head_cm2 = canvas_cm2 * HEAD_SHARE_OF_CANVAS_FRAC
    if (of_canvas and canvas_cm2 is None) or (of_head and head_cm2 is None):
        return None
    return of_canvas * (canvas_cm2 or 0.0) + of_head * (head_cm2 or 0.0)


def _share(pass_name: str, shares: dict[str, float]) -> float:
    """Return the sum of the entries that begin or end a word of the name, one a word; "ear" is not in "beard"."""
    words = [word.rstrip("s") for word in pass_name.lower().replace("-", " ").split()]
    hits = {next((key for key in shares if word.startswith(key) or word.endswith(key)), None) for word in words}
    return sum(frac for key, frac in shares.items() if key in hits)
