"""The pages of the Plan: rows, picture and order as tabs; over them the form of a row, or a difference. Pure."""

from typing import Final, NamedTuple

from coach.plan.commission import Passage
from coach.screens.chips import HELP, Chip, chip
from coach.screens.key_table import KEYS
from coach.screens.lines import BLANK, Line, Role
from coach.screens.plan.draft import FormLine, PlanDraft, form_of
from coach.screens.plan.form_view import form_view
from coach.screens.plan.order_page import (
    OrderPage,
    Warnings,
    lead_picture,
    order_view,
    page_line_count,
    page_view,
    turns_from,
)
from coach.screens.plan.tree import PassageState
from coach.screens.plan.view import (
    RowTexts,
    TreeContext,
    far_text,
    passage_head,
    plan_page,
    plan_table,
    text_line_count,
    text_page,
)
from coach.text import wrapped

ROWS, PICTURE, ORDER = "rows", "picture", "order"
"""The tabs."""

FORM, DIFFERENCE = "form", "difference"
"""What may lie over them."""

ACTIONS: Final = frozenset(use.action.partition("(")[0] for use in KEYS["plan"])
"""What the keys of the Plan run."""

_OVER: Final = frozenset(("leave", "move", "page"))
_ON_PAGES: Final = {
    DIFFERENCE: _OVER,
    FORM: _OVER | {"move_pass", "change", "undo", "redo", "save"},
    ORDER: _OVER | {"next_tab", "toggle_facts", "save"},
}

BESIDE_FROM_COLUMNS: Final = 120
"""From so many columns of the window on rows, picture and order stand in one view."""

_PICTURE_FRAC: Final = 0.5
"""What the picture takes at most of the height beside the rows."""

_LEAST_TURNS: Final = 3
"""In fewer lines the turns to come do not stand below the strips."""


class Place(NamedTuple):
    """Where the painter is on the Plan.

    Attributes:
        tab: The tab.
        over: What lies over it; empty for nothing.
        with_facts: Whether the figures are shown.
        first: The first line of a page that scrolls.
        form_no: Number of the line that is chosen in the form.
    """

    tab: str = ROWS
    over: str = ""
    with_facts: bool = False
    first: int = 0
    form_no: int = 0

    @property
    def actions(self) -> frozenset[str]:
        """What can be done here."""
        return _ON_PAGES.get(self.over or self.tab, ACTIONS)


class Shown(NamedTuple):
    """What the Plan shows.

    Attributes:
        place: Where the painter is.
        draft: The plan with its edits.
        texts: Writes its rows.
        warnings: What speaks against it.
        turns: How many turns are done, and how many there are.
        order: The order of the work; None while it is not known.
        difference: What another hand has changed, a line each.
        has_picture: Whether there is a photo.
        fault: Why the photo cannot be shown; empty where it can.
        is_wide: Whether rows, picture and order have room beside each other.
        is_picture_asked: Whether the photo is shown on its tab only.
        is_typing: Whether a field is open.
    """

    place: Place
    draft: PlanDraft
    texts: RowTexts
    warnings: Warnings
    turns: tuple[int, int]
    order: OrderPage | None
    difference: tuple[str, ...]
    has_picture: bool
    fault: str
    is_wide: bool
    is_picture_asked: bool
    is_typing: bool = False

    @property
    def tabs(self) -> tuple[str, ...]:
        """The tabs, in the order in which Tab goes round."""
        return (ROWS, PICTURE, ORDER) if self.has_picture or self.fault else (ROWS, ORDER)

    @property
    def next_tab(self) -> str:
        """The tab that comes next."""
        return self.tabs[(self.tabs.index(self.place.tab) + 1) % len(self.tabs)]

    @property
    def is_beside(self) -> bool:
        """Whether picture and order stand beside what is shown."""
        return self.is_wide and self.place.tab == ROWS and self.place.over != DIFFERENCE

    @property
    def form(self) -> list[FormLine]:
        """The form of the row in hand."""
        is_skipped = PassageState.SKIPPED in self.texts.states.of(self.draft.row) or self.draft.row.passage is None
        return form_of(self.draft, with_skipped=is_skipped)

    @property
    def form_no(self) -> int:
        """Number of its line that is chosen; an edit may have shortened it."""
        return min(self.place.form_no, len(self.form) - 1)

    @property
    def passages(self) -> tuple[Passage, ...]:
        """The passages of the row in hand."""
        row = self.draft.row
        return (row.passage,) if row.passage else row.one_pass.passages

    @property
    def shapes(self) -> tuple[str, ...]:
        """The shapes of the row in hand."""
        return tuple(shape for passage in self.passages for shape in passage.shapes)

    @property
    def run(self) -> tuple[str, int]:
        """Pass and number of the run in hand."""
        row = self.draft.row
        return row.one_pass.name, row.run.number if row.run else 1


