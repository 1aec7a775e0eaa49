"""The Shapes screen: where in the photo is each passage, how light, how large, what does it touch?"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.message import Message

from coach.errors import CoachError
from coach.plan.commission import MarkedHead
from coach.screens.choice import ChoiceScreen
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.shapes import edits, view
from coach.screens.shapes import state as states
from coach.screens.shapes.files import ShapesFiles
from coach.screens.shapes.picture import ShapesPicture, heads_on
from coach.screens.shapes.repository import OpenedPhoto, OpenedShapes, ShapesRepository
from coach.screens.shapes.state import Pointer, ShapesState
from coach.screens.shapes.taking_apart import begun_with, map_in, proposed_heads, stages_of
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.widgets.photo_view import PhotoView
from coach.shapes.shape import Apart, Shape
from coach.shapes.shape_map import ShapeMap

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_window import Box, Point

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]

_MOST_NAME: Final = 60
_REST_S: Final = 0.2
"""Shapes are measured once no key has changed one for so long: at first it takes seconds."""


class ShapesScreen(FieldScreen):
    """Shows the photo with its shapes, and lets the painter change them and say which passage each belongs to."""

    CSS_PATH = "screen.tcss"
    DRAFT: ClassVar[str] = "shapes"
    BINDINGS: ClassVar[list[BindingType]] = bindings("shapes")

    @dataclass
    class Opened(Message):
        """Plan, photo and shapes are read."""

        opened: OpenedShapes

    @dataclass
    class Coming(Message):
        """So far the photo is taken apart; `apart` is None until its shapes are measured."""

        labels: "Labels"
        apart: Apart | None

    @dataclass
    class Measured(Message):
        """Shapes are measured."""

        shape_map: ShapeMap
        apart: Apart

    @dataclass
    class Proposed(Message):
        """Heads were looked for where none is marked."""

        heads: tuple[MarkedHead, ...]

    @dataclass
    class PartRead(Message):
        """A part of the photo is read pixel by pixel."""

        box: "Box"
        linear: "Pixels"

    @dataclass
    class Failed(Message):
        """Something could not be done; the sentence says why."""

        why: str

    def __init__(self, repository: ShapesRepository, left_over: str = "") -> None:
        """Show the shapes of a plan; `left_over` is the text of shapes that an earlier opening left unsaved."""
        super().__init__()
        self.HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (38, "-small"), (72, "-usual"), (120, "-wide"), (180, "-widest")]
        self.VERTICAL_BREAKPOINTS = [(0, "-short"), (12, "-high")]
        self._files = ShapesFiles(repository, left_over)
        self._picture: ShapesPicture | None = None
        self._state: ShapesState | None = None
        self._apart: tuple[ShapeMap, Apart] | None = None
        self._proposed: tuple[MarkedHead, ...] | None = None
        self._is_measuring = self._with_figures = self._are_problems_read = False
        self._asks = self._said = ""

    def compose(self) -> ComposeResult:
        self._view, self._beside, self._below = PhotoView(), LineBoard(), LineBoard()
        self._beside.id, self._below.id = "beside", "below"
        with Container(id="body"):
            yield self._view
            yield self._beside
        yield self._below
        yield ChipRow()
        yield FieldPlace()

    def on_mount(self) -> None:
        self.field, self._is_measuring = None, False
        self._rest = self.set_interval(_REST_S, self._measure_anew, pause=True)
        self._show_photo()
        if self._state is None or self._state.is_saved:
            self._ask(lambda: self.Opened(self._files.repository.opened()))

    @work(thread=True)
    def _ask(self, ask: Callable[[], Message]) -> None:
        """Ask for what takes time, and post the answer."""
        try:
            self.post_message(ask())
        except CoachError as error:
            self.post_message(self.Failed(states.sentence(error)))

    @work(thread=True, exclusive=True, group="taking apart")
    def _take_apart(self, photo: OpenedPhoto) -> None:
        for labels, apart in stages_of(photo):
            self.post_message(self.Coming(labels, apart))

    def on_shapes_screen_opened(self, message: Opened) -> None:
        opened = self._files.opened
        if opened is not None and opened.is_same(message.opened) and self._state is not None:
            return
        opened, self._state, self._are_problems_read = message.opened, self._files.take(message.opened), False
        self._apart, self._picture = None, None if opened.photo is None else ShapesPicture(opened.photo)
        self._show_photo()
        photo = opened.photo
        if self._state is None and photo is not None and opened.plan.shapes is None:
            if photo.heads:
                self._take_apart(photo)
            else:
                self._ask(lambda: self.Proposed(proposed_heads(photo)))

    def on_shapes_screen_proposed(self, message: Proposed) -> None:
        self._proposed = message.heads
        self._view.redraw()
        self._show()

    def on_shapes_screen_coming(self, message: Coming) -> None:
        opened, picture = self._files.opened, self._picture
        if opened is None or opened.photo is None or picture is None or self._state is not None:
            return
        picture.show_labels(message.labels)
        if message.apart is not None:
            shape_map = map_in(opened.photo, message.apart)
            self._state = begun_with(opened, opened.photo, shape_map)
            picture.take_colours(message.apart)
            self._apart = (shape_map, message.apart)
        self._changed()

    def on_shapes_screen_measured(self, message: Measured) -> None:
        self._is_measuring, self._apart = False, (message.shape_map, message.apart)
        if self._state is not None and self._state.shape_map is not message.shape_map:
            self._rest.resume()
        self._view.redraw()
        self._show()

    def on_shapes_screen_part_read(self, message: PartRead) -> None:
        self._view.add(message.linear, message.box)

    def on_shapes_screen_failed(self, message: Failed) -> None:
        self._is_measuring = False
        self._say(message.why)

    def on_half_blocks_spanned(self, message: HalfBlocks.Spanned) -> None:
        point, state, picture = self._view.dragged(message), self._state, self._picture
        if point is None or state is None or picture is None:
            return
        if state.pointer is None:
            self._take(states.choosing(state, picture.shape_at(point)))
        else:
            self._take(state._replace(pointer=state.pointer._replace(at=point)))

    def on_photo_view_lacking(self, message: PhotoView.Lacking) -> None:
        photo, box = None if self._files.opened is None else self._files.opened.plan.photo, message.box
        if photo is not None:
            self._ask(lambda: self.PartRead(box, self._files.repository.part(photo, box)))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let only the way back work while something is typed."""
        return (self.field is None or action == "back") and super().check_action(action, parameters)

    async def action_back(self) -> None:
        state = self._state
        if self.field is not None:
            await self.close_field()
        elif self._problems:
            self._are_problems_read = True
            self._show()
        elif state is not None and state.pointer is not None:
            self._take(states.choosing(state, ""))
        else:
            await self.run_action("app.door('shapes')")

    def action_arrow(self, across: int, down: int) -> None:
        state, picture, window = self._state, self._picture, self._view.window
        if state is None or picture is None or window is None:
            return
        self._are_problems_read = True
        if state.pointer is not None:
            at = window.stepped(state.pointer.at, across, down)
            self._take(state._replace(pointer=state.pointer._replace(at=at), said=""))
        else:
            towards = states.shape_towards(picture.centres, state.chosen, across, down)
            self._take(states.choosing(state, towards))

    def action_enlarge(self, is_closer: bool) -> None:
        self._view.enlarge(self._aim(), is_closer=is_closer)

    def action_toggle_arrows(self) -> None:
        aim = self._aim()
        self._turn(lambda state: states.pointing(state, aim) if state.pointer is None else states.choosing(state, ""))

    def action_take_border(self) -> None:
        aim = self._aim()
        self._turn(lambda state: states.taking_border(state, aim))

    def action_do(self, name: str) -> None:
        self._turn(states.STEPS[name])

    def action_toggle_figures(self) -> None:
        self._with_figures = not self._with_figures
        self._show()

    def action_take(self) -> None:
        """Take the nearest corner in hand, or put it where the point is; without a point change the shape."""
        pointer, opened = None if self._state is None else self._state.pointer, self._files.opened
        if self._state is None and self._proposed and opened is not None:
            plan, self._proposed = opened.plan._replace(heads=self._proposed), None
            self._ask(lambda: self.Opened(opened._replace(photo=self._files.repository.photo(plan))))
        elif pointer is None:
            self.action_choose("change")
        elif pointer.border_from is not None:
            self._turn(lambda state: states.choosing(state, ""))
            self._edit(edits.with_border(pointer.border_by))
        elif pointer.corner is None:
            self._turn(states.taking_corner)
        else:
            self._turn(lambda state: state._replace(pointer=Pointer(pointer.at)))
            self._edit(edits.with_corner(pointer.corner, pointer.at))

    def action_cut(self) -> None:
        pointer = None if self._state is None else self._state.pointer
        if pointer is None:
            self._edit(edits.cut)
        elif pointer.cut_from is None:
            self._turn(states.beginning_cut)
        else:
            self._turn(lambda state: state._replace(pointer=Pointer(pointer.at)))
            self._edit(edits.cut_along(pointer.cut_from, pointer.at))

    def action_choose(self, name: str) -> None:
        state, picture = self._state, self._picture
        if state is None or picture is None or state.shape is None:
            return
        if name == "join":
            edges = () if self._measured is None else self._measured.neighbours
            offers = edits.joins_of(state.shape_map, picture.touching(state.chosen), edges)
        else:
            offers = edits.OFFERS[name](state.shape)

        async def take(number: int) -> None:
            edit = offers[number].edit
            if edit is None:
                await self.run_action(offers[number].action)
            else:
                self._edit(edit)

        if offers:
            self.app.push_screen(ChoiceScreen(view.CHOICES[name], [(one.asks, one.now) for one in offers], take))

    async def action_ask(self, asks: str) -> None:
        if self._state is None or self._state.shape is None:
            return
        self._asks = asks
        await self.open_field(view.ASKED[asks], text=self._state.shape.name if asks == "name" else "", most=_MOST_NAME)

    async def finish_field(self) -> None:
        text = await self.close_field()
        if self._asks == "find":
            self._turn(lambda state: states.shape_called(state, text))
        else:
            self._edit(edits.renamed(text))

    async def action_save(self) -> None:
        await self.save()

    async def save(self) -> bool:
        self._state, said, is_saved = await self._files.save(self._state)
        self._say(said)
        return is_saved

    def unsaved(self) -> str:
        return "" if self.draft() is None else "what is changed in the shapes is not saved"

    def drop(self) -> None:
        self._state = None
        self._files.drop()

    def draft(self) -> object:
        return self._files.draft(self._state)

    def draft_text(self, draft: object) -> str:
        return self._files.draft_text(draft)

    def _edit(self, edit: edits.ShapeEdit) -> None:
        picture = self._picture
        if picture is not None:
            self._turn(lambda state: edits.applied(state, edit, picture.photo))

    def _turn(self, step: Callable[[ShapesState], ShapesState]) -> None:
        if self._state is not None:
            self._take(step(self._state))

    def _take(self, state: ShapesState) -> None:
        before, self._state, self._said = self._state, state, ""
        if before is None or before.shape_map is not state.shape_map:
            self._changed()
            return
        self._view.follow(self._aim())
        self._show()

    def _changed(self) -> None:
        """Follow other shapes: draw them at once, and measure them in their own time."""
        state, picture = self._state, self._picture
        if state is not None and picture is not None:
            picture.follow(state.shape_map)
            self._rest.reset()
            self._rest.resume()
        self._view.redraw()
        self._show()

    def _show_photo(self) -> None:
        picture = self._picture
        if picture is not None:
            self._view.show_photo(
                picture.light, lambda window: picture.dots(window, self._state, self._proposed), picture.photo.finest_px
            )
        self._changed()

    def _measure_anew(self) -> None:
        """Measure all shapes once the painter has rested, where that is not done or being done."""
        self._rest.pause()
        state, picture = self._state, self._picture
        if state is None or picture is None or self._is_measuring or (self._apart or (None,))[0] is state.shape_map:
            return
        self._is_measuring, shape_map, before = True, state.shape_map, self._apart[1] if self._apart else None
        self._ask(lambda: self.Measured(shape_map, picture.measured(shape_map, before)))

    def _say(self, said: str) -> None:
        self._said = said
        self._show()

    def _aim(self) -> "Point":
        centres = {} if self._picture is None else self._picture.centres
        return states.aim_of(self._state, centres, self._view.window)

    def _show(self) -> None:
        beside = self._told()
        self._beside.show(lambda columns, lines: view.beside_lines(beside, columns, lines))
        below = self._said or ("" if self._state is None else view.below_text(self._state))
        self._below.show(lambda columns, _: (view.below_line(below, columns),))
        chips = view.chips_for(self._state, has_problems=bool(self._problems), is_asked=bool(self._proposed))
        self.query_one(ChipRow).show_chips(*chips)
        self._view.show_marks(heads_on(self._view.window, self._picture, self._proposed or ()))

    @property
    def _measured(self) -> Shape | None:
        """What is measured of the chosen shape: all where it is known, else what its own pixels tell."""
        state, picture = self._state, self._picture
        if state is None or picture is None:
            return None
        return view.measured_shape(self._apart, state) or picture.measured_alone(state.chosen)

    @property
    def _problems(self) -> tuple[str, ...]:
        return () if self._files.opened is None or self._are_problems_read else self._files.opened.problems

    def _told(self) -> view.Beside:
        state, picture = self._state, self._picture
        if state is None or picture is None:
            waits = view.waiting_for(self._files.opened, None if self._proposed is None else len(self._proposed))
            return view.Beside(waits=waits, problems=self._problems)
        shown = view.shown_shape(state, picture.photo, self._measured, picture.touching(state.chosen))
        return view.Beside(shown, problems=self._problems, with_figures=self._with_figures)
