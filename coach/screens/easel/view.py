"""The Easel as lines of text for a terminal of any size: a pure function of the situation.

The three things to be read from two metres (canvas, passage, time) are drawn in the largest block letters that fit;
everything else is plain text below. Where lines are few, the least needed are left out first.
"""

import enum
import textwrap
from functools import lru_cache
from typing import Final, NamedTuple

from rich.cells import cell_len, set_cell_size

from coach.screens.easel import wording
from coach.screens.widgets.block_letters import block_lines, can_draw, height_cells, width_cells
from coach.session.progress import Phase
from coach.session.situation import Situation

_MOST_SCALE: Final = 6
_DETAILS_FRAC: Final = 0.2
_FEWEST_DETAILS: Final = 5
_MOST_CALM_LINES: Final = 3
_INDENT: Final = "  "


class Role(enum.Enum):
    """What a line is for; the stylesheet gives each its look, the text alone carries the meaning."""

    HEAD = "head"
    CANVAS = "canvas"
    PASSAGE = "passage"
    TIME = "time"
    DETAIL = "detail"
    CALM = "calm"
    KEYS = "keys"


class Line(NamedTuple):
    """One line of the screen; its text fits the width it was made for."""

    text: str
    role: Role


_BLANK: Final = Line("", Role.DETAIL)


class Around(NamedTuple):
    """What the screen adds to the situation.

    Attributes:
        remarks: Sentences about the last move, the plan's file, reading only; gravest first.
        keys: Pairs of a key and what it does.
    """

    remarks: tuple[str, ...] = ()
    keys: tuple[tuple[str, str], ...] = ()


