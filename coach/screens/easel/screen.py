"""The Easel screen: shows the situation and reports what the painter did."""

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.filter import Monochrome

from coach.screens.easel import wording
from coach.screens.easel.asks import TAKE_AWAY, Ask, asks_of
from coach.screens.easel.layout import Box, layout_of
from coach.screens.easel.picture import EaselPicture, Looked, Wanted, looked_at, says
from coach.screens.easel.rows_view import picture_box
from coach.screens.easel.state import easel_state
from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.keys import bindings
from coach.session import moves
from coach.session.moves import MOST_NOTE, Move
from coach.session.records import Phase
from coach.session.situation import Situation

if TYPE_CHECKING:
    from coach.plan.commission import Plan
    from coach.shapes.reference import Reference

MOVES: Final[dict[str, Move]] = {
    "go_on": moves.go_on,
    "go_other_way": moves.go_other_way,
    "pause": moves.pause,
    "rest": moves.rest,
    "mark": moves.mark,
    "skip": moves.skip,
    "undo": moves.undo,
    "count_away_as_work": moves.count_away_as_work,
    "end_session": moves.end_session,
    "work_ten_more": moves.work_ten_more,
    "silence_today": moves.silence_today,
    "find_dry": moves.find_dry,
    "find_wet": moves.find_wet,
    "take_dry_run": moves.take_dry_run,
}
"""Moves that ask for nothing."""

MOVES_OF_TEXT: Final[dict[str, Callable[[str], Move]]] = {
    "note": moves.noting,
    "minutes": moves.retiming,
}
"""Moves of a text that the field asked for."""

_MOVE_OF_KEY: Final[dict[str, Move]] = {
    "go_on": moves.go_on,
    "other": moves.go_other_way,
    "note": moves.noting("a"),
    "mark": moves.mark,
    "drop": moves.skip,
    "change": moves.retiming("0.001"),
    "undo": moves.undo,
    "pause": moves.pause,
    "rest": moves.rest,
    "end": moves.end_session,
}
"""A move that each key of the Easel may make, by the key's name."""


_CAN_WAIT: Final = frozenset({"take_dry_run", "find_dry", "find_wet"})


