"""The Plan screen: what is the whole work, in what order, and is the plan sound?"""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, Final, cast

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.message import Message

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.screens.easel.layout import Box
from coach.screens.easel.picture import EaselPicture, Looked, Wanted
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.lines import Line
from coach.screens.plan import draft as drafting
from coach.screens.plan import pages
from coach.screens.plan.draft import PlanDraft
from coach.screens.plan.edits import FIELDS
from coach.screens.plan.form_view import field_column
from coach.screens.plan.order_page import OrderPage, Warnings, order_page, warnings_of
from coach.screens.plan.pages import FORM, ORDER, PICTURE, ROWS, Place, Shown
from coach.screens.plan.repository import ALONE, Around, OpenedPlan, PlanProgress, PlanRepository
from coach.screens.plan.tree import PassageStates
from coach.screens.plan.view import RowTexts, text_page
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import ChipRow, bindings
from coach.text import counted

_MARGINS: Final = 2
"""Cells that a board leaves on its sides."""

_REST_S: Final = 0.3
"""So long the keys rest before order and picture follow: both take longer than a key may."""

_SWITCH_S: Final = 0.0005
"""So long a key waits for a thread that plans the order; Python's own 5 ms, several times over, would be felt."""

_NO_REPR: Final = "apart"
"""Describes a worker; without a description the framework writes out its arguments, a whole plan."""

_MOST_TYPED: Final = 400

_SHAPES_WAIT: Final = "The shapes hold changes that are not saved"


