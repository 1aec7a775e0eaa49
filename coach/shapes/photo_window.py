"""The part of a photo that the screen shows, in dots: enlarged about a point, which stays in it."""

from typing import Final, NamedTuple

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels of the photo."""

_TIMES: Final = 2.0
"""Each step enlarges by so much; ours."""

_EDGE_FRAC: Final = 0.12
"""A point nearer to the edge than this part of what is shown is brought to its middle; ours."""


class PhotoWindow(NamedTuple):
    """A part of a photo as it is shown.

    Attributes:
        box: What is shown, in pixels of the photo.
        across: Dots in a row.
        down: Rows of dots, an even number: two lie in a cell, one above the other.
    """

    box: Box
    across: int
    down: int

    @property
    def dot_px(self) -> float:
        """The side of a dot in pixels of the photo."""
        return (self.box[2] - self.box[0]) / self.across

    def dot_at(self, x_px: float, y_px: float) -> tuple[int, int]:
        """Return column and row of the dot in which a point of the photo lies; it may lie beyond the picture."""
        left, top, right, bottom = self.box
        column = (x_px - left) * self.across / (right - left)
        row = (y_px - top) * self.down / (bottom - top)
        return int(column // 1), int(row // 1)

    def point_at(self, column: float, row: float) -> tuple[float, float]:
        """Return the point of the photo in the middle of a dot, or of a cell where `row` is that of its lower dot."""
        left, top, right, bottom = self.box
        return left + (column + 0.5) * (right - left) / self.across, top + (row + 0.5) * (bottom - top) / self.down


def whole(bounds: Box, columns: int, rows: int) -> PhotoWindow:
    """Return all that there is, as large as fits into so many cells; it keeps its shape.

    Args:
        bounds: What there is of the photo.
        columns: Most cells in a row, 1 or more.
        rows: Most rows of cells, 1 or more.
    """
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    dot = max(wide / columns, high / (2 * rows))
    return PhotoWindow(bounds, *_dots(wide, high, dot, columns, rows))


def finest_px(px_per_mm: float | None) -> float:
    """Return the side of the smallest dot, in pixels of the photo: 1, or 1 mm on the canvas where that is less."""
    return min(1.0, px_per_mm) if px_per_mm else 1.0


def enlarged(
    window: PhotoWindow, bounds: Box, room: tuple[int, int], about: tuple[float, float], least_px: float
) -> PhotoWindow:
    """Return the next larger picture about a point; at the finest dot the same.

    Args:
        window: What is shown.
        bounds: What there is of the photo.
        room: Most cells in a row, and rows.
        about: The point, in pixels of the photo.
        least_px: The side of the smallest dot, as `finest_px` returns it.
    """
    return _about(bounds, room, about, max(window.dot_px / _TIMES, least_px))


def reduced(window: PhotoWindow, bounds: Box, room: tuple[int, int], about: tuple[float, float]) -> PhotoWindow:
    """Return the next smaller picture about a point, down to all that there is."""
    return _about(bounds, room, about, window.dot_px * _TIMES)


def refitted(window: PhotoWindow, bounds: Box, room: tuple[int, int], about: tuple[float, float]) -> PhotoWindow:
    """Return the same enlargement in another room."""
    return _about(bounds, room, about, window.dot_px)


def followed(window: PhotoWindow, bounds: Box, room: tuple[int, int], point: tuple[float, float]) -> PhotoWindow:
    """Return the window moved as far as a point needs that comes near its edge; the same where it does not."""
    left, top, right, bottom = window.box
    across, down = _EDGE_FRAC * (right - left), _EDGE_FRAC * (bottom - top)
    x, y = point
    is_inside = left + across <= x <= right - across and top + down <= y <= bottom - down
    return window if is_inside else _about(bounds, room, point, window.dot_px)


def _about(bounds: Box, room: tuple[int, int], about: tuple[float, float], dot_px: float) -> PhotoWindow:
    all_of_it = whole(bounds, *room)
    if dot_px >= all_of_it.dot_px * 0.99:
        return all_of_it
    left, top, right, bottom = bounds
    wide, high = min(right - left, room[0] * dot_px), min(bottom - top, 2 * room[1] * dot_px)
    x = _begun(about[0], wide, (left, right), dot_px)
    y = _begun(about[1], high, (top, bottom), dot_px)
    return PhotoWindow((x, y, x + wide, y + high), *_dots(wide, high, dot_px, *room))


def _begun(point: float, size: float, bounds: tuple[float, float], dot_px: float) -> float:
    """Return where a window begins: the dot of the point in its middle, on whole dots, inside the bounds."""
    least, most = bounds
    dots = (point - least) // dot_px - size / dot_px // 2
    return min(max(least + dots * dot_px, least), most - size)


def _dots(wide: float, high: float, dot: float, columns: int, rows: int) -> tuple[int, int]:
    return max(1, min(columns, round(wide / dot))), 2 * max(1, min(rows, round(high / dot / 2)))
