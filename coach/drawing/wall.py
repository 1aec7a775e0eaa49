"""A picture for the wall: the shapes flat, with the number of each passage in them, and a key of names and piles."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.composition.crop import Crop
from coach.drawing.flat import coloured, fine_scale, laid_in, png_of, poles_of
from coach.drawing.lettering import Lettering
from coach.drawing.lines import lines_of
from coach.plan.commission import Plan
from coach.shapes.shape import Shape
from coach.text import cells, cut, sanitized, xml_text

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]

_LONG_SIDE: Final = 1000.0
"""Units of the longer side of the picture; the key is measured in the same."""

_PX_PER_UNIT: Final = 2.4
_MOST_PX: Final = 9000
"""Pixels of a unit, and of the longer side of the whole at most."""

_ROW: Final = (20.0, 34.0)
"""Lowest and highest row of the key: few passages are written large."""

_LETTER_FRAC: Final = 0.65
_NUMBER_AT, _SWATCH_AT, _NAME_AT = 1.4, 1.7, 2.6
_GAP, _CELL = 1.0, 0.36
"""Where the parts of a column of the key stand, the room between two, and a letter, in heights of a row."""

_NAME_CELLS, _PILE_CELLS = 32, 20
_NUMBER_UNITS: Final = (7.0, 24.0)
"""Smallest and largest number in a shape."""

_GREY: Final = "#808080"
_DARK_BELOW: Final = 5.0
"""On values under this the number is white."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyRow:
    """A row of the key.

    Attributes:
        heading: The pass or the feature; empty where it is that of the row before.
        number: What stands in its shapes.
        name: Short name of the passage.
        pile: Name of its mixture; empty where there is none.
        shapes: Places of its shapes.
    """

    heading: str
    number: int
    name: str
    pile: str
    shapes: tuple[int, ...]


