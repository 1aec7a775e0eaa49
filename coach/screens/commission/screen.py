"""Asks about a new commission, one question at a time, and writes its plan."""

from dataclasses import dataclass
from functools import partial
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

from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.questions import QUESTIONS, AnswerFault, boxes_text, check_answer, kept_texts
from coach.errors import CoachError
from coach.screens.chips import chip
from coach.screens.commission.repository import CommissionRepository, MadePlan
from coach.screens.commission.view import (
    CARE,
    LAST,
    boxes_of,
    commission_view,
    first_unsaid,
    marking_in,
    next_step,
    progress,
)
from coach.screens.key_path import FieldScreen, KeyPathApp
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.block_letters import block_lines, width_cells
from coach.screens.widgets.field import Field
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.widgets.marked_photo import MarkedPhoto

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
    class PhotoFound(Message):
        """The photo of that name has this size."""

        name: str
        size: PhotoSize

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
        self._photo: tuple[str, PhotoSize] | None = None
        self._name = ""
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
        self._view = MarkedPhoto()
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
                yield self._view
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
        if self._step == CARE and self._made is not None:
            self._say("the plan is being written")
            self._write(self._name, self._made)
            return
        if self._step == LAST:
            self._take_name(typed.strip() or self._shown)
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
        if self._step == CARE:
            self._turn_to(LAST)
            return
        typed, remark = self._input.value, ""
        if self._step < LAST and typed != self._shown:
            taken = check_answer(QUESTIONS[self._step], typed, self._answers)
            remark = "" if isinstance(taken, AnswerFault) else self._taken(taken)
        self._go(next_step(self._answers, self._step, -1), remark)

    def action_anew(self) -> None:
        self._answers, self._laid_aside = self._laid_aside, self._answers
        said = "taken up again" if self._answers.said else "begun anew; ctrl+n brings back what was said"
        self._go(first_unsaid(self._answers), said)

    def action_show(self, what: str) -> None:
        """Show the facts, or the text of the plan; again: the calm page."""
        self._shows = "" if self._shows == what else what
        self._show_made()

    def action_rename(self) -> None:
        """Let another name for the file be typed."""
        if self._step == LAST:
            self.field = self._input
            self._show_chips()

    def action_page(self, step: int) -> None:
        scroll = self.query_one("#below", VerticalScroll)
        scroll.scroll_relative(y=step * max(1, scroll.size.height - 1), animate=False)

    def _taken(self, answers: Answers) -> str:
        """Take answers in and return why they cannot be kept; empty where they are."""
        self._answers = answers
        try:
            self._repository.keep(kept_texts(answers))
        except CoachError as error:
            return str(error)
        return ""

    def _take_name(self, typed: str) -> None:
        """Go on with a name for the file if it can have it, else propose one that it can have."""
        if self._made is None:
            self._say(self._fault or "the plan is still being made; in a moment it says whether the day holds")
            return
        name = self._repository.free_name(typed)
        if name.removesuffix(".yaml") == typed.removesuffix(".yaml"):
            self._name = name
            self._turn_to(CARE)
        else:
            self._fill(name)
            self._say(f"{name} can be written: letters, digits and hyphens, and no file of that name; Enter takes it")

    def _turn_to(self, step: int) -> None:
        """Turn the page between the plan and the cautions; the plan stays made."""
        self._step, self._shows = step, ""
        self.set_class(step == CARE, "-care")
        self.field = None
        self._show_made()
        self._show_chips()
        self._say("")

    @work(thread=True, exclusive=True, group="write")
    def _write(self, name: str, made: MadePlan) -> None:
        try:
            path = self._repository.write(name, made)
        except CoachError as error:
            self.post_message(MarkedPhoto.Failed(str(error)))
        else:
            self.post_message(self.PlanWritten(path))

    def _go(self, step: int, remark: str) -> None:
        self._step, self._remark = step, remark
        self._asked_for = self._photo[0] if self._photo else None
        self._made, self._fault, self._shows = None, "", ""
        self._show()
        self.call_after_refresh(self._ask)

    def on_half_blocks_resized(self) -> None:
        self._ask()

    def on_input_changed(self) -> None:
        self._show_photo()

    def _ask(self) -> None:
        """Ask for what the step shows beside the question; for the shapes once for each size of their picture."""
        columns, rows = self._view.size if self._view.display else (0, 0)
        photo = self._answers.photo
        if self._step < LAST:
            if photo is not None and photo != self._asked_for and self._is_at("heads"):
                self._asked_for = photo
                self._look(photo)
            return
        asked = self._answers, columns, rows
        if self._step == LAST and asked != self._asked_for and (columns * rows or not self._view.display):
            self._asked_for = asked
            self._make(self._answers, columns, rows)

    @work(thread=True, exclusive=True, group="seen")
    def _look(self, photo: str) -> None:
        try:
            self.post_message(self.PhotoFound(photo, self._repository.photo_size(photo)))
        except CoachError as error:
            self.post_message(MarkedPhoto.Failed(str(error)))

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
            self.post_message(MarkedPhoto.Failed(str(error)))

    def on_commission_screen_photo_found(self, message: PhotoFound) -> None:
        if message.name == self._answers.photo and self._step < LAST:
            self._photo = message.name, message.size
            self._open_photo()

    def _open_photo(self) -> None:
        """Show the photo, and look for heads in it where none is marked."""
        if self._photo is None:
            self._view.open_photo(None, None)
            return
        name, size = self._photo
        box = 0.0, 0.0, float(size.width_px), float(size.height_px)
        self._view.open_photo(box, partial(self._repository.light, name))
        if not self._answers.heads:
            self._view.look_for_heads(len(self._answers.sitters))
        self._show_photo()

    def on_marked_photo_heads_found(self, message: MarkedPhoto.HeadsFound) -> None:
        if not self._is_at("heads") or self._answers.heads or self._input.value != self._shown:
            return
        if len(message.boxes) == len(self._answers.sitters):
            self._fill(boxes_text(message.boxes))
            self._say("found in the photo: Enter takes it, or draw it anew, crown to chin, side to side")
        else:
            self._say("no face was found; draw round each head with the mouse, crown to chin, side to side")

    def on_marked_photo_changed(self, message: MarkedPhoto.Changed) -> None:
        if self._is_at("heads") and message.marking.heads:
            self._input.value = boxes_text(boxes_of(message.marking, len(self._answers.sitters)))
            self._say("")

    def on_marked_photo_failed(self, message: MarkedPhoto.Failed) -> None:
        self._fault = message.why
        self._say(message.why)

    def on_commission_screen_seen(self, message: Seen) -> None:
        if self._step == LAST and message.answers == self._answers:
            if self._view.window is not None:
                self._view.open_photo(None, None)
            self._view.show_dots(message.dots)

    def on_commission_screen_made(self, message: Made) -> None:
        if self._step == LAST and message.answers == self._answers:
            self._made = message.made
            self._show_made()

    def _show_made(self) -> None:
        view = commission_view(self._answers, self._step, self._made, self._shows)
        for name in ("step", "asks", "hint"):
            self.query_one(f"#{name}", Static).update(getattr(view, name))
        self._show_word(view.word)
        self.query_one("#growing", Static).update(view.below)
        self.query_one("#below", VerticalScroll).scroll_home(animate=False)
        self.set_class(bool(self._shows), "-told")

    def _show_photo(self) -> None:
        """Show in the photo the heads, as they stand in the field while it asks for them."""
        if self._step < LAST and self._photo is not None:
            answers = self._answers
            typed = self._input.value if self._is_at("heads") else boxes_text(head.box for head in answers.heads)
            self._view.show_marking(marking_in(typed, answers, self._photo[1]))

    def _is_at(self, key: str) -> bool:
        return self._step < LAST and QUESTIONS[self._step].key == key

    def _show(self) -> None:
        is_last = self._step == LAST
        view = commission_view(self._answers, self._step, self._made)
        if self._photo is not None and self._photo[0] != self._answers.photo:
            self._photo = None
        self.set_class(is_last, "-last")
        self.set_class(self._is_at("heads"), "-heads")
        self.set_class(
            self._is_at("heads") or (self._answers.is_seen if is_last else self._photo is not None), "-picture"
        )
        self.remove_class("-care")
        if self._photo is None:
            self._view.open_photo(None, None)
        elif is_last:
            self._view.show_marking(None)
        elif not self._view.rows:
            self._open_photo()
        self.query_one("#said", Static).update(view.said)
        self.query_one("#progress", Static).update(progress(view.share, max(1, self.app.size.width - 2)))
        self._show_made()
        self.field = None if is_last else self._input
        self._show_chips()
        name = self._repository.proposed_name(self._answers.commission) if is_last else ""
        self._fill(name or QUESTIONS[self._step].shown(self._answers))
        self._say(self._remark)

    def _show_word(self, word: str) -> None:
        word = word.upper()
        is_drawn = width_cells(word, 1) <= self.app.size.width - 2
        self.query_one("#word", Static).update("\n".join(block_lines(word, 1)) if is_drawn else word)

    def _show_chips(self) -> None:
        chips = chip("commission.onward"), chip("commission.change"), chip("commission.facts")
        if self._step == CARE:
            chips = chip("commission.onward", "begin"), chip("commission.back"), chip("commission.facts", "sources")
        elif self.field is not None:
            chips = chip("commission.onward"), chip("commission.back"), chip("commission.down")
        self.query_one(ChipRow).show_chips(*chips, chip("commission.help"))

    def _fill(self, text: str) -> None:
        """Fill the field with a text that the next letter replaces."""
        self._shown = text
        self._input.value = text
        self._input.selection = Selection(len(text), 0)  # the cursor at the start, so that a long text begins there

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
