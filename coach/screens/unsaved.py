"""Work that is not saved: asked about by name when it would be left, kept beside the plan until it is saved."""

from collections.abc import Awaitable, Callable, Mapping, Sequence
from threading import Lock
from typing import ClassVar, Protocol

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

from coach.screens.chips import chip
from coach.screens.widgets.keys import ChipRow, bindings
from coach.screens.wording import OFFERS


class UnsavedWork(Protocol):
    """A screen that holds work which lies in no file yet."""

    DRAFT: ClassVar[str]
    """The kind of its work, as it is named to the painter."""

    def unsaved(self) -> str:
        """Return what would be lost, such as "2 edits are not saved"; empty where nothing would be."""

    async def save(self) -> bool:
        """Save it; return whether it is saved. Where it is not, the screen says why."""

    def drop(self) -> None:
        """Drop it."""

    def draft(self) -> object:
        """Return what is not saved, None for nothing; equal while nothing has changed."""

    def draft_text(self, draft: object) -> str:
        """Return what `draft` returned as a text that another opening can read."""


class DraftStore(Protocol):
    """Where work that is not saved is kept beside the plan."""

    def load(self) -> dict[str, str]:
        """Return what is kept, by its kind."""

    def put(self, kind: str, text: str) -> None:
        """Keep a text of one kind; an empty one drops it. Where it cannot be kept, nothing is said."""


class DraftKeeper:
    """Keeps what the screens hold unsaved, each time it has changed."""

    def __init__(self, store: DraftStore | None) -> None:
        """Keep in a store, or (None) nowhere."""
        self._store = store
        self._waiting = store.load() if store is not None else {}
        self._kept: dict[str, object] = {}
        self._one_at_a_time = Lock()  # a signal keeps what is there while the tick's thread may still write what was

    @property
    def offers(self) -> tuple[str, ...]:
        """Sentences about work of an earlier opening that no screen has taken up yet."""
        return tuple(OFFERS[kind] for kind in self._waiting if kind in OFFERS)

    def take_up(self, kind: str) -> str:
        """Return the text of work that waits for its screen, which answers for it from now on; empty for none."""
        text = self._waiting.pop(kind, "")
        if text:
            self._kept[kind] = text
        return text

    def changed(self, screens: Sequence[UnsavedWork]) -> list[tuple[UnsavedWork, object]]:
        """Return the screens whose unsaved work is not kept as it is now, each with that work."""
        if self._store is None:
            return []
        found = [(screen, screen.draft()) for screen in screens if screen.DRAFT not in self._waiting]
        return [(screen, draft) for screen, draft in found if draft != self._kept.get(screen.DRAFT)]

    def keep(self, changed: Sequence[tuple[UnsavedWork, object]]) -> None:
        """Keep what has changed; may be called from a thread."""
        with self._one_at_a_time:
            for screen, draft in changed:
                if self._store is not None:
                    self._store.put(screen.DRAFT, "" if draft is None else screen.draft_text(draft))
                self._kept[screen.DRAFT] = draft


class LeavingScreen(ModalScreen[str]):
    """Asks what is to become of unsaved work: the answer is "save", "drop", or empty for staying."""

    CSS_PATH = "unsaved.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("leaving")

    def __init__(self, unsaved: Sequence[str]) -> None:
        super().__init__()
        self._unsaved = unsaved

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(" ".join(f"{one[:1].upper()}{one[1:]}." for one in self._unsaved), markup=False)
            yield ChipRow(chip("leaving.save"), chip("leaving.drop"), chip("leaving.stay"))


async def leave(
    app: App[None],
    screens: Mapping[str, UnsavedWork],
    show: Callable[[str], Awaitable[None]],
    then: Callable[[], Awaitable[None]],
) -> None:
    """Go on with `then` once what is not saved is saved, or dropped by the painter's word.

    Args:
        app: The app, which asks.
        screens: What is left, by the names of the screens.
        show: Shows the screen of a name, so that it can say why it cannot save.
        then: What leaves.
    """
    unsaved = {name: screen for name, screen in screens.items() if screen.unsaved()}

    async def settle(answer: str | None) -> None:
        for name, screen in unsaved.items():
            if answer == "drop":
                screen.drop()
            elif answer == "save":
                if not isinstance(screen, Screen) or app.screen is not screen:
                    await show(name)
                if not await screen.save():
                    return
        if answer:
            await then()

    if unsaved:
        await app.push_screen(LeavingScreen([screen.unsaved() for screen in unsaved.values()]), settle)
    else:
        await then()
