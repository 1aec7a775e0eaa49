"""A photo taken apart while the painter looks on, after the head is found where none is marked."""

from typing import TYPE_CHECKING, Final

from coach.composition.proposal.cutting import stages_to_paint
from coach.composition.proposal.proposal import REFERENCE_HEAD_MM
from coach.composition.proposal.shape_parts import OnCanvas
from coach.plan.commission import MarkedBox, MarkedHead
from coach.screens.shapes.repository import OpenedPhoto, OpenedShapes, Version
from coach.screens.shapes.state import ShapesState, begun
from coach.shapes.head_finding import MOST_PROPOSED, heads_in
from coach.shapes.photo_light import PhotoLight
from coach.shapes.shape import Apart
from coach.shapes.shape_map import ShapeMap, map_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]

EACH_HEAD: Final = 50
"""Shapes of a head at first: neither coarse nor fine."""


def stages_of(photo: OpenedPhoto) -> "Iterator[tuple[Labels, Apart | None]]":
    """Yield the shape of each pixel of the picture as it is found, at last with what is measured of the shapes.

    Args:
        photo: The photo, with one head at least.
    """
    heights_px = [head.bottom - head.top for head in photo.heads]
    usual = REFERENCE_HEAD_MM * len(heights_px) / sum(heights_px)
    on_canvas = OnCanvas(mm_per_px=max(photo.mm_per_px.values(), default=usual))
    return stages_to_paint(photo.picture, photo.heads, EACH_HEAD * len(photo.heads), on_canvas)


def map_in(photo: OpenedPhoto, apart: Apart) -> ShapeMap:
    """Return the shapes that were found in a photo as the painter keeps them."""
    width, height = photo.size.width_px, photo.size.height_px
    return map_of(apart, photo_width_px=width, photo_height_px=height, photo_sha256=photo.sha256)


def begun_with(opened: OpenedShapes, photo: OpenedPhoto, shape_map: ShapeMap) -> ShapesState:
    """Return the state of shapes that were found; where a head was taken with them, that is not saved yet."""
    plan = opened.plan._replace(shapes=opened.shapes_name)
    if plan.heads or not photo.heads:
        return begun(Version(plan, shape_map))
    heads = tuple(
        MarkedHead(head.name, MarkedBox(round(head.left), round(head.top), round(head.right), round(head.bottom)))
        for head in photo.heads
    )
    return begun(Version(plan._replace(heads=heads), shape_map))._replace(saved=Version(plan, shape_map))


def proposed_heads(photo: OpenedPhoto) -> tuple[MarkedHead, ...]:
    """Return the heads that are found in what is painted of a photo, for the painter to take or to leave."""
    boxes = heads_in(PhotoLight(photo.picture.linear, photo.bounds), MOST_PROPOSED)
    return tuple(MarkedHead(f"head {number}", box) for number, box in enumerate(boxes, start=1))