class PlanScreen(FieldScreen):
    """Shows the whole work as rows, with its picture and its order beside them or as tabs, and lets it be edited."""

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

    def __init__(self, repository: PlanRepository, left_over: str = "", around: Around = ALONE) -> None:
        """Show the plan that the repository has; `left_over` is the text of edits that an earlier opening left."""
        super().__init__()
        self._around, self._is_warned = around, False
        self.left_over = left_over
        self._repository = repository
        self._main, self._side, self._picture = LineBoard(), LineBoard(), EaselPicture(repository.reference)
        self._main.id, self._side.id = "main", "side"
        self._opened: OpenedPlan | None = None
        self._draft: PlanDraft | None = None
        self._progress: PlanProgress | None = None
        self._texts: RowTexts | None = None
        self._warnings = Warnings()
        self._order: OrderPage | None = None
        self._reckoned_for: tuple[Plan, bool] | None = None
        self._difference: tuple[str, ...] = ()
        self._place = Place()
        self._asked = self._fault = ""

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield self._main
            yield self._side
        yield ChipRow()
        yield self._picture
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
            self._opened, draft = drafting.taken_up(self._opened, self._progress.done, self.left_over)
            self._draft = drafting.at_turn(draft, self._progress.in_hand)
            if self._around.are_shapes_unsaved():
                self._draft = self._draft._replace(said=f"{_SHAPES_WAIT}: before you edit here, save them by t and w.")
            self.left_over = ""
            self._texts = RowTexts(PassageStates(self._opened.plan, self._progress))
        self._show()
        self._reckon()

    def on_unmount(self) -> None:
        sys.setswitchinterval(self._switch_s)

    def on_resize(self) -> None:
        self._show()
        self._reckon()
        self.call_after_refresh(self._place_field)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """Let a key do nothing where it has no meaning: beside an open field, on another page, without a plan."""
        if action not in pages.ACTIONS or action == "leave":
            return True
        return self._draft is not None and self.field is None and action in self._place.actions

    def unsaved(self) -> str:
        if self._draft is None or self._draft.is_saved:
            return ""
        count = self._draft.unsaved_count
        return f"{counted(count, 'edit')} {'is' if count == 1 else 'are'} not saved"

    def drop(self) -> None:
        if self._draft is not None and self._opened is not None:
            self._draft = drafting.draft_of(self._opened.plan, self._draft.done)

    def draft(self) -> tuple[OpenedPlan, Plan] | str | None:
        if self.left_over:
            return self.left_over
        if self._draft is None or self._opened is None or self._draft.is_saved:
            return None
        return self._opened, self._draft.plan

    def draft_text(self, draft: object) -> str:
        return draft if isinstance(draft, str) else drafting.kept_text(*cast("tuple[OpenedPlan, Plan]", draft))

    async def action_leave(self) -> None:
        if self.field is not None:
            await self.close_field()
            self._say("")
        elif self._place.over or self._place.tab != ROWS:
            self._go(Place(with_facts=self._place.with_facts))
        else:
            await self.run_action("app.door('plan')")

    def action_move(self, by: int) -> None:
        shown, place = self._shown, self._place
        if shown is None:
            return
        if place.over == FORM:
            self._go(place._replace(form_no=max(0, min(shown.form_no + by, len(shown.form) - 1))))
        elif place.over or place.tab == ORDER:
            most = pages.line_count(shown, self._main.size.width - _MARGINS) - self._main.size.height
            self._go(place._replace(first=max(0, min(place.first + by, most))))
        else:
            self._take(drafting.moved(shown.draft, by))

    def action_page(self, by: int) -> None:
        self.action_move(by * max(1, self._main.size.height // 2))

    def action_move_pass(self, by: int) -> None:
        step = drafting.moved if self._place.over == FORM else drafting.moved_by_pass
        self._turn(lambda draft: step(draft, by))

    def action_edit(self, name: str) -> None:
        self._turn(lambda draft: drafting.edited(draft, name))

    def action_undo(self) -> None:
        self._turn(drafting.undone)

    def action_redo(self) -> None:
        self._turn(drafting.redone)

    def action_next_tab(self) -> None:
        if self._shown is not None:
            self._go(self._place._replace(tab=self._shown.next_tab, first=0))

    def action_toggle_facts(self) -> None:
        self._go(self._place._replace(with_facts=not self._place.with_facts, first=0))

    def action_row(self, number: int) -> None:
        """Take a row in hand: it was clicked; once more opens it."""
        if self._draft is not None and self.field is None:
            if number == self._draft.row_no:
                self._open_form()
            else:
                self._take(drafting.moved(self._draft, number - self._draft.row_no))

    async def action_change(self) -> None:
        """Open the row in hand; in its form, what is chosen there."""
        if self._place.over == FORM:
            await self.action_form_line(self._shown.form_no if self._shown else 0)
        else:
            self._open_form()

    async def action_form_line(self, number: int) -> None:
        if self.field is None and self._shown is not None:
            self._place = self._place._replace(form_no=number)
            name = self._shown.form[number].name
            if name in FIELDS:
                await self.action_field(name)
            elif name == drafting.TAKE_UP:
                self._take_up_skipped(self._shown)
            else:
                self.action_edit(name)

    def _take_up_skipped(self, shown: Shown) -> None:
        passages = [passage.name for passage in shown.passages]
        said = self._repository.take_up_skipped(shown.draft.row.one_pass.name, passages)
        self._progress = self._repository.progress()
        self._texts = RowTexts(PassageStates(shown.draft.saved, self._progress))
        self._reckoned_for = None
        self._say(said)
        self._reckon()

    def _open_form(self) -> None:
        self._place = self._place._replace(over=FORM, form_no=0)
        self._say("")

    async def action_field(self, name: str) -> None:
        if self._draft is None:
            return
        before, self._asked = drafting.text_before(self._draft, name), name
        choices = drafting.choices(self._draft, name)
        field = await self.open_field("", text=before, most=_MOST_TYPED)
        self._say(choices if self._place.over else f"{FIELDS[name].prompt}: Enter keeps it, Esc drops it")
        field.action_select_all()
        self._place_field()

    async def finish_field(self) -> None:
        """Keep what was typed; what is refused stays in the field, with the reason."""
        if self._draft is None or self.field is None:
            return
        after = drafting.written(self._draft, self._asked, self.field.value)
        if not after.is_refused:
            await self.close_field()
        self._take(after)
        self._place_field()

    async def action_save(self) -> None:
        await self.save()

    async def save(self) -> bool:
        draft, opened = self._draft, self._opened
        if draft is None or opened is None or draft.is_saved:
            self._say("Nothing is changed that could be saved.")
            return True
        if self._around.are_shapes_unsaved() and not self._is_warned:
            self._is_warned = True
            self._say(f"{_SHAPES_WAIT}: press w again, and they can only be kept beside this plan.")
            return False
        self._say("The plan is being saved.")
        self._draft, self._opened, self._difference = await drafting.saved(self._repository, opened, draft)
        if self._difference:
            self._place = Place(over=pages.DIFFERENCE)
        self._show()
        return self._draft.is_saved and not self._difference

    def _be_at_rest(self) -> None:
        self._rest.pause()
        self._show()
        self._reckon()

    def _reckon(self) -> None:
        """Let order and warnings be reckoned for the plan as it is, where that is not done yet."""
        shown = self._shown
        if shown is None or self._progress is None:
            return
        wanted = (shown.draft.plan, shown.place.tab == ORDER or shown.is_beside)
        known = self._reckoned_for
        if known is None or known[0] is not wanted[0] or known[1] < wanted[1]:
            self._reckoned_for = wanted
            self._reckon_apart(shown.draft.plan, self._progress, with_order=wanted[1])

    @work(thread=True, exclusive=True, group="order", description=_NO_REPR)
    def _reckon_apart(self, plan: Plan, progress: PlanProgress, *, with_order: bool) -> None:
        page = order_page(plan, progress) if with_order else None
        self.post_message(self.OrderReckoned(plan, warnings_of(plan, progress), page))

    def on_plan_screen_order_reckoned(self, message: OrderReckoned) -> None:
        if self._draft is not None and message.plan is self._draft.plan:
            self._warnings = message.warnings
            self._order = message.page or self._order
            self._show()

    def on_easel_picture_loaded(self) -> None:
        self._show()

    def on_half_blocks_spanned(self, event: HalfBlocks.Spanned) -> None:
        """Show the picture alone, or beside the rows again: it was clicked."""
        if event.is_over and not self._place.over:
            self._go(self._place._replace(tab=ROWS if self._place.tab == PICTURE else PICTURE))

    @property
    def _shown(self) -> Shown | None:
        """What is shown; None where the plan cannot be."""
        draft, texts, progress = self._draft, self._texts, self._progress
        if draft is None or texts is None or progress is None:
            return None
        return Shown(
            place=self._place,
            draft=draft,
            texts=texts,
            warnings=self._warnings,
            turns=(progress.work.turns_done, self._warnings.turns or progress.work.turn_count)
            if progress.work
            else (0, 0),
            order=self._order,
            difference=self._difference,
            has_picture=self._picture.has_photo(draft.plan),
            fault=self._picture.fault,
            is_wide=self.app.size.width >= pages.BESIDE_FROM_COLUMNS,
            is_picture_asked=self._around.is_picture_asked,
            is_typing=self.field is not None,
        )

    def _main_lines(self, columns: int, lines: int) -> tuple[Line, ...]:
        shown = self._shown
        if shown is None:
            return text_page("The plan cannot be shown.", (*self._fault.splitlines(), ""), 0, columns, lines)
        return pages.main_lines(shown, columns, lines)

    def _go(self, place: Place) -> None:
        self._place = place
        self._show()
        self._reckon()

    def _say(self, said: str) -> None:
        if self._draft is not None:
            self._draft = self._draft._replace(said=said)
        self._show()

    def _turn(self, step: Callable[[PlanDraft], PlanDraft]) -> None:
        if self._draft is not None:
            self._take(step(self._draft))

    def _take(self, draft: PlanDraft) -> None:
        self._draft = draft
        self._rest.reset()
        self._rest.resume()
        self._show_main()

    def _show_main(self) -> None:
        shown = self._shown
        self._main.show(self._main_lines)
        if shown is not None:
            self.query_one(ChipRow).show_chips(*pages.chips_of(shown))

    def _show(self) -> None:
        self._show_main()
        shown = self._shown
        if shown is not None:
            self.set_class(shown.is_beside, "-beside")
            if shown.is_beside:
                self._side.show(lambda columns, lines: pages.side_lines(shown, columns, lines))
            self.call_after_refresh(self._show_picture)

    def _show_picture(self) -> None:
        shown = self._shown
        if shown is not None:
            is_alone = shown.place.tab == PICTURE
            box = self._picture_box(shown)
            self._picture.show_photo(Wanted(shown.draft.plan, Looked(shown.shapes), box, is_alone, is_inverted=False))

    def _picture_box(self, shown: Shown) -> Box | None:
        """Return where the picture stands now; None where it does not."""
        columns, lines = max(1, self._main.size.width - _MARGINS), self._main.size.height
        top = pages.picture_top(shown, columns, lines)
        if top is not None:
            return Box(0, top, columns, lines - top)
        side = self._side.region
        rows = pages.side_rows(shown, side.height)
        return Box(side.x, 1, max(1, side.width - _MARGINS), rows) if rows else None

    def _place_field(self) -> None:
        """Put an open field where what it changes stands in the form; elsewhere it lies over the keys."""
        shown, x, y, columns = self._shown, 0, 0, self.size.width
        if shown is not None and shown.place.over == FORM:
            columns, lines = self._main.size.width - _MARGINS, self._main.size.height
            x = field_column(shown.form, columns)
            y = next(no for no, line in enumerate(pages.main_lines(shown, columns, lines)) if line.is_inverted) - lines
        place = self.query_one(FieldPlace)
        place.styles.offset, place.styles.width = (x, y), columns - x
