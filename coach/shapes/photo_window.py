"""The part of a photo that the screen shows, in dots: enlarged about a point, which stays in it."""

from typing import Final, NamedTuple, Self

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels of the photo."""

Point = tuple[float, float]
"""A column and a row, in pixels of the photo."""

_TIMES: Final = 2.0
"""Each step enlarges by so much; ours."""

_EDGE_FRAC: Final = 0.12
"""A point nearer to the edge than this part of what is shown is brought to its middle; ours."""

_ALMOST: Final = 0.99
"""A picture as large as this part of the one that fits is that one."""


def finest_px(px_per_mm: float | None) -> float:
    """Return the side of the smallest dot, in pixels of the photo: 1, or 1 mm on the canvas where that is less."""
    return min(1.0, px_per_mm) if px_per_mm else 1.0


class PhotoWindow(NamedTuple):
    """A part of a photo as it is shown.

    Attributes:
        bounds: What there is of the photo.
        columns: Most cells in a row.
        rows: Most rows of cells; two dots lie in a cell, one above the other.
        least_px: The side of the smallest dot, as `finest_px` returns it.
        box: What is shown.
        across: Dots in a row.
        down: Rows of dots, an even number.
    """

    bounds: Box
    columns: int
    rows: int
    least_px: float
    box: Box
    across: int
    down: int

    @property
    def dot_px(self) -> float:
        """The side of a dot in pixels of the photo."""
        return (self.box[2] - self.box[0]) / self.across

    def dot_at(self, point: Point) -> tuple[int, int]:
        """Return column and row of the dot in which a point of the photo lies; it may lie beyond the picture."""
        left, top, right, bottom = self.box
        column = (point[0] - left) * self.across / (right - left)
        row = (point[1] - top) * self.down / (bottom - top)
        return int(column // 1), int(row // 1)

    def point_at(self, column: float, row: float) -> Point:
        """Return the point of the photo in the middle of a dot."""
        left, top, right, bottom = self.box
        return left + (column + 0.5) * (right - left) / self.across, top + (row + 0.5) * (bottom - top) / self.down

    def stepped(self, point: Point, across: int, down: int) -> Point:
        """Return a point moved by so many dots, as far as the photo goes, to the middle of the dot it comes to."""
        left, top, right, bottom = self.bounds
        x, y = self.point_at(*(at + by for at, by in zip(self.dot_at(point), (across, down), strict=True)))
        return min(max(x, left), right), min(max(y, top), bottom)

    def enlarged(self, about: Point) -> Self:
        """Return the next larger picture about a point; at the finest dot the same."""
        return self.about(about, max(self.dot_px / _TIMES, self.least_px))

    def reduced(self, about: Point) -> Self:
        """Return the next smaller picture about a point, down to all that there is."""
        return self.about(about, self.dot_px * _TIMES)

    def in_room(self, columns: int, rows: int, about: Point) -> Self:
        """Return the same enlargement in another room."""
        return self._replace(columns=columns, rows=rows).about(about, self.dot_px)

    def following(self, point: Point) -> Self:
        """Return the window moved as far as a point needs that comes near its edge; the same where it does not."""
        left, top, right, bottom = self.box
        across, down = _EDGE_FRAC * (right - left), _EDGE_FRAC * (bottom - top)
        is_inside = left + across <= point[0] <= right - across and top + down <= point[1] <= bottom - down
        return self if is_inside else self.about(point, self.dot_px)

    def about(self, point: Point, dot_px: float) -> Self:
        """Return what lies about a point at so many pixels of the photo a dot; at most all that there is."""
        left, top, right, bottom = self.bounds
        if dot_px >= _ALMOST * _fitting_px(self.bounds, self.columns, self.rows):
            dot_px = _fitting_px(self.bounds, self.columns, self.rows)
        wide, high = min(right - left, self.columns * dot_px), min(bottom - top, 2 * self.rows * dot_px)
        x, y = _begun(point[0], wide, (left, right), dot_px), _begun(point[1], high, (top, bottom), dot_px)
        return self._replace(
            box=(x, y, x + wide, y + high),
            across=max(1, min(self.columns, round(wide / dot_px))),
            down=2 * max(1, min(self.rows, round(high / dot_px / 2))),
        )


def whole(bounds: Box, columns: int, rows: int, least_px: float = 1.0) -> PhotoWindow:
    """Return all that there is of a photo, as large as fits into so many cells; it keeps its shape.

    Args:
        bounds: What there is of the photo.
        columns: Most cells in a row, 1 or more.
        rows: Most rows of cells, 1 or more.
        least_px: The side of the smallest dot, in pixels of the photo.
    """
    window = PhotoWindow(bounds, columns, rows, least_px, bounds, 1, 2)
    return window.about(bounds[:2], _fitting_px(bounds, columns, rows))


def _fitting_px(bounds: Box, columns: int, rows: int) -> float:
    return max((bounds[2] - bounds[0]) / columns, (bounds[3] - bounds[1]) / (2 * rows))


def _begun(point: float, size: float, bounds: tuple[float, float], dot_px: float) -> float:
    """Return where a window begins: the dot of the point in its middle, on whole dots, inside the bounds."""
    least, most = bounds
    dots = (point - least) // dot_px - size / dot_px // 2
    return min(max(least + dots * dot_px, least), most - size)
