"""Asks about a new commission, one question at a time, and writes its plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar, Protocol

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static
from textual.widgets.input import Selection

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.proposal import proposed_plan
from coach.composition.proposal.questions import QUESTIONS, AnswerFault, check_answer, kept_texts
from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.screens.chips import chip
from coach.screens.commission.view import LAST, commission_view, first_unsaid
from coach.screens.key_path import FieldScreen, KeyPathApp
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.field import Field
from coach.screens.widgets.keys import ChipRow, bindings


class CommissionRepository(Protocol):
    """Where answers are kept and plans are written."""

    def keep(self, plain: Mapping[str, str]) -> None:
        """Keep what was said; it is on the disk when this returns.

        Raises:
            CoachError: It cannot be kept.
        """

    def proposed_name(self, commission: str) -> str:
        """Return a name for the file of a commission."""

    def free_name(self, typed: str) -> str:
        """Return the typed name if a new file can have it, else the next that one can have."""

    def write(self, name: str, plan: Plan) -> Path:
        """Write a plan in a new file and return where; called from a thread.

        Raises:
            CoachError: It cannot be written, or is no sound plan today.
        """


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

    def __init__(self, repository: CommissionRepository, answers: Answers) -> None:
        super().__init__()
        self.field: Field = Field()
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
                yield Static(id="asks", markup=False)
                yield Static(id="hint", markup=False)
                yield self.field
                yield Static(id="remark", markup=False)
                yield Static(id="said", markup=False)
            with VerticalScroll(id="below", can_focus=False):
                yield Static(id="growing", markup=False)
        yield ChipRow(
            chip("commission.onward"), chip("commission.back"), chip("commission.down"), chip("commission.help")
        )

    def on_mount(self) -> None:
        self._show()

    async def finish_field(self) -> None:
        self.action_onward()

    def action_onward(self) -> None:
        typed = self.field.value
        if self._step == LAST:
            self._write_as(typed)
            return
        taken = check_answer(QUESTIONS[self._step], typed, self._answers)
        if isinstance(taken, AnswerFault):
            self._say(taken.sentence)
        else:
            self._go(self._step + 1, self._taken(taken))

    def action_back(self) -> None:
        if self._step == 0:
            self._say("this is the first question; ctrl+q leaves, and what was said is kept")
            return
        typed, remark = self.field.value, ""
        if self._step < LAST and typed != self._shown:
            taken = check_answer(QUESTIONS[self._step], typed, self._answers)
            remark = "" if isinstance(taken, AnswerFault) else self._taken(taken)
        self._go(self._step - 1, remark)

    def action_anew(self) -> None:
        self._answers, self._laid_aside = self._laid_aside, self._answers
        said = (
            "what was said is taken up again" if self._answers.said else "begun anew; ctrl+n brings back what was said"
        )
        self._go(first_unsaid(self._answers), said)

    def action_page(self, step: int) -> None:
        scroll = self.query_one("#below", VerticalScroll)
        scroll.scroll_relative(y=step * max(1, scroll.size.height - 1), animate=False)

    def on_commission_screen_failed(self, message: Failed) -> None:
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
        name = self._repository.free_name(typed.strip() or self._shown)
        if name.removesuffix(".yaml") == (typed.strip() or self._shown).removesuffix(".yaml"):
            self._say("the plan is being written")
            self._write(name, self._answers)
        else:
            self._fill(name)
            self._say(f"{name} can be written: letters, digits and hyphens, and no file of that name; Enter writes it")

    @work(thread=True, exclusive=True, group="write")
    def _write(self, name: str, answers: Answers) -> None:
        try:
            path = self._repository.write(name, proposed_plan(answers))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))
        else:
            self.post_message(self.PlanWritten(path))

    def _go(self, step: int, remark: str) -> None:
        self._step, self._remark = step, remark
        self._show()

    def _show(self) -> None:
        view = commission_view(self._answers, self._step)
        self.set_class(self._step == LAST, "-last")
        for name, text in zip(("step", "asks", "hint", "said"), view, strict=False):
            self.query_one(f"#{name}", Static).update(text)
        self.query_one("#growing", Static).update(view.below)
        self.query_one("#below", VerticalScroll).scroll_home(animate=False)
        is_last = self._step == LAST
        commission = self._answers.commission
        self._fill(
            self._repository.proposed_name(commission) if is_last else QUESTIONS[self._step].shown(self._answers)
        )
        self._say(self._remark)

    def _fill(self, text: str) -> None:
        """Fill the field with a text that the next letter replaces."""
        self._shown = text
        self.field.value = text
        self.field.selection = Selection(
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
