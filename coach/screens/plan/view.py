"""The rows of the Plan as lines: below the answer those about the one in hand, or all with their figures. Pure.

Only the rows that are seen are made.
"""

from functools import lru_cache
from typing import Final, NamedTuple

from coach.plan.commission import Canvas, Passage, Plan
from coach.plan.units import duration_text, minutes_text, number_text
from coach.screens.answer_head import answer_head
from coach.screens.easel.wording import passage_line
from coach.screens.lines import BLANK, Line, Piece, Role, fitted
from coach.screens.page import MOST_WORDS, words_of
from coach.screens.plan.draft import PlanDraft
from coach.screens.plan.order_page import Warnings
from coach.screens.plan.tree import LEGEND, PassageStates, TreeRow, rows_from
from coach.text import cells, chopped, counted, cut, first_shown, padded, wrapped

ASKS: Final = "the plan · is it sound?"

_CHIP_WORDS: Final = 9
"""So many words at most stand on the keys below the page."""

_LEAST_NAME_CELLS: Final = 12
_MOST_NAME_CELLS: Final = 48
_MOST_SIGN_CELLS: Final = 10
_MARK_CELLS: Final = 2
_MOST_NOTICE_LINES: Final = 3
_WANTED_ROWS: Final = 7
_LEAST_ROWS: Final = 3
_LEGEND_FROM_LINES: Final = 12
_LINES_FOR_TWO: Final = 16
_LINES_FOR_THREE: Final = 24
_WIDE_SIGNS_FROM: Final = 56
_MOST_WIDE_SIGNS: Final = 4
_MOST_KNOWN: Final = 2000


class _Column(NamedTuple):
    """A column: its heading, its width, and from which width of the screen on it is shown."""

    heading: str
    cells: int
    from_columns: int
    is_right: bool = False


_VALUE: Final = _Column("value", 5, 50, is_right=True)
_MINUTES: Final = _Column("min", 6, 0, is_right=True)
_AREA: Final = _Column("cm²", 5, 64, is_right=True)
_MIXTURE: Final = _Column("mixture", 15, 58)
_COLUMNS: Final = (_VALUE, _MINUTES, _AREA, _MIXTURE)


class _Shown(NamedTuple):
    """What is shown of a row: the columns, the cells for a sign, and the cells for a name."""

    columns: tuple[_Column, ...]
    sign_cells: int
    name_cells: int


class RowTexts:
    """Writes rows out; a passage that was written before, as wide, need not be written again."""

    def __init__(self, states: PassageStates) -> None:
        """Write with each row how far it is."""
        self.states = states
        self._shown: _Shown | None = None
        self._known: dict[tuple[str, Passage, str], str] = {}

    def of(self, row: TreeRow, shown: _Shown) -> str:
        """Return the text of a row."""
        if row.passage is None:
            return _row_text(row, self.states, shown)
        if shown is not self._shown or len(self._known) >= _MOST_KNOWN:
            self._known, self._shown = {}, shown
        key = (row.one_pass.name, row.passage, row.bracket)
        if key not in self._known:
            self._known[key] = _row_text(row, self.states, shown)
        return self._known[key]


class TreeContext(NamedTuple):
    """What the screen adds to a draft.

    Attributes:
        texts: Writes the rows, with how far each is.
        warnings: What speaks against the plan.
        turns: How many turns are done, and how many there are; no turns where no journal tells.
        is_wide: Whether figures stand beside the rows from the beginning, and there are more words than a glance takes.
    """

    texts: RowTexts
    warnings: Warnings = Warnings()
    turns: tuple[int, int] = (0, 0)
    is_wide: bool = False


def answer_word(warnings: Warnings) -> str:
    """Return whether the plan is sound, in a word."""
    return "LOOK" if warnings.sentences else "SOUND"