def easel_view(situation: Situation, around: Around, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the Easel for a terminal of `columns` x `lines`, exactly `lines` lines."""
    large = _large(situation, columns)
    left = lines - len(large)
    calm = _calm(situation, around, columns)[: max(0, left)]
    left -= len(calm)
    keys = _keys(around.keys, columns)
    keys = keys if len(keys) <= left else ()
    left -= len(keys)
    head = [Line(wording.head_line(situation), Role.HEAD)] if left > 0 else []
    left -= len(head)
    most = max(_FEWEST_DETAILS, round(lines * _DETAILS_FRAC))
    details = _details(situation, min(most, max(0, left)))
    drawn = _drawn(large, _names(situation), columns, lines - len(head) - len(calm) - len(keys) - len(details))
    room = max(0, lines - len(head) - len(drawn) - len(details) - len(calm) - len(keys))
    blanks = [_BLANK] * room
    every = [*head, *drawn, *blanks[:1], *details, *blanks[1:], *calm, *keys][:lines]
    return tuple(_fit(line, columns) for line in every)


def _fit(line: Line, columns: int) -> Line:
    text = line.text
    widest_cells = 2
    if len(text) * widest_cells <= columns or cell_len(text) <= columns:
        return line
    cut = set_cell_size(text, columns - 1).rstrip() + "…" if columns > 1 else "…"[:columns]
    return Line(cut, line.role)


def _large(situation: Situation, columns: int) -> list[Line]:
    if situation.canvas is None:
        return [Line("All done", Role.CANVAS), Line("every turn is painted", Role.PASSAGE)]
    return [
        Line(wording.placed_name(situation.canvas), Role.CANVAS),
        Line(_passages(situation, columns), Role.PASSAGE),
        Line(wording.time_words(situation), Role.TIME),
    ]


def _passages(situation: Situation, columns: int) -> str:
    """Return the passages of the turn, or only the first where that alone fits in block letters."""
    names = [passage.name for passage in situation.passages]
    joined = " + ".join(names)
    shorter = (f"{names[0]} +{len(names) - 1}", names[0])
    return next((text for text in (joined, *shorter) if _width(text, 1) <= columns), joined)


def _names(situation: Situation) -> tuple[str, ...]:
    if situation.canvas is None:
        return ("All done",)
    return tuple(wording.placed_name(canvas) for canvas in situation.plan.canvases)


def _calm(situation: Situation, around: Around, columns: int) -> list[Line]:
    said = list(around.remarks)
    if situation.absence is not None:
        said.append(wording.absence_line(situation.absence))
    said.extend(wording.limit_line(reached) for reached in situation.reached)
    if situation.phase is Phase.NOT_BEGUN and situation.day_ms:
        said.append(wording.RAGS)
    width = max(len(_INDENT) + 1, columns)
    wrapped = (
        textwrap.wrap(f"• {text}", width, subsequent_indent=_INDENT, max_lines=_MOST_CALM_LINES, placeholder="…")
        for text in said
    )
    return [Line(row, Role.CALM) for rows in wrapped for row in rows]


def _details(situation: Situation, most: int) -> list[Line]:
    """Return at most `most` lines, the least needed left out."""
    passages = [wording.passage_line(passage, situation.plan) for passage in situation.passages]
    ranked = [
        (0, wording.time_line(situation)),
        (5, "marked for return" if situation.is_marked else ""),
        (5, "you went the other way: this canvas is taken out of turn" if situation.went_other_way else ""),
        *((2, wording.before_line(record)) for record in situation.before),
        *((1 if number == 0 else 6, text) for number, text in enumerate(passages)),
        *((7, f"noted: “{note}”") for note in situation.notes),
        (3, wording.coming_line(situation.coming) if situation.turn else ""),
        (4, wording.hours_line(situation)),
    ]
    said = [(rank, number, text) for number, (rank, text) in enumerate(ranked) if text]
    kept = sorted(sorted(said)[:most], key=lambda entry: entry[1])
    return [Line(text, Role.DETAIL) for _, _, text in kept]


@lru_cache(maxsize=8)
def _keys(keys: tuple[tuple[str, str], ...], columns: int) -> tuple[Line, ...]:
    """Return the keys on as many lines as they need."""
    rows: list[str] = []
    for key, label in keys:
        entry = f"{key} {label}"
        if rows and cell_len(rows[-1]) + 2 + cell_len(entry) <= columns:
            rows[-1] += f"  {entry}"
        else:
            rows.append(entry)
    return tuple(Line(row, Role.KEYS) for row in rows)


def _drawn(large: list[Line], names: tuple[str, ...], columns: int, lines: int) -> list[Line]:
    """Return the large lines in block letters.

    The first keeps one size for every canvas, so that the screen stands still from turn to turn.
    """
    sized = (names, *((line.text,) for line in large[1:]))
    scales = _scales(sized, columns, lines)
    drawn: list[Line] = []
    for line, scale in zip(large, scales, strict=True):
        texts = block_lines(line.text, scale) if scale else (line.text,)
        if drawn and any(scales):
            drawn.append(_BLANK)
        drawn.extend(Line(text, line.role) for text in texts)
    return drawn


@lru_cache(maxsize=64)
def _scales(sized: tuple[tuple[str, ...], ...], columns: int, lines: int) -> tuple[int, ...]:
    """Return the scale of each line, 0 for plain text: each as large as fits, growing in turn from the first."""
    scales = (0,) * len(sized)
    grown = True
    while grown:
        grown = False
        for number, texts in enumerate(sized):
            tried = (*scales[:number], scales[number] + 1, *scales[number + 1 :])
            wide = max(_width(text, tried[number]) for text in texts)
            if wide <= columns and _height(sized, tried) <= lines and tried[number] <= _MOST_SCALE:
                scales, grown = tried, True
    return scales


def _width(text: str, scale: int) -> int:
    return width_cells(text, scale) if can_draw(text) else 1 << 30


def _height(sized: tuple[tuple[str, ...], ...], scales: tuple[int, ...]) -> int:
    gaps = len(sized) - 1 if any(scales) else 0
    return gaps + sum(
        max(height_cells(text, scale) for text in texts) if scale else 1
        for texts, scale in zip(sized, scales, strict=True)
    )
