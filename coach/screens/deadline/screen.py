"""The Deadline screen: will it be dry, framed and delivered in time, and what must change if not?"""

import datetime as dt
import json
from dataclasses import dataclass
from typing import ClassVar, Protocol, cast

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from coach.errors import CoachError
from coach.forecast.answer import Brief, ForecastAnswer, brief_of, forecast_of
from coach.forecast.what_if import Change, changed_outlook, changed_plan, rows_of, stepped
from coach.journal.events import Kind
from coach.plan.commission import Plan
from coach.review.forecast_input import ForecastInput
from coach.screens.chips import HELP, Chip, chip
from coach.screens.deadline.answer_page import answer_page, needs_settings
from coach.screens.deadline.view import Foretold, age_words, facts_view
from coach.screens.deadline.what_if_page import Tried, canvas_in_hand, helping, next_stage, what_if_page
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings


class ForecastSource(Protocol):
    """Where the screen learns what to ask, and where a choice is kept."""

    def asked(self) -> ForecastInput:
        """Return what a forecast is to be asked about now; called from a thread.

        Raises:
            CoachError: The journal, or one it learns from, cannot be read.
        """

    def now_ms(self) -> int:
        """Return the elapsed clock, in milliseconds."""

    def record(self, canvas: str, stage: Kind) -> str:
        """Record what followed the last stroke on a canvas and return in a sentence what was done.

        Raises:
            CoachError: Nothing can be recorded.
        """

    def write(self, before: Plan, after: Plan) -> str:
        """Write a changed plan into its file and return in a sentence what was done.

        Raises:
            CoachError: It cannot be written.
        """

    def lines_of(self, before: Plan, after: Plan) -> tuple[str, ...]:
        """Return the lines of the plan's file that a change would alter, each as it would stand then.

        Raises:
            CoachError: The plan cannot be read.
        """

    def take_back(self) -> str:
        """Take back the last change that was written and return in a sentence what was done.

        Raises:
            CoachError: None was, or the plan was changed since.
        """


