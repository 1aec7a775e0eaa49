"""Lines of a board: a text and what it is for. Pure; `widgets/board.py` draws them."""

import enum
from functools import lru_cache
from typing import Final, NamedTuple

from coach.text import cells, cut


class Role(enum.Enum):
    """What a line is for; the stylesheet gives each its look, the text alone carries the meaning."""

    HEAD = "head"
    CANVAS = "canvas"
    PASSAGE = "passage"
    TIME = "time"
    DETAIL = "detail"
    NOTICE = "notice"
    KEYS = "keys"


class Line(NamedTuple):
    """One line of the screen; its text fits the width it was made for."""

    text: str
    role: Role


BLANK: Final = Line("", Role.DETAIL)
"""An empty line."""


def fitted(line: Line, columns: int) -> Line:
    """Return a line that is at most `columns` cells wide, cut with an ellipsis."""
    text = cut(line.text, columns)
    return line if text is line.text else Line(text, line.role)


@lru_cache(maxsize=16)
def key_lines(keys: tuple[tuple[str, str], ...], columns: int, most: int | None = None) -> tuple[Line, ...]:
    """Return pairs of a key and what it does on as many lines as they need, or on at most `most`: the last give way."""
    rows: list[str] = []
    for key, label in keys:
        entry = f"{key} {label}"
        if rows and cells(rows[-1]) + 2 + cells(entry) <= columns:
            rows[-1] += f"  {entry}"
        elif most is not None and len(rows) == most:
            break
        else:
            rows.append(entry)
    return tuple(Line(row, Role.KEYS) for row in rows)
