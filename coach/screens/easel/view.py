"""The Easel as lines of text for a window of any size: a pure function of the situation.

From two metres canvas, passage, time and the word for the state are read, drawn in block letters; the bar is the turn,
or the rest. All that is said stands in the same lines above it.
"""

from functools import lru_cache
from typing import Final, NamedTuple

from coach.screens.chips import HELP, Chip, chip, chip_line
from coach.screens.easel import wording
from coach.screens.easel.layout import Face, Layout, canvas_letters, is_named, layout_of
from coach.screens.easel.rows_view import Shown, canvas_shown, facts_view, names_shown, picture_view, small_view
from coach.screens.easel.sheet import Sheet
from coach.screens.easel.side import put_side
from coach.screens.easel.state import EaselState, easel_state
from coach.screens.lines import Line, Look, Piece, Role, press_action
from coach.screens.notice import Notice
from coach.screens.widgets.block_letters import block_lines, can_draw
from coach.session.records import Phase
from coach.session.situation import Situation
from coach.text import cells, wrapped

_MOST_CHIPS: Final = 4
_SMALL_SAID_LINES: Final = 3
_SMALL_OTHER_LINES: Final = 6
_LONGEST_TIME: Final = "00:00"
_WORD_GAP: Final = 2
_STILL: Final = (EaselState.SESSION_OVER, EaselState.FINISHED)
"""Where the time does not run, the word stands close to it."""

_FACTS, _OTHER, _END = "easel.facts", "easel.other", "easel.end"
_CHIPS: Final = {
    EaselState.NOT_BEGUN: (_OTHER, _FACTS),
    EaselState.REST_DUE: ("easel.rest",),
    EaselState.RESTING: ("easel.note", _END),
    EaselState.REST_OVER: ("easel.note", _END),
    EaselState.PAUSED: ("easel.note", _END),
    EaselState.SESSION_OVER: (_FACTS, "app.log"),
    EaselState.WAITING: ("app.log", "app.deadline", _END),
    EaselState.FINISHED: (_FACTS, "app.deadline", "app.quit"),
}
"""The keys that matter in each state, beside Space and `?`; elsewhere they are note and mark."""


class ViewContext(NamedTuple):
    """What the screen adds to the situation.

    Attributes:
        notices: What wants an answer, the gravest first.
        asks_away: Whether the painter is still to be asked of the time away.
        has_photo: Whether there is a photo to be shown.
        is_photo_beside: Whether it stands beside the letters, unless it is asked for.
        picture_says: What is said of the picture, below it.
        shows_facts: Whether the facts are asked for.
        is_picture_alone: Whether the picture is shown alone.
        is_mirrored: Whether it is mirrored.
        is_upside_down: Whether it is upside down.
    """

    notices: tuple[Notice, ...] = ()
    asks_away: bool = True
    has_photo: bool = False
    is_photo_beside: bool = True
    picture_says: str = ""
    shows_facts: bool = False
    is_picture_alone: bool = False
    is_mirrored: bool = False
    is_upside_down: bool = False


