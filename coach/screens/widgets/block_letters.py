"""Draws short words in block letters made of half blocks, to be read from two metres.

One pixel of a letterform is `scale` cells wide and `scale` half-cells tall, which is about square in a
terminal. Words are drawn in capitals. A pixel column stays clear between letters.
"""

from __future__ import annotations

import enum
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from coach.screens.widgets.block_glyph_table import (
    GLYPH_ROWS_PX,
    GLYPHS,
    MARK_ABOVE_ROWS_PX,
    MARK_BELOW_ROWS_PX,
    MARKS_ABOVE,
    MARKS_BELOW,
    NARROW_GLYPHS,
    NARROW_ROWS_PX,
)

_CELLS = {("#", "#"): "█", ("#", "."): "▀", (".", "#"): "▄", (".", "."): " "}
_ARROWS = "←→↑↓"


class Form(enum.Enum):
    """What letters look like: their glyphs, and how often each row of one is drawn, for letters and for arrows."""

    WIDE = (GLYPHS, (1,) * GLYPH_ROWS_PX, (1,) * GLYPH_ROWS_PX)
    TALL = (GLYPHS, (1, 2, 2, 1, 2, 1, 1), (1, 1, 2, 2, 2, 1, 1))
    NARROW = (NARROW_GLYPHS, (1,) * NARROW_ROWS_PX, (1,) * NARROW_ROWS_PX)
    SLENDER = (NARROW_GLYPHS, (1, 2, 2, 2, 2, 1), (1, 2, 2, 2, 2, 1))

    @property
    def rows_px(self) -> int:
        """How many pixels tall a letter is."""
        return sum(self.value[1])

    @property
    def has_marks(self) -> bool:
        """Whether letters bear their marks; the other forms are drawn without."""
        return self is Form.WIDE

    def glyph(self, letter: str) -> list[str]:
        """Return the rows of a letter without its marks."""
        glyphs, of_letters, of_arrows = self.value
        repeats = of_arrows if letter in _ARROWS else of_letters
        return [row for row, repeat in zip(glyphs[letter], repeats, strict=True) for _ in range(repeat)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """A text cut into letters, each a base character with its marks, and the pixels it takes."""

    letters: tuple[str, ...]
    width_px: int
    above_px: int
    below_px: int
    height_px: int


def can_draw(text: str) -> bool:
    """Return whether every character of the text, decomposed and in capitals, has a letterform.

    A letter bears one mark above and one below at most; marks that have no form, and further ones, are left out.

    Args:
        text: Any text; empty text can be drawn.

    Returns:
        True where `block_lines` draws the text, False where it refuses it.
    """
    return _letters(text) is not None


def width_cells(text: str, scale: int, form: Form = Form.WIDE) -> int:
    """Return how many cells the drawn text takes across.

    Args:
        text: Text that `can_draw`.
        scale: Cells across one pixel, 1 or more.
        form: What the letters look like.

    Returns:
        The width in cells; 0 for empty text.

    Raises:
        ValueError: The text cannot be drawn, or the scale is below 1.
    """
    return _layout(text, form).width_px * _checked(scale)


def height_cells(text: str, scale: int, form: Form = Form.WIDE) -> int:
    """Return how many cells the drawn text takes down: more where a letter bears a mark.

    Args:
        text: Text that `can_draw`.
        scale: Half-cells down one pixel, 1 or more.
        form: What the letters look like.

    Returns:
        The height in cells, a last half-cell counted as a whole one.

    Raises:
        ValueError: The text cannot be drawn, or the scale is below 1.
    """
    return -(-_layout(text, form).height_px * _checked(scale) // 2)


@lru_cache(maxsize=256)
def block_lines(text: str, scale: int, form: Form = Form.WIDE) -> tuple[str, ...]:
    """Return the text drawn in block letters.

    Args:
        text: Text that `can_draw`.
        scale: Cells across and half-cells down one pixel, 1 or more.
        form: What the letters look like.

    Returns:
        `height_cells` lines of `width_cells` characters each, made of space, `▀`, `▄` and `█` only.

    Raises:
        ValueError: The text cannot be drawn, or the scale is below 1.
    """
    layout = _layout(text, form)
    if not layout.letters:
        return ("",) * height_cells(text, scale, form)
    gap = " " * _checked(scale)
    drawn = (_letter_lines(letter, scale, form, layout.above_px, layout.below_px) for letter in layout.letters)
    return tuple(map(gap.join, zip(*drawn, strict=True)))


def _checked(scale: int) -> int:
    if scale < 1:
        message = f"a scale of {scale}: 1 or more is needed"
        raise ValueError(message)
    return scale


@lru_cache(maxsize=256)
def _letters(text: str) -> tuple[str, ...] | None:
    letters: list[str] = []
    for character in unicodedata.normalize("NFD", text.upper()):
        if character in GLYPHS:
            letters.append(character)
        elif not letters or not letters[-1][0].isalpha() or unicodedata.category(character) != "Mn":
            return None
        elif _bears(letters[-1], character):
            letters[-1] += character
    return tuple(letters)


def _bears(letter: str, mark: str) -> bool:
    marks = MARKS_ABOVE if mark in MARKS_ABOVE else MARKS_BELOW
    return mark in marks and marks.keys().isdisjoint(letter)


@lru_cache(maxsize=256)
def _layout(text: str, form: Form) -> _Layout:
    letters = _letters(text)
    if letters is None:
        message = f"no block letters for {text!r}"
        raise ValueError(message)
    if not form.has_marks:
        letters = tuple(letter[0] for letter in letters)
    characters = set("".join(letters))
    above_px = 0 if characters.isdisjoint(MARKS_ABOVE) else MARK_ABOVE_ROWS_PX
    below_px = 0 if characters.isdisjoint(MARKS_BELOW) else MARK_BELOW_ROWS_PX
    return _Layout(
        letters=letters,
        width_px=sum(_letter_width_px(letter, form) for letter in letters) + max(0, len(letters) - 1),
        above_px=above_px,
        below_px=below_px,
        height_px=above_px + form.rows_px + below_px,
    )


def _letter_width_px(letter: str, form: Form) -> int:
    marks = (MARKS_ABOVE.get(mark) or MARKS_BELOW[mark] for mark in letter[1:])
    return max(len(rows[0]) for rows in (form.value[0][letter[0]], *marks))


@lru_cache(maxsize=1024)
def _letter_lines(letter: str, scale: int, form: Form, above_px: int, below_px: int) -> tuple[str, ...]:
    rows = _letter_rows(letter, form, above_px, below_px)
    half_lines = [row for row in rows for _ in range(scale)]
    if len(half_lines) % 2:
        half_lines.append("." * len(rows[0]))
    return tuple(
        "".join(_CELLS[pair] * scale for pair in zip(top, bottom, strict=True))
        for top, bottom in zip(half_lines[::2], half_lines[1::2], strict=True)
    )


def _letter_rows(letter: str, form: Form, above_px: int, below_px: int) -> list[str]:
    width_px = _letter_width_px(letter, form)
    blank = ("." * width_px,)
    above, below = blank * above_px, blank * below_px
    for mark in letter[1:]:
        if mark in MARKS_ABOVE:
            above = MARKS_ABOVE[mark]
        else:
            below = MARKS_BELOW[mark]
    return [row.center(width_px, ".") for row in (*above, *form.glyph(letter[0]), *below)]
