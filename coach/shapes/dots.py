"""Pictures as a terminal shows them: two dots in a cell, one above the other, so that a dot is about square.

Averages are taken in linear light, so that a checker of black and white comes out as light as it looks.
"""

from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of, luminance_of, srgb_of, value_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]
    Mask = NDArray[np.bool_]
    Dots = NDArray[np.uint8]

Window = tuple[float, float, float, float]
"""Left, top, right and bottom of a part of a picture, in its pixels."""

Colour = tuple[int, int, int]
"""sRGB of 8 bits."""

BLACK: Final = (0, 0, 0)
WHITE: Final = (255, 255, 255)

_LEVELS: Final = 2**14
"""Into so many steps of linear light the curve of sRGB is written down: under half a step of its 256 everywhere."""

_DIMMED_FRAC, _DIMMED_FLOOR, _DIMMED_GREY_FRAC = 0.22, 0.01, 0.6
"""How much light is left of what is dimmed, what is added, and how much of its colour is taken; ours."""

_DIMMED: Final = _DIMMED_FRAC * (
    (1 - _DIMMED_GREY_FRAC) * np.eye(3) + _DIMMED_GREY_FRAC * np.repeat(luminance_of(np.eye(3))[:, None], 3, axis=1)
)
"""What dimming makes of red, green and blue light."""

_CODED: Final = (srgb_of(np.linspace(0, 1, _LEVELS)) * 255 + 0.5).astype(np.uint8)
_LINEAR: Final = linear_of(np.arange(256) / 255)
_VALUES: Final = value_of(np.linspace(0, 1, _LEVELS))


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
        places = (y * columns)[:, None] + np.concatenate((x, x + 1))
        flat = self._sums.reshape(-1, channels)
        upper, lower = (flat.take(one, axis=0).reshape(down + 1, -1) for one in (places, places + columns))
        strips = _part_way(upper, lower, y_part[:, None])  # two short lists in long rows: so it is quick
        strips = strips[1:] - strips[:-1]
        half = channels * (across + 1)
        ends = _part_way(strips[:, :half], strips[:, half:], np.repeat(x_part, channels))
        dots: Pixels = ends[:, channels:] - ends[:, :-channels]
        dots *= across * down / ((right - left) * (bottom - top))
        return dots.reshape(down, across, channels)


def draw_dot(dots: "Dots", at: tuple[int, int], colour: Colour) -> None:
    """Give a dot, a column and a row, a colour; beyond the picture nothing is drawn."""
    column, row = at
    if 0 <= column < dots.shape[1] and 0 <= row < dots.shape[0]:
        dots[row, column] = colour


def draw_line(dots: "Dots", start: tuple[int, int], end: tuple[int, int], colour: Colour) -> None:
    """Give all dots from one to another a colour; either may lie beyond the picture."""
    steps = 1 + max(abs(end[0] - start[0]), abs(end[1] - start[1]))
    line = np.linspace(start, end, steps).round().astype(int)
    line = line[((line >= 0) & (line < (dots.shape[1], dots.shape[0]))).all(axis=1)]
    dots[line[:, 1], line[:, 0]] = colour


def draw_cross(dots: "Dots", at: tuple[int, int]) -> None:
    """Draw a cross about a dot, which stays free; it is seen on any ground."""
    for across, down in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        for far, colour in ((1, BLACK), (2, WHITE), (3, BLACK)):
            draw_dot(dots, (at[0] + far * across, at[1] + far * down), colour)


def labels_at(labels: "Labels", window: Window, across: int, down: int) -> "Labels":
    """Return the label under the middle of each dot, shape (down, across).

    Args:
        labels: A label for each pixel of a picture, shape (rows, columns).
        window: The part of the picture.
        across: Dots in a row.
        down: Rows of dots.
    """
    left, top, right, bottom = window
    rows = _sampled(top, bottom, down, labels.shape[0])
    return labels.take(rows, axis=0).take(_sampled(left, right, across, labels.shape[1]), axis=1)


def line_about(inside: "Mask") -> "Mask":
    """Return the dots that lie beside those inside, and are not inside themselves."""
    line = np.zeros_like(inside)
    line[1:] |= inside[:-1]
    line[:-1] |= inside[1:]
    line[:, 1:] |= inside[:, :-1]
    line[:, :-1] |= inside[:, 1:]
    return line & ~inside


def dimmed(linear: "Pixels") -> "Pixels":
    """Return light with so little of it left that all the rest of a picture stands out."""
    return linear @ _DIMMED + _DIMMED_FLOOR


def coded(linear: "Pixels") -> "Dots":
    """Return linear light as sRGB of 8 bits."""
    return _CODED.take((linear * (_LEVELS - 1) + 0.5).astype(np.intp), mode="clip")


def values_of(dots: "Dots") -> "Pixels":
    """Return the painter's value, 0 black to 10 white, of each dot: what is shown where there are too few colours."""
    return light_values(_LINEAR[dots])


def light_values(linear: "Pixels") -> "Pixels":
    """Return the painter's value, 0 black to 10 white, of linear light that is shown; channels last."""
    return _VALUES[(luminance_of(linear).clip(0, 1) * (_LEVELS - 1) + 0.5).astype(np.int32)]


def _places(low: float, high: float, count: int, last: int) -> "tuple[NDArray[np.intp], Pixels]":
    """Return for the ends of dots in a row the pixel before each, and how far into it the end lies."""
    ends = low + np.arange(count + 1.0) * ((high - low) / count)
    pixels = np.minimum(ends.astype(np.intp), last - 1)
    return pixels, ends - pixels


def _part_way(before: "Pixels", after: "Pixels", part: "Pixels") -> "Pixels":
    """Return what lies a part of the way from one array to another, in the place of the other."""
    after -= before
    after *= part
    after += before
    return after


def _sampled(low: float, high: float, count: int, pixels: int) -> "NDArray[np.intp]":
    places = low + (np.arange(count) + 0.5) * ((high - low) / count)
    return np.minimum(places.astype(np.intp), pixels - 1)
