"""The head of an answer page: what is asked, the answer in block letters, one sentence. Pure."""

from typing import Final

from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.widgets.block_letters import block_lines, can_draw, height_cells, width_cells
from coach.text import wrapped

_SCALES: Final = ((3, 50), (2, 0), (1, 0))
"""Scales of the word, each with the lines of a page from which on it may be so large."""

_HEAD_FROM_LINES: Final = 9
"""Lower pages go without the line that says what is asked."""


def answer_head(asks: str, word: str, sentence: str, columns: int, lines: int, *, wanted: int) -> tuple[Line, ...]:
    """Return the head of a page, as large as leaves room for its picture; cut at the last line of the page.

    Args:
        asks: The question.
        word: The answer; drawn large where block letters can draw it.
        sentence: What it comes from.
        columns: Cells of a line.
        lines: Lines of the page.
        wanted: Lines that the picture wants.
    """
    head = [fitted(Line(asks, Role.HEAD), columns)] if lines >= _HEAD_FROM_LINES else []
    said = [Line(row, Role.CANVAS) for row in wrapped(sentence, columns, indent="")]
    for scale, least_lines in _SCALES if can_draw(word) else ():
        high = height_cells(word, scale) + (scale > 1)
        # The word alone is answer enough on the lowest of pages, but not cut.
        needed = max(least_lines, len(head) + high + len(said) + wanted) if scale > 1 else high
        if width_cells(word, scale) <= columns and needed <= lines:
            letters = [Line(row.rstrip(), Role.CANVAS) for row in block_lines(word, scale)]
            return (*head, *letters, *[BLANK] * (scale > 1), *said)[: max(1, lines)]
    return (*head, fitted(Line(word, Role.CANVAS), columns), *said)[: max(1, lines)]
