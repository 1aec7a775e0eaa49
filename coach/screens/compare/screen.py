"""The Compare screen: do the canvases agree with each other, and with the photo?"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from coach.errors import CoachError
from coach.plan.commission import Canvas
from coach.screens.compare import state, view, wording
from coach.screens.compare.choosing import PhotoChoice
from coach.screens.compare.findings import findings_of
from coach.screens.compare.panels import Pictures
from coach.screens.compare.repository import (
    ComparedCanvases,
    CompareRepository,
    DrawnFeature,
    Landmarks,
    OpenedCanvases,
    PhotoOfCanvases,
)
from coach.screens.compare.state import Framings, Step
from coach.screens.compare.verdicts import ask_canvas, meant_so
from coach.screens.compare.view import CompareView
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.widgets.photo_view import PhotoView

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.screens.lines import Line
    from coach.shapes.photo_window import Box

    Pixels = NDArray[np.float64]

_TWO = 2
_LOW, _HIGH = 9, 4  # pictures are shown from so many lines on, so many rows of them at least
_SETTING = (Step.CORNERS, Step.LANDMARKS)
_KEYS: Final = {
    "next": (*_SETTING, Step.ANSWER),
    "cards": (Step.CORNERS,),
    "other": (Step.CORNERS, Step.NAMES),
    "enlarge": (*_SETTING, Step.NAMES, Step.ANSWER),
    "arrow": (*_SETTING, Step.ANSWER),
    "drop": (Step.ANSWER,),
    "toggle_facts": (Step.ANSWER,),
    "change": (Step.PHOTOS, Step.ANSWER),
}
"""What keys do something at which steps; the others at all."""


class CompareScreen(FieldScreen):
    """Takes two photos of the canvases, has their corners set, and shows what differs."""

    CSS_PATH = "screen.tcss"
    DRAFT: ClassVar[str] = "corners"
    BINDINGS: ClassVar[list[BindingType]] = bindings("compare")

    @dataclass
    class Opened(Message):
        """It is known what can be compared."""

        opened: OpenedCanvases

    @dataclass
    class PhotosRead(Message):
        """Two photos are read; `kept` is the text of corners that were set in them before."""

        canvases: tuple[Canvas, Canvas]
        photos: tuple[PhotoOfCanvases, PhotoOfCanvases]
        kept: str

    @dataclass
    class PartRead(Message):
        """A part of a photo is read pixel by pixel."""

        linear: "Pixels"
        box: "Box"

    @dataclass
    class Found(Message):
        """The photos are compared."""

        framings: Framings
        found: ComparedCanvases

    @dataclass
    class Proposed(Message):
        """Landmarks are proposed."""

        landmarks: Landmarks

    @dataclass
    class Drawn(Message):
        """What lies elsewhere by the landmarks is known."""

        drawn: tuple[DrawnFeature, ...]

    @dataclass
    class Failed(Message):
        """Something could not be done; the sentence says why."""

        why: str

    def __init__(self, repository: CompareRepository, left_over: str = "") -> None:
        """Ask a repository; `left_over` is the text of corners that an earlier opening left."""
        super().__init__()
        self._repository = repository
        self._kept = state.drafted(left_over)
        self._view = CompareView()
        self._found: ComparedCanvases | None = None
        self._accepted: Framings | None = None
        self._first, self._left = 0, ""
        self._choice: PhotoChoice | None = None

    def compose(self) -> ComposeResult:
        self._head, self._pictures, self._chips = LineBoard(), Pictures(), ChipRow()
        self._head.id = "head"
        yield self._head
        yield self._pictures
        yield self._chips
        yield FieldPlace()

    def on_mount(self) -> None:
        self.field = None
        self._show()
        self._ask(lambda: self.Opened(self._repository.opened()))

    def on_resize(self) -> None:
        self._show()

    @work(thread=True)
    def _ask(self, ask: Callable[[], Message]) -> None:
        """Ask for what takes time, and post the answer."""
        try:
            self.post_message(ask())
        except CoachError as error:
            self.post_message(self.Failed(state.sentence(str(error).partition("\n")[0])))

    def on_compare_screen_opened(self, message: Opened) -> None:
        opened, step = message.opened, self._view.step
        kept, self._kept = self._kept, None
        self._take(opened=opened, history=opened.history)
        pair = state.pair_of(opened.canvases, kept.canvases if kept else ())
        if kept is not None and pair is not None:
            self._read(kept.photos, pair, kept.text)
        elif step in (Step.PHOTOS, Step.ANSWER):
            found = self._found or opened.last
            if found is None or view.are_new(opened, found):
                self._take(step=Step.PHOTOS)
            elif step is Step.PHOTOS:
                self._show_answer(found, opened.history)

    def on_compare_screen_photos_read(self, message: PhotosRead) -> None:
        one, other = message.photos
        if self._view.step is not Step.READING:
            return
        if one.sha256 == other.sha256:
            self._take(step=Step.PHOTOS, said=wording.SAME_PHOTO)
            return
        framings = state.begun(message.canvases, message.photos)
        if message.kept:
            framings = state.with_draft(framings, message.kept)
        step = Step.CORNERS if framings.landmarks is None else Step.LANDMARKS
        self._found = self._found or (self._view.opened and self._view.opened.last)
        self._take(step=step, framings=framings, said="" if state.found_all(one) else wording.NONE_FOUND)

    def on_compare_screen_part_read(self, message: PartRead) -> None:
        self._pictures.photo.add(message.linear, message.box)

    def on_compare_screen_found(self, message: Found) -> None:
        if self._view.step is not Step.COMPARING or self._view.framings is not message.framings:
            return
        self._accepted = message.framings
        self._keep(message.found, "".join(message.found.comparison.remarks[:1]))

    def on_compare_screen_proposed(self, message: Proposed) -> None:
        if self._view.step is Step.ANSWER and self._accepted is not None:
            self._take(step=Step.LANDMARKS, framings=state.with_landmarks(self._accepted, message.landmarks), said="")

    def on_compare_screen_drawn(self, message: Drawn) -> None:
        if self._view.step is Step.COMPARING and self._found is not None:
            self._keep(self._found.with_drawn(message.drawn), "" if message.drawn else wording.NO_LANDMARKS)

    def _keep(self, found: ComparedCanvases, said: str) -> None:
        """Keep what is found in the journal, and show it."""
        history = self._view.history
        try:
            history = self._repository.record(found) if found.comparison.exchanged else history
        except CoachError as error:
            said = said or state.sentence(str(error))
        self._show_answer(found, history, said)

    def _show_answer(self, found: ComparedCanvases, history: tuple[str, ...], said: str = "") -> None:
        self._found = found
        self._take(
            step=Step.ANSWER,
            framings=None,
            found=found.comparison,
            findings=findings_of(found.comparison, found.meant, found.drawn),
            has_pictures=found.pictures is not None,
            history=history,
            number=0,
            said=said,
        )

    def on_compare_screen_failed(self, message: Failed) -> None:
        self._take(step=self._view.before, said=message.why)

    def on_half_blocks_spanned(self, message: HalfBlocks.Spanned) -> None:
        point, framings = self._pictures.photo.dragged(message), self._view.framings
        if point is not None and framings is not None and self._view.step in _SETTING:
            self._take(said="", framings=state.pointed(framings, point, self._pictures.dot_px))

    def on_photo_view_lacking(self, message: PhotoView.Lacking) -> None:
        framings, box = self._view.framings, message.box
        if framings is not None:
            name = framings.framing.photo.name
            self._ask(lambda: self.PartRead(self._repository.part(name, box), box))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let only the way back work while something is typed, and the keys that do something now."""
        if self.field is not None:
            return action == "back"
        steps = _KEYS.get(action)
        if steps is not None and (self._view.step not in steps or (action == "drop" and self._view.finding is None)):
            return False
        return super().check_action(action, parameters)

    async def action_back(self) -> None:
        shown, framings = self._view, self._view.framings
        if self.field is not None:
            await self.close_field()
        elif shown.has_facts:
            self.action_toggle_facts()
        elif shown.step is Step.CORNERS and framings is not None and framings.number:
            self._take(said="", framings=state.onto_photo(framings, 0))
        elif shown.step is Step.CORNERS and framings is not None:
            self._left = state.draft_of(framings)
            self._take(step=Step.PHOTOS, framings=None, said="")
        elif shown.step is Step.LANDMARKS and self._found is not None:
            self._show_answer(self._found, shown.history)
        elif shown.before is not shown.step:
            self._take(step=shown.before, said="")
        else:
            await self.run_action("app.door('compare')")

    async def action_accept(self) -> None:
        shown, framings = self._view, self._view.framings
        if shown.step is Step.PHOTOS and shown.opened is not None:
            newest = view.readable(shown.opened)
            if len(newest) >= _TWO and not shown.opened.problem:
                PhotoChoice(self, shown.opened, self._read).ask_canvases((newest[1], newest[0]))
        elif shown.step is Step.ANSWER and shown.finding is not None and self._found is not None:
            ask_canvas(
                self,
                self._repository,
                shown.finding,
                self._found.comparison.canvases,
                lambda said: self._take(said=said),
            )
        elif framings is not None and shown.step is Step.CORNERS:
            self._accept_corners(state.checked(framings))
        elif framings is not None and shown.step is Step.LANDMARKS:
            self._accept_landmarks(framings)
        elif framings is not None and shown.step is Step.NAMES:
            self._take(step=Step.CORNERS, framings=state.onto_photo(framings, 1))

    def _accept_corners(self, framings: Framings) -> None:
        if framings.said:
            self._take(said="", framings=framings)
        elif framings.number == 0:
            self._take(step=Step.NAMES, framings=framings, said="")
        else:
            self._take(step=Step.COMPARING, framings=framings, said="")
            framed = state.framed(framings)
            self._ask(lambda: self.Found(framings, self._repository.compared(framed)))

    def _accept_landmarks(self, framings: Framings) -> None:
        framings = state.set_here(framings, self._pictures.dot_px)
        photo, landmarks = state.framed(framings)[0], framings.landmarks
        if landmarks is not None:
            self._take(step=Step.COMPARING, framings=framings, said="")
            self._ask(lambda: self.Drawn(self._repository.drawn(photo, landmarks)))

    def action_cards(self) -> None:
        framings = self._view.framings
        if framings is not None:
            self._take(said="", framings=state.with_cards(framings))

    def action_next(self) -> None:
        framings, accepted = self._view.framings, self._accepted
        if framings is not None:
            self._take(said="", framings=state.next_point(state.set_here(framings, self._pictures.dot_px)))
        elif accepted is None:
            self._take(said=wording.COMPARE_FIRST)
        else:
            self._ask(lambda: self.Proposed(self._repository.landmarks(state.framed(accepted)[0])))

    def action_other(self) -> None:
        framings = self._view.framings
        if framings is not None:
            self._take(framings=state.exchanged(framings))

    def action_arrow(self, across: int, down: int) -> None:
        shown, framings = self._view, self._view.framings
        if shown.has_facts:
            self._first = max(0, self._first + down)
            self._show()
        elif shown.step is Step.ANSWER and shown.findings:
            number = (shown.number + across + down) % len(shown.findings)
            self._take(number=number, said="")
        elif shown.step in _SETTING and framings is not None:
            (x, y), dot_px = framings.at, self._pictures.dot_px
            self._take(said="", framings=state.with_point(framings, (x + across * dot_px, y + down * dot_px), dot_px))

    def action_enlarge(self, is_closer: bool) -> None:
        self._pictures.photo.enlarge(self._pictures.aim, is_closer=is_closer)

    def action_toggle_facts(self) -> None:
        self._first = 0
        self._take(has_facts=not self._view.has_facts)

    def action_drop(self) -> None:
        if self._found is not None:
            self._found, self._view = meant_so(self._view, self._repository, self._found)
            self._show()

    async def action_change(self) -> None:
        """Let the painter choose other photos: the first, then the second."""
        opened = self._view.opened
        if opened is not None and not opened.problem:
            self._choice = PhotoChoice(self, opened, self._read)
            await self._choice.ask()

    async def finish_field(self) -> None:
        text = (await self.close_field()).strip()
        if text and self._choice is not None:
            await self._choice.take_name(text)

    def _read(self, names: tuple[str, str], pair: tuple[Canvas, Canvas], kept: str = "") -> None:
        kept = kept or self._left  # corners of other photos, or of other canvases, are not taken
        self._take(step=Step.READING, framings=None, said="")

        def read() -> Message:
            one, other = (self._repository.photo(name) for name in names)
            return self.PhotosRead(pair, (one, other), kept)

        self._ask(read)

    def unsaved(self) -> str:
        """Return nothing: corners are kept beside the plan and wait for the next opening."""
        return ""

    async def save(self) -> bool:
        return True

    def drop(self) -> None:
        self._take(step=Step.PHOTOS, framings=None)

    def draft(self) -> object:
        return self._view.framings if self._kept is None else self._kept

    def draft_text(self, draft: object) -> str:
        return state.draft_of(draft) if isinstance(draft, Framings) else getattr(draft, "text", "")

    def _take(self, **changes: object) -> None:
        self._view = self._view._replace(**changes)  # type: ignore[arg-type]
        self._show()

    def _show(self) -> None:
        if not self.is_mounted or not self.size.area:
            return
        shown, lines = self._view, self.size.height - 1
        has_pictures = lines >= _LOW and shown.can_show
        if shown.step in _SETTING and not has_pictures:
            shown = shown._replace(said=wording.TOO_SMALL)
        most = lines - (_HIGH if has_pictures else 0)
        rows = view.head_lines(shown, max(1, self.size.width - _TWO), most)
        self._head.styles.height = len(rows) if has_pictures else most
        self._head.show(lambda columns, _: self._page(shown, columns, most))
        self._pictures.display = has_pictures
        self._chips.show_chips(*view.chips_of(shown))
        if has_pictures:
            self._pictures.show(shown, self._found)

    def _page(self, shown: CompareView, columns: int, lines: int) -> "tuple[Line, ...]":
        if not shown.has_facts:
            return view.head_lines(shown, columns, lines)
        rows = view.fact_lines(shown, columns)
        self._first = max(0, min(self._first, len(rows) - lines))
        return tuple(rows[self._first : self._first + lines])
