"""Text fitted into cells, and a window of lines fitted around the one in hand."""

from rich.cells import cell_len, set_cell_size

from coach.screens.easel.view import Line


def fitted(line: Line, columns: int) -> Line:
    """Return a line that is at most `columns` cells wide, cut with an ellipsis."""
    return Line(cut(line.text, columns), line.role)


def cut(text: str, cells: int) -> str:
    """Return a text of at most so many cells, cut with an ellipsis."""
    widest_cells = 2
    if len(text) * widest_cells <= cells or cell_len(text) <= cells:
        return text
    return set_cell_size(text, cells - 1).rstrip() + "…" if cells > 1 else "…"[: max(0, cells)]


def padded(text: str, cells: int, *, right: bool = False) -> str:
    """Return a text of exactly so many cells, cut or filled up with spaces; `right` fills up on its left."""
    text = cut(text, cells)
    spaces = " " * (cells - (len(text) if text.isascii() else cell_len(text)))
    return spaces + text if right else text + spaces


def first_shown(number: int, count: int, lines: int) -> int:
    """Return the first of `count` lines to show in a window of `lines`, so that line `number` is in it.

    The window stands still while the line in hand goes through its middle third, and then moves on by a third.
    """
    step = max(1, lines // 3)
    above = step if lines > 1 else 0
    return max(0, min(number // step * step - above, count - lines))