class DeadlineScreen(Screen[None]):
    """Shows a forecast with its age, and lets the painter try changes without touching the plan."""

    CSS_PATH = "screen.tcss"
    DRAFT: ClassVar[str] = "what-ifs"
    BINDINGS: ClassVar[list[BindingType]] = bindings("deadline")

    @dataclass
    class ForecastMade(Message):
        """A forecast is made."""

        asked: ForecastInput
        answer: ForecastAnswer

    @dataclass
    class TriedOut(Message):
        """The days under a change are known."""

        change: Change
        brief: Brief
        lines: tuple[str, ...]

    @dataclass
    class Failed(Message):
        """There is no forecast; the sentence says why."""

        why: str

    def __init__(self, forecast_source: ForecastSource, left_over: str = "") -> None:
        """Ask a source; `left_over` is the text of a change that was tried in an earlier opening and not written."""
        super().__init__()
        self._forecast_source = forecast_source
        self._asked: ForecastInput | None = None
        self._foretold: Foretold | None = None
        self._made_at_ms = 0
        self._tried = Tried(change=change_in(left_over))
        self._said = ""
        self._page = "try" if left_over else "answer"

    def compose(self) -> ComposeResult:
        yield Static(id="age", markup=False)
        yield LineBoard()
        with VerticalScroll(can_focus=False):
            yield Static(id="deadline", markup=False)
        yield ChipRow(*self._chips())

    def on_mount(self) -> None:
        self.set_interval(1, self._show_age)
        self._said = ""
        self._show()
        self._reckon()

    def on_resize(self) -> None:
        self._show()

    @work(thread=True, exclusive=True, group="forecast")
    def _reckon(self) -> None:
        try:
            asked = self._forecast_source.asked()
            answer = forecast_of(asked.plan, asked.outlook)
        except CoachError as error:
            self.post_message(self.Failed(str(error)))
        else:
            self.post_message(self.ForecastMade(asked, answer))

    @work(thread=True, exclusive=True, group="try", description="try a change")
    def _try(self, asked: ForecastInput, change: Change) -> None:
        try:
            plan = changed_plan(asked.plan, change)
            brief = brief_of(plan, changed_outlook(asked.plan, asked.outlook, change))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))
        else:
            self.post_message(self.TriedOut(change, brief, self._lines_of(asked.stated, change)))

    def _lines_of(self, plan: Plan, change: Change) -> tuple[str, ...]:
        """Return the lines that a change would write; of a pass left out its passages, for no line is written."""
        kept = change._replace(without_pass=None)
        lines = () if kept == Change() else self._forecast_source.lines_of(plan, changed_plan(plan, kept))
        names = [passage.name for one in plan.passes if one.name == change.without_pass for passage in one.passages]
        return (*lines, *([f"passages left out: {', '.join(names)}"] if names else []))

    def on_deadline_screen_forecast_made(self, message: ForecastMade) -> None:
        self._asked, self._made_at_ms = message.asked, self._forecast_source.now_ms()
        asked = message.asked
        self._foretold = Foretold(asked.stated, message.answer, asked.painted_s, asked.outlook.stages)
        if self._tried.change != Change() and self._tried.brief is None:
            self._try(asked, self._tried.change)
        self._show()

    def on_deadline_screen_tried_out(self, message: TriedOut) -> None:
        if message.change == self._tried.change:
            self._tried = self._tried._replace(brief=message.brief, lines=message.lines)
            self._show()

    def on_deadline_screen_failed(self, message: Failed) -> None:
        self._said = message.why
        self._show()

    def offers(self, name: str) -> bool:
        """Return whether a key of the page does something now."""
        is_trying, is_tried = self._page == "try", self._tried.change != Change()
        return {
            "next": self._page != "answer",
            "before": self._page != "answer",
            "up": self._page != "answer",
            "down": self._page != "answer",
            "more": is_trying,
            "less": is_trying,
            "try": self._foretold is not None and bool(self._foretold.answer.helps),
            "drop": is_tried,
            "save": is_tried or self._tried.stage is not None,
        }.get(name, True)

    def action_show(self, page: str) -> None:
        self._page = "answer" if self._page == page else page
        self.query_one(VerticalScroll).scroll_home(animate=False)
        self._show()

    async def action_leave(self) -> None:
        if self._page == "answer":
            await self.app.run_action("door('deadline')")
        else:
            self.action_show("answer")

    def action_try_best(self) -> None:
        helps = () if self._foretold is None else self._foretold.answer.helps
        if self._asked is None or not helps:
            return
        self._page, self._tried = "try", Tried(change=helps[0].edit, row=self._tried.row)
        self._show()
        self._try(self._asked, self._tried.change)

    def action_choose(self, step: int) -> None:
        if self._page != "try":
            self.action_page(step)
        elif self._asked is not None:
            count = len(rows_of(self._asked.stated, self._tried.change)) + len(self._asked.stated.canvases)
            self._tried = self._tried._replace(row=(self._tried.row + step) % count, stage=None)
            self._show()

    def action_step(self, step: int) -> None:
        if self._asked is None or self._page != "try":
            return
        canvas = canvas_in_hand(self._asked.stated, self._tried)
        if canvas is not None:
            stage = next_stage(self._asked.outlook, canvas, self._tried.stage, step)
            self._tried = self._tried._replace(stage=stage)
            self._show()
        else:
            change = stepped(self._asked.stated, self._asked.outlook, self._tried.change, self._tried.row, step)
            self._tried = self._tried._replace(change=change, brief=None, lines=())
            self._show()
            self._try(self._asked, change)

    def action_drop(self) -> None:
        self._tried = Tried(row=self._tried.row)
        self._show()

    async def action_write(self) -> None:
        canvas = None if self._asked is None else canvas_in_hand(self._asked.stated, self._tried)
        if canvas is None or self._tried.stage is None:
            await self.save()
            return
        try:
            self._said = self._forecast_source.record(canvas, self._tried.stage)
        except CoachError as error:
            self._said = str(error)
        self._tried = self._tried._replace(stage=None)
        self._reckon()
        self._show()

    def action_take_back(self) -> None:
        try:
            self._said = self._forecast_source.take_back()
        except CoachError as error:
            self._said = str(error)
        else:
            self._reckon()
        self._show()

    async def save(self) -> bool:
        if self._tried.change == Change():
            self._said = "nothing is tried that could be written"
        elif self._asked is not None:
            plan = self._asked.stated
            try:
                self._said = self._forecast_source.write(plan, changed_plan(plan, self._tried.change))
            except CoachError as error:
                self._said = str(error)
            else:
                self._tried = Tried(row=self._tried.row)
                self._reckon()
        self._show()
        return self._tried.change == Change()

    def unsaved(self) -> str:
        return "" if self._tried.change == Change() else "what you tried for the due day is not in the plan"

    def drop(self) -> None:
        self._tried = Tried(row=self._tried.row)

    def draft(self) -> Change | None:
        return None if self._tried.change == Change() else self._tried.change

    def draft_text(self, draft: object) -> str:
        return draft_of(cast("Change", draft))

    def action_page(self, step: int) -> None:
        scroll = self.query_one(VerticalScroll)
        scroll.scroll_relative(y=step * scroll.size.height, animate=False)

    def _show(self) -> None:
        self._show_age()
        board, scroll = self.query_one(LineBoard), self.query_one(VerticalScroll)
        board.display, scroll.display = self._page == "answer", self._page != "answer"
        self.query_one(ChipRow).show_chips(*self._chips())
        foretold = self._foretold
        if foretold is None:
            return
        board.show(lambda columns, lines: answer_page(foretold, columns, lines))
        columns = self.app.size.width - 4
        is_tried = self._page == "try"
        high = max(1, self.app.size.height - 1 - self.query_one("#age").display)
        rows = what_if_page(foretold, self._tried, columns, high) if is_tried else facts_view(foretold, columns)
        self.query_one("#deadline", Static).update("\n".join(rows))
        in_hand = next((no for no, row in enumerate(rows) if is_tried and row.startswith("> ")), None)
        if in_hand is not None:  # the row in hand stays in sight
            scroll.scroll_to(y=max(0, in_hand + 2 - high), animate=False)

    def _chips(self) -> tuple[Chip, ...]:
        if self._page == "try":
            can_try = self._tried.change == Change() and self._foretold is not None and helping(self._foretold)
            first = chip("deadline.try") if can_try else chip("deadline.save")
            return chip("deadline.more"), first, chip("deadline.back"), HELP
        if self._page == "facts":
            return chip("deadline.change"), chip("deadline.back"), HELP
        if self._foretold is not None and needs_settings(self._foretold.plan):
            return (
                chip("deadline.change", "hours, due day"),
                chip("deadline.facts"),
                chip("deadline.back", "easel"),
                HELP,
            )
        can_help = self._foretold is not None and bool(self._foretold.answer.helps)
        first = chip("deadline.try") if can_help else chip("deadline.facts")
        return first, chip("deadline.change"), chip("deadline.back", "easel"), HELP

    def _show_age(self) -> None:
        if self._foretold is None:
            age = "" if self._said else "being worked out"
        else:
            age = age_words((self._forecast_source.now_ms() - self._made_at_ms) // 1000)
        shown, text = self.query_one("#age", Static), " · ".join(text for text in (self._said, age) if text)
        shown.display = bool(text)
        shown.styles.max_height = max(1, self.app.size.height // 6)
        shown.update(text)


def draft_of(change: Change) -> str:
    """Return a change as a text that `change_in` reads."""
    return json.dumps(change._asdict(), default=str)


def change_in(text: str) -> Change:
    """Return the change that a draft holds; no change where it holds none, or cannot be read."""
    if not text:
        return Change()
    try:
        held = json.loads(text)
        week_s, due = held["week_s"], held["due"]
        return Change(**held)._replace(
            week_s=None if week_s is None else tuple(map(int, week_s)),
            due=None if due is None else dt.date.fromisoformat(due),
        )
    except (ValueError, TypeError, KeyError):
        return Change()
