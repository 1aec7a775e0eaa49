"""The Plan as lines of text for a terminal of any size; only the rows that are seen are made."""

from functools import lru_cache
from typing import Final, NamedTuple

from coach.plan.commission import Passage, Plan
from coach.plan.units import duration_text, minutes_text, number_text
from coach.screens.chips import HELP, chip, chip_line
from coach.screens.easel.wording import passage_line
from coach.screens.lines import Line, Piece, Role, fitted
from coach.screens.plan.draft import PlanDraft
from coach.screens.plan.order_page import Warnings
from coach.screens.plan.tree import LEGEND, PassageStates, TreeRow, rows_from
from coach.text import INDENT, chopped, counted, cut, first_shown, padded, wrapped

_CHIPS: Final = (chip("plan.change"), chip("plan.save"), chip("plan.order"), HELP)
_LEAST_NAME_CELLS: Final = 12
_MARK_CELLS: Final = 2
_MOST_NOTICE_LINES: Final = 3
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
_BESIDE: Final = _Column("beside", 17, 92)
_COLUMNS: Final = (_VALUE, _MINUTES, _AREA, _MIXTURE, _BESIDE)


_Shown = tuple[tuple[_Column, ...], int, int]
"""The columns that are shown, the cells for a sign, and the cells for a name."""


class RowTexts:
    """Writes rows out; a passage that was written before, as wide, need not be written again."""

    def __init__(self, states: PassageStates) -> None:
        """Write with each row how far it is."""
        self.states = states
        self._shown: _Shown | None = None
        self._known: dict[tuple[str, Passage, bool], str] = {}

    def of(self, row: TreeRow, shown: _Shown) -> str:
        """Return the text of a row."""
        if row.passage is None or row.run is None:
            return _row_text(row, self.states, shown)
        if shown is not self._shown or len(self._known) >= _MOST_KNOWN:
            self._known, self._shown = {}, shown
        key = (row.one_pass.name, row.passage, len(row.run.passages) == 1)
        if key not in self._known:
            self._known[key] = _row_text(row, self.states, shown)
        return self._known[key]


class TreeContext(NamedTuple):
    """What the screen adds to a draft.

    Attributes:
        texts: Writes the rows, with how far each is.
        warnings: What speaks against the plan.
        said: A sentence that goes before what the draft says; may be empty.
    """

    texts: RowTexts
    warnings: Warnings = Warnings()
    said: str = ""


