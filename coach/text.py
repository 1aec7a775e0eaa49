"""Text as it is shown: made safe, counted, and fitted into the cells of a terminal.

A cell is what the screen counts: a letter takes one, most signs of Chinese, Japanese and Korean take two.
"""

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import Final

from rich.cells import cell_len, chop_cells, set_cell_size

STAND_IN: Final = "\N{REPLACEMENT CHARACTER}"
"""What a character that could steer a terminal is replaced with."""

INDENT: Final = "  "
"""What every line of a broken text but its first begins with."""

_LINE_SEPARATOR, _PARAGRAPH_SEPARATOR = 0x2028, 0x2029
_C0, _DEL_AND_C1 = range(0x20), range(0x7F, 0xA0)
_BIDIRECTIONAL_OVERRIDES = (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
_SURROGATES = range(0xD800, 0xE000)

_REPLACED: Final = dict.fromkeys(
    (*_C0, *_DEL_AND_C1, _LINE_SEPARATOR, _PARAGRAPH_SEPARATOR, *_BIDIRECTIONAL_OVERRIDES, *_SURROGATES),
    STAND_IN,
) | dict.fromkeys(map(ord, "\t\n\r"), " ")


def sanitized(text: str) -> str:
    """Return `text` on one line, without anything a terminal would obey.

    Tabs and line ends become spaces. Control characters (C0, DEL, C1), line and paragraph separators, the
    bidirectional overrides and lone surrogates become U+FFFD, so that it is seen that something stood there.

    Source:
        Control sets C0 and C1: ECMA-48. Bidirectional formatting characters: Unicode Standard Annex 9.
        (Titles from memory.)
    """
    return text if text.isprintable() else text.translate(_REPLACED)


def xml_text(text: str) -> str:
    """Return text for XML 1.0, which knows neither control characters nor lone surrogates nor U+FFFE, U+FFFF."""
    from html import escape  # noqa: PLC0415  the easel writes no XML, and its table takes half a MiB

    kept = (
        c for c in text if c in "\t\n\r" or (c >= " " and not "\ud800" <= c <= "\udfff" and c not in "\ufffe\uffff")
    )
    return escape("".join(kept))


def cells(text: str) -> int:
    """Return how many cells a text takes."""
    return len(text) if text.isascii() else cell_len(text)


def cut(text: str, columns: int) -> str:
    """Return a text of at most so many cells, cut with an ellipsis."""
    if cells(text) <= columns:
        return text
    return set_cell_size(text, columns - 1).rstrip() + "…" if columns > 1 else "…"[: max(0, columns)]


def padded(text: str, columns: int, *, right: bool = False) -> str:
    """Return a text of exactly so many cells, cut or filled up with spaces; `right` fills up on its left."""
    if text.isascii() and len(text) <= columns:
        return text.rjust(columns) if right else text.ljust(columns)
    text = cut(text, columns)
    spaces = " " * (columns - cells(text))
    return spaces + text if right else text + spaces


def chopped(text: str, columns: int) -> list[str]:
    """Return the text on lines of at most `columns` cells, broken wherever a line is full; one line at least."""
    return chop_cells(text, max(1, columns)) or [""]


def wrapped(text: str, columns: int, most: int | None = None, *, indent: str = INDENT) -> list[str]:
    """Return the text on lines of at most `columns` cells, broken at spaces; one line at least.

    A word wider than a line is broken where the line is full.

    Args:
        text: The text.
        columns: Cells of a line; at least two more than the indent are taken.
        most: Most lines; what is left over is cut with an ellipsis.
        indent: What every line but the first begins with.
    """
    if cells(text) <= columns:
        return [text]
    columns = max(cells(indent) + 2, columns)
    rows = [""]
    for word in text.split():
        longer = f"{rows[-1]} {word}" if rows[-1].strip() else rows[-1] + word
        if cells(longer) <= columns:
            rows[-1] = longer
            continue
        if rows[-1].strip():
            rows.append(indent)
        first, *others = chopped(word, columns - cells(indent))
        rows[-1] += first
        rows += [indent + piece for piece in others]
    if most is None or len(rows) <= most:
        return rows
    return [*rows[: most - 1], cut(f"{rows[most - 1]} …", columns)] if most > 0 else []


def paragraphs(texts: Iterable[str], columns: int, *, indent: str = INDENT) -> list[str]:
    """Return texts one below the other, each on as many lines of at most `columns` cells as it needs."""
    return [row for text in texts for row in wrapped(text, columns, indent=indent)]


def first_shown(number: int, count: int, lines: int) -> int:
    """Return the first of `count` lines to show in a window of `lines`, so that line `number` is in it.

    The window stands still while the line in hand goes through its middle third, and then moves on by a third.
    """
    step = max(1, lines // 3)
    above = step if lines > 1 else 0
    return max(0, min(number // step * step - above, count - lines))


def table(
    columns: Sequence[str], rows: Sequence[Sequence[str]], *, right: Sequence[str] = (), width: int | None = None
) -> list[str]:
    """Return rows under their heads as lines of text, every column as wide as its widest text.

    Args:
        columns: Heads of the columns.
        rows: A text for each column.
        right: Heads of the columns that are set to the right.
        width: Cells of a line; where the table is wider the widest columns are narrowed and their texts broken between
            words. Where even that does not fit, each row is told in words instead. None: as wide as it needs.
    """
    grid = [list(columns), *map(list, rows)]
    widths = _narrowed(grid, width)
    if widths is None:
        return [line for row in rows for line in _in_words(columns, row, width or 0)]
    lines = [_table_line(row, widths, columns, right) for row in grid]
    rule = "─" * (sum(widths) + 2 * (len(widths) - 1))
    head, *body = lines
    return [*head, rule, *(line for row in body for line in row)]


def _narrowed(grid: Sequence[Sequence[str]], width: int | None) -> list[int] | None:
    """Return widths that fit, one cell taken from the widest at a time, no word broken; None where there are none."""
    texts = list(zip(*grid, strict=True))
    widths = [max(map(cells, column)) for column in texts]
    least = [max((cells(word) for text in column for word in text.split()), default=0) for column in texts]
    room = None if width is None else width - 2 * (len(widths) - 1)
    while room is not None and sum(widths) > room:
        spare, widest = max((wide - least[number] and wide, number) for number, wide in enumerate(widths))
        if not spare:
            return None
        widths[widest] -= 1
    return widths


def _in_words(columns: Sequence[str], row: Sequence[str], width: int) -> list[str]:
    """Return a row as its first text, and below it each other one behind its head."""
    said = [f"{head} {text}" if head else text for head, text in zip(columns[1:], row[1:], strict=True) if text]
    below = wrapped(" · ".join(said), width - len(INDENT), indent="") if said else []
    return [*wrapped(row[0], width), *(INDENT + line for line in below)]


def _table_line(row: Sequence[str], widths: Sequence[int], columns: Sequence[str], right: Sequence[str]) -> list[str]:
    pieces = [wrapped(text, wide, indent="") for text, wide in zip(row, widths, strict=True)]
    lines = zip_longest(*pieces, fillvalue="")
    sides = [(wide, name in right) for wide, name in zip(widths, columns, strict=True)]
    return [
        "  ".join(
            padded(text, wide, right=at_right) for text, (wide, at_right) in zip(line, sides, strict=True)
        ).rstrip()
        for line in lines
    ]


def counted(number: int, one: str, several: str = "") -> str:
    """Return a number with its noun: "1 run", "2 runs"; `several` where the noun takes more than an s."""
    return f"{number} {one if number == 1 else several or one + 's'}"


def joined(words: Sequence[str]) -> str:
    """Return the words as a list in a sentence: "Hall and School", "North, Harbour and Mill"."""
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


def percent(frac: float, places: int = 0) -> str:
    """Return a fraction in percent: "5 %"."""
    return f"{float(frac) * 100:.{places}f} %"


def span(ms: int) -> str:
    """Return a time in words such as "45 s", "12 min" or "3 h 05 min"; whole minutes, cut off."""
    minutes = ms // 60_000
    if minutes == 0:
        return f"{ms // 1000} s"
    hours, minutes = divmod(minutes, 60)
    if minutes == 0:
        return f"{hours} h"
    return f"{hours} h {minutes:02} min" if hours else f"{minutes} min"


def clock(ms: int) -> str:
    """Return a time as m:ss, or h:mm:ss from an hour on."""
    minutes, seconds = divmod(ms // 1000, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"
