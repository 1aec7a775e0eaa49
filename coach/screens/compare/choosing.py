"""Choosing which photos are compared, and of which canvases."""

from collections.abc import Callable

from coach.plan.commission import Canvas
from coach.screens.choice import ChoiceScreen
from coach.screens.compare import wording
from coach.screens.compare.repository import OpenedCanvases
from coach.screens.key_path import FieldScreen

Pair = tuple[Canvas, Canvas]
Read = Callable[[tuple[str, str], Pair], None]
"""Reads two photos, by their names, of two canvases."""

_TWO = 2
_MOST_NAME = 300


class PhotoChoice:
    """Asks for the first photo, then for the second, then, where there are more than two canvases, for two of them."""

    def __init__(self, screen: FieldScreen, opened: OpenedCanvases, read: Read) -> None:
        """Ask on a screen; nothing is asked yet."""
        self._screen, self._opened, self._read = screen, opened, read
        self._names: tuple[str, ...] = ()

    async def ask(self) -> None:
        """Ask for the next photo: one of the folder, or another one whose name is typed."""
        offered = [one for one in self._opened.offered if one.name not in self._names]

        async def take(number: int) -> None:
            if number < len(offered):
                await self.take_name(offered[number].name)
            else:
                await self._screen.open_field(wording.FILE_NAME, most=_MOST_NAME)

        if not offered:
            await take(0)
            return
        choices = [*((one.name, one.problem or one.taken) for one in offered), (wording.TYPE_IT, "")]
        asks = wording.WHICH_SECOND if self._names else wording.WHICH_FIRST
        self._screen.app.push_screen(ChoiceScreen(asks, choices, take))

    async def take_name(self, name: str) -> None:
        """Take a photo that was chosen or typed, and ask on."""
        self._names = (*self._names, name)
        if len(self._names) < _TWO:
            await self.ask()
        else:
            self.ask_canvases((self._names[0], self._names[1]))

    def ask_canvases(self, names: tuple[str, str]) -> None:
        """Read two photos; of more than two canvases the painter chooses which are in them."""
        canvases = self._opened.canvases
        pairs = [(one, other) for no, one in enumerate(canvases) for other in canvases[no + 1 :]]

        async def take(number: int) -> None:
            self._read(names, pairs[number])

        if len(pairs) == 1:
            self._read(names, pairs[0])
        else:
            choices = [(f"{one.name} and {other.name}", "") for one, other in pairs]
            self._screen.app.push_screen(ChoiceScreen(wording.WHICH_PAIR, choices, take))
