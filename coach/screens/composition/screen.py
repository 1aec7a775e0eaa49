"""The Composition screen: which canvas gives heads of the wanted size, and what of the photo does it show?"""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.message import Message

from coach.composition import marking as marks
from coach.composition.marking import MOST_NAME, Marking
from coach.composition.photo_boxes import CompositionError
from coach.composition.sizes import CanvasFormat
from coach.errors import CoachError
from coach.plan.value_types import MOST_FILE_NAME, is_plain_name
from coach.screens.choice import ChoiceScreen
from coach.screens.composition.state import (
    UPRIGHT,
    CompositionState,
    PhotoRepository,
    Ranking,
    Shown,
    Sitter,
    aim_of,
    draft_of,
    found,
    is_ranking_of,
    key_of,
    ranked,
    ranking_of,
    taking,
    turned,
    with_draft,
    with_proposed,
    written,
)
from coach.screens.composition.view import Told, answer_lines, chips_for, fact_lines, is_new_canvas, name_of, room_of
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.widgets.marked_photo import MarkedPhoto
from coach.shapes.head_finding import MOST_PROPOSED
from coach.text import sanitized

if TYPE_CHECKING:
    from coach.plan.commission import MarkedBox
    from coach.shapes.photo_window import Point

_STEPS: dict[str, Callable[[Marking], Marking]] = {
    "with_head": marks.with_head,
    "with_keep": marks.with_keep,
    "next_in_hand": marks.next_in_hand,
    "without_in_hand": marks.without_in_hand,
}
_NOTHING_TO_MARK = "there is no photo to mark"
_ASKED = {
    "name": "name of this head: Enter keeps it, Esc drops it",
    "photo": "the photo's file beside the plan, such as sitter.jpg: Enter reads it, Esc drops it",
}