def key_rows(shapes: Sequence[Shape], plan: Plan | None) -> list[KeyRow]:
    """Return the passages that have shapes here, in the order of the plan; the shapes themselves where none has."""
    places = {shape.id: place for place, shape in enumerate(shapes)}
    named = [
        (
            one_pass.name,
            passage.name,
            passage.mixture or "",
            tuple(places[own] for own in passage.shapes if own in places),
        )
        for one_pass in (plan.passes if plan else ())
        for passage in one_pass.passages
    ]
    found = [one for one in named if one[3]] or [
        (str(shape.feature), shape.name, "", (place,)) for place, shape in enumerate(shapes)
    ]
    return [
        KeyRow(
            heading="" if no and heading == found[no - 1][0] else sanitized(heading),
            number=no + 1,
            name=cut(sanitized(name), _NAME_CELLS),
            pile=cut(sanitized(pile), _PILE_CELLS),
            shapes=own,
        )
        for no, (heading, name, pile, own) in enumerate(found)
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Letters:
    """A text of the picture: where its line begins, ends or has its middle, its height, and where it is set to."""

    text: str
    x: float
    y: float
    height: float
    side: str = "start"
    is_light: bool = False
    is_bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPicture:
    """The whole, in units of which the longer side of the picture has `_LONG_SIDE`.

    Attributes:
        width: Its width, the key included.
        height: Its height.
        letters: Every text.
        swatches: Left, top, side and place of the shape of each patch of colour in the key.
        srgb: The colour of each shape as displayed, 0 to 1.
        shapes: The shapes.
        crop: The part of the photo that is painted.
    """

    width: float
    height: float
    letters: Sequence[Letters]
    swatches: Sequence[tuple[float, float, float, int]]
    srgb: "Pixels"
    shapes: Sequence[Shape]
    crop: Crop

    @property
    def scale(self) -> float:
        """Units for a pixel of the photo."""
        return _LONG_SIDE / max(self.crop.width_px, self.crop.height_px)


def wall_picture(shapes: Sequence[Shape], crop: Crop, rows: Sequence[KeyRow], heading: str, note: str) -> WallPicture:
    """Return the picture for the wall, laid out.

    Args:
        shapes: The shapes.
        crop: The part of the photo that is painted.
        rows: The key.
        heading: What stands over it; any text.
        note: What stands under it, such as whose the photo is; may be empty.
    """
    from skimage.color import lab2rgb  # noqa: PLC0415  loaded when a picture is made

    scale = _LONG_SIDE / max(crop.width_px, crop.height_px)
    key = _Key(rows, crop.width_px * scale, crop.height_px * scale)
    letters = [*_numbers(shapes, crop, rows, scale), *key.titles(heading, note)]
    swatches = []
    for row in rows:
        letters += key.letters(row)
        swatches.append((*key.swatch(), max(row.shapes, key=lambda place: shapes[place].area_px)))
    return WallPicture(
        width=key.right,
        height=key.height,
        letters=[one for one in letters if one.text],
        swatches=swatches,
        srgb=np.clip(lab2rgb(np.array([shape.lab for shape in shapes])), 0, 1),
        shapes=shapes,
        crop=crop,
    )


class _Key:
    """The key beside the picture: its rows one after the other, in as many columns as they need."""

    def __init__(self, rows: Sequence[KeyRow], left: float, height: float) -> None:
        """Lay out so many rows beside a picture of this width and height."""
        line_count = len(rows) + sum(bool(row.heading) for row in rows)
        columns = ceil(line_count / (height // _ROW[0] - 3))
        self._in_column = ceil(line_count / columns) + 1  # a heading goes to the next column with its first row
        self._row = min(_ROW[1], height / (self._in_column + 2))
        self._left, self.height, self._line = left + self._row, height, -1
        self._pile_at = (_NAME_AT + _CELL * max(cells(row.name) for row in rows) + _GAP) * self._row
        self._width = self._pile_at + (_CELL * max(cells(row.pile) for row in rows) + _GAP) * self._row
        self.right = self._left + columns * self._width

    def titles(self, heading: str, note: str) -> list[Letters]:
        """Return what stands over the key and under it."""
        row = self._row
        over = Letters(text=heading, x=self._left, y=row, height=row, is_bold=True)
        return [over, Letters(text=note, x=self._left, y=self.height - row / 4, height=row / 2)]

    def letters(self, row: KeyRow) -> list[Letters]:
        """Return the texts of the next row."""
        found = []
        if row.heading:
            self._line += 2 if self._line % self._in_column == self._in_column - 2 else 1
            found.append(self._text(row.heading, 0, is_bold=True))
        self._line += 1
        number = self._text(str(row.number), _NUMBER_AT * self._row, side="end")
        return [*found, number, self._text(row.name, _NAME_AT * self._row), self._text(row.pile, self._pile_at)]

    def swatch(self) -> tuple[float, float, float]:
        """Return left, top and side of the patch of colour of that row."""
        text = self._text("", _SWATCH_AT * self._row)
        return text.x, text.y - text.height, text.height * 1.1

    def _text(self, text: str, x: float, *, side: str = "start", is_bold: bool = False) -> Letters:
        column, line = divmod(self._line, self._in_column)
        at = self._left + column * self._width + x, (2 + line) * self._row
        return Letters(text=text, x=at[0], y=at[1], height=_LETTER_FRAC * self._row, side=side, is_bold=is_bold)


def _numbers(shapes: Sequence[Shape], crop: Crop, rows: Sequence[KeyRow], scale: float) -> Iterator[Letters]:
    """Yield the numbers of the passages that each shape belongs to, in the middle of it."""
    numbers: dict[int, list[str]] = defaultdict(list)
    for row in rows:
        for place in row.shapes:
            numbers[place].append(str(row.number))
    for place, pole in enumerate(poles_of(laid_in(shapes, crop, scale), len(shapes))):
        if pole is None or place not in numbers:
            continue
        x, y, radius = pole
        text = ",".join(numbers[place])
        size = min(max(2.2 * radius / max(2, len(text) * 0.7), _NUMBER_UNITS[0]), _NUMBER_UNITS[1])
        is_light = shapes[place].value < _DARK_BELOW
        yield Letters(text=text, x=x, y=y + 0.36 * size, height=size, side="middle", is_light=is_light)


def wall_svg(wall: WallPicture) -> str:
    """Return the picture for the wall as SVG; letters are those of whoever looks at it."""
    scale, left, top = wall.scale, wall.crop.left_px, wall.crop.top_px
    paths = [
        f'<path fill="{_hex(colour)}" d="'
        + "".join(
            "M" + "L".join(f"{(x - left) * scale:.1f} {(y - top) * scale:.1f}" for x, y in ring) + "Z"
            for ring in shape.outline
        )
        + '"/>'
        for shape, colour in zip(wall.shapes, wall.srgb, strict=True)
    ]
    swatches = [
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{side:.1f}" height="{side:.1f}" '
        f'fill="{_hex(wall.srgb[place])}" stroke="{_GREY}" stroke-width="0.5"/>'
        for x, y, side, place in wall.swatches
    ]
    picture = f'width="{wall.crop.width_px * scale:.1f}" height="{wall.crop.height_px * scale:.1f}"'
    return "\n".join(
        (
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wall.width:.1f} {wall.height:.1f}">',
            f'<clipPath id="picture"><rect {picture}/></clipPath>',
            '<rect width="100%" height="100%" fill="white"/>',
            f'<g clip-path="url(#picture)" fill-rule="evenodd" stroke="{_GREY}" stroke-width="0.5">',
            *paths,
            "</g>",
            *swatches,
            '<g font-family="sans-serif">',
            *map(_text, wall.letters),
            "</g>",
            "</svg>\n",
        )
    )


def _text(letters: Letters) -> str:
    bold, colour = ' font-weight="bold"' if letters.is_bold else "", "white" if letters.is_light else "black"
    at = f'x="{letters.x:.1f}" y="{letters.y:.1f}" font-size="{letters.height:.1f}"'
    return f'<text {at} text-anchor="{letters.side}" fill="{colour}"{bold}>{xml_text(letters.text)}</text>'


def _hex(srgb: "Pixels") -> str:
    return "#" + "".join(f"{round(255 * float(part)):02x}" for part in srgb)


def wall_png(wall: WallPicture, lettering: Lettering) -> bytes:
    """Return the picture for the wall as PNG."""
    from PIL import Image, ImageDraw  # noqa: PLC0415  loaded when a picture is made

    px = min(_PX_PER_UNIT, _MOST_PX / max(wall.width, wall.height))
    scale = wall.scale * px
    flat = coloured(laid_in(wall.shapes, wall.crop, fine_scale(wall.crop, round(_LONG_SIDE * px))), wall.srgb)
    picture = Image.new("RGB", (ceil(wall.width * px), ceil(wall.height * px)), "white")
    picture.paste(flat)
    draw = ImageDraw.Draw(picture)
    for line in lines_of(wall.shapes):
        points = [((x - wall.crop.left_px) * scale, (y - wall.crop.top_px) * scale) for x, y in line.points]
        draw.line(points, fill=_GREY)
    for x, y, side, place in wall.swatches:
        draw.rectangle((x * px, y * px, (x + side) * px, (y + side) * px), fill=_hex(wall.srgb[place]), outline=_GREY)
    for letters in wall.letters:
        text, font = lettering.written(letters.text, letters.height * px)
        draw.text(
            (letters.x * px, letters.y * px),
            text,
            font=font,
            fill="white" if letters.is_light else "black",
            anchor={"start": "ls", "middle": "ms", "end": "rs"}[letters.side],
            stroke_width=px / 4 if letters.is_bold else 0,
        )
    return png_of(picture)
