"""Chips: the few keys that matter now, drawn reversed with their words; a click does what the key does. Pure."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from coach.screens.key_table import key_use
from coach.screens.lines import Line, Look, Piece, Role, press_action
from coach.text import cells, cut

MOST: Final = 4
"""So many chips are seen at a glance."""

_GAP: Final = "   "
_NAMES: Final = {
    "space": "Space",
    "enter": "Enter",
    "escape": "Esc",
    "tab": "Tab",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "shift+up": "Shift ↑",
    "shift+down": "Shift ↓",
    "shift+left": "Shift ←",
    "shift+right": "Shift →",
    "pageup": "PageUp",
    "pagedown": "PageDown",
    "home": "Home",
    "end": "End",
    "delete": "Del",
    "plus": "+",
    "minus": "-",
    "full_stop": ".",
    "question_mark": "?",
    "slash": "/",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "1": "1-9",
}


def key_name(key: str) -> str:
    """Return a key as it is written on the screen: "space" is Space, "ctrl+y" is Ctrl y."""
    is_function = key[:1] == "f" and key[1:].isdigit()
    return _NAMES.get(key) or (key.upper() if is_function else key.replace("ctrl+", "Ctrl "))


class Chip(NamedTuple):
    """A key with the words beside it.

    Attributes:
        key: The key, as the framework names it.
        label: The words.
    """

    key: str
    label: str


HELP: Final = Chip("question_mark", "what else")
"""The last chip of every row."""


def chip(name: str, label: str = "") -> Chip:
    """Return the chip of a key by its full name, such as "easel.go_on"; a label stands for that of the table."""
    use = key_use(name)
    return Chip(use.keys.split(",")[0], label or use.label)


@lru_cache(maxsize=64)
def chip_line(chips: Sequence[Chip], columns: int) -> Line:
    """Return the chips on one line of at most `columns` cells.

    Where it is narrow, first the words of the last chips give way, then the chips before the last; the first and the
    last stay as long as there is room for both.

    Args:
        chips: At most four, the most wanted first; hashable, so a tuple.
        columns: Cells of the line.
    """
    shown = list(chips)
    while _width(shown) > columns and any(one.label for one in shown):
        last = max(number for number, one in enumerate(shown) if one.label)
        shown[last] = shown[last]._replace(label="")
    while _width(shown) > columns and len(shown) > 1:
        del shown[-2 if len(shown) > 2 else -1]  # noqa: PLR2004
    text, pieces = "", []
    for one in shown:
        text += _GAP if text else ""
        cap = len(text) + len(key_name(one.key)) + 2
        pieces.append(Piece(len(text), cap, Look.CHIP, press_action(one.key)))
        text += _text(one)
        if one.label:
            pieces.append(Piece(cap, len(text), action=press_action(one.key)))
    return Line(cut(text, columns), Role.KEYS, tuple(pieces))


def _text(one: Chip) -> str:
    return f" {key_name(one.key)} " + (f" {one.label}" if one.label else "")


def _width(chips: Sequence[Chip]) -> int:
    return sum(cells(_text(one)) for one in chips) + len(_GAP) * (len(chips) - 1)
