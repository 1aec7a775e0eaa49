"""Lines that are longer than the screen, such as what another hand has changed, from one line on."""

from functools import lru_cache

from rich.cells import chop_cells

from coach.screens.easel.view import Line, Role
from coach.screens.plan.fitting import fitted


def text_page(title: str, texts: tuple[str, ...], first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return a title and under it the texts from line `first` on, exactly `lines` lines; long texts take several."""
    rows = _chopped(texts, columns)[first : first + max(0, lines - 1)]
    every = [Line(title, Role.CALM), *(Line(row, Role.DETAIL) for row in rows)]
    every += [Line("", Role.DETAIL)] * (lines - len(every))
    return tuple(fitted(line, columns) for line in every[:lines])


def text_line_count(texts: tuple[str, ...], columns: int) -> int:
    """Return how many lines a title and the texts under it have in all."""
    return 1 + len(_chopped(texts, columns))


@lru_cache(maxsize=2)
def _chopped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(piece for text in texts for piece in chop_cells(text, max(1, columns)) or [""])
