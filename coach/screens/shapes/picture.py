"""The picture of the Shapes screen: which dots a window shows, for the shapes, the look and the point in hand."""

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.composition.marking import begun
from coach.plan.commission import MarkedHead
from coach.screens.shapes.edits import border_in_hand
from coach.screens.shapes.repository import OpenedPhoto
from coach.screens.shapes.state import Pointer, ShapesState
from coach.screens.widgets.half_blocks import Marks
from coach.screens.widgets.marked_photo import names_on, with_boxes
from coach.shapes.dots import WHITE, draw_cross, draw_dot, draw_line, labels_at, light_values, line_about
from coach.shapes.looks import SQUINTS, Look, looked_at
from coach.shapes.map_measuring import measured_after
from coach.shapes.photo_light import PhotoLight
from coach.shapes.photo_window import PhotoWindow, Point
from coach.shapes.seeing import interior_means
from coach.shapes.shape import Apart, Shape, size_and_colour
from coach.shapes.shape_map import ShapeMap, measured_map
from coach.shapes.shape_raster import dots_of, middle_of, number_of, raster, raster_after

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]
    Dots = NDArray[np.uint8]

_EXACT_FROM: Final = 1.5
"""Where a dot is smaller than so many pixels of the picture, the outlines themselves are drawn, not the picture's."""

_IN_HAND, _OUTLINE = (224, 200, 144), (130, 130, 130)

_RANGE_PERCENT: Final = (1, 99)
"""The darkest and the lightest value of a photo: specks are left out."""


