"""The transfer grid as files: drawn into a copy of the photo, and as SVG for the canvas. The photo is only read."""

import io
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from coach.composition.photo_boxes import CompositionError
from coach.composition.transfer_grid import TransferGrid, canvas_svg, label
from coach.store.new_file import write_new
from coach.store.photo import PhotoFileError, read_photo

_LINE_DIVISOR: Final = 1500
_LETTER_FRAC: Final = 0.16
_LEAST_LETTER_PX: Final = 8
_DARK: Final = (0, 0, 0)
_LIGHT: Final = (255, 255, 255)


def write_photo_grid(grid: TransferGrid, photo: Path, target: Path) -> None:
    """Write the part of the photo that the canvas shows, with the grid drawn over it, as PNG.

    Args:
        grid: The grid; its crop lies within the photo.
        photo: The photo's file, which is only read.
        target: File to write; there is none of that name yet.

    Raises:
        PhotoFileError: The photo cannot be read, or the target cannot be written.
        CompositionError: The crop does not lie within the photo.
    """
    picture = read_photo(photo)
    crop = grid.crop
    if crop.right_px > picture.width or crop.bottom_px > picture.height:
        raise CompositionError(f"the crop does not lie within the photo of {picture.width} x {picture.height} px")
    copy = picture.crop((crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    _draw(copy, grid)
    content = io.BytesIO()
    copy.save(content, "PNG")
    write_new(target, content.getvalue(), error=PhotoFileError)


def write_canvas_grid(grid: TransferGrid, title: str, target: Path) -> None:
    """Write the grid for the canvas as SVG at true size; arguments and errors as for `write_photo_grid`."""
    write_new(target, canvas_svg(grid, title).encode(), error=PhotoFileError)


def _draw(picture: Image.Image, grid: TransferGrid) -> None:
    """Draw lines and names: dark beside light, so that they are seen on any colour."""
    draw = ImageDraw.Draw(picture)
    across, down = grid.crop_lines_px()
    width = max(1, max(picture.size) // _LINE_DIVISOR)
    font = ImageFont.load_default(max(_LEAST_LETTER_PX, grid.square_px * _LETTER_FRAC))
    for shift, colour in ((0, _DARK), (width, _LIGHT)):
        for left in _inside(across, picture.width, 2 * width):
            draw.rectangle((left + shift, 0, left + shift + width - 1, picture.height), fill=colour)
        for top in _inside(down, picture.height, 2 * width):
            draw.rectangle((0, top + shift, picture.width, top + shift + width - 1), fill=colour)
    for row, y in enumerate(down[:-1]):
        for column, x in enumerate(across[:-1]):
            at = (round(x) + 3 * width, round(y) + 2 * width)
            draw.text(at, label(column, row), fill=_DARK, font=font, stroke_width=width, stroke_fill=_LIGHT)


def _inside(lines: Sequence[float], side_px: int, width_px: int) -> list[int]:
    """Return where lines begin, the last one moved in from the edge so that it is seen."""
    return [min(round(line), side_px - width_px) for line in lines]
