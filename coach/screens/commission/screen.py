"""Asks about a new commission, one question at a time, and writes its plan."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static
from textual.widgets.input import Selection
from textual.worker import get_current_worker

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.questions import QUESTIONS, AnswerFault, boxes_text, check_answer, kept_texts
from coach.errors import CoachError
from coach.screens.chips import chip
from coach.screens.commission.repository import CommissionRepository, MadePlan, ShownPhoto
from coach.screens.commission.view import LAST, commission_view, first_unsaid, next_step, progress, with_boxes
from coach.screens.key_path import FieldScreen, KeyPathApp
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.block_letters import block_lines, width_cells
from coach.screens.widgets.field import Field
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import ChipRow, bindings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Dots = NDArray[np.uint8]


class CommissionScreen(FieldScreen):
    """Shows one question at a time beside the plan as it grows, then the file."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = bindings("commission")

    @dataclass
    class PlanWritten(Message):
        """The plan lies in this file."""

        path: Path

    @dataclass
    class Failed(Message):
        """The plan is not written; the sentence says why."""

        why: str

    @dataclass
    class PhotoShown(Message):
        """The photo of that name, and the heads found in it."""

        name: str
        shown: ShownPhoto

    @dataclass
    class Seen(Message):
        """The photo with its shapes so far."""

        answers: Answers
        dots: "Dots"

    @dataclass
    class Made(Message):
        """The plan that these answers make."""

        answers: Answers
        made: MadePlan

    def __init__(self, repository: CommissionRepository, answers: Answers) -> None:
        super().__init__()
        self._input = Field()
        self.field: Field | None = self._input
        self._shows = ""
        self._photo: ShownPhoto | None = None
        self._made: MadePlan | None = None
        self._asked_for: object = None
        self._fault = ""
        self._repository = repository
        self._answers = answers
        self._laid_aside = default_answers(answers.asked_on)
        self._step = first_unsaid(answers)
        self._shown = ""
        self._remark = "what was said before is here still; ctrl+n begins anew" if answers.said else ""

    def compose(self) -> ComposeResult:
        yield Static(id="step", markup=False)
        with Container(id="page"):
            with Vertical(id="question"):
                yield Static(id="word", markup=False)
                yield Static(id="asks", markup=False)
                yield Static(id="hint", markup=False)
                yield self._input
                yield Static(id="remark", markup=False)
                yield Static(id="said", markup=False)
            with Container(id="beside"):
                yield HalfBlocks()
                with VerticalScroll(id="below", can_focus=False):
                    yield Static(id="growing", markup=False)
        yield Static(id="progress", markup=False)
        yield ChipRow()

    def on_mount(self) -> None:
        self._show()
        self.call_after_refresh(self._ask)

    async def finish_field(self) -> None:
        self.action_onward()

    def action_onward(self) -> None:
        typed = self._input.value
        if self._step == LAST:
            self._write_as(typed)
            return
        taken = check_answer(QUESTIONS[self._step], typed, self._answers)
        if isinstance(taken, AnswerFault):
            self._say(taken.sentence)
        else:
            self._go(next_step(taken, self._step, 1), self._taken(taken))

    def action_back(self) -> None:
        if self._step == 0:
            self._say("this is the first question; ctrl+q leaves, and what was said is kept")
            return
        typed, remark = self._input.value, ""
        if self._step < LAST and typed != self._shown:
            taken = check_answer(QUESTIONS[self._step], typed, self._answers)
            remark = "" if isinstance(taken, AnswerFault) else self._taken(taken)
        self._go(next_step(self._answers, self._step, -1), remark)

    def action_anew(self) -> None:
        self._answers, self._laid_aside = self._laid_aside, self._answers
        said = (
            "what was said is taken up again" if self._answers.said else "begun anew; ctrl+n brings back what was said"
        )
        self._go(first_unsaid(self._answers), said)

    def action_show(self, what: str) -> None:
        """Show the cautions with their sources, or the text of the plan; again: the calm page."""
        self._shows = "" if self._shows == what else what
        self._show_made()

    def action_rename(self) -> None:
        """Let another name for the file be typed."""
        self.field = self._input
        self._show_chips()

    def action_page(self, step: int) -> None:
        scroll = self.query_one("#below", VerticalScroll)
        scroll.scroll_relative(y=step * max(1, scroll.size.height - 1), animate=False)

    def on_commission_screen_failed(self, message: Failed) -> None:
        self._fault = message.why
        self._say(message.why)

    def _taken(self, answers: Answers) -> str:
        """Take answers in and return why they cannot be kept; empty where they are."""
        self._answers = answers
        try:
            self._repository.keep(kept_texts(answers))
        except CoachError as error:
            return str(error)
        return ""

    def _write_as(self, typed: str) -> None:
        if self._made is None:
            self._say(self._fault or "the plan is still being made; in a moment it says whether the day holds")
            return
        name = self._repository.free_name(typed.strip() or self._shown)
        if name.removesuffix(".yaml") == (typed.strip() or self._shown).removesuffix(".yaml"):
            self._say("the plan is being written")
            self._write(name, self._made)
        else:
            self._fill(name)
            self._say(f"{name} can be written: letters, digits and hyphens, and no file of that name; Enter writes it")

    @work(thread=True, exclusive=True, group="write")
    def _write(self, name: str, made: MadePlan) -> None:
        try:
            path = self._repository.write(name, made)
        except CoachError as error:
            self.post_message(self.Failed(str(error)))
        else:
            self.post_message(self.PlanWritten(path))

    def _go(self, step: int, remark: str) -> None:
        self._step, self._remark = step, remark
        self._asked_for, self._made, self._fault, self._shows = None, None, "", ""
        self._show()
        self.call_after_refresh(self._ask)

    def on_half_blocks_resized(self) -> None:
        self._ask()

    def on_input_changed(self) -> None:
        self._show_photo()

    def _ask(self) -> None:
        """Ask for what the step shows beside the question, once for each size of the picture."""
        picture = self.query_one(HalfBlocks)
        columns, rows = picture.size if picture.display else (0, 0)
        asked = self._answers, self._step, columns, rows
        if asked == self._asked_for or (picture.display and not columns * rows):
            return
        self._asked_for = asked
        if self._step == LAST:
            self._make(self._answers, columns, rows)
        elif picture.display and (self._is_at("heads") or self._photo is not None):
            self._look(self._answers.photo or "", len(self._answers.sitters), columns, rows)

    @work(thread=True, exclusive=True, group="seen")
    def _look(self, photo: str, sitters: int, columns: int, rows: int) -> None:
        try:
            self.post_message(self.PhotoShown(photo, self._repository.photo(photo, sitters, columns, rows)))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))

    @work(thread=True, exclusive=True, group="seen")
    def _make(self, answers: Answers, columns: int, rows: int) -> None:
        worker = get_current_worker()
        try:
            for found in self._repository.made(answers, columns, rows):
                if worker.is_cancelled:
                    return
                self.post_message(
                    self.Made(answers, found) if isinstance(found, MadePlan) else self.Seen(answers, found)
                )
        except CoachError as error:
            self.post_message(self.Failed(str(error)))

    def on_commission_screen_photo_shown(self, message: PhotoShown) -> None:
        if message.name != self._answers.photo or self._step == LAST:
            return
        self._photo = message.shown
        if (
            self._is_at("heads")
            and message.shown.heads
            and not self._answers.heads
            and self._input.value == self._shown
        ):
            self._fill(boxes_text(message.shown.heads))
            self._say("found in the photo; Enter takes it, or correct it: crown to chin, side to side")
        self._show_photo()

    def on_commission_screen_seen(self, message: Seen) -> None:
        if self._step == LAST and message.answers == self._answers:
            self.query_one(HalfBlocks).show_dots(message.dots)

    def on_commission_screen_made(self, message: Made) -> None:
        if self._step == LAST and message.answers == self._answers:
            self._made = message.made
            self._show_made()

    def _show_made(self) -> None:
        view = commission_view(self._answers, self._step, self._made, self._shows)
        self._show_word(view.word)
        self.query_one("#growing", Static).update(view.below)
        self.query_one("#below", VerticalScroll).scroll_home(animate=False)

    def _show_photo(self) -> None:
        """Show the photo with the boxes of its heads, as they stand in the field while it asks for them."""
        if self._step == LAST or self._photo is None:
            return
        taken = check_answer(QUESTIONS[self._step], self._input.value, self._answers)
        heads = () if isinstance(taken, AnswerFault) else tuple(head.box for head in taken.heads)
        self.query_one(HalfBlocks).show_dots(with_boxes(self._photo.dots, self._photo.size, heads))

    def _is_at(self, key: str) -> bool:
        return self._step < LAST and QUESTIONS[self._step].key == key

    def _show(self) -> None:
        view = commission_view(self._answers, self._step, self._made)
        self.set_class(self._step == LAST, "-last")
        if self._answers.photo is None:
            self._photo = None
        is_pictured = self._answers.is_seen if self._step == LAST else self._photo is not None
        self.set_class(self._is_at("heads") or is_pictured, "-picture")
        if self._step == LAST or self._photo is None:
            self.query_one(HalfBlocks).show_dots(None)
        for name in ("step", "asks", "hint", "said"):
            self.query_one(f"#{name}", Static).update(getattr(view, name))
        self.query_one("#progress", Static).update(progress(view.share, max(1, self.app.size.width - 2)))
        self._show_word(view.word)
        self.query_one("#growing", Static).update(view.below)
        self.query_one("#below", VerticalScroll).scroll_home(animate=False)
        self.field = self._input if self._step < LAST else None
        self._show_chips()
        is_last = self._step == LAST
        commission = self._answers.commission
        self._fill(
            self._repository.proposed_name(commission) if is_last else QUESTIONS[self._step].shown(self._answers)
        )
        self._say(self._remark)

    def _show_word(self, word: str) -> None:
        word = word.upper()
        is_drawn = width_cells(word, 1) <= self.app.size.width - 2
        self.query_one("#word", Static).update("\n".join(block_lines(word, 1)) if is_drawn else word)

    def _show_chips(self) -> None:
        if self.field is not None:
            chips = chip("commission.onward"), chip("commission.back"), chip("commission.down")
        else:
            chips = chip("commission.onward", "begin"), chip("commission.change"), chip("commission.facts")
        self.query_one(ChipRow).show_chips(*chips, chip("commission.help"))

    def _fill(self, text: str) -> None:
        """Fill the field with a text that the next letter replaces."""
        self._shown = text
        self._input.value = text
        self._input.selection = Selection(
            len(text), 0
        )  # the cursor stands at the start, so that a long text begins there

    def _say(self, remark: str) -> None:
        self._remark = remark
        self.set_class(bool(remark), "-remark")
        self.query_one("#remark", Static).update(remark)


class NewCommissionApp(KeyPathApp[Path]):
    """Returns where the plan was written, or None where the painter has left."""

    TITLE = "coach"
    CSS_PATH = "screen.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012  declared by the framework as it is
    VERTICAL_BREAKPOINTS = [(0, "-short"), (20, "-tall")]  # noqa: RUF012  declared by the framework as it is

    def __init__(self, repository: CommissionRepository, answers: Answers, *, light: bool) -> None:
        """Begin with these answers; each new one goes to the repository."""
        super().__init__()
        self._commission = CommissionScreen(repository, answers)
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def get_default_screen(self) -> Screen[None]:
        return self._commission

    def on_commission_screen_plan_written(self, message: CommissionScreen.PlanWritten) -> None:
        self.exit(message.path)
