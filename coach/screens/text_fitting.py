"""Text fitted into cells: cut with an ellipsis, or broken into lines."""

import textwrap
from collections.abc import Iterable
from typing import Final

from rich.cells import cell_len, set_cell_size

INDENT: Final = "  "
"""What every line of a text but its first begins with."""

_WIDEST_CELLS: Final = 2
_NARROWEST: Final = 20


def cut(text: str, cells: int) -> str:
    """Return a text of at most so many cells, cut with an ellipsis."""
    if len(text) * _WIDEST_CELLS <= cells or cell_len(text) <= cells:
        return text
    return set_cell_size(text, cells - 1).rstrip() + "…" if cells > 1 else "…"[: max(0, cells)]


def wrapped(text: str, columns: int, most: int) -> list[str]:
    """Return the text on lines of `columns` characters, on `most` lines at most."""
    if len(text) <= columns:
        return [text]
    width = max(len(INDENT) + 1, columns)
    return textwrap.wrap(text, width, subsequent_indent=INDENT, max_lines=most, placeholder="…")


def paragraphs(texts: Iterable[str], columns: int) -> list[str]:
    """Return texts on as many lines of `columns` characters as they need, 20 at least."""
    width = max(_NARROWEST, columns)
    return [row for text in texts for row in textwrap.wrap(text, width, subsequent_indent=INDENT)]
