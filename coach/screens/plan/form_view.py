"""The form of a row as lines: its name, and all that can be changed there with what stands there. Pure."""

from collections.abc import Sequence
from typing import Final

from coach.screens.answer_head import answer_head
from coach.screens.lines import BLANK, Line, Piece, Role, fitted
from coach.screens.plan.draft import FormLine, PlanDraft
from coach.text import cells, cut, first_shown, padded, wrapped

_MARK_CELLS: Final = 2
_GAP_CELLS: Final = 2
_MOST_LABEL_FRAC: Final = 0.5
_MOST_SAID_LINES: Final = 3
_LEAST_LINES: Final = 3


def form_view(
    draft: PlanDraft, form: Sequence[FormLine], chosen: int, said: str, *, columns: int, lines: int
) -> tuple[Line, ...]:
    """Return the form, exactly `lines` lines.

    Args:
        draft: The draft, whose row in hand it is of.
        form: Its lines.
        chosen: Number of the line that is chosen, from 0.
        said: How far the row is.
        columns: Cells of a line.
        lines: Lines of the page.
    """
    notices = [Line(row, Role.NOTICE) for row in wrapped(f"• {draft.said}", columns, _MOST_SAID_LINES)]
    notices = notices if draft.said else []
    row = draft.row
    name = row.passage.name if row.passage else row.one_pass.name
    asks = row.one_pass.name if draft.is_saved else f"{row.one_pass.name} · NOT SAVED"
    room = lines - len(notices)
    head = list(answer_head(asks, name, said, columns, max(1, room - _LEAST_LINES), wanted=len(form) + 2))
    head += [BLANK] if room > len(head) + len(form) else []
    room = max(1, room - len(head))
    first = first_shown(chosen, len(form), room)
    shown = [
        _form_line(one, number, form, columns, is_chosen=number == chosen)
        for number, one in enumerate(form[first : first + room], start=first)
    ]
    every = [*head, *shown]
    every += [BLANK] * (lines - len(every) - len(notices))
    return tuple(fitted(line, columns) for line in (*every, *notices)[:lines])


def _form_line(one: FormLine, number: int, form: Sequence[FormLine], columns: int, *, is_chosen: bool) -> Line:
    mark = ">" if is_chosen else ""
    text = padded(mark, _MARK_CELLS) + padded(one.label, _label_cells(form, columns)) + " " * _GAP_CELLS + one.now
    text = cut(text.rstrip(), columns)
    return Line(text, Role.DETAIL, (Piece(0, len(text), action=f"form_line({number})"),), is_inverted=is_chosen)


def field_column(form: Sequence[FormLine], columns: int) -> int:
    """Return the column of what stands at the lines of a form."""
    return _MARK_CELLS + _label_cells(form, columns) + _GAP_CELLS


def _label_cells(form: Sequence[FormLine], columns: int) -> int:
    return min(max(cells(one.label) for one in form), int(columns * _MOST_LABEL_FRAC))
