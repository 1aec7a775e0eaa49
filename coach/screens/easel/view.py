"""The Easel as lines of text for a terminal of any size: a pure function of the situation.

The three things to be read from two metres (canvas, passage, time) are drawn in the largest block letters that fit;
everything else is plain text below. Where lines are few, the least needed are left out first.
"""

from functools import lru_cache
from typing import Final, NamedTuple

from coach.screens.chips import HELP, chip, chip_line
from coach.screens.easel import wording
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.notice import Notice, notice_lines
from coach.screens.widgets.block_letters import block_lines, can_draw, height_cells, width_cells
from coach.session.records import Phase
from coach.session.situation import Situation
from coach.text import INDENT, wrapped

_MOST_SCALE: Final = 6
_DETAILS_FRAC: Final = 0.25
_USUAL_DETAILS: Final = 5
_FEWEST_DETAILS: Final = 3
_MOST_NOTICE_LINES: Final = 3
_MOST_DETAIL_LINES: Final = 2
_NOTES: Final = 3
"""Rank of the notes on the turn; what the painter wrote is cut only where there is no room for it."""

_CHIPS: Final = (chip("easel.go_on"), chip("easel.note"), chip("easel.mark"), HELP)
_DONE: Final = "every turn is painted"
_WIDEST_FIGURES: Final = str.maketrans("123456789", "000000000")


class _Large(NamedTuple):
    """A line to be read from two metres: its text for block letters, and for plain text where they do not fit."""

    text: str
    plain: str
    role: Role


class ViewContext(NamedTuple):
    """What the screen adds to the situation.

    Attributes:
        remarks: Sentences about the last move, the plan's file, reading only; gravest first.
        notices: What wants an answer, gravest first.
    """

    remarks: tuple[str, ...] = ()
    notices: tuple[Notice, ...] = ()


def easel_view(situation: Situation, context: ViewContext, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the Easel for a terminal of `columns` x `lines`, exactly `lines` lines."""
    large = _large(situation, columns)
    left = lines - len(large)
    notices = _notices(situation, context, columns)[: max(0, left)]
    left -= len(notices)
    keys = (chip_line(_CHIPS, columns),) if left > 0 else ()
    left -= len(keys)
    head = [Line(wording.head_line(situation), Role.HEAD)] if left > 0 else []
    left -= len(head)
    body = _body(large, _names(situation), _details(situation, columns), columns, left + len(large))
    blanks = [BLANK] * (lines - len(head) - len(body) - len(notices) - len(keys))
    every = [*head, *body, *blanks, *notices, *keys][:lines]
    return tuple(fitted(line, columns) for line in every)


def _waits(situation: Situation) -> bool:
    return bool(situation.away) and situation.done_frac < 1


def _large(situation: Situation, columns: int) -> list[_Large]:
    if situation.canvas is None:
        head, said = (
            ("Finished", _DONE) if wording.is_finished(situation) else ("Waiting", wording.away_line(situation))
        )
        return [_Large(head, head, Role.CANVAS), _Large(said, said, Role.PASSAGE)]
    canvas, time = wording.placed_name(situation.canvas), wording.time_words(situation)
    return [
        _Large(canvas, canvas, Role.CANVAS),
        _passages(situation, columns),
        _Large(time, time, Role.TIME),
    ]


def _passages(situation: Situation, columns: int) -> _Large:
    """Return the passages of the turn; in block letters only the first where that alone fits."""
    names = [passage.name for passage in situation.passages]
    joined = " + ".join(names)
    shorter = (f"{names[0]} +{len(names) - 1}", names[0])
    drawn = next((text for text in (joined, *shorter) if _width(text, 1) <= columns), joined)
    return _Large(drawn, joined, Role.PASSAGE)


def _names(situation: Situation) -> tuple[str, ...]:
    if situation.canvas is None:
        return ("Finished", "Waiting")
    return tuple(wording.placed_name(canvas) for canvas in situation.plan.canvases)


def _notices(situation: Situation, context: ViewContext, columns: int) -> list[Line]:
    said = list(context.remarks)
    if situation.phase is Phase.NOT_BEGUN and situation.day_ms:
        said.append(wording.RAGS)
    if situation.phase is Phase.NOT_BEGUN and situation.night_left_ms:
        said.append(wording.night_line(situation))
    rows = [Line(row, Role.NOTICE) for text in said for row in wrapped(f"• {text}", columns, _MOST_NOTICE_LINES)]
    return [*rows, *notice_lines(context.notices, columns)]


def _details(situation: Situation, columns: int) -> list[tuple[int, str]]:
    """Return the details line by line in the order shown, each with its rank, 0 for what is needed most."""
    passages = [wording.passage_line(passage, situation.plan) for passage in situation.passages]
    ranked = [
        (0, wording.time_line(situation)),
        (5, "marked for return" if situation.is_marked else ""),
        (5, "you went the other way: this canvas is taken out of turn" if situation.went_other_way else ""),
        *((2, wording.before_line(record)) for record in situation.before),
        *((1 if number == 0 else 6, text) for number, text in enumerate(passages)),
        *((_NOTES, f"noted: “{note}”") for note in situation.notes),
        (1, wording.coming_line(situation.coming) if situation.turn else ""),
        (2, wording.hours_line(situation)),
        (4, wording.away_line(situation) if situation.turn and _waits(situation) else ""),
    ]
    return [
        (rank, row)
        for rank, text in ranked
        if text
        for row in wrapped(text, columns, None if rank == _NOTES else _MOST_DETAIL_LINES)
    ]


def _most_needed(details: list[tuple[int, str]], most: int) -> list[Line]:
    """Return at most `most` lines, the least needed left out; a line whose rest is left out ends in an ellipsis."""
    by_need = sorted(range(len(details)), key=lambda number: details[number][0])
    kept = set(by_need[:most])
    goes_on = {number for number, (_, text) in enumerate(details, start=-1) if text.startswith(INDENT)}
    return [
        Line(details[number][1] + ("…" if number in goes_on and number + 1 not in kept else ""), Role.DETAIL)
        for number in sorted(kept)
    ]


def _body(
    large: list[_Large], names: tuple[str, ...], details: list[tuple[int, str]], columns: int, lines: int
) -> list[Line]:
    """Return the large lines and below them the details, as many as `lines` hold.

    The first large line keeps one size for every canvas and the time one size for every figure, so that the
    screen stands still. Details beyond the fewest give way where all large lines can be drawn without them.
    """
    sized = (names, *((line.text.translate(_WIDEST_FIGURES),) for line in large[1:]))
    most = min(len(details), max(_USUAL_DETAILS, round(lines * _DETAILS_FRAC)), max(0, lines - len(large)))
    counts = range(most, min(_FEWEST_DETAILS, most) - 1, -1)
    count = next((count for count in counts if all(_scales(sized, columns, lines - count))), most)
    drawn = _drawn(large, _scales(sized, columns, lines - count))
    shown = _most_needed(details, max(count, lines - len(drawn) - 1))
    is_airy = len(drawn) + len(shown) < lines
    return [*drawn, BLANK, *shown] if is_airy else [*drawn, *shown]


def _drawn(large: list[_Large], scales: tuple[int, ...]) -> list[Line]:
    """Return the large lines at their scales, 0 for plain text."""
    drawn: list[Line] = []
    for line, scale in zip(large, scales, strict=True):
        texts = block_lines(line.text, scale) if scale else (line.plain,)
        if drawn and any(scales):
            drawn.append(BLANK)
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
