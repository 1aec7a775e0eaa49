"""Where things stand on the Easel and how large they are drawn: the same in every state and all through a session.

Sizes follow from the window, from whether there is a picture, and from the canvases; never from what is said at the
moment. From 80 x 24 cells up canvas, passage and time are block letters: canvas and time of 5 rows or more, the passage
of 3 or more, on two lines where it is long.
"""

from functools import lru_cache
from math import sqrt
from typing import Final, NamedTuple

from coach.plan.commission import Canvas
from coach.screens.widgets.block_letters import Form, can_draw, height_cells, width_cells

MOST_PICTURE_CELLS: Final = 1450
"""Cells of the picture beside the letters: in true colour they are sent in less than 64 KiB."""

_LETTERS_FRAC: Final = 0.58
"""What the letters take of the columns where a picture stands beside them."""

_TALLEST_FRAC: Final = 0.75
"""Rows of the picture for a column of it: two dots stand in a cell, so that it is half as tall again as it is wide."""

_LEAST_LETTERS: Final = 52
_LEAST_SIDE: Final = 24
_GAP: Final = 2
_SAID_LINES: Final = 2
_SIDE_LINES: Final = 6


class Face(NamedTuple):
    """How letters are drawn: their form, and cells across one pixel; none across is plain text."""

    form: Form
    scale: int

    @property
    def rows(self) -> int:
        """Rows of a line of it, marks left aside."""
        return -(-self.form.rows_px * self.scale // 2) if self.scale else 1

    def width(self, text: str) -> int:
        """Return the cells that a text takes, which can be drawn."""
        return width_cells(text, self.scale, self.form)


_CANVAS_FACES: Final = tuple(
    Face(form, scale)
    for form, scale in ((Form.TALL, 2), (Form.WIDE, 2), (Form.NARROW, 2), (Form.TALL, 1), (Form.SLENDER, 1))
)
"""How a canvas may be drawn, the tallest first; all are 5 rows or more."""

_PLAIN: Final = Face(Form.NARROW, 0)


class _Step(NamedTuple):
    """Sizes that go together, and the window they need."""

    lines: int
    letters: int
    canvas_rows: int
    passage: Face
    time: Face
    word: Face
    names: int
    air: int
    bar: int
    side: int


_STEPS: Final = (
    _Step(58, 100, 10, Face(Form.NARROW, 2), Face(Form.TALL, 3), Face(Form.NARROW, 2), 3, 1, 2, 11),
    _Step(39, 64, 7, Face(Form.NARROW, 1), Face(Form.TALL, 2), Face(Form.NARROW, 1), 2, 1, 1, 11),
    _Step(24, 50, 5, Face(Form.NARROW, 1), Face(Form.TALL, 1), Face(Form.NARROW, 1), 1, 0, 1, _SIDE_LINES),
    _Step(16, 34, 5, _PLAIN, Face(Form.TALL, 1), _PLAIN, 0, 0, 1, 0),
)


class Box(NamedTuple):
    """A part of the window, in cells."""

    x: int
    y: int
    columns: int
    rows: int


class Layout(NamedTuple):
    """Sizes and places; columns and rows are counted from 0.

    Attributes:
        letters: Columns for canvas and passage.
        column: Columns for what stands below them, left of `side`.
        canvas: How the canvas is drawn.
        canvas_y: Its first row; on the row below it stands what its letters do not say.
        passage: How the passage is drawn.
        passage_y: Its first row.
        names_end: The row below the last that the names may take.
        time: How the time is drawn.
        time_y: Its first row.
        word: How the word for the state is drawn; beside the time, or below it where the time is large.
        is_word_below: Whether it stands below.
        side: Where value, pile and brush stand; no columns where there is no room.
        picture: Where the picture stands; None where there is none.
        said_y: The first row for what is said; a notice may take all down to the bar.
        said_end: The row below the last of them.
        bar_y: The first row of the bar.
        bar: Rows of the bar; below it stand the keys.
    """

    letters: int
    column: int
    canvas: Face
    canvas_y: int
    passage: Face
    passage_y: int
    names_end: int
    time: Face
    time_y: int
    word: Face
    is_word_below: bool
    side: Box
    picture: Box | None
    said_y: int
    said_end: int
    bar_y: int
    bar: int


@lru_cache(maxsize=8)
def layout_of(canvases: tuple[Canvas, ...], columns: int, lines: int, *, has_picture: bool) -> Layout | None:
    """Return the layout for a window, or None where only plain text has room.

    Args:
        canvases: Those of the plan.
        columns: Cells of a line.
        lines: Lines of the window.
        has_picture: Whether there is a photo to be shown beside the letters.
    """
    has_side = columns >= _LEAST_LETTERS + _GAP + _LEAST_SIDE
    column = max(_LEAST_LETTERS, round(_LETTERS_FRAC * columns)) if has_side else columns
    step = next((one for one in _STEPS if lines >= one.lines and column >= one.letters), None)
    if step is None:
        return None
    letters = column if has_side and has_picture and step.side else columns
    canvas = _canvas_face(canvases, letters, step.canvas_rows)
    canvas_y = 1 + step.air
    passage_y = canvas_y + canvas.rows + 1
    bar_y = lines - 1 - step.bar
    said_y = bar_y - _SAID_LINES - step.air if step.side else bar_y - 1
    is_word_below = step.time.scale > 1
    time_y = said_y - step.time.rows - (step.word.rows + 2 * step.air if is_word_below else 0)
    side_x = column + _GAP if has_side else columns
    side = Box(side_x, said_y - step.side - step.air, columns - side_x, step.side)
    is_pictured = has_picture and has_side and step.side
    return Layout(
        letters=letters,
        column=column,
        canvas=canvas,
        canvas_y=canvas_y,
        passage=step.passage,
        passage_y=passage_y,
        names_end=time_y - step.air,
        time=step.time,
        time_y=time_y,
        word=step.word,
        is_word_below=is_word_below,
        side=side,
        picture=_within(Box(side_x, canvas_y, side.columns, side.y - 1 - canvas_y)) if is_pictured else None,
        said_y=said_y,
        said_end=bar_y - step.air,
        bar_y=bar_y,
        bar=step.bar,
    )


def is_named(canvas: Canvas, letters: int) -> bool:
    """Return whether a canvas can be drawn by its name in so many columns; otherwise it is by its place."""
    return (
        len(canvas.name) <= letters
        and can_draw(canvas.name)
        and _CANVAS_FACES[-1].width(drawn_name(canvas, canvas.name)) <= letters
    )


def canvas_letters(canvas: Canvas, number: int, letters: int) -> str:
    """Return what is drawn for a canvas: its name with an arrow, or its place where the name cannot be drawn.

    Args:
        canvas: The canvas.
        number: Its number in the plan, from 1.
        letters: Columns for it.
    """
    if is_named(canvas, letters):
        return drawn_name(canvas, canvas.name)
    if canvas.place in ("left", "right"):
        return drawn_name(canvas, canvas.place)
    return f"canvas {canvas.place or number}"


def drawn_name(canvas: Canvas, name: str) -> str:
    """Return a name with the arrow of the canvas's side."""
    return {"left": f"← {name}", "right": f"{name} →"}.get(canvas.place or "", name)


def _canvas_face(canvases: tuple[Canvas, ...], letters: int, most_rows: int) -> Face:
    """Return the largest face in which every canvas fits, with the marks of its letters where they have room."""
    drawn = [canvas_letters(canvas, number, letters) for number, canvas in enumerate(canvases, start=1)]
    for face in _CANVAS_FACES:
        tallest = max(height_cells(text, face.scale, face.form) for text in drawn)
        if tallest <= most_rows and max(map(face.width, drawn)) <= letters:
            return face
    return _CANVAS_FACES[-1]


def _within(box: Box) -> Box:
    """Return the largest part of a box, from its left top corner, that may be sent and is no taller than a portrait."""
    box = box._replace(rows=min(box.rows, round(box.columns * _TALLEST_FRAC)))
    shrunk = min(1.0, sqrt(MOST_PICTURE_CELLS / (box.columns * box.rows)))
    return box._replace(columns=int(box.columns * shrunk), rows=int(box.rows * shrunk))
