"""The transfer grid as files: drawn into a copy of the photo, and as SVG for the canvas. The photo is only read."""

import io
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from coach.composition.faults import CompositionError
from coach.composition.transfer_grid import TransferGrid, canvas_svg, label
from coach.plan.cleaning import harmless
from coach.store.photo import PhotoFileError, read_photo

_LINE_DIVISOR: Final = 1500
_LETTER_FRAC: Final = 0.16
_LEAST_LETTER_PX: Final = 8
_DARK: Final = (0, 0, 0)
_LIGHT: Final = (255, 255, 255)


def write_photo_grid(grid: TransferGrid, photo: Path, target: Path, *, replace: bool = False) -> None:
    """Write the part of the photo that the canvas shows, with the grid drawn over it, as PNG.

    Args:
        grid: The grid; its crop lies within the photo.
        photo: The photo's file, which is only read.
        target: File to write.
        replace: Whether a file of that name is replaced; the photo itself never is.

    Raises:
        PhotoFileError: The photo cannot be read, or the target cannot be written.
        CompositionError: The crop does not lie within the photo.
    """
    _check_target(target, photo, replace=replace)
    picture = read_photo(photo)
    crop = grid.crop
    if crop.right_px > picture.width or crop.bottom_px > picture.height:
        raise CompositionError(f"the crop does not lie within the photo of {picture.width} x {picture.height} px")
    copy = picture.crop((crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    _draw(copy, grid)
    content = io.BytesIO()
    copy.save(content, "PNG")
    _write(target, content.getvalue())


def write_canvas_grid(grid: TransferGrid, title: str, target: Path, *, replace: bool = False) -> None:
    """Write the grid for the canvas as SVG at true size; arguments and errors as for `write_photo_grid`."""
    _check_target(target, None, replace=replace)
    _write(target, canvas_svg(grid, title).encode())


def _check_target(target: Path, photo: Path | None, *, replace: bool) -> None:
    where = harmless(str(target))
    try:
        if target.is_dir():
            raise PhotoFileError("this is a folder; name a file to write", where=where)
        if photo is not None and target.exists() and photo.exists() and target.samefile(photo):
            raise PhotoFileError("this is the photo itself, which is never written to; name another file", where=where)
        if not replace and target.exists():
            raise PhotoFileError("there is such a file already; name another", where=where)
    except OSError as error:
        raise PhotoFileError(f"the file cannot be written: {error.strerror}", where=where) from error


def _write(target: Path, content: bytes) -> None:
    """Write a file, whole or not at all."""
    draft = target.with_name(f".{target.name}-new")
    try:
        draft.unlink(missing_ok=True)
        with draft.open("xb") as file:  # a link left there is never written through
            file.write(content)
        draft.replace(target)
    except OSError as error:
        with suppress(OSError):
            draft.unlink()
        what = f"the file cannot be written: {error.strerror}"
        raise PhotoFileError(what, where=harmless(str(target))) from error


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
