"""The two pages behind the Log: was it fair, and were the hours kept?"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from coach.errors import CoachError
from coach.screens.chips import HELP, Chip, chip
from coach.screens.lines import Line, Role
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings
from coach.session.journal_state import JournalState
from coach.text import wrapped

_MARGIN_CELLS = 5
"""The scroll bar, a space on either side, and one for ambiguous widths."""


class Answer(NamedTuple):
    """What draws the page for so many columns and lines, and the facts behind it for so many columns."""

    page: Callable[[int, int], tuple[Line, ...]]
    facts: Callable[[int], Text]


def _said(text: str) -> Answer:
    """Return a page of one sentence."""

    def page(columns: int, lines: int) -> tuple[Line, ...]:
        return tuple(Line(row, Role.CANVAS) for row in wrapped(text, columns, lines, indent=""))

    return Answer(page, lambda columns: Text("\n".join(wrapped(text, columns))))


class ReviewPage(Screen[None]):
    """A page behind the Log: an answer that is made in a thread, its picture, and the facts behind a key."""

    CSS_PATH = "pages.tcss"

    @dataclass
    class Answered(Message):
        """The answer is there."""

        answer: Answer

    CHIPS: ClassVar[tuple[str, ...]]
    """The keys below, by their full names: facts first, back last."""

    def __init__(self, painted: JournalState) -> None:
        super().__init__()
        self._painted = painted
        self._answer = _said("being worked out")
        self._shows_facts = False

    def compose(self) -> ComposeResult:
        yield LineBoard()
        with VerticalScroll(can_focus=False):
            yield Static(id="facts", markup=False)
        yield ChipRow(*self._chips())

    def _chips(self) -> tuple[Chip, ...]:
        facts, *others, back = self.CHIPS
        words = ("answer", "back") if self._shows_facts else ("", "log")
        return chip(facts, words[0]), *map(chip, others), chip(back, words[1]), HELP

    def on_mount(self) -> None:
        self._show()
        self.work_out()

    @work(thread=True, exclusive=True, group="answer")
    def work_out(self) -> None:
        try:
            answer = self.answer()
        except CoachError as error:
            answer = _said(str(error))
        self.post_message(self.Answered(answer))

    def answer(self) -> Answer:
        """Return the answer; called from a thread.

        Raises:
            CoachError: There is no answer.
        """
        raise NotImplementedError

    def on_review_page_answered(self, message: Answered) -> None:
        self._answer = message.answer
        self._show()

    def on_resize(self) -> None:
        self._show()

    def offers(self, name: str) -> bool:
        """Return whether a key of the page does something now."""
        return self._shows_facts or name not in ("up", "down", "page_up", "page_down")

    def _show(self) -> None:
        board, scroll = self.query_one(LineBoard), self.query_one(VerticalScroll)
        board.display, scroll.display = not self._shows_facts, self._shows_facts
        self.query_one(ChipRow).show_chips(*self._chips())
        board.show(self._answer.page)
        if self._shows_facts:
            self.query_one("#facts", Static).update(self._answer.facts(self.size.width - _MARGIN_CELLS))

    def action_toggle_facts(self) -> None:
        self._shows_facts = not self._shows_facts
        self.query_one(VerticalScroll).scroll_home(animate=False)
        self._show()

    def action_leave(self) -> None:
        if self._shows_facts:
            self.action_toggle_facts()
        else:
            self.app.pop_screen()

    def action_scroll(self, step: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        self.action_scroll(step * self.query_one(VerticalScroll).size.height)


class FairnessScreen(ReviewPage):
    """Shows whether the canvases were treated alike, in the whole work or in one pass."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("fairness")
    CHIPS = ("fairness.facts", "fairness.hours", "fairness.back")

    def __init__(self, painted: JournalState, pass_name: str | None) -> None:
        super().__init__(painted)
        self._passes = (None, *dict.fromkeys(record.turn.pass_name for record in painted.turns if record.is_painted))
        self._pass_name = pass_name if pass_name in self._passes else None

    def offers(self, name: str) -> bool:
        return super().offers(name) and (len(self._passes) > 1 + 1 or name not in ("next", "before"))

    async def action_show_hours(self) -> None:
        await self.app.switch_screen(HoursScreen(self._painted))

    def action_step_pass(self, step: int) -> None:
        self._pass_name = self._passes[(self._passes.index(self._pass_name) + step) % len(self._passes)]
        self.work_out()

    def answer(self) -> Answer:
        from coach.review.fairness.report import report_painted  # noqa: PLC0415  numpy is loaded for it
        from coach.screens.log.fairness_page import facts_lines, fairness_page  # noqa: PLC0415

        pass_name = self._pass_name
        report, runs = report_painted(self._painted, pass_name)
        return Answer(
            lambda columns, lines: fairness_page(report, runs, pass_name, columns, lines),
            lambda columns: Text("\n".join(facts_lines(report, runs, columns))),
        )


class HoursScreen(ReviewPage):
    """Shows the hours of the body that a journal tells."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("hours")
    CHIPS = ("hours.facts", "hours.back")

    def answer(self) -> Answer:
        from coach.review.hours.report import hours_report  # noqa: PLC0415  scipy is loaded for it
        from coach.review.hours.sections import hours_sections  # noqa: PLC0415
        from coach.screens.log.hours_page import hours_page, section_lines, title_lines  # noqa: PLC0415

        report = hours_report(self._painted)
        pieces, sections = self._painted.pieces, hours_sections(report)

        def facts(columns: int) -> Text:
            parts = [
                Text("\n").join(
                    (
                        Text("\n".join(title_lines(section, columns)), style="bold"),
                        *map(Text, section_lines(section, columns)),
                    )
                )
                for section in sections
            ]
            return Text("\n\n").join(parts)

        return Answer(lambda columns, lines: hours_page(report, pieces, columns, lines), facts)
