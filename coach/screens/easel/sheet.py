"""A sheet of cells on which texts are put at their places, handed on as lines of a board."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from coach.screens.lines import Line, Look, Piece, Role
from coach.text import cells, cut


class _Put(NamedTuple):
    """A text at its place in a line."""

    x: int
    text: str
    width: int
    look: Look
    action: str
    ground: str


class Sheet:
    """So many columns and lines, empty at first."""

    def __init__(self, columns: int, lines: int) -> None:
        self.columns, self.line_count = columns, lines
        self._puts: list[list[_Put]] = [[] for _ in range(lines)]
        self._roles = [Role.DETAIL] * lines
        self._ready: dict[int, Line] = {}

    def put(
        self,
        x: int,
        y: int,
        text: str,
        *,
        role: Role | None = None,
        look: Look = Look.PLAIN,
        room: int | None = None,
        action: str = "",
        ground: str = "",
    ) -> None:
        """Put a text at column `x` of line `y`; it is cut where its room ends, and left out beyond the sheet.

        Texts of one line do not overlap.
        """
        room = self.columns - x if room is None else min(self.columns - x, room)
        if not text or room <= 0 or not 0 <= y < self.line_count:
            return
        width = cells(text)
        if width > room:
            text = cut(text, room)
            width = cells(text)
        self._puts[y].append(_Put(x, text, width, look, action, ground))
        if role is not None:
            self._roles[y] = role

    def put_rows(self, x: int, y: int, rows: Sequence[str], *, role: Role | None = None, action: str = "") -> None:
        """Put rows of block letters one below the other."""
        for number, row in enumerate(rows, start=y):
            text = row.rstrip()
            width = len(text)  # a sign of a block letter is one cell wide
            if text and x + width <= self.columns and number < self.line_count:
                self._puts[number].append(_Put(x, text, width, Look.PLAIN, action, ""))
                self._roles[number] = role or self._roles[number]

    def put_line(self, y: int, line: Line) -> None:
        """Put a line that is made already in the place of a whole line."""
        if 0 <= y < self.line_count:
            self._ready[y] = line

    def lines(self, inverted: Iterable[int] = ()) -> tuple[Line, ...]:
        """Return the lines; those of the given numbers are inverted from edge to edge."""
        marked = frozenset(inverted)
        made = (self._ready.get(y) or self._line(y) for y in range(self.line_count))
        return tuple(line._replace(is_inverted=True) if y in marked else line for y, line in enumerate(made))

    def _line(self, y: int) -> Line:
        text, at, pieces = "", 0, []
        for put in sorted(self._puts[y]):
            text += " " * (put.x - at)
            start, at = len(text), put.x + put.width
            text += put.text
            if put.look is not Look.PLAIN or put.action or put.ground:
                pieces.append(Piece(start, len(text), put.look, put.action, put.ground))
        return Line(text, self._roles[y], tuple(pieces))