class EaselScreen(FieldScreen):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
    DRAFT: ClassVar[str] = "note"
    BINDINGS: ClassVar[list[BindingType]] = bindings("easel")

    def __init__(
        self,
        make: Callable[[Move], bool],
        allows: Callable[[Move], bool],
        begun_note: Callable[[], str],
        load_reference: "Callable[[Plan], Reference | None] | None" = None,
        *,
        is_picture_asked: bool = False,
    ) -> None:
        """Show nothing yet.

        Args:
            make: Records a move and returns whether it is recorded. It is called, and no message sent, so that no key
                comes upon an easel that is not true any more.
            allows: Returns whether a move makes sense now.
            begun_note: Returns the note that an earlier opening left unfinished; empty for none.
            load_reference: Returns the plan's photo; it takes time and is called in a thread. None shows no photo.
            is_picture_asked: Whether the photo is shown only when it is asked for.
        """
        super().__init__()
        self._make, self._allows = make, allows
        self._board, self._picture = LineBoard(), EaselPicture(load_reference)
        self._asked = ""
        self._asks: tuple[Ask, ...] = ()
        self._dismissed: set[str] = set()
        self._begun_note = begun_note
        self._is_picture_asked = is_picture_asked
        self._turned: tuple[object, frozenset[str]] = (None, frozenset())
        self._page = ""
        self._wanted: Wanted | None = None
        self._last: tuple[Situation, tuple[str, ...], tuple[str, ...]]

    def compose(self) -> ComposeResult:
        yield self._board
        yield self._picture
        yield FieldPlace()

    def show(self, situation: Situation, replies: tuple[str, ...], later: tuple[str, ...] = ()) -> None:
        """Show a situation with what else is to be said; the picture follows when the letters are drawn."""
        self._last = (situation, replies, later)
        if situation.phase is Phase.WORKING:
            self._dismissed.discard(wording.RAGS)
        later = (self._picture.fault, *later) if self._picture.fault else later
        asks = tuple(asks_of(situation, replies, later))
        self._asks = tuple(ask for ask in asks if ask.notice.says not in self._dismissed)
        looked = self._looked
        context = ViewContext(
            notices=tuple(ask.notice for ask in self._asks),
            asks_away=any(ask.yes == "count_away_as_work" for ask in self._asks),
            has_photo=self._picture.has_photo(situation.plan),
            is_photo_beside=not self._is_picture_asked,
            picture_says=says(looked, is_colour=self._is_colour),
            is_mirrored=looked.is_mirrored,
            is_upside_down=looked.is_upside_down,
            shows_facts=self._page == "facts",
            is_picture_alone=self._page == "picture",
        )
        self._board.show(lambda columns, lines: easel_view(situation, context, columns, lines))
        self._want_picture()

    def _want_picture(self) -> None:
        situation = self._last[0]
        is_off, is_alone = easel_state(situation).is_off, self._page == "picture"
        wanted = Wanted(situation.plan, self._looked, self._picture_box, is_alone, is_off)
        if wanted != self._wanted:
            self._wanted = wanted
            self.call_after_refresh(self._picture.show_photo, wanted)

    @property
    def _is_colour(self) -> bool:
        is_monochrome = any(isinstance(one, Monochrome) for one in self._board.get_line_filters())
        return not is_monochrome and self.app.console.color_system in ("256", "truecolor")

    @property
    def _looked(self) -> Looked:
        situation = self._last[0]
        of_turn, turned = self._turned
        return looked_at(situation, turned if of_turn == situation.turn else ())

    @property
    def _picture_box(self) -> Box | None:
        """Where the picture stands now; None where it does not."""
        plan, size = self._last[0].plan, self._board.size
        columns = max(1, size.width - 2)
        if not self._picture.has_photo(plan) or self._page == "facts":
            return None
        if self._page == "picture":
            return picture_box(columns, size.height)
        if self._is_picture_asked:
            return None
        layout = layout_of(plan.canvases, columns, size.height, has_picture=True)
        return layout.picture if layout else None

    def on_easel_picture_loaded(self) -> None:
        self._wanted = None
        self.show(*self._last)

    def on_resize(self) -> None:
        self.call_after_refresh(self._want_picture)

    def on_half_blocks_spanned(self, event: HalfBlocks.Spanned) -> None:
        """Show the picture alone, or beside the letters again: it was clicked."""
        if event.is_over:
            self.action_enlarge(self._page != "picture")

    def action_enlarge(self, is_alone: bool) -> None:
        self._show_page("picture" if is_alone and self._picture.has_photo(self._last[0].plan) else "")

    def action_toggle_facts(self) -> None:
        self._show_page("" if self._page == "facts" else "facts")

    def action_toggle_mirror(self) -> None:
        self._turn_picture(wording.MIRRORED)

    def action_toggle_upside_down(self) -> None:
        self._turn_picture(wording.UPSIDE_DOWN)

    def _turn_picture(self, way: str) -> None:
        of_turn, turned = self._turned
        turn = self._last[0].turn
        self._turned = (turn, (turned if of_turn == turn else frozenset()) ^ {way})
        self.show(*self._last)

    def _show_page(self, page: str) -> None:
        self._page = page
        self.show(*self._last)

    def offers(self, name: str) -> bool:
        """Return whether a key of the Easel, by its name, does something now."""
        ask, is_pictured = self._asks[0] if self._asks else None, self._picture_box is not None
        of_screen = {
            "yes": bool(ask and ask.yes) or self._allows(moves.go_on),
            "no": bool(self._page or (ask and ask.no)),
            "larger": self._page != "picture" and self._picture.has_photo(self._last[0].plan),
            "smaller": self._page == "picture",
            "mirror": is_pictured,
            "upside_down": is_pictured,
        }
        move = _MOVE_OF_KEY.get(name)
        return of_screen.get(name, move is None or self._allows(move))

    def says(self, name: str) -> str:
        """Return what Space, or Enter, does now; empty where it is what the table of keys says."""
        now = wording.GO_ON.get(easel_state(self._last[0]), "")
        return {"go_on": now.capitalize(), "yes": now and f"Yes to the notice; without one: {now}"}.get(name, "")

    @property
    def must_be_answered(self) -> bool:
        """Whether a notice waits for an answer that is recorded, and that cannot wait for the next turn."""
        return any({ask.yes, ask.no} - {"", TAKE_AWAY, *_CAN_WAIT} for ask in self._asks)

    async def action_answer(self, is_yes: bool) -> None:
        """Answer the notice that is shown; where Enter answers nothing it goes on, and Esc leads back."""
        if self.field is not None:
            await (self.finish_field() if is_yes else self.close_field())
            return
        ask = self._asks[0] if self._asks else None
        move = ask and (ask.yes if is_yes else ask.no)
        if not is_yes and self._page:
            self._show_page("")
        elif ask is not None and move == TAKE_AWAY:
            self._dismissed.add(ask.notice.says)
            self.show(*self._last)
        elif move or is_yes:
            await self.action_move(move or "go_on")

    async def action_move(self, name: str) -> None:
        await self.finish_field()  # a pedal pressed meanwhile loses nothing
        self._make(MOVES[name])

    async def action_open_field(self, asked: str) -> None:
        if self.field is None:
            self._asked = asked
            text = self._begun_note() if asked == "note" else ""
            await self.open_field(wording.FIELDS[asked], text=text, most=MOST_NOTE)

    async def finish_field(self) -> None:
        """Keep what stands in an open field; what is refused, such as by a full disk, stays in it."""
        if self.field is not None:
            text = self.field.value
            if not text.strip() or self._make(MOVES_OF_TEXT[self._asked](text)):
                await self.close_field()

    def unsaved(self) -> str:
        return "a note is not finished" if self.draft() else ""

    async def save(self) -> bool:
        await self.finish_field()
        return self.field is None

    def drop(self) -> None:
        if self.field is not None:
            self.field.value = ""

    def draft(self) -> str | None:
        text = self.field.value if self.field is not None and self._asked == "note" else ""
        return text if text.strip() else None

    def draft_text(self, draft: object) -> str:
        return str(draft)
