"""Heads as they come out on a canvas: height, eye line and the room about them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.crop import Crop
from coach.composition.life_size import EYE_LINE_FRAC, LIFE_MM
from coach.composition.photo_boxes import Head
from coach.plan.commission import CanvasSize

EDGES: Final = ("left", "top", "right", "bottom")
"""Edges of a canvas, in the order in which a box names its sides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedHead:
    """A head on a canvas.

    Attributes:
        name: Its name.
        height_mm: From chin to crown, in millimetres.
        eye_line_mm: Eye line below the top edge of the canvas, in millimetres, for a face seen from the front.
        margins_mm: Room to the edges in the order of `EDGES`, in millimetres; below 0 where the head is cut.
    """

    name: str
    height_mm: float
    eye_line_mm: float
    margins_mm: tuple[float, float, float, float]

    @property
    def life_frac(self) -> float:
        """Its height as a share of life."""
        return self.height_mm / LIFE_MM


def placed(canvas: CanvasSize, crop: Crop, heads: Sequence[Head]) -> tuple[PlacedHead, ...]:
    """Return the heads of a crop as they come out on a canvas."""
    return tuple(_placed(canvas, crop, head) for head in heads)


def mean_life_frac(heads: Sequence[PlacedHead]) -> float | None:
    """Return the mean head height as a share of life; None for no heads."""
    return sum(head.life_frac for head in heads) / len(heads) if heads else None


def boxes_cm2(canvas: CanvasSize, crop: Crop, heads: Sequence[Head]) -> float:
    """Return the area of all heads' boxes on a canvas, in square centimetres: what estimates of paint start from."""
    cm_per_px = canvas.height_mm / 10 / crop.height_px
    return sum(head.box.width_px * head.box.height_px for head in heads) * cm_per_px**2


def _placed(canvas: CanvasSize, crop: Crop, head: Head) -> PlacedHead:
    mm_per_px = canvas.height_mm / crop.height_px
    box = head.box
    top_px = box.top_px - crop.top_px
    return PlacedHead(
        name=head.name,
        height_mm=box.height_px * mm_per_px,
        eye_line_mm=(top_px + EYE_LINE_FRAC * box.height_px) * mm_per_px,
        margins_mm=(
            (box.left_px - crop.left_px) * mm_per_px,
            top_px * mm_per_px,
            (crop.right_px - box.right_px) * mm_per_px,
            (crop.bottom_px - box.bottom_px) * mm_per_px,
        ),
    )