def plan_view(draft: PlanDraft, context: TreeContext, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the Plan for a terminal of `columns` x `lines`, exactly `lines` lines."""
    keys = (chip_line(_CHIPS, columns),)
    notices = _notice_lines(context.said or draft.said, columns)
    detail = _detail_lines(draft, context, columns, 1 + (lines >= _LINES_FOR_TWO) + (lines >= _LINES_FOR_THREE))
    legend = (Line(LEGEND, Role.HEAD),) if lines >= _LINES_FOR_TWO else ()
    room = max(1, lines - 2 - len(keys) - len(notices) - len(detail) - len(legend))
    rows = _row_lines(draft, context, columns, room)
    head = (Line(_head(draft, context.warnings, columns), Role.HEAD), Line(_heading(draft.plan, columns), Role.HEAD))
    every = (*head, *rows, *legend, *detail, *notices, *keys)[:lines]
    return tuple(fitted(line, columns) for line in every)


def _head(draft: PlanDraft, warnings: Warnings, columns: int) -> str:
    plan = draft.plan
    passages = sum(len(one.passages) for one in plan.passes)
    planned_s = sum(branch[0].planned_s for branch in draft.tree.branches)
    count = sum(map(len, warnings.of.values()))
    said = [
        "" if draft.is_saved else "NOT SAVED",
        *warnings.whole,
        f"{count} {'warning' if count == 1 else 'warnings'} (!)" if count else "",
        f"{counted(len(plan.passes), 'pass', 'passes')}, {counted(passages, 'passage', 'passages')}",
        f"{duration_text(planned_s)} on each canvas",
        plan.commission,
    ]
    return cut("Plan · " + " · ".join(filter(None, said)), columns)


@lru_cache(maxsize=8)
def _shown(columns: int, canvases: int) -> _Shown:
    """Return what of a row is shown in so many columns."""
    sign_cells = 3 if columns >= _WIDE_SIGNS_FROM and canvases <= _MOST_WIDE_SIGNS else 1
    shown = tuple(column for column in _COLUMNS if columns >= column.from_columns)
    left = columns - _MARK_CELLS - sum(column.cells + 1 for column in shown) - canvases * sign_cells - 1
    while left < _LEAST_NAME_CELLS and len(shown) > 1:
        left += shown[-1].cells + 1
        shown = shown[:-1]
    return shown, sign_cells, max(1, left)


def _heading(plan: Plan, columns: int) -> str:
    shown, sign_cells, name_cells = _shown(columns, len(plan.canvases))
    cells = [padded(column.heading, column.cells, right=column.is_right) for column in shown]
    signs = "".join(padded(chopped(canvas.name, max(1, sign_cells - 1))[0], sign_cells) for canvas in plan.canvases)
    return " ".join((" " * _MARK_CELLS + padded("pass, run, passage", name_cells), *cells, signs)).rstrip()


def _row_lines(draft: PlanDraft, context: TreeContext, columns: int, room: int) -> list[Line]:
    first = first_shown(draft.row_no, draft.tree.row_count, room)
    rows = rows_from(draft.tree, first, room)
    shown = _shown(columns, len(draft.plan.canvases))
    lines = []
    for number, row in enumerate(rows, start=first):
        is_in_hand = number == draft.row_no
        is_warned = row.passage is not None and (row.one_pass.name, row.passage.name) in context.warnings.of
        mark = (">" if is_in_hand else " ") + ("!" if is_warned else " ")
        role = Role.CANVAS if is_in_hand else Role.PASSAGE if row.run is None else Role.DETAIL
        text = mark + context.texts.of(row, shown)
        lines.append(Line(text, role, (Piece(0, len(text), action=f"row({number})"),)))
    return lines + [Line("", Role.DETAIL)] * (room - len(lines))


def _row_text(row: TreeRow, states: PassageStates, shown: _Shown) -> str:
    columns, sign_cells, name_cells = shown
    cells = [padded(_cell(row, column), column.cells, right=column.is_right) for column in columns]
    signs = "".join(padded(state.sign, sign_cells) for state in states.of(row))
    return " ".join((padded(_name(row), name_cells), *cells, signs)).rstrip()


def _name(row: TreeRow) -> str:
    if row.run is None:
        return row.one_pass.name
    if row.passage is None:
        return f"{INDENT}run {row.run.number}"
    indent = INDENT if len(row.run.passages) == 1 else 2 * INDENT
    return indent + row.passage.name


def _cell(row: TreeRow, column: _Column) -> str:
    passage = row.passage
    if column is _MINUTES:
        stated = passage is None or passage.planned_s is not None
        return _minutes(row.planned_s) if stated else f"({_minutes(row.planned_s)})"
    return "" if passage is None else _figure(passage, column)


def _figure(passage: Passage, column: _Column) -> str:
    if column is _VALUE:
        return "" if passage.value is None else number_text(passage.value)
    if column is _AREA:
        return "" if passage.area_cm2 is None else f"{passage.area_cm2:.4g}"
    return (passage.mixture if column is _MIXTURE else passage.beside) or ""


def _minutes(seconds: int) -> str:
    written = minutes_text(seconds)
    return written if len(written) <= _MINUTES.cells else f"{seconds / 60:.1f}"


def _detail_lines(draft: PlanDraft, context: TreeContext, columns: int, count: int) -> tuple[Line, ...]:
    """Return exactly `count` lines about the row in hand, its warnings first."""
    row = draft.row
    warned = context.warnings.of.get((row.one_pass.name, row.passage.name), ()) if row.passage else ()
    said = [(text, Role.NOTICE) for text in warned]
    said += [(_detail(draft, context.texts.states), Role.DETAIL)]
    lines: list[Line] = []
    for text, role in said:
        room = max(1, count - len(lines))
        lines += [Line(piece, role) for piece in wrapped(text, columns, room)]
    return tuple([*lines, *[Line("", Role.DETAIL)] * count][:count])


def _detail(draft: PlanDraft, states: PassageStates) -> str:
    row, plan = draft.row, draft.plan
    far = ", ".join(f"{canvas.name} {state.word}" for canvas, state in zip(plan.canvases, states.of(row), strict=True))
    if row.run is None:
        runs = counted(len(row.one_pass.runs), "run", "runs")
        return f"{row.one_pass.name}: {runs} · {duration_text(row.planned_s)} · {far}"
    lead = f"{row.run.lead} leads" if row.run.lead else ""
    place = f"{row.one_pass.name}, run {row.run.number}"
    if row.passage is None:
        return " · ".join(filter(None, (f"{place}: {' + '.join(row.run.passage_names)}", far, lead)))
    passage = row.passage
    said = [
        passage_line(passage, plan),
        far,
        lead,
        f"beside {passage.beside}" if passage.beside else "",
        f"over {' / '.join(passage.over)}" if passage.over else "",
        f"into {' / '.join(passage.into)}" if passage.into else "",
        f"difficulty {number_text(passage.difficulty)}" if passage.difficulty != 1 else "",
        place,
    ]
    return " · ".join(filter(None, said))


def _notice_lines(said: str, columns: int) -> tuple[Line, ...]:
    rows = wrapped(f"• {said}", columns, _MOST_NOTICE_LINES) if said else [""]
    return tuple(Line(row, Role.NOTICE) for row in rows)


def text_page(title: str, texts: tuple[str, ...], first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return a title and under it the texts from line `first` on, exactly `lines` lines; long ones take several."""
    head = [Line(row, Role.NOTICE) for row in wrapped(title, columns, indent="")]
    rows = _chopped(texts, columns)[first : first + max(0, lines - len(head))]
    every = [*head, *(Line(row, Role.DETAIL) for row in rows)]
    every += [Line("", Role.DETAIL)] * (lines - len(every))
    return tuple(fitted(line, columns) for line in every[:lines])


def text_line_count(title: str, texts: tuple[str, ...], columns: int) -> int:
    """Return how many lines a title and the texts under it have in all."""
    return len(wrapped(title, columns, indent="")) + len(_chopped(texts, columns))


@lru_cache(maxsize=2)
def _chopped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(piece for text in texts for piece in chopped(text, columns))