class ShapesPicture:
    """A photo and its shapes, of which any window can be drawn at once."""

    def __init__(self, photo: OpenedPhoto) -> None:
        """Take the part of the photo that is painted; its shapes come later."""
        self.photo = photo
        self.light = PhotoLight(photo.picture.linear, photo.bounds)
        low, high = np.percentile(light_values(photo.picture.linear[::4, ::4]), _RANGE_PERCENT).tolist()
        self._range = (low, high)
        self._map: ShapeMap | None = None
        self._labels: Labels | None = None
        self._colours: Pixels | None = None
        self._alone: dict[str, Shape] = {}
        self.centres: dict[str, Point] = {}
        """The middle of each shape, in pixels of the photo."""

    def show_labels(self, labels: "Labels") -> None:
        """Show shapes that are still being found: the number of the shape at each pixel of the picture."""
        self._map, self._labels, self._colours, self.centres = None, labels, None, {}

    def follow(self, shape_map: ShapeMap) -> None:
        """Show the shapes as they are now."""
        if shape_map is self._map:
            return
        picture, before = self.photo.picture, self._map
        if before is None or self._labels is None:
            self._labels, changed = raster(shape_map, picture), shape_map.shapes
            self.centres = {}
        else:
            self._labels = raster_after(self._labels, before, shape_map, picture)
            old = {one.id: one.outline for one in before.shapes}
            changed = tuple(one for one in shape_map.shapes if old.get(one.id) != one.outline)
            gone = old.keys() - {one.id for one in shape_map.shapes}
            self.centres = {id_: centre for id_, centre in self.centres.items() if id_ not in gone}
        middles = {one.id: middle_of(self._labels, one, picture) for one in changed}
        self.centres |= {id_: middle for id_, middle in middles.items() if middle is not None}
        self._map, self._alone = shape_map, {}

    def measured(self, shape_map: ShapeMap, before: Apart | None) -> Apart:
        """Return what is measured of all shapes, and take their colours for the flat picture; at first in seconds.

        Args:
            shape_map: The shapes.
            before: What was measured before an edit; None for nothing.

        Raises:
            ShapeMapError: No shape lies in the picture.
        """
        picture, heads = self.photo.picture, self.photo.sizing_heads
        if before is None:
            apart = measured_map(shape_map, picture, heads)
        else:
            apart = measured_after(before, shape_map, picture, heads)
        self.take_colours(apart)
        return apart

    def take_colours(self, apart: Apart) -> None:
        """Take the colours of shapes that were measured, for the flat picture."""
        numbers = [number_of(shape.id) for shape in apart.shapes]
        colours = np.full((max(numbers, default=0) + 1, 3), np.nan)
        colours[numbers] = interior_means(self.photo.picture.linear, apart.labels)
        self._colours = colours

    def shape_at(self, point: Point) -> str:
        """Return the id of the shape at a point of the photo; empty for none."""
        if self._labels is None:
            return ""
        left, top, scale = self.photo.picture.left_px, self.photo.picture.top_px, self.photo.picture.scale
        rows, columns = self._labels.shape
        row = min(max(int((point[1] - top) * scale), 0), rows - 1)
        column = min(max(int((point[0] - left) * scale), 0), columns - 1)
        number = int(self._labels[row, column])
        return f"k{number}" if number >= 0 else ""

    def measured_alone(self, shape_id: str) -> Shape | None:
        """Return what the pixels of a shape tell of it, its neighbours left out; None where it has none."""
        if shape_id not in self._alone and shape_id in self.centres and self._labels is not None:
            inside = self._labels == number_of(shape_id)
            rows, columns = (np.flatnonzero(inside.any(axis=axis)) for axis in (1, 0))
            window = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
            picture = replace(self.photo.picture, linear=self.photo.picture.linear[window])
            self._alone[shape_id] = size_and_colour(picture, inside[window])
        return self._alone.get(shape_id)

    def touching(self, shape_id: str) -> list[str]:
        """Return the ids of the shapes that touch one, the longest edge first."""
        if self._labels is None:
            return []
        inside = self._labels == number_of(shape_id)
        met = self._labels[line_about(inside)]
        numbers, counts = np.unique(met[met >= 0], return_counts=True)
        return [f"k{no}" for _, no in sorted(zip((-counts).tolist(), numbers.tolist(), strict=True))]

    def dots(
        self, window: PhotoWindow, state: ShapesState | None, heads: tuple[MarkedHead, ...] | None = None
    ) -> "Dots":
        """Return sRGB of the dots of a window, as the state looks at the photo.

        Without a state the shapes are flat, and heads that wait to be taken have their boxes.
        """
        labels = self._labels_in(window, is_exact=window.dot_px * self.photo.picture.scale < _EXACT_FROM)
        look = Look(is_flat=self._labels is not None) if state is None else self._look(state)
        if state is None or state.pointer is None:
            dots = looked_at(self.light.linear(window), labels, look, self._colours)
            return with_boxes(dots, window, begun(self.photo.size, heads)) if heads else dots
        dots = looked_at(self.light.linear(window), labels, look._replace(marked=set(), chosen=set()), self._colours)
        if state.shape is not None:
            dots[line_about(labels == number_of(state.chosen))] = _OUTLINE
        if state.pointer.border_from is not None:
            right, down = state.pointer.border_by
            for ring in border_in_hand(state.shape_map, state.chosen, self.photo):
                moved = [(x + right, y + down) for x, y in ring]
                for one, other in pairwise([*moved, moved[0]]):
                    draw_line(dots, window.dot_at(one), window.dot_at(other), _IN_HAND)
            return dots
        return _with_pointer(dots, window, state, state.pointer)

    def _look(self, state: ShapesState) -> Look:
        shapes = state.shape_map.shapes
        only: set[int] | None = None
        if state.feature is not None:
            only = {number_of(one.id) for one in shapes if one.feature is state.feature}
        held = state.in_hand.shapes if state.in_hand is not None else ()
        low, high = self._range
        return Look(
            values=SQUINTS[state.squint],
            value_range=(low, high),
            is_flat=state.is_flat,
            only=only,
            marked={number_of(id_) for id_ in held},
            chosen={number_of(state.chosen)} if state.shape is not None else set(),
        )

    def _labels_in(self, window: PhotoWindow, *, is_exact: bool) -> "Labels":
        if self._labels is None:
            return np.full((window.down, window.across), -1, dtype=np.int32)
        if is_exact and self._map is not None:
            return dots_of(self._map.shapes, window)
        left, top, scale = self.photo.picture.left_px, self.photo.picture.top_px, self.photo.picture.scale
        x, y, right, bottom = window.box
        place = ((x - left) * scale, (y - top) * scale, (right - left) * scale, (bottom - top) * scale)
        return labels_at(self._labels, place, window.across, window.down)


def heads_on(window: PhotoWindow | None, picture: ShapesPicture | None, heads: tuple[MarkedHead, ...]) -> Marks:
    """Return the names of heads as signs over a picture."""
    return {} if window is None or picture is None else names_on(window, begun(picture.photo.size, heads))


def _with_pointer(dots: "Dots", window: PhotoWindow, state: ShapesState, pointer: Pointer) -> "Dots":
    """Return the dots with the corners of the chosen shape, the line of a cut, and a cross about the point itself."""
    for corner in [corner for ring in state.shape.outline for corner in ring] if state.shape is not None else ():
        draw_dot(dots, window.dot_at(corner), WHITE)
    if pointer.corner is not None:
        draw_dot(dots, window.dot_at(pointer.corner), _IN_HAND)
    if pointer.cut_from is not None:
        draw_line(dots, window.dot_at(pointer.cut_from), window.dot_at(pointer.at), _IN_HAND)
    draw_cross(dots, window.dot_at(pointer.at))
    return dots