def easel_view(situation: Situation, context: ViewContext, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the Easel for a window of `columns` x `lines`, exactly `lines` lines."""
    state = easel_state(situation, asks_away=context.asks_away)
    keys = chip_line(_chips(situation, context, state), columns)
    if context.is_picture_alone:
        return picture_view(Shown(situation, state, (Line(context.picture_says, Role.DETAIL),), keys), columns, lines)
    if context.shows_facts:
        return facts_view(Shown(situation, state, (), keys), columns, lines)
    is_beside = context.has_photo and context.is_photo_beside
    layout = layout_of(situation.plan.canvases, columns, lines, has_picture=is_beside)
    if layout is None:
        most = max(_SMALL_SAID_LINES, lines - _SMALL_OTHER_LINES) if context.notices else _SMALL_SAID_LINES
        said = _said(situation, state, context.notices, columns, most)
        return small_view(Shown(situation, state, said, keys), columns, lines)
    sheet = Sheet(columns, lines)
    _put_head(sheet, situation, state)
    _put_canvas(sheet, layout, situation)
    _put_passage(sheet, layout, situation, state)
    _put_time(sheet, layout, situation, state)
    put_side(sheet, layout, situation, state, context.picture_says)
    _put_foot(sheet, layout, situation, state, context.notices)
    sheet.put_line(lines - 1, keys)
    return sheet.lines(_inverted(state, layout, lines))


def has_other(situation: Situation) -> bool:
    """Return whether the passages in hand can be begun on another canvas."""
    return len(situation.open_canvases) > 1


def _inverted(state: EaselState, layout: Layout, lines: int) -> range:
    if state.is_off:
        return range(lines)
    below = layout.word.rows + 1 if layout.is_word_below else 0
    return range(layout.time_y - 1, layout.time_y + layout.time.rows + below + 1) if state.is_call else range(0)


def _put_head(sheet: Sheet, situation: Situation, state: EaselState) -> None:
    left, right = wording.head(situation, state)
    sheet.put(0, 0, left, role=Role.HEAD)
    if cells(left) + 2 + cells(right) <= sheet.columns:
        sheet.put(sheet.columns - cells(right), 0, right)


def _put_canvas(sheet: Sheet, layout: Layout, situation: Situation) -> None:
    """Draw the canvas by its name, or by its place with the name below."""
    canvas, y = canvas_shown(situation), layout.canvas_y
    if canvas is None:
        _put_letters(sheet, 0, y, wording.FINISHED, layout.canvas, role=Role.CANVAS)
        return
    number = situation.plan.canvases.index(canvas) + 1
    text = canvas_letters(canvas, number, layout.letters)
    action = press_action("o") if has_other(situation) else ""
    _put_letters(sheet, 0, y, text, layout.canvas, role=Role.CANVAS, action=action)
    below = wording.place_line(canvas) if is_named(canvas, layout.letters) else canvas.name
    sheet.put(0, y + layout.canvas.rows, below, look=Look.BOLD, room=layout.letters)


def _put_letters(sheet: Sheet, x: int, y: int, text: str, face: Face, *, role: Role, action: str = "") -> None:
    rows = block_lines(text, face.scale, face.form) if face.scale else (text.upper(),)
    sheet.put_rows(x, y, rows, role=role, action=action)


def _put_passage(sheet: Sheet, layout: Layout, situation: Situation, state: EaselState) -> None:
    """Draw the first passage by its place, on up to two lines, and below it all that its letters do not say."""
    names = names_shown(situation, state)
    face, y = layout.passage, layout.passage_y
    if not face.scale:
        sheet.put(0, y, " + ".join(names), role=Role.PASSAGE, look=Look.BOLD)
        return
    place = wording.place_of(names[0])
    drawn = place if can_draw(place) else wording.numbered(situation)
    rows = in_two_lines(drawn, face, layout.letters)
    for number, row in enumerate(rows):
        _put_letters(sheet, 0, y + number * (face.rows + 1), row, face, role=Role.PASSAGE)
    is_whole = place.isascii() and "".join(rows).replace(" ", "") == place.replace(" ", "")
    below = [wording.rest_of(names[0]) if is_whole else names[0], *(f"+ {name}" for name in names[1:])]
    below = [text for text in below if text]
    y += len(rows) * (face.rows + 1) - (len(rows) > 1)
    room = layout.names_end - y
    if len(below) > room:
        below = [*below[: max(0, room - 1)], "  ".join(below[max(0, room - 1) :])]
    for number, text in enumerate(below):
        sheet.put(0, y + number, text, look=Look.BOLD, room=layout.column)


@lru_cache(maxsize=16)
def in_two_lines(text: str, face: Face, columns: int) -> tuple[str, ...]:
    """Return a text that can be drawn on at most two lines of block letters; what has no room on them is left out.

    It is broken between words; within a word only where all of it is shown then, or where a word is too wide.
    """
    words = text[: columns + 1].split()  # two lines hold fewer letters than one has columns
    first = _fitting(words, face, columns, " ")
    second = _fitting(words[len(first) :], face, columns, " ")
    if len(first) + len(second) == len(words):
        return tuple(" ".join(row) for row in (first, second) if row)
    letters = list(" ".join(words))
    start = _fitting(letters, face, columns, "")
    end = _fitting(letters[len(start) :], face, columns, "")
    if len(start) + len(end) == len(letters) or not first or not second:
        return "".join(start).strip(), "".join(end).strip()
    return " ".join(first), " ".join(second)


def _fitting(parts: list[str], face: Face, columns: int, between: str) -> list[str]:
    """Return as many of the parts as fit on one line, from the first."""
    count = len(parts)
    while face.width(between.join(parts[:count])) > columns:
        count -= 1
    return parts[:count]


def _put_time(sheet: Sheet, layout: Layout, situation: Situation, state: EaselState) -> None:
    """Draw the time, with the word for the state and what the time is measured against beside or below it."""
    time, word = wording.time_letters(situation, state), wording.WORDS[state]
    if not time:
        time, word = word, ""
    face, y = layout.time, layout.time_y
    _put_letters(sheet, 0, y, time, face, role=Role.TIME)
    caption = wording.caption(situation, state)
    if layout.is_word_below:
        y += face.rows + 1
        _put_letters(sheet, 0, y, word, layout.word, role=Role.TIME)
        x = layout.word.width(word) + _WORD_GAP if word else 0
        y += layout.word.rows - 1 if word else 0
        sheet.put(x, y, caption, look=Look.BOLD, room=layout.column - x)
        return
    x = max(face.width(time), face.width(_LONGEST_TIME) if state not in _STILL else 0) + _WORD_GAP
    if layout.word.scale and layout.word.width(word) > sheet.columns - x:
        word = word.split()[0]
    _put_letters(sheet, x, y, word, layout.word, role=Role.TIME)
    sheet.put(x, y + face.rows - 1, caption, look=Look.BOLD, room=layout.column - x)


def _put_foot(
    sheet: Sheet, layout: Layout, situation: Situation, state: EaselState, notices: tuple[Notice, ...]
) -> None:
    """Put what is said, and the bar below it; where there is no bar, what is said may take its place."""
    share = wording.share_done(situation, state)
    end = layout.said_end if share is not None else layout.bar_y + layout.bar
    room = end - layout.said_y
    said = _said(situation, state, notices, sheet.columns, room if notices or layout.is_word_below else 1)
    for y, line in enumerate(said, start=end - len(said)):
        sheet.put_line(y, line)
    for y in range(layout.bar_y, layout.bar_y + layout.bar) if share is not None else ():
        sheet.put(0, y, wording.bar(share or 0, sheet.columns))


def _said(
    situation: Situation, state: EaselState, notices: tuple[Notice, ...], columns: int, most: int
) -> tuple[Line, ...]:
    """Return the gravest notice, or what else is said, on at most so many lines."""
    if notices:
        first, *others = notices
        text = f"{first.says} {wording.and_more(len(others))}".strip()
        action = press_action("enter" if first.yes else "escape")
        rows = wrapped(text, columns, most, indent="")
        return tuple(Line(row, Role.NOTICE, (Piece(0, len(row), Look.BOLD, action),)) for row in rows)
    rows = [row for text in wording.said(situation, state) for row in wrapped(text, columns, most)]
    return tuple(Line(row, Role.DETAIL) for row in rows[:most])


def _chips(situation: Situation, context: ViewContext, state: EaselState) -> tuple[Chip, ...]:
    """Return the keys that matter now, those that answer the notice first."""
    if context.is_picture_alone:
        return _picture_chips(context)
    if context.shows_facts:
        return chip(_FACTS, wording.BACK), HELP
    answers = context.notices[0].chips if context.notices else ()
    idle = {_OTHER: not has_other(situation), _END: situation.phase is Phase.NOT_BEGUN}
    names = [name for name in _CHIPS.get(state, ("easel.note", "easel.mark")) if not idle.get(name)]
    today = wording.FOLLOWS if state is EaselState.FINISHED else wording.TODAY
    chips = [chip(name, today if name == _FACTS else "") for name in names]
    if state not in (EaselState.WAITING, EaselState.FINISHED):
        go_on = chip("easel.go_on", wording.GO_ON.get(state, wording.DONE))
        chips = [*chips, *answers, go_on] if state is EaselState.REST_DUE else [*answers, go_on, *chips]
    else:
        chips = [*answers, *chips]
    return (*chips[: _MOST_CHIPS - 1], HELP)


def _picture_chips(context: ViewContext) -> tuple[Chip, ...]:
    mirror = chip("easel.mirror", wording.NOT_MIRRORED if context.is_mirrored else "")
    return (
        chip("easel.smaller"),
        mirror,
        chip("easel.upside_down", wording.UPRIGHT if context.is_upside_down else ""),
        HELP,
    )
