"""The one path of every key, and the screens on which a field can be open.

The framework hands letters to a field at once, but Backspace, Enter and the keys of a screen only after they have gone
from queue to queue up to the app: typed fast, or pasted, they change places. Here the app takes every key in the order
in which it came, and is done with it before it takes the next.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Protocol, TypeVar, runtime_checkable

from textual import events
from textual.app import App
from textual.screen import Screen
from textual.widget import Widget

from coach.screens.key_table import KEYS, MEANINGS

if TYPE_CHECKING:
    from coach.screens.widgets.field import Field

Returned = TypeVar("Returned")

HELP_KEYS: Final = tuple(MEANINGS["help"][0].split(","))


@runtime_checkable
class Offering(Protocol):
    """A screen, or the app, that knows which of its keys do something now."""

    def offers(self, name: str) -> bool:
        """Return whether the key of that name does something now."""


@runtime_checkable
class Saying(Protocol):
    """A screen on which a key does now one thing and now another."""

    def says(self, name: str) -> str:
        """Return what the key of that name does now; empty for what the table of keys says."""


class FieldPlace(Widget):
    """Where a field lies: over the last line of its screen, and nowhere while there is none.

    A field that came and went on the screen itself would have the whole screen sent to the terminal again.
    """

    DEFAULT_CSS = """
    FieldPlace { layer: field; dock: bottom; height: 0; }
    """


class FieldScreen(Screen[None]):
    """A screen on which a field can be open; it composes a `FieldPlace` for it."""

    field: "Field | None" = None
    """The field, while it is open."""

    async def open_field(self, asks: str, *, text: str = "", most: int) -> "Field":
        """Open a field that says what it asks for and return it; it takes the next key."""
        from coach.screens.widgets.field import Field  # noqa: PLC0415  the first screen has no field

        field = Field(asks=asks, text=text, most=most)
        place = self.query_one(FieldPlace)
        place.styles.height = 1
        await place.mount(field)
        self.field = field
        return field

    async def close_field(self) -> str:
        """Close the field and return what stood in it; an empty text where none is open."""
        field, self.field = self.field, None
        if field is None:
            return ""
        text = field.value
        await field.remove()
        self.query_one(FieldPlace).styles.height = 0
        return text

    async def finish_field(self) -> None:
        """Take what stands in the field: Enter was pressed."""
        raise NotImplementedError


class PassingScreen(Screen[None]):
    """A screen that goes when a key comes that is not its own, and leaves that key to the screen below.

    The page behind `?` lies over it, so that Esc there leads back to it.
    """


class KeyPathApp(App[Returned]):
    """An app that is done with each key before it takes the next.

    Letters are letters: neither Caps Lock nor Shift changes what one does outside a field.
    """

    ALLOW_SELECT = False
    ENABLE_COMMAND_PALETTE = False
    pressed = ""
    """The key that is dealt with."""

    learned: Mapping[str, str] = MappingProxyType({})
    """The key that each learned key stands for on the first screen, such as that of a pedal."""

    def action_press(self, key: str) -> None:
        """Do what a key does, in its turn: something was clicked."""
        self.simulate_key(key)

    async def action_help(self) -> None:
        """Show what can be pressed now."""
        from coach.screens.help.screen import HelpScreen  # noqa: PLC0415  the first screen has no help yet

        able = {active.binding.id for active in self.screen.active_bindings.values() if active.enabled}
        found = [
            use._replace(says=self._says(screen, use.name) or use.says)
            for screen, uses in KEYS.items()
            for use in uses
            if f"{screen}.{use.name}" in able and self._offers(screen, use.name)
        ]
        moments = list(dict.fromkeys(use.moment for use in found))
        await self.push_screen(HelpScreen(sorted(found, key=lambda use: moments.index(use.moment))))

    def _offers(self, holder: str, name: str) -> bool:
        """Return whether a key of the app, or of the screen that is shown, does something now."""
        asked = self if holder == "app" else self.screen
        return asked.offers(name) if isinstance(asked, Offering) else True

    def _says(self, holder: str, name: str) -> str:
        """Return what a key of the screen that is shown does now, where that is another thing than usual."""
        return self.screen.says(name) if holder != "app" and isinstance(self.screen, Saying) else ""

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key) and not event.is_forwarded:
            event = self._meant(event)
        if event.is_forwarded or not (
            (isinstance(event, events.Key) and await self._take_key(event))
            or (isinstance(event, events.Paste) and self._take_paste(event))
        ):
            await super().on_event(event)

    def _meant(self, event: events.Key) -> events.Key:
        """Return the key that is meant: on the first screen that of a learned one, elsewhere a letter without Shift."""
        is_typed = self._open_field is not None
        if len(self.screen_stack) == 1 and event.key in self.learned and not (is_typed and event.is_printable):
            return events.Key(self.learned[event.key], None)
        return event if is_typed else _without_shift(event)

    @property
    def _open_field(self) -> "Field | None":
        return self.screen.field if isinstance(self.screen, FieldScreen) else None

    async def _take_key(self, event: events.Key) -> bool:
        """Return whether a key is dealt with; a list that has the focus takes its keys by itself."""
        screen = self.screen
        own = screen._bindings.key_to_bindings  # noqa: SLF001
        if isinstance(screen, PassingScreen) and event.key not in own and event.key not in HELP_KEYS:
            await self.pop_screen()
            screen = self.screen
        field = self._open_field
        if field is None and self.focused is not None:
            return False
        self.app_focus, self.pressed = True, event.key
        if await self._check_bindings(event.key, priority=True) or (field is not None and await field.take(event)):
            return True
        if field is not None and event.key == "enter" and isinstance(screen, FieldScreen):
            await screen.finish_field()
        else:
            await self._check_bindings(event.key)
        return True

    def _take_paste(self, event: events.Paste) -> bool:
        field = self._open_field
        if field is not None:
            field.type_in(" ".join(event.text.split()))
        return field is not None


def _without_shift(event: events.Key) -> events.Key:
    """Return the key of a letter as it is without Caps Lock and Shift; any other key as it is."""
    letter = event.key.removeprefix("shift+")
    if len(letter) == 1 and letter.isalpha() and event.key != letter.lower():
        return events.Key(letter.lower(), event.character)
    return event
