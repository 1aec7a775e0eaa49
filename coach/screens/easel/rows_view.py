"""The Easel in plain rows: in a window too small for letters, above the picture alone, and with the facts. Pure."""

from typing import NamedTuple

from coach.plan.commission import Canvas
from coach.screens.easel import wording
from coach.screens.easel.layout import Box, drawn_name
from coach.screens.easel.state import EaselState
from coach.screens.lines import BLANK, Line, Look, Piece, Role, fitted
from coach.session.situation import Situation
from coach.text import wrapped

_ABOVE_PICTURE, _BELOW_PICTURE = 1, 3


class Shown(NamedTuple):
    """What is to be shown: the situation, its state, the rows of what is said, and the keys that matter."""

    situation: Situation
    state: EaselState
    said: tuple[Line, ...]
    keys: Line


def canvas_shown(situation: Situation) -> Canvas | None:
    """Return the canvas of the turn, or the one that is waited for; None where all is painted."""
    if situation.canvas is None and situation.away and situation.done_frac < 1:
        return situation.away[0]
    return situation.canvas


def names_shown(situation: Situation, state: EaselState) -> list[str]:
    """Return what stands in the place of the passages."""
    if situation.passages:
        return [passage.name for passage in situation.passages]
    return [wording.back_line(situation) if state is EaselState.WAITING else wording.all_canvases(situation.plan)]


def small_view(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the Easel for a small window: what is needed least is left out first."""
    situation, state, said, keys = shown
    share = wording.share_done(situation, state)
    is_notice = any(row.role is Role.NOTICE for row in said)
    above = [
        (4, Line(wording.head(situation, state)[0], Role.HEAD)),
        (0, _bold(_canvas_row(situation), Role.CANVAS)),
        (1, _bold(" + ".join(names_shown(situation, state)), Role.PASSAGE)),
        (2, _bold(_time_row(situation, state), Role.TIME)),
        *((7, row) for row in _fact_rows(situation, columns)),
    ]
    below = [
        *((3 if is_notice else 6, row) for row in said),
        (5, Line("" if share is None else wording.bar(share, columns), Role.DETAIL)),
        (3, keys),
    ]
    every = [*above, *below]
    kept = set(sorted(range(len(every)), key=lambda number: every[number][0])[:lines])
    upper, lower = (
        [row for number, (_, row) in enumerate(part, start=first) if number in kept]
        for part, first in ((above, 0), (below, len(above)))
    )
    return _fitted([*upper, *[BLANK] * (lines - len(kept)), *lower], state, columns)


def facts_view(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the facts of the turn below its name."""
    situation, state, _, keys = shown
    head = [_bold(_title(situation, state), Role.CANVAS), BLANK]
    rows = [*head, *_fact_rows(situation, columns)][: max(0, lines - 1)]
    return _fitted([*rows, *[BLANK] * (lines - 1 - len(rows)), keys], state, columns)


def picture_view(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    """Return what stands above and below the picture alone; below it the first row of what is said."""
    situation, state, said, keys = shown
    share = wording.share_done(situation, state)
    bar = Line("" if share is None else wording.bar(share, columns), Role.DETAIL)
    air = [BLANK] * max(0, lines - _ABOVE_PICTURE - _BELOW_PICTURE)
    rows = [_bold(_title(situation, state), Role.CANVAS), *air, *said[:1], bar, keys]
    return _fitted(rows[:lines], state, columns)


def picture_box(columns: int, lines: int) -> Box:
    """Return where the picture alone stands."""
    return Box(0, _ABOVE_PICTURE, columns, max(1, lines - _ABOVE_PICTURE - _BELOW_PICTURE))


def _title(situation: Situation, state: EaselState) -> str:
    place = wording.place_of(names_shown(situation, state)[0])
    return "   ".join((_canvas_row(situation), place, _time_row(situation, state)))


def _canvas_row(situation: Situation) -> str:
    canvas = canvas_shown(situation)
    return wording.FINISHED if canvas is None else drawn_name(canvas, canvas.name)


def _time_row(situation: Situation, state: EaselState) -> str:
    parts = (wording.time_letters(situation, state), wording.WORDS[state].upper(), wording.caption(situation, state))
    return " ".join(part for part in parts if part)


def _fact_rows(situation: Situation, columns: int) -> list[Line]:
    return [Line(row, Role.DETAIL) for text in wording.facts(situation) for row in wrapped(text, columns)]


def _bold(text: str, role: Role) -> Line:
    return Line(text, role, (Piece(0, len(text), Look.BOLD),))


def _fitted(rows: list[Line], state: EaselState, columns: int) -> tuple[Line, ...]:
    return tuple(fitted(row, columns)._replace(is_inverted=state.is_off) for row in rows)
