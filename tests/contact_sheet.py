"""Draws every page as a picture to be looked at: `python -m tests.contact_sheet [FOLDER] [--easel] [--tiles]`.

One sheet for each size and look: all pages; with `--easel` the Easel, a row a state, a column a kind of names. With
`--tiles` each page is a file of its own. Block elements are drawn as rectangles, so that no gap of a font shows; a sign
that the font has not is a box.
"""

import argparse
import asyncio
import os
from collections.abc import Sequence
from math import isqrt
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw, ImageFont
from rich.color import Color, ColorSystem
from rich.segment import Segment

from tests.easel_states import NAMES, STATES, drawn_reference, plan_of
from tests.pages import WALKS, walked
from tests.screens.driving import app_on, until
from tests.studio import LOOKS, NO_COLOUR

SIZES: Final = ("80x24", "120x40", "200x60")
_WIDE, _HIGH = 8, 16
_BLOCKS: Final = {"▀": (0, 0, 2, 1), "▄": (0, 1, 2, 2), "█": (0, 0, 2, 2), "▌": (0, 0, 1, 2), "▐": (1, 0, 2, 2)}
"""Block elements as left, top, right and bottom in halves of a cell. Source: Unicode chart "Block Elements"."""

_FONTS: Final = ("DejaVuSansMono.ttf", "DejaVuSansMono-Bold.ttf")
_INK, _GROUND = "#d8d8d8", "#181818"
_GAP, _BETWEEN = 6, "#806020"

Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


def drawn(lines: Sequence[Sequence[Segment]]) -> Image.Image:
    """Return the lines of a terminal as a picture."""
    fonts = [_font(name) for name in _FONTS]
    columns = max(sum(segment.cell_length for segment in line) for line in lines)
    image = Image.new("RGB", (columns * _WIDE, len(lines) * _HIGH))
    draw = ImageDraw.Draw(image)
    for y, line in enumerate(lines):
        x = 0
        for segment in line:
            ink, ground = _colours(segment)
            width = segment.cell_length * _WIDE
            if width:
                draw.rectangle((x, y * _HIGH, x + width - 1, (y + 1) * _HIGH - 1), fill=ground)
            for sign in segment.text:
                _draw_sign(draw, (x, y * _HIGH), sign, ink, fonts[bool(segment.style and segment.style.bold)])
                x += Segment(sign).cell_length * _WIDE
    return image


def _draw_sign(draw: ImageDraw.ImageDraw, at: tuple[int, int], sign: str, ink: str, font: Font) -> None:
    if sign in _BLOCKS:
        left, top, right, bottom = _BLOCKS[sign]
        box = (left * _WIDE // 2, top * _HIGH // 2, right * _WIDE // 2 - 1, bottom * _HIGH // 2 - 1)
        draw.rectangle([side + at[number % 2] for number, side in enumerate(box)], fill=ink)
    elif sign.strip():
        draw.text(at, sign, font=font, fill=ink)


def _font(name: str) -> Font:
    try:
        return ImageFont.truetype(name, 13)
    except OSError:
        return ImageFont.load_default(13)


def _colours(segment: Segment) -> tuple[str, str]:
    style = segment.style
    chosen = (style.color, style.bgcolor) if style else (None, None)
    ink, ground = (
        (one or Color.parse(other)).get_truecolor().hex for one, other in zip(chosen, (_INK, _GROUND), strict=True)
    )
    return (ground, ink) if style and style.reverse else (ink, ground)


async def easel_picture(state: str, kind: str, size: tuple[int, int], look: str) -> Image.Image:
    """Return the Easel in a state, with names of a kind, beside a drawn head."""
    os.environ.pop(NO_COLOUR, None)
    if look == "without colour":
        os.environ[NO_COLOUR] = "1"
    app = app_on(STATES[state](plan_of(NAMES[kind])), light=look == "light", load_reference=drawn_reference)
    app.console._color_system = ColorSystem.TRUECOLOR
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await pilot.pause()
        return drawn([list(strip) for strip in app.screen._compositor.render_strips()])


def sheet_of(pictures: Sequence[Image.Image], columns: int) -> Image.Image:
    """Return pictures of one size row by row on a sheet."""
    wide, high = (side + 2 * _GAP for side in pictures[0].size)
    sheet = Image.new("RGB", (wide * columns, high * -(-len(pictures) // columns)), _BETWEEN)
    for number, one in enumerate(pictures):
        sheet.paste(one, (number % columns * wide + _GAP, number // columns * high + _GAP))
    return sheet


def main() -> None:
    """Draw all sheets, or those that are asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.contact_sheet", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path("contact-sheets"))
    parser.add_argument("--easel", action="store_true", help="the Easel in all its states instead of all pages")
    parser.add_argument("--tiles", action="store_true", help="each page also as a file of its own")
    for name, choices in (("walks", list(WALKS)), ("sizes", SIZES), ("looks", LOOKS)):
        parser.add_argument(f"--{name}", nargs="+", choices=choices, default=choices)
    asked = parser.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    for size in asked.sizes:
        for look in asked.looks:
            columns, lines = map(int, size.split("x"))
            if asked.easel:
                every = [(state, kind) for state in STATES for kind in NAMES]
                pictures = {
                    f"easel, {state}, {kind}": asyncio.run(easel_picture(state, kind, (columns, lines), look))
                    for state, kind in every
                }
            else:
                pages = [page for walk in asked.walks for page in walked(walk, (columns, lines), look).items()]
                pictures = {page: drawn(shown.strips) for page, shown in pages}
            across = len(NAMES) if asked.easel else isqrt(len(pictures))
            sheet_of(list(pictures.values()), across).save(asked.folder / f"{size} {look}.png")
            for name, picture in pictures.items() if asked.tiles else ():
                picture.save(asked.folder / f"{name} {size} {look}.png")
            print(f"{size}, {look}: {len(pictures)} pages")


if __name__ == "__main__":
    main()
