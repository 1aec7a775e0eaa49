"""The Plan screen: what is the whole work, in what order, and is the plan sound?"""

import asyncio
import sys
from dataclasses import dataclass
from typing import ClassVar, Final, cast

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.message import Message

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.plan.editing.edited import EditError
from coach.screens.chips import HELP, chip, chip_line
from coach.screens.choice import ChoiceScreen
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.key_table import KEYS
from coach.screens.lines import Line
from coach.screens.plan.draft import (
    PlanDraft,
    changes_of,
    draft_of,
    edited,
    kept_text,
    lost_place,
    moved,
    moved_by_pass,
    redone,
    taken_up,
    text_before,
    undone,
    written,
)
from coach.screens.plan.edits import FIELDS
from coach.screens.plan.order_page import (
    OrderPage,
    Warnings,
    order_page,
    page_line_count,
    page_view,
    warnings_of,
)
from coach.screens.plan.repository import OpenedPlan, PlanProgress, PlanRepository
from coach.screens.plan.tree import PassageStates
from coach.screens.plan.view import RowTexts, TreeContext, plan_view, text_line_count, text_page
from coach.screens.widgets.board import MarkedRowBoard
from coach.screens.widgets.keys import bindings
from coach.text import counted

_BESIDE_FROM_COLUMNS: Final = 120
_REST_S: Final = 0.3
"""So long the keys rest before the order follows and is planned anew: both take longer than a key may."""

_SWITCH_S: Final = 0.0005
"""So long a key waits for a thread that plans the order; Python's own 5 ms, several times over, would be felt."""

_NO_REPR: Final = "apart"
"""Describes a worker; without a description the framework writes out its arguments, a whole plan."""

_MOST_TYPED: Final = 400


