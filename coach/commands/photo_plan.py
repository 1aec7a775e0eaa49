"""A photo read and taken apart for its canvases, and the plan proposed from its shapes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.composition.crop import Crop, best_crop
from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.cutting import taken_apart_to_paint
from coach.composition.proposal.mixtures import ProposedPile
from coach.composition.proposal.palette_table import PALETTE_NAMED, LimitedPalette, palette_holding
from coach.composition.proposal.proposal import REFERENCE_HEAD_MM
from coach.composition.proposal.shape_parts import OnCanvas
from coach.composition.proposal.shapes_plan import plan_from_shapes
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead, Plan
from coach.shapes.features import HeadBox
from coach.shapes.shape import Picture, scale_for
from coach.shapes.shape_map import ShapeMap, map_of
from coach.store.photo import photo_size, read_linear_light
from coach.store.shape_file import photo_sha256

EACH_HEAD: Final = {"coarse": 25, "middle": 50, "fine": 90}
"""Shapes of a head, before large ones are cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoPlan:
    """A plan proposed from a photo.

    Attributes:
        plan: The plan; the name of its file of shapes is open.
        piles: Its mixtures, with the spread inside each.
        shape_map: The shapes of the photo.
    """

    plan: Plan
    piles: tuple[ProposedPile, ...]
    shape_map: ShapeMap


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitters:
    """The photo with what is marked in it, and the canvases by their names, all of one ratio.

    Attributes:
        photo: The photo's file.
        heads: The heads in it.
        keeps: What must stay in the picture.
        canvases: Their sizes; those that have none are left out.
        plan: The plan that was named, or None.
    """

    photo: Path
    heads: Sequence[MarkedHead]
    keeps: Sequence[MarkedBox]
    canvases: Mapping[str, CanvasSize]
    plan: Plan | None


def picture_of(photo: Path, heads: Sequence[MarkedHead], crop: Crop) -> tuple[Picture, list[HeadBox]]:
    """Return the part of a photo that is painted, and the heads in pixels of the photo."""
    boxes = [
        HeadBox(name=name, left=box.left_px, top=box.top_px, right=box.right_px, bottom=box.bottom_px)
        for name, box in heads
    ]
    scale = scale_for(boxes, crop.width_px * crop.height_px)
    linear = read_linear_light(photo, (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px), scale)
    return Picture(linear=linear, left_px=crop.left_px, top_px=crop.top_px, scale=scale), boxes


def crop_of(plan: Plan, size: PhotoSize) -> Crop:
    """Return what is painted of the photo: as the plan says, the best crop for its largest canvas, or all of it."""
    if plan.crop is not None:
        left, top, right, bottom = plan.crop
        return Crop(left_px=left, top_px=top, width_px=right - left, height_px=bottom - top)
    canvas = max((one.size for one in plan.canvases if one.size), key=lambda one: one.width_mm, default=None)
    if canvas is None:
        return Crop(left_px=0, top_px=0, width_px=size.width_px, height_px=size.height_px)
    return best_crop(size, canvas, plan.heads, plan.keeps)


def plan_of_photo(photo: Path, frame: Plan, count: int) -> PhotoPlan:
    """Return the plan proposed from a photo.

    Where no canvas has a size, the heads are taken to be as high as usual for the minutes, and no area is stated.

    Args:
        photo: Its file.
        frame: What is agreed, with a head at least; its passes and mixtures do not count.
        count: How many shapes, before large ones are cut.

    Raises:
        CoachError: The photo cannot be read, or a box cannot be in it.
    """
    size = photo_size(photo)
    crop = crop_of(frame, size)
    widths_mm = [one.size.width_mm for one in frame.canvases if one.size is not None]
    if widths_mm:
        frame = frame._replace(crop=MarkedBox(crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
        mm_per_px = max(widths_mm) / crop.width_px
    else:
        mm_per_px = REFERENCE_HEAD_MM * len(frame.heads) / sum(head.box.height_px for head in frame.heads)
    on_canvas = OnCanvas(mm_per_px=mm_per_px)
    picture, boxes = picture_of(photo, frame.heads, crop)
    apart = taken_apart_to_paint(picture, boxes, count, on_canvas)
    proposed = plan_from_shapes(frame, apart.shapes, on_canvas, _palette(frame))
    return PhotoPlan(
        plan=proposed.plan,
        piles=proposed.piles,
        shape_map=map_of(
            apart,
            photo_width_px=size.width_px,
            photo_height_px=size.height_px,
            photo_sha256=photo_sha256(photo) or "",
        ),
    )


def _palette(frame: Plan) -> LimitedPalette:
    """Return the paints of a commission with the recipes made of them alone; a usual palette where it has none."""
    return palette_holding(frame.palette) if frame.palette else PALETTE_NAMED["earths"]
