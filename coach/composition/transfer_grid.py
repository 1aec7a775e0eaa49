"""The transfer grid: the same number of squares on the photo and on the canvas."""

from dataclasses import dataclass
from math import ceil
from typing import Final

from coach.composition.crop import Crop
from coach.composition.photo_boxes import CompositionError
from coach.errors import UsageError
from coach.plan.commission import CanvasSize
from coach.plan.problems import quoted
from coach.plan.units import MM_PER_UNIT, number
from coach.text import sanitized, xml_text

LEAST_SQUARE_MM: Final = 5.0
"""Side of the smallest square that is drawn."""

MOST_SQUARES: Final = 100
"""How many squares may lie side by side in one direction."""

SQUARES_ON_SHORT_SIDE: Final = 8
"""Squares along the short side where the painter names none. Source: 2 inch squares on 16 x 20 in, common practice."""

_SLIVER_FRAC: Final = 1e-6
_LINE_MM: Final = 0.3
_LETTER_FRAC: Final = 0.2
_LETTERS: Final = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class TransferGrid:
    """Squares over a canvas and over the crop of the photo that it shows; both from the top left corner.

    The last column and the last row are narrower where the squares do not divide the canvas.

    Attributes:
        canvas: Width and height of the canvas.
        crop: The part of the photo that the canvas shows.
        square_mm: Side of a square on the canvas, in millimetres.
    """

    canvas: CanvasSize
    crop: Crop
    square_mm: float

    @property
    def columns(self) -> int:
        """Number of columns of squares."""
        return _count(self.canvas.width_mm, self.square_mm)

    @property
    def rows(self) -> int:
        """Number of rows of squares."""
        return _count(self.canvas.height_mm, self.square_mm)

    @property
    def square_px(self) -> float:
        """Side of a square on the photo, in pixels."""
        return self.square_mm * self.crop.height_px / self.canvas.height_mm

    def canvas_lines_mm(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Return where lines stand on the canvas, from its left and from its top edge, both edges included."""
        return (
            _lines(self.columns, self.square_mm, self.canvas.width_mm),
            _lines(self.rows, self.square_mm, self.canvas.height_mm),
        )

    def crop_lines_px(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Return where lines stand on the crop, from its left and from its top edge, both edges included."""
        across_mm, down_mm = self.canvas_lines_mm()
        across = self.crop.width_px / self.canvas.width_mm
        down = self.crop.height_px / self.canvas.height_mm
        return tuple(x * across for x in across_mm), tuple(y * down for y in down_mm)


def grid_of(canvas: CanvasSize, crop: Crop, square_mm: float | None = None) -> TransferGrid:
    """Return the grid for a canvas and its crop; without `square_mm`, `SQUARES_ON_SHORT_SIDE` decides the squares.

    Raises:
        CompositionError: The squares are under `LEAST_SQUARE_MM`, larger than the canvas, or too many.
    """
    proposed_mm = max(min(canvas) / SQUARES_ON_SHORT_SIDE, max(canvas) / MOST_SQUARES, LEAST_SQUARE_MM)
    side_mm = proposed_mm if square_mm is None else square_mm
    stated = f"squares of {side_mm / 10:g} cm"
    if not side_mm >= LEAST_SQUARE_MM:  # written this way round so that NaN is refused
        raise CompositionError(f"{stated} are too small to draw; the least is {LEAST_SQUARE_MM / 10:g} cm")
    if side_mm > min(canvas):
        raise CompositionError(f"{stated} are larger than the canvas")
    grid = TransferGrid(canvas=canvas, crop=crop, square_mm=side_mm)
    if max(grid.columns, grid.rows) > MOST_SQUARES:
        raise CompositionError(f"{stated} are more than {MOST_SQUARES} side by side on this canvas; take larger ones")
    return grid


def read_side_mm(text: str) -> float:
    """Return the side of a square that is typed as `2 in`, `5 cm` or `50 mm`, in millimetres.

    Raises:
        UsageError: It is no length.
    """
    written = text.strip().lower()
    side, unit = number(written[:-2].rstrip()), written[-2:]
    if side is None or unit not in MM_PER_UNIT:
        raise UsageError(f"{quoted(sanitized(text))} is not the side of a square; write 2 in or 5 cm")
    return side * MM_PER_UNIT[unit]


def label(column: int, row: int) -> str:
    """Return the name of a square by its column and row, each counted from 0: A1, B1, ... Z1, AA1."""
    letters = ""
    left = column + 1
    while left:
        left, letter = divmod(left - 1, _LETTERS)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row + 1}"


def canvas_svg(grid: TransferGrid, title: str) -> str:
    """Return the grid for the canvas as SVG at true size, each square named in its corner.

    Args:
        grid: The grid.
        title: What the drawing is called; any text.

    Source:
        Units and viewBox: SVG 1.1, W3C (from memory).
    """
    width_mm, height_mm = (_plain(side) for side in grid.canvas)
    across, down = grid.canvas_lines_mm()
    letter_mm = grid.square_mm * _LETTER_FRAC
    uprights = "".join(f"M{_plain(x)} 0V{height_mm}" for x in across)
    levels = "".join(f"M0 {_plain(y)}H{width_mm}" for y in down)
    names = "\n".join(
        f'<text x="{_plain(x + letter_mm / 4)}" y="{_plain(y + letter_mm)}">{label(column, row)}</text>'
        for row, y in enumerate(down[:-1])
        for column, x in enumerate(across[:-1])
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm}mm" height="{height_mm}mm" '
        f'viewBox="0 0 {width_mm} {height_mm}">\n'
        f"<title>{xml_text(title)}</title>\n"
        f'<path d="{uprights}{levels}" fill="none" stroke="black" stroke-width="{_LINE_MM}"/>\n'
        f'<g font-family="sans-serif" font-size="{_plain(letter_mm)}">\n{names}\n</g>\n'
        "</svg>\n"
    )


def _count(side_mm: float, square_mm: float) -> int:
    return ceil(side_mm / square_mm - _SLIVER_FRAC)


def _lines(squares: int, square_mm: float, side_mm: float) -> tuple[float, ...]:
    return (*(number * square_mm for number in range(squares)), side_mm)


def _plain(number: float) -> str:
    return f"{round(number, 3):.3f}".rstrip("0").rstrip(".")
