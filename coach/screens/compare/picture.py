"""The pictures of the Compare screen: corners on a photo, a finding as two flat patches, its outline on a canvas."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.compare.pictures import CanvasPictures, colours_apart, value_apart
from coach.screens.compare.findings import Finding, Matter
from coach.screens.compare.state import CORNERS, Framing, Framings
from coach.screens.widgets.half_blocks import Mark, MarkRole, Marks
from coach.shapes.dots import BLACK, WHITE, SummedLight, coded, draw_cross, draw_dot, draw_line, labels_at
from coach.shapes.looks import Look, looked_at
from coach.shapes.photo_light import PhotoLight
from coach.shapes.photo_window import PhotoWindow, Point, whole
from coach.text import cells, cut

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Dots = NDArray[np.uint8]
    Light = NDArray[np.float64]

_AROUND_MM: Final = 12.0
"""So much of the canvas is shown about a feature that was moved; ours."""

_ABOUT_LANDMARK_MM: Final = 8.0
_SEEN_FRAC: Final = 0.7
"""Landmarks take so much of the window at first; ours."""

_SEEN_DOTS: Final = 12
"""A passage is enlarged until it is so many dots wide or high; ours."""

_MARGIN_FRAC: Final = 0.18
"""The ground about the patches, for one of their room on each side; ours."""


def point_dots(light: PhotoLight, window: PhotoWindow, framings: Framings, *, is_set: bool) -> "Dots":
    """Return a window of a photo with the outlines of both canvases, or with landmarks on them.

    Args:
        light: The photo.
        window: The window.
        framings: What is being set in the photo.
        is_set: Whether there is a cross about the point in hand.
    """
    dots = coded(light.linear(window))
    places = [window.dot_at(point) for point in framings.points]
    if framings.landmarks is not None:
        for column, row in places:
            for across, down, colour in ((1, 0, BLACK), (-1, 0, BLACK), (0, 0, WHITE)):
                draw_dot(dots, (column + across, row + down), colour)
    corners = () if framings.landmarks is not None else places
    for first in range(0, len(corners), len(CORNERS)):
        own = corners[first : first + len(CORNERS)]
        for start, end in zip(own, [*own[1:], own[0]], strict=True):
            draw_line(dots, start, end, WHITE)
    if is_set:
        draw_cross(dots, places[framings.in_hand])
    return dots


def window_about(points: Sequence[Point], window: PhotoWindow) -> tuple[Point, float]:
    """Return the middle of points and the side of a dot, in pixels of the photo, at which all are in a window."""
    (left, top), (right, bottom) = np.min(points, axis=0), np.max(points, axis=0)
    dot_px = max((right - left) / window.columns, (bottom - top) / (2 * window.rows)) / _SEEN_FRAC
    return (float(left + right) / 2, float(top + bottom) / 2), float(dot_px)


def name_marks(window: PhotoWindow, framing: Framing) -> Marks:
    """Return the names of the canvases as signs on their lower sides, where they have room."""
    marks: Marks = {}
    for name, first in ((framing.left, 0), (framing.right, len(CORNERS))):
        right, left = (window.dot_at(framing.corners[first + number]) for number in (2, 3))
        text = cut(name, max(1, right[0] - left[0]))
        at = ((left[0] + right[0] - cells(text)) // 2, (left[1] + right[1]) // 4)
        _write(marks, text, at, (window.across, window.down // 2))
    return marks


def patch_dots(pictures: CanvasPictures, finding: Finding, columns: int, rows: int) -> "Dots | None":
    """Return a finding as a picture of so many cells, shape (2 x rows, columns, 3); None where nothing can be shown.

    A colour is shown as two flat patches side by side on the ground tone that they stand on, a moved feature as it is
    on either canvas.
    """
    if not _region(pictures, finding).any() or min(columns, rows) < 1:
        return None
    if finding.matter is Matter.DRAWING:
        return _features(pictures, finding, columns, rows)
    if finding.matter in (Matter.COLOUR, Matter.ALL_OVER):
        colours = colours_apart(pictures, finding.address, finding.lab_difference)
    else:
        colours = value_apart(pictures, finding.address, finding.canvas, finding.steps)
    one, other, ground = (coded(colour[None])[0] for colour in colours)
    dots = np.empty((2 * rows, columns, 3), dtype=np.uint8)
    dots[:] = ground
    across, down = round(_MARGIN_FRAC * columns), round(_MARGIN_FRAC * 2 * rows)
    middle = columns // 2
    dots[down : 2 * rows - down, across:middle] = one
    dots[down : 2 * rows - down, middle : columns - across] = other
    return dots


def patch_marks(names: tuple[str, str], columns: int, rows: int, finding: Finding | None) -> Marks:
    """Return the names of both halves of the picture, each below its own."""
    marks: Marks = {}
    half = columns // 2
    is_flat = finding is not None and finding.matter is not Matter.DRAWING
    inwards = round(_MARGIN_FRAC * columns) // 2 if is_flat else 0
    for name, middle in ((names[0], half // 2 + inwards), (names[1], columns - half // 2 - inwards)):
        text = cut(name, max(1, half - inwards - 1))
        _write(marks, text, (middle - cells(text) // 2, rows - 1), (columns, rows))
    return marks


def patch_names(pictures: CanvasPictures, finding: Finding | None) -> tuple[str, str]:
    """Return what the two halves of the picture are of."""
    if finding is not None and finding.matter is Matter.VALUE:
        return finding.canvas, "as the photo"
    return pictures.canvases


def both_dots(pictures: CanvasPictures, columns: int, rows: int) -> "Dots":
    """Return both canvases from the front, side by side, in at most so many cells."""
    half = (columns - 1) // 2
    high, wide = pictures.labels.shape
    window = whole((0.0, 0.0, float(wide), float(high)), max(1, half), max(1, rows))
    shown = [coded(PhotoLight(front, window.bounds).linear(window)) for front in pictures.fronts]
    gap = np.zeros((window.down, 1, 3), dtype=np.uint8)
    return np.concatenate((shown[0], gap, shown[1]), axis=1)


def outline_dots(pictures: CanvasPictures, light: PhotoLight, window: PhotoWindow, finding: Finding | None) -> "Dots":
    """Return a window of a canvas with a finding's passage outlined, or an arrow from where a feature should lie."""
    labels = labels_at(pictures.labels, window.box, window.across, window.down)
    chosen = set()
    is_drawing = finding is not None and finding.matter is Matter.DRAWING
    if finding is not None and not is_drawing and finding.address in pictures.passages:
        chosen = {pictures.passages.index(finding.address)}
    plain = np.where(np.isin(labels, list(chosen)), labels, -1)
    only = chosen or None
    dots = looked_at(light.linear(window), plain.astype(np.int32), Look(only=only, marked=chosen))
    if finding is not None and is_drawing:
        _draw_arrow(dots, pictures, window, finding)
    return dots


