"""Text fitted into cells, and a window of lines fitted around the one in hand."""

from rich.cells import cell_len

from coach.screens.text_fitting import cut


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
