"""A page that gives one answer: a word in block letters, one sentence, a picture of bars, the keys. Pure."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.screens.chips import Chip, chip_line
from coach.screens.lines import BLANK, Line, Look, Piece, Role, fitted
from coach.screens.widgets.block_letters import block_lines, can_draw, height_cells, width_cells
from coach.text import cells, cut, padded, wrapped

MOST_WORDS: Final = 60
"""So many words are read at a glance; what is needed least gives way, and stands among the facts."""

_SMALL_LINES: Final = 20
"""In fewer lines the word is not drawn where the picture needs its room."""

LARGE_COLUMNS: Final = 100
"""From so many columns on all of the picture is shown."""

_MOST_LABEL_FRAC: Final = 0.3
_LEAST_BAR, _MOST_BAR = 6, 120
_SCALES: Final = ((3, 50), (2, 30), (1, 9))
"""Scales of the word, each with the lines from which on there is room for it."""


class Bar(NamedTuple):
    """A line of the picture.

    Attributes:
        label: What it is of.
        share: How much of it is filled, 0 to 1; None where there is nothing to measure.
        says: What stands behind it; never cut while there is room for it.
        role: How it is drawn.
        action: What a click on it runs on the screen; empty for nothing.
        is_chosen: Whether it is the chosen one of several.
    """

    label: str
    share: float | None
    says: str
    role: Role = Role.DETAIL
    action: str = ""
    is_chosen: bool = False


class Page(NamedTuple):
    """A page.

    Attributes:
        moment: Which moment it is.
        commission: Of which commission; it gives way to the picture.
        word: The answer.
        plain: What says the answer where it cannot be drawn, or has no room.
        sentence: At most 14 words, never cut.
        bars: The picture, what is needed most first.
        chips: At most four keys.
        facts: What stands behind f, a line each.
        caution: What must be read; it goes before the picture and is never cut.
    """

    moment: str
    commission: str
    word: str
    plain: str
    sentence: str
    bars: tuple[Bar, ...]
    chips: tuple[Chip, ...]
    facts: tuple[str, ...] = ()
    caution: str = ""


def page_lines(page: Page, columns: int, lines: int) -> tuple[Line, ...]:
    """Return a page for a window of `columns` x `lines`, exactly `lines` lines."""
    keys = chip_line(page.chips, columns)
    sentence = [Line(row, Role.CANVAS) for row in wrapped(page.sentence, columns, indent="")]
    caution = [Line(row, Role.NOTICE) for row in wrapped(page.caution, columns, indent="")] if page.caution else []
    bars = _bars(page, columns)
    word = _word(page, columns, lines)
    if lines - 2 < sum(map(len, (word, sentence, caution, bars))) and lines < _SMALL_LINES:
        word = _plain(page, columns)
    room = lines - len(word) - len(sentence) - 1
    if room < len(caution):
        caution = []
    room -= len(caution)
    bars = bars[: max(0, room - 1)]
    head = [Line(_head(page, bars, columns), Role.HEAD)] if room > 0 else []
    room -= len(head)
    room -= len(bars)
    if 0 < len(bars) <= room:
        bars = [row for bar in bars for row in (bar, BLANK)][:-1]
        room -= len(bars) // 2
    parts = [part for part in (word, sentence, bars, caution) if part]
    rows = list(head)
    for number, part in enumerate(parts):
        if number and room > 0:
            rows.append(BLANK)
            room -= 1
        rows += part
    if head and room > 0:
        rows.insert(1, BLANK)
    rows = rows[: max(1, lines - 1)]
    rows += [BLANK] * (lines - 1 - len(rows))
    return tuple(fitted(row, columns) for row in (*rows, keys)[:lines])


def fact_lines(page: Page, first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the facts from row `first` on, below the word in plain letters."""
    rows = [row for text in page.facts for row in wrapped(text, columns)]
    room = max(0, lines - 3)
    first = max(0, min(first, len(rows) - room))
    shown = [Line(row, Role.DETAIL) for row in rows[first : first + room]]
    head = [Line(page.plain, Role.CANVAS), BLANK]
    blanks = [BLANK] * (room - len(shown))
    return tuple(fitted(row, columns) for row in [*head, *shown, *blanks, chip_line(page.chips, columns)][-lines:])


def words_of(rows: Sequence[Line]) -> int:
    """Return how many words stand on lines: what holds a letter or a digit and is no block letter."""
    return sum(any(map(str.isalnum, word)) for row in rows for word in row.text.split())


def _head(page: Page, bars: list[Line], columns: int) -> str:
    """Return the moment, with its commission where it is no word too many."""
    whole = " · ".join(part for part in (page.moment, page.commission) if part)
    words = words_of([Line(page.commission, Role.HEAD), *bars]) + _words_beside(page)
    return cut(whole if columns >= LARGE_COLUMNS or words <= MOST_WORDS else page.moment, columns)


def _words_beside(page: Page) -> int:
    """Return how many words stand on a page beside its picture and the name of its commission."""
    labels = " ".join(one.label for one in page.chips)
    texts = (page.moment, page.plain, page.sentence, page.caution, labels)
    return words_of([Line(text, Role.HEAD) for text in texts]) + len(page.chips)


def _word(page: Page, columns: int, lines: int) -> list[Line]:
    drawn = page.word.upper()
    if can_draw(drawn):
        for scale, least in _SCALES:
            if lines >= least and width_cells(drawn, scale) <= columns and height_cells(drawn, scale) <= lines // 3:
                return [Line(row, Role.CANVAS) for row in block_lines(drawn, scale)]
    return _plain(page, columns)


def _plain(page: Page, columns: int) -> list[Line]:
    return [Line(row, Role.CANVAS) for row in wrapped(page.plain, columns, 2, indent="")]


def _bars(page: Page, columns: int) -> list[Line]:
    """Return the bars, as many as a glance takes in."""
    widest = max((cells(bar.label) for bar in page.bars), default=0)
    says = max((cells(bar.says) for bar in page.bars), default=0)
    is_drawn = any(bar.share is not None for bar in page.bars)
    label = min(widest, max(8, int(columns * _MOST_LABEL_FRAC)) if is_drawn else columns - says - 2)
    wide = min(_MOST_BAR, columns - label - says - 4)
    rows = [_bar_line(bar, _bar_row(bar, label, wide, columns)) for bar in page.bars]
    if columns < LARGE_COLUMNS:
        room = MOST_WORDS - _words_beside(page)
        while rows and words_of(rows) > room:
            rows.pop()
    return rows


def _bar_line(bar: Bar, row: str) -> Line:
    if not bar.action:
        return Line(row, bar.role)
    end = len(bar.label) if row.startswith(bar.label) else row.find("…") + 1
    look = Look.CHOSEN if bar.is_chosen else Look.PLAIN
    return Line(row, bar.role, (Piece(0, end, look, bar.action), Piece(end, len(row), action=bar.action)))


def _bar_row(bar: Bar, label: int, wide: int, columns: int) -> str:
    if bar.share is None or wide < _LEAST_BAR:
        room = max(4, columns - cells(bar.says) - 2)
        return f"{padded(bar.label, label) if label <= room else cut(bar.label, room)}  {bar.says}".rstrip()
    full = round(min(1.0, max(0.0, bar.share)) * wide)
    return f"{padded(bar.label, label)}  {'█' * full}{'░' * (wide - full)}  {bar.says}".rstrip()
