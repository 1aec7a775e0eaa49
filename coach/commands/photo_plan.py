"""A photo read and taken apart for its canvases, and the plan proposed from its shapes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.composition.crop import Crop, painted_crop
from coach.composition.proposal.cutting import stages_to_paint
from coach.composition.proposal.mixtures import ProposedPile
from coach.composition.proposal.palette_table import PALETTE_NAMED, LimitedPalette, palette_holding
from coach.composition.proposal.proposal import REFERENCE_HEAD_MM
from coach.composition.proposal.shape_parts import OnCanvas
from coach.composition.proposal.shapes_plan import plan_from_shapes
from coach.errors import UsageError
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead, Plan
from coach.shapes.dots import SummedLight, coded, labels_at
from coach.shapes.features import HeadBox
from coach.shapes.looks import Look, looked_at
from coach.shapes.photo_window import whole
from coach.shapes.shape import Picture, scale_for
from coach.shapes.shape_map import ShapeMap, map_of
from coach.store.photo import photo_size, read_linear_light
from coach.store.reference_photo import head_boxes
from coach.store.shape_file import photo_sha256

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]
    Dots = NDArray[np.uint8]

_MOST_SHAPES: Final = 300
MOST_HEADS: Final = 12
_MOST_OVERLAP: Final = 0.5
"""Heads cheek to cheek overlap; with more of the smaller box inside the other one they cannot be told apart."""

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
    boxes = head_boxes(heads)
    scale = scale_for(boxes, crop.width_px * crop.height_px)
    linear = read_linear_light(photo, (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px), scale)
    return Picture(linear=linear, left_px=crop.left_px, top_px=crop.top_px, scale=scale), boxes


def heads_in(photo: Path, most: int) -> list[MarkedBox]:
    """Return the heads that are found in a photo, at most so many, for the painter to correct."""
    from coach.shapes.head_finding import LOOKED_AT_PX, heads_found  # noqa: PLC0415  loaded where a head is looked for

    size = photo_size(photo)
    sides = (size.width_px, size.height_px)
    scale = LOOKED_AT_PX / max(sides)
    dots = coded(read_linear_light(photo, (0, 0, *sides), scale))
    return [
        MarkedBox(*(min(round(side / scale), most_px) for side, most_px in zip(head, sides * 2, strict=True)))
        for head in heads_found(dots, most)
    ]


class SeenPhoto(NamedTuple):
    """A picture on the way to its shapes: the shape of each pixel of it, so far."""

    picture: Picture
    labels: "Labels"


def plan_of_photo(photo: Path, frame: Plan, count: int, pace_frac: Mapping[str, float]) -> PhotoPlan:
    """Return the plan proposed from a photo; arguments and errors as for `stages_of_photo`."""
    *_, found = stages_of_photo(photo, frame, count, pace_frac)
    if not isinstance(found, PhotoPlan):
        raise TypeError(found)
    return found


def stages_of_photo(
    photo: Path, frame: Plan, count: int, pace_frac: Mapping[str, float]
) -> Iterator[SeenPhoto | PhotoPlan]:
    """Yield a photo as it is taken apart, and at last the plan proposed from it.

    Where no canvas has a size, the heads are taken to be as high as usual for the minutes, and no area is stated.

    Args:
        photo: Its file.
        frame: What is agreed, with a head at least; its passes and mixtures do not count.
        count: How many shapes, before large ones are cut.
        pace_frac: What the painter takes against the first guess, by feature; 1 for what it does not name.

    Raises:
        CoachError: The photo cannot be read, or a box cannot be in it.
    """
    size = photo_size(photo)
    crop = painted_crop(frame, size)
    check_heads(frame.heads, crop, count)
    widths_mm = [one.size.width_mm for one in frame.canvases if one.size is not None]
    if widths_mm:
        frame = frame._replace(crop=MarkedBox(crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
        mm_per_px = max(widths_mm) / crop.width_px
    else:
        mm_per_px = REFERENCE_HEAD_MM * len(frame.heads) / sum(head.box.height_px for head in frame.heads)
    on_canvas = OnCanvas(mm_per_px=mm_per_px, pace_frac=pace_frac)
    picture, boxes = picture_of(photo, frame.heads, crop)
    for labels, apart in stages_to_paint(picture, boxes, count, on_canvas):
        yield SeenPhoto(picture, labels)
        if apart is not None:
            proposed = plan_from_shapes(frame, apart.shapes, on_canvas, _palette(frame))
            shape_map = map_of(
                apart,
                photo_width_px=size.width_px,
                photo_height_px=size.height_px,
                photo_sha256=photo_sha256(photo) or "",
            )
            yield PhotoPlan(plan=proposed.plan, piles=proposed.piles, shape_map=shape_map)


def shown(seen: SeenPhoto, columns: int, rows: int) -> "Dots":
    """Return a picture with its shapes so far in so many cells: sRGB of its dots, shape (2 x rows, columns, 3)."""
    down, across = seen.labels.shape
    window = whole((0.0, 0.0, float(across), float(down)), columns, rows)
    labels = labels_at(seen.labels, window.box, window.across, window.down)
    light = SummedLight(seen.picture.linear).dots(window.box, window.across, window.down)
    return looked_at(light, labels, Look(is_flat=True))


def check_heads(heads: Sequence[MarkedHead], crop: Crop, count: int) -> None:
    """Refuse heads that cannot be in what is painted of a photo, and counts of shapes beyond reason.

    Raises:
        UsageError: The sentence says which.
    """
    if len(heads) > MOST_HEADS:
        raise UsageError(f"{len(heads)} heads are more than a portrait has; mark at most {MOST_HEADS}")
    if not 1 <= count <= _MOST_SHAPES * len(heads):
        raise UsageError(f"--count is 1 to {_MOST_SHAPES} for each head")
    for number, head in enumerate(heads):
        box = head.box
        if box.left_px >= box.right_px or box.top_px >= box.bottom_px:
            raise UsageError(f"the box of {head.name} is empty: right of left and below top, please")
        if not (crop.left_px <= box.left_px and box.right_px <= crop.right_px) or not (
            crop.top_px <= box.top_px and box.bottom_px <= crop.bottom_px
        ):
            part = f"{crop.width_px} x {crop.height_px} pixels from {crop.left_px},{crop.top_px} on"
            raise UsageError(f"the head of {head.name} does not lie inside what is painted of the photo: {part}")
        over = next((other.name for other in heads[:number] if _overlap_frac(box, other.box) > _MOST_OVERLAP), None)
        if over is not None:
            raise UsageError(f"the head of {head.name} lies over that of {over}; mark them apart")


def _overlap_frac(one: MarkedBox, other: MarkedBox) -> float:
    """Return the part of the smaller of two boxes that lies in the other one."""
    across = min(one.right_px, other.right_px) - max(one.left_px, other.left_px)
    down = min(one.bottom_px, other.bottom_px) - max(one.top_px, other.top_px)
    areas = [(box.right_px - box.left_px) * (box.bottom_px - box.top_px) for box in (one, other)]
    return max(across, 0) * max(down, 0) / min(areas)


def _palette(frame: Plan) -> LimitedPalette:
    """Return the paints of a commission with the recipes made of them alone; a usual palette where it has none."""
    return palette_holding(frame.palette) if frame.palette else PALETTE_NAMED["earths"]