def place_of(pictures: CanvasPictures, finding: Finding) -> tuple[Point, float]:
    """Return the middle of a finding's passage, and how large a dot may be to see it, in dots of the canvas."""
    rows, columns = np.nonzero(_region(pictures, finding))
    if not len(rows):
        rows, columns = (np.array([0, side]) for side in pictures.labels.shape)
    middle = (float(columns.min() + columns.max()) / 2, float(rows.min() + rows.max()) / 2)
    return middle, max(1.0, float(max(np.ptp(rows), np.ptp(columns))) / _SEEN_DOTS)


def _region(pictures: CanvasPictures, finding: Finding) -> "NDArray[np.bool_]":
    """Return the dots that a finding is about: its passage, or what lies about a landmark."""
    if finding.at_mm is None:
        return pictures.inside(finding.address)
    down, across = np.indices(pictures.labels.shape) / pictures.dots_per_mm
    x, y = finding.at_mm
    near: NDArray[np.bool_] = (across - x) ** 2 + (down - y) ** 2 <= _ABOUT_LANDMARK_MM**2
    return near


def _features(pictures: CanvasPictures, finding: Finding, columns: int, rows: int) -> "Dots":
    """Return a feature on either canvas, as large as it fits, with an arrow to where the one has it."""
    half, region = max(1, (columns - 1) // 2), _region(pictures, finding)
    down, across = (np.flatnonzero(region.any(axis=axis)) for axis in (1, 0))
    wide, high = (side[-1] + 1 - side[0] + 2 * _AROUND_MM * pictures.dots_per_mm for side in (across, down))
    every = whole((0.0, 0.0, float(region.shape[1]), float(region.shape[0])), half, rows)
    window = every.about((float(across.mean()), float(down.mean())), max(wide / half, high / (2 * rows)))
    dots = np.zeros((2 * rows, columns, 3), dtype=np.uint8)
    for first, canvas, front in zip((0, half + 1), pictures.canvases, pictures.fronts, strict=True):
        shown = coded(SummedLight(front).dots(window.box, window.across, window.down))
        if canvas == finding.canvas:
            _draw_arrow(shown, pictures, window, finding)
        dots[: window.down, first : first + window.across] = shown
    return dots


def _draw_arrow(dots: "Dots", pictures: CanvasPictures, window: PhotoWindow, finding: Finding) -> None:
    """Draw how far the canvas has a feature from where it should be: a black line to a white dot."""
    x, y = place_of(pictures, finding)[0]
    right, down = (side * pictures.dots_per_mm for side in finding.shift_mm)
    end = window.dot_at((x + right, y + down))
    draw_line(dots, window.dot_at((x, y)), end, BLACK)
    draw_dot(dots, end, WHITE)


def _write(marks: Marks, text: str, at: tuple[int, int], room: tuple[int, int]) -> None:
    """Write a text from a cell on over a picture of so many columns and rows, where it has room."""
    (column, row), (columns, rows) = at, room
    if column < 0 or column + cells(text) > columns or not 0 <= row < rows:
        return
    own = marks.setdefault(row, {})
    for sign in text:
        own[column] = Mark(sign, MarkRole.IN_HAND)
        for more in range(1, cells(sign)):
            own[column + more] = Mark("", MarkRole.IN_HAND)
        column += cells(sign)
