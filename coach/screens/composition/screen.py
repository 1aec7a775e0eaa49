"""The Composition screen: which canvas gives heads of the wanted size, and what of the photo does it show?"""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.message import Message
from textual.widgets import Static

from coach.composition import marking as marks
from coach.composition.marking import MOST_NAME, Marking
from coach.composition.photo_boxes import CompositionError
from coach.composition.sizes import CanvasFormat
from coach.errors import CoachError
from coach.plan.value_types import MOST_FILE_NAME, is_plain_name
from coach.screens.chips import HELP, chip
from coach.screens.choice import ChoiceScreen
from coach.screens.composition.picture import box_between, marks_on
from coach.screens.composition.state import (
    CompositionState,
    PhotoRepository,
    Ranking,
    Sitter,
    aim_of,
    draft_of,
    found,
    is_ranking_of,
    ranked,
    ranking_of,
    taking,
    told,
    with_draft,
    written,
)
from coach.screens.composition.view import Shown, composition_view, key_of
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.widgets.photo_view import PhotoView
from coach.text import sanitized

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_light import PhotoLight
    from coach.shapes.photo_window import Box, Point

    Pixels = NDArray[np.float64]

_NARROW_BELOW, _WIDE_FROM, _WIDEST_FROM, _SHORT_BELOW = 72, 120, 180, 18
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
    class Scaled(Message):
        """The light of a photo is read, all of it or a part pixel by pixel."""

        photo: str
        box: "Box"
        is_whole: bool
        linear: "Pixels"

    @dataclass
    class Ranked(Message):
        """The canvases are ranked."""

        ranking: Ranking

    @dataclass
    class Failed(Message):
        """Something could not be done; the sentence says why."""

        why: str

    def __init__(self, repository: PhotoRepository, left_over: str = "") -> None:
        """Show the photo of a plan; `left_over` is the text of marks that an earlier opening left."""
        super().__init__()
        self._repository, self._left_over = repository, left_over
        self._state = CompositionState()
        self._before_drag: Marking | None = None
        self._photo: str | None = None
        self._light: PhotoLight | None = None
        self._is_ranking = self._do_arrows_size = False
        self._asks = self._said = ""

    def compose(self) -> ComposeResult:
        yield Static(id="said", markup=False)
        self._view = PhotoView()
        with Container(id="body"):
            yield self._view
            with VerticalScroll(can_focus=False):
                yield Static(id="beside", markup=False)
        yield ChipRow(chip("composition.add"), chip("composition.take"), chip("composition.save"), HELP)
        yield FieldPlace()

    def on_mount(self) -> None:
        """Begin with new widgets, as often as the screen is opened; answers on their way to the old ones are lost."""
        self._is_ranking, self.field, self._before_drag = False, None, None
        self._view.show_photo(self._light)
        self._said = ""
        if self._state.is_written:
            self._find(None)
        self._rank_anew()

    def on_resize(self) -> None:
        columns = self.app.size.width
        self.set_class(columns < _NARROW_BELOW, "-narrow")
        self.set_class(_WIDE_FROM <= columns < _WIDEST_FROM, "-wide")
        self.set_class(columns >= _WIDEST_FROM, "-widest")
        self.set_class(self.app.size.height < _SHORT_BELOW, "-short")
        self.call_after_refresh(self._show)

    @work(thread=True, exclusive=True, group="sitter")
    def _find(self, photo: str | None) -> None:
        try:
            self.post_message(self.Found(photo, self._repository.sitter(photo)))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))

    @work(thread=True, exclusive=True, group="light")
    def _read(self, photo: str, box: "Box", *, is_whole: bool) -> None:
        from coach.shapes.photo_light import moderate_scale  # noqa: PLC0415  loaded with the first picture

        scale = moderate_scale(round((box[2] - box[0]) * (box[3] - box[1]))) if is_whole else 1.0
        try:
            self.post_message(self.Scaled(photo, box, is_whole, self._repository.light(photo, box, scale)))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))

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
        if self._photo != self._state.marked.photo:
            self._photo, self._light = self._state.marked.photo, None
            self._view.show_photo(None)
            if self._photo is not None and self._state.shown is not None:
                photo = self._state.shown.marking.photo
                self._view.expect(box := (0.0, 0.0, float(photo.width_px), float(photo.height_px)))
                self._read(self._photo, box, is_whole=True)
        self._rank_anew()

    def on_composition_screen_scaled(self, message: Scaled) -> None:
        if message.photo == self._photo and not message.is_whole:
            self._view.add(message.linear, message.box)
        elif message.photo == self._photo:
            from coach.shapes.photo_light import PhotoLight  # noqa: PLC0415  the thread has loaded it

            self._light = PhotoLight(message.linear, message.box)
            self._view.show_photo(self._light)

    def on_composition_screen_ranked(self, message: Ranked) -> None:
        self._is_ranking = False
        self._state = ranked(self._state, message.ranking.choices, message.ranking.fault)
        if is_ranking_of(self._state, message.ranking.marking, is_stock=message.ranking.is_stock):
            self._show()
        else:
            self._rank_anew()

    def on_composition_screen_failed(self, message: Failed) -> None:
        self._say(message.why)

    def on_photo_view_lacking(self, message: PhotoView.Lacking) -> None:
        self._read(self._photo or "", message.box, is_whole=False)

    def on_photo_view_moved(self) -> None:
        if self._state.shown is not None:
            self._set_shown(self._state.shown._replace(marking=self._marking()))

    def on_half_blocks_spanned(self, message: HalfBlocks.Spanned) -> None:
        shown, window = self._state.shown, self._view.window
        if shown is None or window is None:
            return
        before = self._before_drag or shown.marking
        if message.one == message.other:
            box = box_between(window, message.one, message.one)
            self._set_marking(marks.in_hand_at(before, box.left_px, box.top_px))
        else:
            self._try(lambda: marks.with_head(before, box_between(window, message.one, message.other)))
        self._before_drag = None if message.is_over else before

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
            self.action_mark(("with_head", "with_keep")[number])

        choices = [("a head", "crown to chin, side to side"), ("a part that must stay in the picture", "")]
        await self.app.push_screen(ChoiceScreen("What do you mark?", choices, take))

    async def action_change(self) -> None:
        async def take(number: int) -> None:
            await self.run_action(("ask('name')", "ask('photo')", "change_list", "as_planned")[number])

        others = "the plan's sizes" if self._state.shown and self._state.shown.is_stock else "the stock list"
        choices = [
            ("the name of the head in hand", ""),
            ("the photo's file", self._state.marked.photo or ""),
            (f"rank {others}", ""),
            ("drop what is not saved", ""),
        ]
        await self.app.push_screen(ChoiceScreen("What is to change?", choices, take))

    def action_resize(self, across: int, down: int) -> None:
        self._try(lambda: marks.resized(self._marking(), across, down))

    def action_enlarge(self, is_closer: bool) -> None:
        self._view.enlarge(self._aim(), is_closer=is_closer)

    def action_choose(self, step: int) -> None:
        shown = self._state.shown
        if shown is not None and shown.choices:
            self._set_shown(shown._replace(chosen=(shown.chosen + step) % len(shown.choices)))

    def action_page(self, step: int) -> None:
        scroll = self.query_one(VerticalScroll)
        scroll.scroll_relative(y=step * scroll.size.height, animate=False)

    def action_change_list(self) -> None:
        shown = self._state.shown
        if shown is not None:
            self._set_shown(shown._replace(is_stock=not shown.is_stock, choices=(), chosen=0))
            self._rank_anew()

    def action_take(self) -> None:
        choice, taken = self._state.shown and self._state.shown.choice, self._state.taken
        if choice is not None:
            is_taken = taken is not None and key_of(taken) == key_of(choice)
            self._state = taking(self._state, None if is_taken else choice)
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
            before = self._state.shown.marking
            self._said = ""
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
        shown, window = self._state.shown, self._view.window
        self.query_one("#said", Static).update(told(self._state, self._said))
        if shown is None:
            self._view.show_marks({})
            self.query_one("#beside", Static).update("")
            return
        crop = None if shown.choice is None else shown.choice.crop
        self._view.show_marks({} if window is None else marks_on(window, shown.marking, crop))
        room = self.query_one(VerticalScroll).scrollable_content_region
        self.query_one("#beside", Static).update("\n".join(composition_view(shown, max(1, room.width), room.height)))
