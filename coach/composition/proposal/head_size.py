"""How large a head comes out on the canvas: stated, or estimated from the canvas."""

from math import sqrt
from typing import Final

from coach.composition.feature_share_table import HEAD_SHARE_OF_CANVAS_FRAC
from coach.composition.life_size import HEAD_MAN_MM, HEAD_WOMAN_MM, LIFE_MM
from coach.plan.commission import CanvasSize

HEAD_WIDTH_FRAC: Final = (154.3 / HEAD_MAN_MM + 147.8 / HEAD_WOMAN_MM) / 2
"""Breadth of a head as a share of its height, man and woman. Source: ANSUR II, derived (0.66)."""

_MOST_OF_CANVAS_FRAC: Final = 0.5
_MM2_PER_CM2: Final = 100


def head_box_cm2(head_mm: float) -> float:
    """Return the area of the box about a head of this height, in square centimetres."""
    return head_mm**2 * HEAD_WIDTH_FRAC / _MM2_PER_CM2


def canvas_cm2(size: CanvasSize) -> float:
    """Return the area of a canvas, in square centimetres."""
    return size.width_mm * size.height_mm / _MM2_PER_CM2


def estimated_head_mm(size: CanvasSize, sitter_count: int) -> float:
    """Return the height of each head where nobody stated it, in whole millimetres.

    The heads' boxes together take their usual share of the canvas; no head is above life size or half the canvas.

    Args:
        size: The canvas.
        sitter_count: How many sitters are on it, 1 or more.
    """
    box_mm2 = HEAD_SHARE_OF_CANVAS_FRAC * size.width_mm * size.height_mm / sitter_count
    most_mm = min(LIFE_MM, size.height_mm * _MOST_OF_CANVAS_FRAC)
    return float(max(1, round(min(most_mm, sqrt(box_mm2 / HEAD_WIDTH_FRAC)))))
