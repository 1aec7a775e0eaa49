"""Learns the key that a pedal or a remote sends: it is pressed once, and what it means is chosen."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from textual import events
from textual.app import ComposeResult

from coach.errors import CoachError
from coach.screens import wording
from coach.screens.chips import Chip, chip_line, key_name
from coach.screens.choice import ChoiceScreen
from coach.screens.key_path import KeyPathApp
from coach.screens.key_table import KEYS
from coach.screens.lines import BLANK, Line, Role
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.board import LineBoard
from coach.text import paragraphs, sanitized


class PedalApp(KeyPathApp[None]):
    """Asks for a key and for what it means, as often as wanted."""

    def __init__(
        self,
        meanings: Sequence[str],
        learned: Mapping[str, str],
        keep: Callable[[Mapping[str, str]], None],
        *,
        said: str = "",
        light: bool = False,
    ) -> None:
        """Begin.

        Args:
            meanings: What a key can mean.
            learned: What each learned key means already.
            keep: Keeps what is learned.
            said: A sentence to begin with; empty for none.
            light: Whether ink is dark on a light ground.
        """
        super().__init__()
        self._meanings, self._means, self._keep, self._said = meanings, dict(learned), keep, said
        self._board = LineBoard()
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def compose(self) -> ComposeResult:
        yield self._board

    def on_mount(self) -> None:
        self._show()

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key) and not event.is_forwarded and len(self.screen_stack) == 1:
            await self._take(event.key)
        else:
            await super().on_event(event)

    async def _take(self, key: str) -> None:
        if key == "escape":
            self.exit()
            return
        known = next((use for use in (*KEYS["easel"], *KEYS["app"]) if key in use.keys.split(",")), None)
        if known is not None:
            self._said = wording.works_already(_named(key), known.says)
            self._show()
            return

        async def take(number: int) -> None:
            self._learn(key, (*self._meanings, "")[number])

        choices = [(meaning, "") for meaning in (*self._meanings, wording.NOTHING)]
        await self.push_screen(ChoiceScreen(wording.came(_named(key)), choices, take))

    def _learn(self, key: str, meaning: str) -> None:
        self._means.pop(key, None)
        if meaning:
            self._means[key] = meaning
        try:
            self._keep(self._means)
        except CoachError as error:
            self._said = str(error)
        else:
            self._said = wording.means(_named(key), meaning)
        self._show()

    def _show(self) -> None:
        self._board.show(lambda columns, lines: tuple(self._lines(columns, lines)))

    def _lines(self, columns: int, lines: int) -> Iterator[Line]:
        said = [(wording.PRESS, Role.CANVAS), (self._said, Role.NOTICE)]
        said += [(f"{_named(key)}  {meaning}", Role.DETAIL) for key, meaning in self._means.items()]
        rows = [Line(row, role) for text, role in said for row in paragraphs([text], columns)]
        yield from (rows + [BLANK] * lines)[: max(0, lines - 1)]
        yield chip_line((Chip("escape", "leave"),), columns)


def _named(key: str) -> str:
    """Return a key as it is written on the screen; one that a file named is data."""
    return sanitized(key_name(key)).replace("_", " ")
