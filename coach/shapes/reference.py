"""The photo beside the easel: the place of a passage in it, the passage's shapes outlined, the rest dimmed."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.dots import SummedLight, Window, coded, dimmed, labels_at, line_about
from coach.shapes.features import HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.shape import Picture
from coach.shapes.shape_map import paint

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Dots = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

_NO_SHAPE: Final = -1

_CONTEXT_HEAD_FRAC: Final = 0.62
"""At least so much of the height of a head is shown about a shape in it: an eye is seen with brow and nose; ours."""

_MARGIN_FRAC: Final = 0.35
"""So much of its own size is shown on each side of a passage, or of the picture where it has no head; ours."""

_LEAST_FRAC: Final = 0.2
"""Without a head at least so much of the longer side of the picture is shown."""

_LINE: Final = 1.0
"""The line about a passage is white: all outside is dimmed, so that it is seen in light and in dark places."""

_HITS: Final = 2
"""A dot is asked at four places for the shape it belongs to, and belongs to a passage if so many say so."""


class Reference:
    """A photo with its shapes, ready to show the place of any passage."""

    def __init__(self, picture: Picture, outlines: Mapping[str, Sequence[Ring]], heads: Sequence[HeadBox] = ()) -> None:
        """Take what is painted of the photo.

        Args:
            picture: The part of the photo that is painted, scaled to a moderate size.
            outlines: Rings of each shape by its id, in pixels of the photo, even-odd.
            heads: The heads, in pixels of the photo: a shape in a head is shown with what is about it there.
        """
        self._light = SummedLight(picture.linear)
        self._rows, self._columns = picture.linear.shape[:2]
        self._heads = [_box(picture.head(head)) for head in heads]
        known = {shape: outline for shape, outline in outlines.items() if outline}
        self._numbers = {shape: number for number, shape in enumerate(known)}
        self._boxes = [_around(outline, picture) for outline in known.values()]
        self._labels = np.full((self._rows, self._columns), _NO_SHAPE, dtype=np.int32)
        for number, outline in enumerate(known.values()):
            paint(self._labels, outline, number, picture)

    def reference(
        self, ids: Sequence[str], columns: int, rows: int, *, mirrored: bool = False, upside_down: bool = False
    ) -> "Dots":
        """Return the photo about a passage, its shapes outlined, the rest dimmed; without shapes the whole photo.

        Args:
            ids: The passage's shapes; unknown ones are left out.
            columns: Most cells in a row, 1 or more.
            rows: Most rows of cells, 1 or more.
            mirrored: Left and right changed.
            upside_down: Turned by half.

        Returns:
            sRGB of the dots, shape (2 x rows, columns, 3), or less in one direction where the photo ends: it keeps its
            shape. The number of rows of dots is even.
        """
        numbers = [self._numbers[shape] for shape in ids if shape in self._numbers]
        window = self._window([self._boxes[number] for number in numbers], columns / (2 * rows))
        across, down = _fitted(window, columns, rows)
        dots = self._light.dots(window, across, down)
        if numbers:
            dots = self._with_passage(dots, numbers, window)
        if upside_down:
            dots = dots[::-1, ::-1]
        return coded(dots[:, ::-1] if mirrored else dots)

    def _window(self, boxes: Sequence[Window], ratio: float) -> Window:
        """Return the part that shows boxes with what is about them, of this ratio where the picture has the room."""
        whole = (0.0, 0.0, float(self._columns), float(self._rows))
        if not boxes:
            return whole
        left, top, right, bottom = _union(boxes)
        heads = [head for head in self._heads if _meets(head, (left, top, right, bottom))]
        least = _CONTEXT_HEAD_FRAC * max(head[3] - head[1] for head in heads) if heads else _LEAST_FRAC * max(whole[2:])
        high = max(least, (1 + 2 * _MARGIN_FRAC) * (bottom - top))
        wide = max(ratio * high, (1 + 2 * _MARGIN_FRAC) * (right - left))
        wide, high = min(wide, whole[2]), min(max(high, wide / ratio), whole[3])
        x, y = (left + right - wide) / 2, (top + bottom - high) / 2
        x, y = min(max(x, 0.0), whole[2] - wide), min(max(y, 0.0), whole[3] - high)
        return (x, y, x + wide, y + high)

    def _with_passage(self, dots: "Pixels", numbers: Sequence[int], window: Window) -> "Pixels":
        down, across = dots.shape[:2]
        chosen = np.zeros(len(self._boxes) + 1, dtype=np.uint8)
        chosen[list(numbers)] = 1  # the last place stands for no shape
        asked = chosen.take(labels_at(self._labels, window, 2 * across, 2 * down))
        hits = asked[::2, ::2] + asked[::2, 1::2] + asked[1::2, ::2] + asked[1::2, 1::2]
        inside = hits >= max(1, min(_HITS, int(hits.max())))
        shown = dimmed(dots)
        np.copyto(shown, dots, where=inside[..., None])
        shown[_line(inside)] = _LINE
        return shown


def _line(inside: "Mask") -> "Mask":
    """Return the dots of the line about a passage; about a small one it is dotted: it hides no more than it shows."""
    line = line_about(inside)
    if line.sum() > inside.sum():
        line[::2, ::2] = line[1::2, 1::2] = False
    return line


def _fitted(window: Window, columns: int, rows: int) -> tuple[int, int]:
    """Return how many dots a part takes across and down, as large as fits, an even number down."""
    wide, high = window[2] - window[0], window[3] - window[1]
    dot = max(wide / columns, high / (2 * rows))
    return max(1, min(columns, round(wide / dot))), 2 * max(1, min(rows, round(high / dot / 2)))


def _box(head: HeadBox) -> Window:
    return (head.left, head.top, head.right, head.bottom)


def _around(outline: Sequence[Ring], picture: Picture) -> Window:
    corners = np.concatenate([np.array(ring, dtype=float) for ring in outline])
    left, top = ((corners.min(axis=0) - (picture.left_px, picture.top_px)) * picture.scale).tolist()
    right, bottom = ((corners.max(axis=0) - (picture.left_px, picture.top_px)) * picture.scale).tolist()
    return (left, top, right, bottom)


def _union(boxes: Sequence[Window]) -> Window:
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return (min(lefts), min(tops), max(rights), max(bottoms))


def _meets(one: Window, other: Window) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
