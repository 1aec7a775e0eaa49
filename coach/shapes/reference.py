"""The photo as it is looked at beside the easel: a part of it in dots, a passage's shapes outlined, the rest dimmed.

Two dots lie one above the other in a cell, so that a dot is about square. Averages are taken in linear light.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of, luminance_of, srgb_of, value_of
from coach.shapes.features import HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.shape import Picture

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int16]
    Dots = NDArray[np.uint8]

Window = tuple[float, float, float, float]
"""Left, top, right and bottom of a part of a picture, in its pixels."""

NO_SHAPE: Final = -1

_LEVELS: Final = 2**14
"""Into so many steps of linear light the curve of sRGB is written down: under half a step of its 256 everywhere."""

_CONTEXT_HEAD_FRAC: Final = 0.62
"""At least so much of the height of a head is shown about a shape in it: an eye is seen with brow and nose; ours."""

_MARGIN_FRAC: Final = 0.35
"""So much of its own size is shown on each side of a passage, or of the picture where it has no head; ours."""

_LEAST_FRAC: Final = 0.2
"""Without a head at least so much of the longer side of the picture is shown."""

_DIMMED_FRAC, _DIMMED_FLOOR, _DIMMED_GREY_FRAC = 0.22, 0.01, 0.6
"""How much light is left of what is dimmed, what is added, and how much of its colour is taken; ours."""

_DIMMED: Final = _DIMMED_FRAC * (
    (1 - _DIMMED_GREY_FRAC) * np.eye(3) + _DIMMED_GREY_FRAC * np.repeat(luminance_of(np.eye(3))[:, None], 3, axis=1)
)
"""What dimming makes of red, green and blue light."""

_LINE: Final = 1.0
"""The line about a passage is white: all outside is dimmed, so that it is seen in light and in dark places."""

_SAMPLES: Final = 3
"""A dot is asked at so many places across and down for the shape that it belongs to."""


class SummedLight:
    """A picture summed up once, so that the mean light of any grid of dots on it is found at once."""

    def __init__(self, linear: "Pixels") -> None:
        """Sum up linear light, shape (rows, columns, 3)."""
        rows, columns, channels = linear.shape
        self._sums = np.zeros((rows + 1, columns + 1, channels))
        np.cumsum(linear, axis=0, out=self._sums[1:, 1:])
        np.cumsum(self._sums[1:, 1:], axis=1, out=self._sums[1:, 1:])

    def dots(self, window: Window, across: int, down: int) -> "Pixels":
        """Return the mean linear light of each dot, shape (down, across, 3).

        Args:
            window: The part of the picture, inside it.
            across: Dots in a row.
            down: Rows of dots.
        """
        left, top, right, bottom = window
        rows, columns, channels = self._sums.shape
        x, x_part = _places(left, right, across, columns - 1)
        y, y_part = _places(top, bottom, down, rows - 1)
        places = (np.concatenate((y, y + 1)) * columns)[:, None] + np.concatenate((x, x + 1))
        sums = self._sums.reshape(-1, channels).take(places, axis=0)
        upper, lower = sums[: down + 1], sums[down + 1 :]
        strips = np.diff(upper + (lower - upper) * y_part[:, None, None], axis=0)
        before, after = strips[:, : across + 1], strips[:, across + 1 :]
        boxes = np.diff(before + (after - before) * x_part[:, None], axis=1)
        return boxes * (across * down / ((right - left) * (bottom - top)))


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
        self._numbers = {shape: number for number, shape in enumerate(outlines)}
        rings = [[_in_picture(ring, picture) for ring in outline] for outline in outlines.values()]
        self._boxes = [_around([corner for ring in one for corner in ring]) for one in rings]
        self._labels = _labels(rings, self._rows, self._columns)

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
        columns = _sampled(window[0], window[2], across, self._columns)
        rows = _sampled(window[1], window[3], down, self._rows)
        chosen = np.zeros(len(self._boxes) + 1, dtype=np.uint8)
        chosen[list(numbers)] = 1  # the last place stands for no shape
        sampled = chosen.take(self._labels.take(rows, axis=0).take(columns, axis=1))
        sampled = np.add.reduce([sampled[no::_SAMPLES] for no in range(_SAMPLES)])
        hits = np.add.reduce([sampled[:, no::_SAMPLES] for no in range(_SAMPLES)])
        inside = hits >= max(1, min(_SAMPLES**2 // 2 + 1, int(hits.max())))
        shown = np.where(inside[..., None], dots, dots @ _DIMMED + _DIMMED_FLOOR)
        line = np.zeros_like(inside)
        line[1:] |= inside[:-1]
        line[:-1] |= inside[1:]
        line[:, 1:] |= inside[:, :-1]
        line[:, :-1] |= inside[:, 1:]
        shown[line & ~inside] = _LINE
        return shown


def coded(linear: "Pixels") -> "Dots":
    """Return linear light as sRGB of 8 bits."""
    return _CODED[(linear.clip(0, 1) * (_LEVELS - 1) + 0.5).astype(np.int32)]


def values_of(dots: "Dots") -> "Pixels":
    """Return the painter's value, 0 black to 10 white, of each dot: what is shown where there are too few colours."""
    return _VALUES[(luminance_of(_LINEAR[dots]) * (_LEVELS - 1) + 0.5).astype(np.int32)]