def main_lines(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    """Return what the Plan shows, exactly `lines` lines."""
    place, draft = shown.place, shown.draft
    if place.over == DIFFERENCE:
        return text_page(draft.said, shown.difference, place.first, columns, lines)
    if place.over == FORM:
        return form_view(
            draft, shown.form, shown.form_no, far_text(draft, shown.texts.states), columns=columns, lines=lines
        )
    if place.tab == PICTURE:
        return _filled(_picture_head(shown, columns, lines), lines)
    if place.tab == ORDER and place.with_facts:
        return page_view(shown.order, shown.run, columns, lines, place.first)
    if place.tab == ORDER:
        return order_view(shown.order, shown.run, columns, lines)
    make = plan_table if place.with_facts else plan_page
    return make(draft, TreeContext(shown.texts, shown.warnings, shown.turns, shown.is_wide), columns, lines)


def line_count(shown: Shown, columns: int) -> int:
    """Return how many lines the page that scrolls has in all."""
    if shown.place.over == DIFFERENCE:
        return text_line_count(shown.draft.said, shown.difference, columns)
    return page_line_count(shown.order, columns) if shown.place.with_facts else 0


def side_lines(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    """Return what stands beside the rows where there is room: the order, below the picture; its turns for figures."""
    if shown.place.with_facts:
        return page_view(shown.order, shown.run, columns, lines)
    rows = side_rows(shown, lines)
    above = [BLANK] * (rows + 2) if rows else _fault_lines(shown, columns)
    drawn = lead_picture(shown.order, shown.run, columns, lines - len(above)) if shown.order else []
    every = (*above, *drawn, BLANK)
    room = lines - len(every)
    turns = turns_from(shown.order, shown.run, columns, room) if shown.order and room >= _LEAST_TURNS else ()
    return _filled((*every, *turns), lines)


def side_rows(shown: Shown, lines: int) -> int:
    """Return how many rows the picture may take beside the rows of the plan, from the second line on; 0 for none."""
    is_shown = shown.has_picture and not shown.is_picture_asked and shown.is_beside and not shown.place.with_facts
    return int(lines * _PICTURE_FRAC) if is_shown else 0


def picture_top(shown: Shown, columns: int, lines: int) -> int | None:
    """Return the line from which on the picture has the page to itself; None where it has not."""
    if not shown.has_picture or shown.place.tab != PICTURE or shown.place.over:
        return None
    top = len(_picture_head(shown, columns, lines)) + 1
    return top if top < lines else None


def chips_of(shown: Shown) -> tuple[Chip, ...]:
    """Return the keys that matter here."""
    if shown.is_typing:
        return Chip("enter", "keep"), chip("plan.leave", "drop")
    place, save = shown.place, chip("plan.save")
    if place.over == DIFFERENCE:
        return chip("plan.pagedown"), chip("plan.leave"), HELP
    if place.over == FORM:
        return Chip("enter", "type"), save, chip("plan.leave"), HELP
    following = chip("plan.tab", shown.next_tab)
    if place.tab == ORDER:
        return chip("plan.facts", "strips" if place.with_facts else "turns"), following, chip("plan.leave"), HELP
    return Chip("enter", "open"), chip("plan.add") if shown.draft.is_saved else save, following, HELP


def _picture_head(shown: Shown, columns: int, lines: int) -> tuple[Line, ...]:
    far = far_text(shown.draft, shown.texts.states)
    if shown.fault:
        return passage_head(shown.draft, shown.fault, columns, lines)
    lacks_shapes = not shown.shapes and any(not passage.check for passage in shown.passages)
    says = f"{far}; no shapes yet: t chooses them." if lacks_shapes else f"{far}."
    return passage_head(shown.draft, says, columns, lines)


def _fault_lines(shown: Shown, columns: int) -> list[Line]:
    return [Line(row, Role.NOTICE) for row in wrapped(shown.fault, columns, indent="")] if shown.fault else []


def _filled(rows: tuple[Line, ...], lines: int) -> tuple[Line, ...]:
    return (*rows, *[BLANK] * (lines - len(rows)))[:lines]
