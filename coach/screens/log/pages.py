"""The two pages behind the Log: was it fair, and what were the hours?"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from coach.errors import CoachError
from coach.screens.chips import HELP, chip
from coach.screens.log.fairness_picture import fairness_picture
from coach.screens.widgets.keys import ChipRow, bindings
from coach.session.journal_state import JournalState
from coach.text import cells, paragraphs, table, wrapped

if TYPE_CHECKING:
    from coach.review.hours.sections import Section

_LEAST_TEXT_CELLS = 20
"""Width below which a column of text is not worth its place."""

_MARGIN_CELLS = 5
"""The scroll bar, a space on either side, and one for ambiguous widths."""


class ReviewPage(Screen[None]):
    """A page behind the Log: an answer that is made in a thread and drawn for any width."""

    CSS_PATH = "pages.tcss"

    @dataclass
    class Answered(Message):
        """The answer is there: what draws it in so many columns."""

        drawn: Callable[[int], Text]

    CHIPS: ClassVar[tuple[str, ...]]
    """The keys below, by their full names."""

    def __init__(self, scope: str) -> None:
        super().__init__()
        self._scope = scope
        self._drawn: Callable[[int], Text] = lambda _: Text("being worked out")

    def compose(self) -> ComposeResult:
        yield Static(self._scope, id="scope", markup=False)
        with VerticalScroll():
            yield Static(id="answer", markup=False)
        yield ChipRow(*map(chip, self.CHIPS), HELP)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()
        self._work_out()

    @work(thread=True, exclusive=True, group="answer")
    def _work_out(self) -> None:
        try:
            drawn = self.answer()
        except CoachError as error:
            why = str(error)
            self.post_message(self.Answered(lambda columns: Text("\n".join(paragraphs([why], columns)))))
        else:
            self.post_message(self.Answered(drawn))

    def answer(self) -> Callable[[int], Text]:
        """Return what draws the answer; called from a thread.

        Raises:
            CoachError: There is no answer.
        """
        raise NotImplementedError

    def on_review_page_answered(self, message: Answered) -> None:
        self._drawn = message.drawn
        self.on_resize()

    def on_resize(self) -> None:
        self.query_one("#answer", Static).update(self._drawn(self.size.width - _MARGIN_CELLS))


class FairnessScreen(ReviewPage):
    """Shows whether the canvases were treated alike, in the whole work or in one pass."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("fairness")
    CHIPS = ("fairness.hours", "fairness.back")

    def __init__(self, painted: JournalState, pass_name: str | None) -> None:
        super().__init__(f"fairness · pass: {pass_name or 'all'}")
        self._painted, self._pass_name = painted, pass_name

    async def action_show_hours(self) -> None:
        await self.app.switch_screen(HoursScreen(self._painted))

    def answer(self) -> Callable[[int], Text]:
        from coach.review.fairness.report import report_painted  # noqa: PLC0415  numpy is loaded for it

        report, runs = report_painted(self._painted, self._pass_name)
        names = [share.canvas for share in report.canvases]

        def drawn(columns: int) -> Text:
            lines = (*paragraphs(report.sentences, columns), "", *fairness_picture(runs, names, columns))
            return Text("\n".join(lines))

        return drawn


class HoursScreen(ReviewPage):
    """Shows the hours of the body that a journal tells."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("hours")
    CHIPS = ("hours.back",)

    def __init__(self, painted: JournalState) -> None:
        super().__init__("hours of the whole work")
        self._painted = painted

    def answer(self) -> Callable[[int], Text]:
        from coach.review.hours.report import hours_report  # noqa: PLC0415  scipy is loaded for it
        from coach.review.hours.sections import hours_sections  # noqa: PLC0415

        sections = hours_sections(hours_report(self._painted))
        return lambda columns: Text("\n\n").join(_section_text(section, columns) for section in sections)


def _section_text(section: "Section", columns: int) -> Text:
    lines = paragraphs(section.sentences, columns)
    if _has_room(section, columns):
        head, *rows = section.table
        lines += table(head, rows, right=head[section.figures_from :], width=columns)
    else:
        lines += paragraphs(section.rows_in_words, columns)
    title = "\n".join(wrapped(section.title, columns))
    return Text("\n").join((Text(title, style="bold"), *map(Text, lines)))


def _has_room(section: "Section", columns: int) -> bool:
    """Return whether the columns of figures fit side by side; a last column of text may be broken."""
    if not section.table:
        return False
    widths = [max(map(cells, column)) for column in zip(*section.table, strict=True)]
    is_text_last = section.figures_from == len(widths)
    needed = sum(widths[:-1]) + (min(_LEAST_TEXT_CELLS, widths[-1]) if is_text_last else widths[-1])
    return needed + 2 * (len(widths) - 1) <= columns