def answer_sentence(draft: PlanDraft, context: TreeContext) -> str:
    """Return what speaks against the plan and how far it is, in a sentence of at most 14 words."""
    done, turns = context.turns
    count = len(context.warnings.sentences)
    against = f"{_to_look_at(count)}{', marked !' if context.warnings.of else ''}; " if count else ""
    if turns:
        far = (
            "all is painted" if done == turns else f"{done} of {turns} turns done" if done else f"{turns} turns to come"
        )
    else:
        passages = sum(len(one.passages) for one in draft.plan.passes)
        far = counted(passages, "passage")
    planned_s = sum(branch[0].planned_s for branch in draft.tree.branches)
    hours = f"; {duration_text(planned_s)} a canvas" if not count else ""
    return f"{against}{far}{hours}."


def _to_look_at(count: int) -> str:
    return f"{counted(count, 'thing')} to look at"


def plan_page(draft: PlanDraft, context: TreeContext, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the answer, and below it the rows about the one in hand, exactly `lines` lines."""
    notices = _notices(draft, context, columns)
    asks = f"{ASKS} · NOT SAVED" if not draft.is_saved else ASKS
    word, sentence = answer_word(context.warnings), answer_sentence(draft, context)
    wanted = _WANTED_ROWS + 3 + len(notices)
    head = answer_head(asks, word, sentence, columns, max(1, lines - len(notices)), wanted=wanted)
    left = lines - len(head) - len(notices)
    gap = [BLANK] if left > _LEAST_ROWS + 1 else []
    heading = (
        [Line(_heading(draft.plan, columns, is_table=context.is_wide), Role.HEAD)] if left > _LEAST_ROWS + 2 else []
    )
    legend = [BLANK, Line(LEGEND, Role.HEAD)] if lines >= _LEGEND_FROM_LINES and not notices else []
    room = left - len(gap) - len(heading) - len(legend)
    rows = _row_lines(draft, context, columns, room, is_table=context.is_wide) if room > 0 else []
    if not context.is_wide:
        told = heading if len(draft.plan.canvases) <= _MOST_WIDE_SIGNS else []  # many are told by a letter each
        said = words_of([Line(f"{asks} {word} {sentence}", Role.HEAD), *told, *legend, *notices])
        rows = _at_a_glance(rows, MOST_WORDS - _CHIP_WORDS - said)
    every = [*head, *gap, *heading, *rows, *legend]
    every += [BLANK] * (lines - len(every) - len(notices))
    return tuple(fitted(line, columns) for line in (*every, *notices)[:lines])


def _at_a_glance(rows: list[Line], most: int) -> list[Line]:
    """Return the rows about the one in hand that hold at most so many words, and a few at least."""
    while len(rows) > _LEAST_ROWS and words_of(rows) > most:
        in_hand = next((number for number, row in enumerate(rows) if row.is_inverted), 0)
        rows = rows[1:] if in_hand > len(rows) // 2 else rows[:-1]
    return rows


def plan_table(draft: PlanDraft, context: TreeContext, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the rows with their figures and all that is known of the one in hand, exactly `lines` lines."""
    notices = _notice_lines(draft.said or " ".join(context.warnings.whole[:1]), columns)
    detail = _detail_lines(draft, context, columns, 1 + (lines >= _LINES_FOR_TWO) + (lines >= _LINES_FOR_THREE))
    legend = (Line(LEGEND, Role.HEAD),) if lines >= _LINES_FOR_TWO else ()
    room = max(1, lines - 2 - len(notices) - len(detail) - len(legend))
    rows = _row_lines(draft, context, columns, room, is_table=True)
    rows += [BLANK] * (room - len(rows))
    heading = _heading(draft.plan, columns, is_table=True)
    head = (Line(_head(draft, context.warnings, columns), Role.HEAD), Line(heading, Role.HEAD))
    return tuple(fitted(line, columns) for line in (*head, *rows, *legend, *detail, *notices)[:lines])


def _head(draft: PlanDraft, warnings: Warnings, columns: int) -> str:
    plan = draft.plan
    count = len(warnings.sentences)
    said = [
        "" if draft.is_saved else "NOT SAVED",
        _to_look_at(count) if count else "",
        counted(len(plan.passes), "pass", "passes"),
        counted(sum(len(one.passages) for one in plan.passes), "passage"),
        plan.commission,
    ]
    return cut(" · ".join(filter(None, said)), columns)


@lru_cache(maxsize=8)
def _shown(columns: int, canvases: tuple[Canvas, ...], *, is_table: bool) -> _Shown:
    """Return what of a row is shown in so many columns."""
    count = len(canvases)
    sign_cells = 3 if columns >= _WIDE_SIGNS_FROM and count <= _MOST_WIDE_SIGNS else 1
    if not is_table:
        room = (columns - _MARK_CELLS - _MOST_NAME_CELLS - 1) // count
        sign_cells = max(sign_cells, min(room, _MOST_SIGN_CELLS, max(cells(one.name) for one in canvases) + 2))
    shown = tuple(column for column in _COLUMNS if is_table and columns >= column.from_columns)
    left = columns - _MARK_CELLS - sum(column.cells + 1 for column in shown) - count * sign_cells - 1
    while left < _LEAST_NAME_CELLS and len(shown) > 1:
        left += shown[-1].cells + 1
        shown = shown[:-1]
    return _Shown(shown, sign_cells, max(1, min(left, _MOST_NAME_CELLS)))


def _heading(plan: Plan, columns: int, *, is_table: bool) -> str:
    shown = _shown(columns, plan.canvases, is_table=is_table)
    heads = [padded(column.heading, column.cells, right=column.is_right) for column in shown.columns]
    most = max(1, shown.sign_cells - 1)
    signs = "".join(padded(chopped(name, most)[0], shown.sign_cells) for name in _told_apart(plan.canvases))
    return " ".join((" " * (_MARK_CELLS + shown.name_cells), *heads, signs)).rstrip()


def _told_apart(canvases: tuple[Canvas, ...]) -> list[str]:
    """Return the names of the canvases without the words with which all of them begin."""
    names = [canvas.name.split() for canvas in canvases]
    while len(names) > 1 and all(len(words) > 1 and words[0] == names[0][0] for words in names):
        names = [words[1:] for words in names]
    return [" ".join(words) for words in names]


def _row_lines(draft: PlanDraft, context: TreeContext, columns: int, room: int, *, is_table: bool) -> list[Line]:
    first = first_shown(draft.row_no, draft.tree.row_count, room)
    shown = _shown(columns, draft.plan.canvases, is_table=is_table)
    lines = []
    for number, row in enumerate(rows_from(draft.tree, first, room), start=first):
        is_in_hand = number == draft.row_no
        is_warned = row.passage is not None and (row.one_pass.name, row.passage.name) in context.warnings.of
        mark = (">" if is_in_hand else " ") + ("!" if is_warned else " ")
        role = Role.PASSAGE if row.passage else Role.CANVAS
        text = mark + context.texts.of(row, shown)
        lines.append(Line(text, role, (Piece(0, len(text), action=f"row({number})"),), is_inverted=is_in_hand))
    return lines


def _row_text(row: TreeRow, states: PassageStates, shown: _Shown) -> str:
    texts = [padded(_cell(row, column), column.cells, right=column.is_right) for column in shown.columns]
    signs = "".join(padded(state.sign, shown.sign_cells) for state in states.of(row))
    name = f"{row.bracket} {row.passage.name}" if row.passage else row.one_pass.name
    return " ".join((padded(name, shown.name_cells), *texts, signs)).rstrip()


def _cell(row: TreeRow, column: _Column) -> str:
    passage = row.passage
    if column is _MINUTES:
        stated = passage is None or passage.planned_s is not None
        return _minutes(row.planned_s) if stated else f"({_minutes(row.planned_s)})"
    if passage is None:
        return ""
    if column is _VALUE:
        return "" if passage.value is None else number_text(passage.value)
    if column is _AREA:
        return "" if passage.area_cm2 is None else f"{passage.area_cm2:.4g}"
    return passage.mixture or ""


def _minutes(seconds: int) -> str:
    written = minutes_text(seconds)
    return written if len(written) <= _MINUTES.cells else f"{seconds / 60:.1f}"


def _warned(draft: PlanDraft, warnings: Warnings) -> tuple[str, ...]:
    row = draft.row
    return warnings.of.get((row.one_pass.name, row.passage.name), ()) if row.passage else ()


def _detail_lines(draft: PlanDraft, context: TreeContext, columns: int, count: int) -> tuple[Line, ...]:
    """Return exactly `count` lines about the row in hand, its warnings first."""
    said = [(text, Role.NOTICE) for text in _warned(draft, context.warnings)]
    said += [(_detail(draft, context.texts.states), Role.DETAIL)]
    lines: list[Line] = []
    for text, role in said:
        lines += [Line(piece, role) for piece in wrapped(text, columns, max(1, count - len(lines)))]
    return tuple([*lines, *[BLANK] * count][:count])


def far_text(draft: PlanDraft, states: PassageStates) -> str:
    """Return how far the row in hand is on each canvas."""
    pairs = zip(draft.plan.canvases, states.of(draft.row), strict=True)
    return ", ".join(f"{canvas.name} {state.word}" for canvas, state in pairs)


def _detail(draft: PlanDraft, states: PassageStates) -> str:
    """Return all that the plan says of the row in hand, and how far it is."""
    row, plan = draft.row, draft.plan
    far = far_text(draft, states)
    if row.passage is None or row.run is None:
        passages = counted(len(row.one_pass.passages), "passage")
        return f"{row.one_pass.name}: {passages} · {duration_text(row.planned_s)} · {far}"
    passage = row.passage
    said = [
        passage_line(passage, plan),
        far,
        f"{row.run.lead} leads" if row.run.lead else "",
        f"beside {passage.beside}" if passage.beside else "",
        f"over {' / '.join(passage.over)}" if passage.over else "",
        f"into {' / '.join(passage.into)}" if passage.into else "",
        f"difficulty {number_text(passage.difficulty)}" if passage.difficulty != 1 else "",
        row.one_pass.name,
    ]
    return " · ".join(filter(None, said))


def _notices(draft: PlanDraft, context: TreeContext, columns: int) -> tuple[Line, ...]:
    """Return what was said last, or what speaks against the row in hand, or what speaks first against the plan."""
    said = draft.said or " ".join(_warned(draft, context.warnings) or context.warnings.sentences[:1])
    return _notice_lines(said, columns) if said else ()


def _notice_lines(said: str, columns: int) -> tuple[Line, ...]:
    rows = wrapped(f"• {said}", columns, _MOST_NOTICE_LINES) if said else [""]
    return tuple(Line(row, Role.NOTICE) for row in rows)


def passage_head(draft: PlanDraft, says: str, columns: int, lines: int) -> tuple[Line, ...]:
    """Return what stands above the picture of the row in hand: its name in block letters, and what it is."""
    row = draft.row
    name = row.passage.name if row.passage else row.one_pass.name
    asks = f"where is it? · {row.one_pass.name}" if row.passage else "where is it?"
    return answer_head(asks, name, says, columns, lines, wanted=lines * 2 // 3)


def text_page(title: str, texts: tuple[str, ...], first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return a title and under it the texts from line `first` on, exactly `lines` lines; long ones take several."""
    head = [Line(row, Role.NOTICE) for row in wrapped(title, columns, indent="")]
    rows = _chopped(texts, columns)[first : first + max(0, lines - len(head))]
    every = [*head, *(Line(row, Role.DETAIL) for row in rows)]
    every += [BLANK] * (lines - len(every))
    return tuple(fitted(line, columns) for line in every[:lines])


def text_line_count(title: str, texts: tuple[str, ...], columns: int) -> int:
    """Return how many lines a title and the texts under it have in all."""
    return len(wrapped(title, columns, indent="")) + len(_chopped(texts, columns))


@lru_cache(maxsize=2)
def _chopped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(piece for text in texts for piece in chopped(text, columns))
