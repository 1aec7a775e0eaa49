"""The Log as text: which turns are shown, under which heading, with which totals."""

from dataclasses import dataclass
from typing import Final

from coach.review.log_table import COLUMNS, text_row, total_lines
from coach.review.painted import Painted, chosen
from coach.session.journal_state import TurnRecord

_SHOWN: Final = {
    "when": "when",
    "canvas": "canvas",
    "passages": "passages",
    "minutes": "min",
    "planned_minutes": "planned",
    "return": "return",
    "deviation": "deviation",
    "pass": "pass",
    "place": "place",
    "run": "run",
    "session": "session",
    "notes": "notes",
}
"""Columns in the order shown, the most useful first and the longest last, with short headings."""

HEADINGS: Final = tuple(_SHOWN.values())
"""Headings of the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """Everything the Log shows.

    Attributes:
        scope: Which turns are shown, in words.
        rows: One row of texts a turn, in the order painted.
        totals: What they add up to, a sentence a line.
    """

    scope: str
    rows: tuple[tuple[str, ...], ...]
    totals: str


def log_view(painted: Painted, pass_name: str | None, canvas: str | None) -> LogView:
    """Return the Log of one pass, one canvas, or (None) all of them."""
    turns = chosen(painted.turns, pass_name=pass_name, canvas=canvas)
    count = "1 turn" if len(turns) == 1 else f"{len(turns)} turns"
    scope = f"{count} · pass: {pass_name or 'all'} · canvas: {canvas or 'all'}"
    return LogView(
        scope=scope if painted.turns else "nothing is painted yet",
        rows=tuple(_row(record) for record in turns),
        totals="\n".join(total_lines(painted, turns)),
    )


def _row(record: TurnRecord) -> tuple[str, ...]:
    cells = dict(zip(COLUMNS, text_row(record), strict=True))
    return tuple(cells[name] for name in _SHOWN)


def following(names: tuple[str, ...], name: str | None) -> str | None:
    """Return the choice after `name` in a ring of None (all) and the names."""
    ring = (None, *names)
    return ring[(ring.index(name) + 1) % len(ring)]