_CODED: Final = (srgb_of(np.linspace(0, 1, _LEVELS)) * 255 + 0.5).astype(np.uint8)
_LINEAR: Final = linear_of(np.arange(256) / 255)
_VALUES: Final = value_of(np.linspace(0, 1, _LEVELS))


def _places(low: float, high: float, count: int, last: int) -> "tuple[NDArray[np.int32], Pixels]":
    """Return for the ends of dots in a row the pixel before each, and how far into it the end lies."""
    ends = np.linspace(low, high, count + 1)
    pixels = np.minimum(ends.astype(np.int32), last - 1)
    return pixels, ends - pixels


def _sampled(low: float, high: float, count: int, pixels: int) -> "NDArray[np.int32]":
    places = low + (np.arange(count * _SAMPLES) + 0.5) * ((high - low) / (count * _SAMPLES))
    return np.minimum(places.astype(np.int32), pixels - 1)


def _fitted(window: Window, columns: int, rows: int) -> tuple[int, int]:
    """Return how many dots a part takes across and down, as large as fits, an even number down."""
    wide, high = window[2] - window[0], window[3] - window[1]
    dot = max(wide / columns, high / (2 * rows))
    return max(1, min(columns, round(wide / dot))), 2 * max(1, min(rows, round(high / dot / 2)))


def _labels(shapes: Sequence[Sequence[Ring]], rows: int, columns: int) -> "Labels":
    """Return the number of the shape at each pixel; a pixel belongs to the last one that holds its middle."""
    from skimage.draw import polygon  # noqa: PLC0415  loaded when a photo is shown

    labels = np.full((rows, columns), NO_SHAPE, dtype=np.int16)
    for number, rings in enumerate(shapes):
        inside = np.zeros((rows, columns), dtype=bool)
        for ring in rings:
            x, y = np.array(ring, dtype=float).T
            inside[polygon(y - 0.5, x - 0.5, shape=(rows, columns))] ^= True
        labels[inside] = number
    return labels


def _in_picture(ring: Ring, picture: Picture) -> Ring:
    return tuple(((x - picture.left_px) * picture.scale, (y - picture.top_px) * picture.scale) for x, y in ring)


def _box(head: HeadBox) -> Window:
    return (head.left, head.top, head.right, head.bottom)


def _around(corners: Sequence[tuple[float, float]]) -> Window:
    across, down = zip(*corners, strict=True)
    return (min(across), min(down), max(across), max(down))


def _union(boxes: Sequence[Window]) -> Window:
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return (min(lefts), min(tops), max(rights), max(bottoms))


def _meets(one: Window, other: Window) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
