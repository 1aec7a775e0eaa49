"""Lines of a board: a text and what it is for. Pure; `widgets/board.py` draws them."""

import enum
from typing import Final, NamedTuple

from coach.text import cut


class Role(enum.Enum):
    """What a line is for; the stylesheet gives each its look, the text alone carries the meaning."""

    HEAD = "head"
    CANVAS = "canvas"
    PASSAGE = "passage"
    TIME = "time"
    DETAIL = "detail"
    NOTICE = "notice"
    KEYS = "keys"


class Look(enum.Enum):
    """How a piece of a line differs from the rest of it; none of them is a colour."""

    PLAIN = ""
    BOLD = "bold"
    CHIP = "reverse bold"
    CHOSEN = "reverse"


class Piece(NamedTuple):
    """A piece of a line that looks different, or that can be clicked.

    Attributes:
        start: Its first character, from 0.
        end: The character behind its last.
        look: How it differs.
        action: What a click on it runs on the screen, such as `row(3)` or `press_action("o")`; empty for nothing. It is
            never made of a text that is not ours.
        ground: The colour below it as "#808080", where it shows one, such as a step of a scale of values; else empty.
    """

    start: int
    end: int
    look: Look = Look.PLAIN
    action: str = ""
    ground: str = ""


class Line(NamedTuple):
    """One line of the screen; its text fits the width it was made for. Its pieces do not overlap.

    `is_inverted` changes ink and ground from edge to edge; a chip in it stands out the other way round.
    """

    text: str
    role: Role
    pieces: tuple[Piece, ...] = ()
    is_inverted: bool = False


def press_action(key: str) -> str:
    """Return the action of a click that does what a key does; the key is named as the framework names it."""
    return f"app.press('{key}')"


BLANK: Final = Line("", Role.DETAIL)
"""An empty line."""


def fitted(line: Line, columns: int) -> Line:
    """Return a line that is at most `columns` cells wide, cut with an ellipsis."""
    text = cut(line.text, columns)
    return line if text is line.text else line._replace(text=text)