class PlanScreen(FieldScreen):
    """Shows the whole work as a tree with its order, and lets the painter edit it."""

    BLANK = True
    CSS_PATH = "screen.tcss"
    DRAFT: ClassVar[str] = "plan edits"
    BINDINGS: ClassVar[list[BindingType]] = bindings("plan")

    @dataclass
    class OrderReckoned(Message):
        """The order of a plan and what speaks against it are known."""

        plan: Plan
        warnings: Warnings
        page: OrderPage | None

    def __init__(self, repository: PlanRepository, left_over: str = "") -> None:
        """Show the plan that the repository has; `left_over` is the text of edits that an earlier opening left."""
        super().__init__()
        self.left_over = left_over
        self._repository = repository
        self._tree, self._page = MarkedRowBoard(), MarkedRowBoard()
        self._tree.id, self._page.id = "tree", "page"
        self._opened: OpenedPlan | None = None
        self._draft: PlanDraft | None = None
        self._progress: PlanProgress | None = None
        self._texts: RowTexts | None = None
        self._warnings = Warnings()
        self._order: OrderPage | None = None
        self._reckoned_for: tuple[Plan, bool] | None = None
        self._difference: tuple[str, ...] = ()
        self._page_shows = ""
        self._first = 0
        self._asked = self._fault = ""

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield self._tree
            yield self._page
        yield FieldPlace()

    def on_mount(self) -> None:
        self._switch_s = sys.getswitchinterval()
        sys.setswitchinterval(_SWITCH_S)
        self._rest = self.set_interval(_REST_S, self._be_at_rest, pause=True)
        try:
            self._opened = self._repository.opened()
            self._progress = self._repository.progress()
        except CoachError as error:
            self._fault = str(error)
        else:
            self._opened, self._draft = taken_up(self._opened, self._progress.done, self.left_over)
            self.left_over = ""
            self._texts = RowTexts(PassageStates(self._opened.plan, self._progress))
        self._show()
        self._reckon()

    def on_unmount(self) -> None:
        sys.setswitchinterval(self._switch_s)

    def on_resize(self) -> None:
        self._show()
        self._reckon()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """Let a key do nothing where it has no meaning: beside an open field, on a page, without a plan."""
        if action not in _ACTIONS or action == "leave":
            return True
        if self._draft is None or self.field is not None:
            return False
        return not self._page_shows or action in _ON_A_PAGE

    def unsaved(self) -> str:
        if self._draft is None or self._draft.is_saved:
            return ""
        count = self._draft.unsaved_count
        return f"{counted(count, 'edit')} {'is' if count == 1 else 'are'} not saved"

    def drop(self) -> None:
        if self._draft is not None and self._opened is not None:
            self._draft = draft_of(self._opened.plan, self._draft.done)

    def draft(self) -> tuple[OpenedPlan, Plan] | str | None:
        if self.left_over:
            return self.left_over
        if self._draft is None or self._opened is None or self._draft.is_saved:
            return None
        return self._opened, self._draft.plan

    def draft_text(self, draft: object) -> str:
        return draft if isinstance(draft, str) else kept_text(*cast("tuple[OpenedPlan, Plan]", draft))

    async def action_leave(self) -> None:
        if self.field is not None:
            await self.close_field()
            self._say("")
        elif self._page_shows:
            self._page_shows = ""
            self._show()
        else:
            await self.run_action("app.door('plan')")

    def action_move(self, by: int) -> None:
        if self._page_shows:
            self._scroll(by)
        elif self._draft is not None:
            self._take(moved(self._draft, by))

    def action_page(self, by: int) -> None:
        self.action_move(by * max(1, self._board.size.height // 2))

    def action_move_pass(self, by: int) -> None:
        if self._draft is not None:
            self._take(moved_by_pass(self._draft, by))

    def action_edit(self, name: str) -> None:
        if self._draft is not None:
            self._take(edited(self._draft, name))

    def action_take_up_skipped(self) -> None:
        if self._draft is None or self._opened is None:
            return
        row = self._draft.row
        passages = [row.passage] if row.passage else row.run.passages if row.run else row.one_pass.passages
        said = self._repository.take_up_skipped(row.one_pass.name, [passage.name for passage in passages])
        self._progress = self._repository.progress()
        self._texts = RowTexts(PassageStates(self._opened.plan, self._progress))
        self._reckoned_for = None
        self._say(said)
        self._reckon()

    def action_undo(self) -> None:
        if self._draft is not None:
            self._take(undone(self._draft))

    def action_redo(self) -> None:
        if self._draft is not None:
            self._take(redone(self._draft))

    def action_toggle_order(self) -> None:
        self._page_shows = "" if self._page_shows else "order"
        self._first = 0
        self._show()
        self._reckon()

    async def action_change(self) -> None:
        draft = self._draft
        if draft is None:
            return
        changes = changes_of(draft)

        async def take(number: int) -> None:
            await self.run_action(changes[number].action)

        await self.app.push_screen(ChoiceScreen("What is to change?", [(one.name, one.now) for one in changes], take))

    def action_row(self, number: int) -> None:
        if self._draft is not None and not self._page_shows:
            self._take(moved(self._draft, number - self._draft.row_no))

    async def action_field(self, name: str) -> None:
        if self._draft is None:
            return
        try:
            before = text_before(self._draft, name)
        except EditError as error:
            self._say(f"{error}.")
            return
        self._asked = name
        self._say(f"{FIELDS[name].prompt}: Enter keeps it, Esc drops it")
        field = await self.open_field("", text=before, most=_MOST_TYPED)
        field.action_select_all()

    async def finish_field(self) -> None:
        text = await self.close_field()
        if self._draft is not None:
            self._take(written(self._draft, self._asked, text))

    async def action_save(self) -> None:
        await self.save()

    async def save(self) -> bool:
        draft, opened = self._draft, self._opened
        if draft is None or opened is None or draft.is_saved:
            self._say("Nothing is changed that could be saved.")
            return True
        self._say("The plan is being saved.")
        try:
            lost = lost_place(draft, self._repository.progress().done)
            saved = None if lost else await asyncio.to_thread(self._repository.save, opened, draft.plan)
        except CoachError as error:
            lost, saved = str(error), None
        if saved is None:
            self._say(f"{lost.removesuffix('.')}.")
            return False
        self._draft = draft._replace(saved=draft.plan)
        self._difference = saved.difference
        if saved.difference:
            self._page_shows, self._first = "difference", 0
        else:
            self._opened = OpenedPlan(saved.text, draft.plan)
        self._say(saved.said)
        return not saved.difference

    def _be_at_rest(self) -> None:
        self._rest.pause()
        self._show()
        self._reckon()

    def _reckon(self) -> None:
        """Let order and warnings be reckoned for the plan as it is, where that is not done yet."""
        if self._draft is None or self._progress is None:
            return
        wanted = (self._draft.plan, self._is_beside or self._page_shows == "order")
        known = self._reckoned_for
        if known is None or known[0] is not wanted[0] or known[1] < wanted[1]:
            self._reckoned_for = wanted
            self._reckon_apart(self._draft.plan, self._progress, with_order=wanted[1])

    @work(thread=True, exclusive=True, group="order", description=_NO_REPR)
    def _reckon_apart(self, plan: Plan, progress: PlanProgress, *, with_order: bool) -> None:
        page = order_page(plan, progress) if with_order else None
        self.post_message(self.OrderReckoned(plan, warnings_of(plan, progress), page))

    def on_plan_screen_order_reckoned(self, message: OrderReckoned) -> None:
        if self._draft is not None and message.plan is self._draft.plan:
            self._warnings = message.warnings
            self._order = message.page or self._order
            self._show()

    def _take(self, draft: PlanDraft) -> None:
        self._draft = draft
        self._rest.reset()
        self._rest.resume()
        self._show_tree()

    def _say(self, said: str) -> None:
        if self._draft is not None:
            self._draft = self._draft._replace(said=said)
        self._show()

    @property
    def _is_beside(self) -> bool:
        return not self._page_shows and self._draft is not None and self.app.size.width >= _BESIDE_FROM_COLUMNS

    @property
    def _board(self) -> MarkedRowBoard:
        return self._page if self._page_shows else self._tree

    def _scroll(self, by: int) -> None:
        columns, lines = self._page.size.width - 2, self._page.size.height - 1
        if self._page_shows == "order":
            count = page_line_count(self._order, columns)
        else:
            count = text_line_count(self._draft.said if self._draft else "", self._difference, columns)
        self._first = max(0, min(self._first + by, count - lines))
        self._show()

    def _show(self) -> None:
        self.set_class(self._is_beside, "-beside")
        self.set_class(bool(self._page_shows), "-page")
        self._show_tree()
        if self._page_shows or self._is_beside:
            self._page.show(self._page_lines)

    def _show_tree(self) -> None:
        if not self._page_shows:
            self._tree.show(self._tree_lines)

    def _tree_lines(self, columns: int, lines: int) -> tuple[Line, ...]:
        if self._draft is None or self._texts is None:
            return text_page("The plan cannot be shown.", (*self._fault.splitlines(), ""), 0, columns, lines)
        context = TreeContext(self._texts, self._warnings)
        return plan_view(self._draft, context, columns, lines)

    def _page_lines(self, columns: int, lines: int) -> tuple[Line, ...]:
        if self._draft is None:
            return ()
        foot = (chip_line((chip("plan.down"), chip("plan.pagedown"), chip("plan.leave"), HELP), columns),)
        if self._page_shows == "difference":
            return (*text_page(self._draft.said, self._difference, self._first, columns, lines - 1), *foot)
        row = self._draft.row
        run = (row.one_pass.name, row.run.number) if row.run else (row.one_pass.name, 1)
        if self._page_shows:
            return (*page_view(self._order, run, columns, lines - 1, self._first), *foot)
        return page_view(self._order, run, columns, lines)


_ACTIONS: Final = frozenset(use.action.partition("(")[0] for use in KEYS["plan"])
_ON_A_PAGE: Final = frozenset(("leave", "toggle_order", "move", "page"))