class CompositionScreen(FieldScreen):
    """Lets the painter mark heads in the photo and shows what each canvas makes of them."""

    CSS_PATH = "screen.tcss"
    DRAFT: ClassVar[str] = "composition marks"
    BINDINGS: ClassVar[list[BindingType]] = bindings("composition")

    @dataclass
    class Found(Message):
        """The plan is read, and the photo that was asked for, None for the plan's own."""

        asked: str | None
        sitter: Sitter

    @dataclass
    class Ranked(Message):
        """The canvases are ranked."""

        ranking: Ranking

    def __init__(self, repository: PhotoRepository, left_over: str = "") -> None:
        """Show the photo of a plan; `left_over` is the text of marks that an earlier opening left."""
        super().__init__()
        self._repository, self._left_over = repository, left_over
        self._state = CompositionState()
        self._photo: str | None = None
        self._proposed: tuple[MarkedBox, ...] | None = None
        self._is_ranking = self._do_arrows_size = self._with_facts = False
        self._first = 0
        self._asks = self._said = ""

    def compose(self) -> ComposeResult:
        self._view, self._words = MarkedPhoto(), LineBoard()
        with Container(id="body"):
            yield self._view
            yield self._words
        yield ChipRow()
        yield FieldPlace()

    def on_mount(self) -> None:
        """Begin with new widgets, as often as the screen is opened; answers on their way to the old ones are lost."""
        self._is_ranking, self.field, self._photo, self._said = False, None, None, ""
        self._open()
        if self._state.is_written:
            self._find(None)
        self._rank_anew()

    def on_resize(self) -> None:
        self.call_after_refresh(self._show)

    @work(thread=True, exclusive=True, group="sitter")
    def _find(self, photo: str | None) -> None:
        try:
            self.post_message(self.Found(photo, self._repository.sitter(photo)))
        except CoachError as error:
            self.post_message(MarkedPhoto.Failed(str(error)))

    @work(thread=True, group="ranking")
    def _rank(self, marking: Marking, canvases: Sequence[CanvasFormat], is_stock: bool) -> None:
        self.post_message(self.Ranked(ranking_of(marking, canvases, is_stock=is_stock)))

    def on_composition_screen_found(self, message: Found) -> None:
        if message.asked is not None and message.sitter.size is None:
            self._say(message.sitter.fault)
            return
        self._state = found(self._state, message.sitter, is_other=message.asked is not None)
        if self._left_over:
            state, self._said = with_draft(self._state, self._left_over)
            if state is not None:
                self._state, self._left_over = state, ""
        self._open()
        self._rank_anew()

    def _open(self) -> None:
        """Show the photo, if it is another one than is shown, and look for heads where none is marked."""
        shown, photo = self._state.shown, self._state.marked.photo
        if photo == self._photo:
            return
        self._photo, self._proposed = photo, None
        if shown is None or photo is None:
            self._view.open_photo(None, None)
            return
        size = shown.marking.photo
        box = 0.0, 0.0, float(size.width_px), float(size.height_px)
        self._view.open_photo(box, partial(self._repository.light, photo))
        if not shown.marking.heads:
            self._view.look_for_heads(MOST_PROPOSED)

    def on_composition_screen_ranked(self, message: Ranked) -> None:
        self._is_ranking = False
        self._state = ranked(self._state, message.ranking.choices, message.ranking.fault)
        if is_ranking_of(self._state, message.ranking.marking, is_stock=message.ranking.is_stock):
            self._show()
        else:
            self._rank_anew()

    def on_photo_view_moved(self) -> None:
        if self._state.shown is not None:
            self._set_shown(self._state.shown._replace(marking=self._marking()))

    def on_marked_photo_changed(self, message: MarkedPhoto.Changed) -> None:
        self._set_marking(message.marking)

    def on_marked_photo_heads_found(self, message: MarkedPhoto.HeadsFound) -> None:
        self._proposed = message.boxes
        self._show()

    def on_marked_photo_failed(self, message: MarkedPhoto.Failed) -> None:
        self._say(message.why)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let only the way back work while something is typed."""
        return (self.field is None or action == "back") and super().check_action(action, parameters)

    async def action_back(self) -> None:
        if self.field is not None:
            await self.close_field()
        else:
            await self.run_action("app.door('composition')")

    def action_mark(self, step: str) -> None:
        self._try(lambda: _STEPS[step](self._marking()))

    def action_arrow(self, across: int, down: int) -> None:
        step = marks.resized if self._do_arrows_size else marks.moved
        self._try(lambda: step(self._marking(), across, down))
        self._view.follow(self._aim())

    def action_toggle_arrows(self) -> None:
        self._do_arrows_size = not self._do_arrows_size
        self._say(f"The arrows {'size' if self._do_arrows_size else 'move'} the box now.")

    async def action_add(self) -> None:
        async def take(number: int) -> None:
            if number == 0:
                self._proposed = None
                self._view.look_for_heads(MOST_PROPOSED)
                self._say("A face is being looked for.")
            else:
                self.action_mark(("with_head", "with_keep")[number - 1])

        choices = [
            ("the heads that are found in the photo", ""),
            ("a head", "crown to chin, side to side"),
            ("a part that must stay in the picture", ""),
        ]
        await self.app.push_screen(ChoiceScreen("What do you mark?", choices, take))

    async def action_change(self) -> None:
        async def take(number: int) -> None:
            await self.run_action(("ask('name')", "ask('photo')", "change_list", "turn", "as_planned")[number])

        shown = self._state.shown
        others = "the plan's sizes" if shown and shown.is_stock else "the stock list"
        is_upright = shown is None or shown.direction == UPRIGHT
        choices = [
            ("the name of the head in hand", ""),
            ("the photo's file", self._state.marked.photo or ""),
            (f"rank {others}", ""),
            ("the picture lying" if is_upright else "the picture upright", ""),
            ("drop what is not saved", ""),
        ]
        await self.app.push_screen(ChoiceScreen("What is to change?", choices, take))

    def action_resize(self, across: int, down: int) -> None:
        self._try(lambda: marks.resized(self._marking(), across, down))

    def action_enlarge(self, is_closer: bool) -> None:
        self._view.enlarge(self._aim(), is_closer=is_closer)

    def action_choose(self, step: int) -> None:
        shown = self._state.shown
        if shown is not None and shown.listed:
            self._said = ""
            self._set_shown(shown._replace(chosen=(shown.chosen + step) % len(shown.listed)))

    def action_turn(self) -> None:
        self._state, self._said = turned(self._state), ""
        self._show()

    def action_toggle_facts(self) -> None:
        self._with_facts, self._first = not self._with_facts and self._state.shown is not None, 0
        self._show()

    def action_page(self, step: int) -> None:
        if self._with_facts:
            self._first = max(0, self._first + step * max(1, self._words.size.height - 1))
            self._show()

    def action_change_list(self) -> None:
        shown = self._state.shown
        if shown is not None:
            self._set_shown(shown._replace(is_stock=not shown.is_stock, choices=(), chosen=0))
            self._rank_anew()

    def action_take(self) -> None:
        choice, taken = self._state.shown and self._state.shown.choice, self._state.taken
        if self._proposed:
            boxes, self._proposed = self._proposed, ()
            self._try(lambda: marks.with_found(self._marking(), boxes))
        elif choice is not None and not is_new_canvas(self._state):
            self._say(f"Every canvas is {name_of(choice)}, {choice.direction}, already.")
        elif choice is not None:
            is_taken = taken is not None and key_of(taken) == key_of(choice)
            self._state, self._said = taking(self._state, None if is_taken else choice), ""
            self._show()

    async def action_write(self) -> None:
        await self.save()

    async def save(self) -> bool:
        state = self._state
        if state.sitter is None or state.shown is None:
            self._say(_NOTHING_TO_MARK)
        elif state.is_written:
            self._say("all of this stands in the plan already")
        elif state.shown.fault:
            self._say(f"not written: {state.shown.fault}")
        else:
            size = None if state.taken is None else state.taken.size
            try:
                said = await asyncio.to_thread(self._repository.write, state.sitter.written, state.marked, size)
            except CoachError as error:
                self._say(str(error))
            else:
                self._state = written(self._state, state.marked, size)
                self._say(said)
        return self._state.is_written

    def unsaved(self) -> str:
        return "" if self.draft() is None else "what is marked in the photo is not in the plan"

    def drop(self) -> None:
        self._state, self._left_over = CompositionState(), ""

    def draft(self) -> str | None:
        if self._left_over:
            return self._left_over
        return None if self._state.is_written else draft_of(self._state)

    def draft_text(self, draft: object) -> str:
        return str(draft)

    def action_as_planned(self) -> None:
        self._said = self._left_over = ""
        self._find(None)

    async def action_ask(self, asks: str) -> None:
        if self._state.sitter is None or (asks == "name" and not self._state.has_head_in_hand):
            self._say(_NOTHING_TO_MARK if self._state.shown is None else "take a head in hand first: Tab")
            return
        self._asks = asks
        await self.open_field(_ASKED[asks], most=MOST_NAME if asks == "name" else MOST_FILE_NAME)

    async def finish_field(self) -> None:
        text = " ".join(sanitized(await self.close_field()).split())
        if self._asks == "name":
            self._try(lambda: marks.renamed(self._marking(), text))
        elif is_plain_name(text):
            self._find(text)
        else:
            self._say("name a file beside the plan, without folders, such as sitter.jpg")

    def _try(self, step: Callable[[], Marking]) -> None:
        try:
            self._set_marking(step())
        except CompositionError as error:
            self._say(str(error))

    def _marking(self) -> Marking:
        if self._state.shown is None:
            raise CompositionError(_NOTHING_TO_MARK)
        marking, window = self._state.shown.marking, self._view.window
        return marking if window is None else marks.with_step(marking, window.dot_px)

    def _set_marking(self, marking: Marking) -> None:
        if self._state.shown is not None:
            before, self._said = self._state.shown.marking, ""
            if before.heads != marking.heads:
                self._proposed = ()
            self._set_shown(self._state.shown._replace(marking=marking))
            if (before.heads, before.keeps) != (marking.heads, marking.keeps):
                self._rank_anew()

    def _set_shown(self, shown: Shown) -> None:
        self._state = self._state._replace(shown=shown)
        self._show()

    def _aim(self) -> "Point":
        shown, window = self._state.shown, self._view.window
        if shown is None or window is None:
            return (0.0, 0.0)  # where nothing is shown nothing is enlarged
        return aim_of(shown.marking, window, is_sized=self._do_arrows_size)

    def _rank_anew(self) -> None:
        shown = self._state.shown
        if shown is not None:
            self._state = self._state._replace(shown=shown._replace(is_ranking=True))
            if not self._is_ranking:
                self._is_ranking = True
                self._rank(shown.marking, self._state.canvases, shown.is_stock)
        self._show()

    def _say(self, said: str) -> None:
        self._said = said.partition("\n")[0]  # of a plan with many faults the first will do; coach check tells all
        self._show()

    def _show(self) -> None:
        shown = self._state.shown
        told = Told(self._state, self._said, None if self._proposed is None else len(self._proposed))
        self._place(shown)
        if self._with_facts and shown is not None:
            self._words.show(lambda columns, lines: fact_lines(shown, self._first, columns, lines))
        else:
            self._words.show(lambda columns, lines: answer_lines(told, columns, lines))
        self.query_one(ChipRow).show_chips(*chips_for(told, with_facts=self._with_facts))
        crop = None if shown is None or shown.choice is None else shown.choice.crop
        self._view.show_marking(None if shown is None else with_proposed(shown.marking, self._proposed or ()), crop)

    def _place(self, shown: Shown | None) -> None:
        """Give the picture and the words their room."""
        room = room_of(shown, self.app.size.width, self.app.size.height - 1, with_facts=self._with_facts)
        self.set_class(room.is_beside, "-beside")
        self._view.display = room.picture > 0
        self._view.styles.width = room.picture
        self._words.styles.height = room.words or "1fr"
