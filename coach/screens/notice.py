"""One notice at a time: what is said, and what Enter and Esc answer to it. Pure."""

from collections.abc import Sequence
from typing import NamedTuple

from coach.screens.chips import Chip, chip_line
from coach.screens.lines import Line, Role
from coach.text import cells, wrapped

_MOST_LINES = 3


class Notice(NamedTuple):
    """Something that wants an answer.

    Attributes:
        says: What it is, in plain words.
        yes: What Enter does about it, in few words; empty where Enter has its usual meaning.
        no: What Esc does about it; empty for nothing.
    """

    says: str
    yes: str = ""
    no: str = ""

    @property
    def chips(self) -> tuple[Chip, ...]:
        """The keys that answer."""
        return tuple(Chip(key, label) for key, label in (("enter", self.yes), ("escape", self.no)) if label)


def notice_lines(notices: Sequence[Notice], columns: int, most: int = _MOST_LINES) -> tuple[Line, ...]:
    """Return the first of some notices with its answers and how many more there are; nothing for none.

    Args:
        notices: The gravest first.
        columns: Cells of a line.
        most: Most lines of what is said; one more line holds the answers.
    """
    if not notices:
        return ()
    first, *others = notices
    said = tuple(Line(row, Role.NOTICE) for row in wrapped(first.says, columns, most, indent=""))
    answers = chip_line(first.chips, columns)
    more = f"and {len(others)} more" if others else ""
    text = f"{answers.text}   {more}" if answers.text else more
    if cells(text) <= columns:
        answers = answers._replace(text=text)
    return (*said, answers) if answers.text else said
