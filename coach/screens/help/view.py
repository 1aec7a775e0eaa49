"""What can I press now, as lines: the keys grouped by moment, in two columns where there is room. Pure."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final, NamedTuple

from coach.screens.chips import key_name
from coach.screens.key_table import KeyUse
from coach.screens.lines import BLANK, Line, Look, Piece, Role
from coach.text import cells, cut, first_shown, padded, wrapped

_TWO_FROM_COLUMNS: Final = 76
_GAP: Final = "  "
_MOST_COLUMN_CELLS: Final = 60


class _Row(NamedTuple):
    """A line of one column: of a key (its number, or -1), or of a heading."""

    chip: str
    text: str
    number: int = -1


def help_view(uses: Sequence[KeyUse], chosen: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the page, at most `lines` lines, with the chosen key in view.

    Args:
        uses: What can be pressed.
        chosen: Number of the chosen one.
        columns: Cells of a line.
        lines: Most lines.
    """
    count = 2 if columns >= _TWO_FROM_COLUMNS else 1
    wide = min(_MOST_COLUMN_CELLS, (columns - len(_GAP) * (count - 1)) // count)
    cap = max((cells(key_name(_first(use))) for use in uses), default=0) + 2
    rows = list(_rows(uses, wide - cap - 1))
    sides = _split(rows) if count > 1 else [rows]
    height = max(map(len, sides))
    sides = [side + [_Row("", "")] * (height - len(side)) for side in sides]
    abreast = list(zip(*sides, strict=True))
    every = [_line(pieces, chosen, wide, cap) for pieces in abreast]
    at = next((y for y, pieces in enumerate(abreast) if chosen in [row.number for row in pieces]), 0)
    room = lines if len(every) <= lines else max(1, lines - 1)
    first = first_shown(at, len(every), room)
    shown = every[first : first + room]
    more = [word for word, is_there in (("↑ more", first), ("↓ more", first + room < len(every))) if is_there]
    return tuple([*shown, Line(cut("  ".join(more), columns), Role.HEAD)][:lines])


def _first(use: KeyUse) -> str:
    return use.keys.split(",")[0]


def _rows(uses: Sequence[KeyUse], columns: int) -> Iterator[_Row]:
    numbered = list(enumerate(uses))
    for moment, group in groupby(numbered, key=lambda pair: pair[1].moment):
        yield _Row("", moment)
        for number, use in group:
            said, *more = wrapped(use.says, columns, indent="")
            yield _Row(f" {key_name(_first(use))} ", said, number)
            yield from (_Row(" ", row, number) for row in more)
        yield _Row("", "")


def _split(rows: list[_Row]) -> list[list[_Row]]:
    """Return the rows in two columns, cut between two moments, as even as they can be."""
    cuts = [at + 1 for at, row in enumerate(rows) if row == _Row("", "")]
    cut = min(cuts, key=lambda at: max(at, len(rows) - at), default=len(rows))
    return [rows[:cut], rows[cut:]]


def _line(rows: Sequence[_Row], chosen: int, wide: int, cap: int) -> Line:
    text, pieces = "", []
    for row in rows:
        text += " " * (len(_GAP) if text else 0)
        start = len(text)
        if not row.chip:
            text += padded(row.text, wide)
            pieces.append(Piece(start, len(text), Look.BOLD))
            continue
        action = f"use({row.number})"
        is_chosen = row.number == chosen
        text += padded(row.chip, cap, right=True)
        if row.chip.strip():
            pieces.append(Piece(len(text) - len(row.chip), len(text), Look.CHIP, action))
        said = len(text) + 1
        text += f" {padded(row.text, wide - cap - 1)}"
        pieces.append(Piece(said, said + len(row.text), Look.CHOSEN if is_chosen else Look.PLAIN, action))
    return Line(text.rstrip(), Role.DETAIL, tuple(pieces)) if text.strip() else BLANK
