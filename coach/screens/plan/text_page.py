"""Lines that are longer than the screen, such as what another hand has changed, from one line on."""

import textwrap
from functools import lru_cache

from rich.cells import chop_cells

from coach.screens.easel.view import Line, Role, fitted


def text_page(title: str, texts: tuple[str, ...], first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return a title and under it the texts from line `first` on, exactly `lines` lines; long ones take several."""
    head = [Line(row, Role.CALM) for row in _wrapped(title, columns)]
    rows = _chopped(texts, columns)[first : first + max(0, lines - len(head))]
    every = [*head, *(Line(row, Role.DETAIL) for row in rows)]
    every += [Line("", Role.DETAIL)] * (lines - len(every))
    return tuple(fitted(line, columns) for line in every[:lines])


def text_line_count(title: str, texts: tuple[str, ...], columns: int) -> int:
    """Return how many lines a title and the texts under it have in all."""
    return len(_wrapped(title, columns)) + len(_chopped(texts, columns))


def _wrapped(title: str, columns: int) -> list[str]:
    return textwrap.wrap(title, max(1, columns)) or [""]


@lru_cache(maxsize=2)
def _chopped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(piece for text in texts for piece in chop_cells(text, max(1, columns)) or [""])
