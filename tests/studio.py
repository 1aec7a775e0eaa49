"""A folder of commissions with a clock that is set by hand: commands are typed there, their screens driven by keys."""

import asyncio
import io
import os
from collections.abc import Awaitable, Callable, Iterator
from contextlib import ExitStack, chdir, contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, Final
from unittest.mock import patch

from rich.color import ColorSystem
from textual.app import App
from textual.pilot import Pilot

from coach.cli import main
from coach.store.system_clock import SystemClock
from tests.sessions import SetClock

Act = Callable[[Pilot[Any]], Awaitable[None]]
"""What the painter does on one app, from its first screen on; the app is gone when it returns."""

LOOKS: Final = ("dark", "light", "without colour")
NO_COLOUR: Final = "NO_COLOR"
_RUNNERS: Final = ("coach.screens.terminal", "coach.commands.painting", "coach.commands.new")


class _TerminalText(io.StringIO):
    """A stream that passes for a terminal."""

    def isatty(self) -> bool:
        return True


class Studio:
    """A folder in which the real program runs."""

    def __init__(self, folder: Path, *, size: tuple[int, int] = (80, 24), look: str = "dark") -> None:
        """Work in a folder, in a window of `size` and of one of the `LOOKS`."""
        self.folder, self.size, self.look, self.clock = folder, size, look, SetClock()

    def coach(self, *words: str, acts: tuple[Act, ...] = ()) -> str:
        """Run a command, one act for each app it opens, and return what it prints.

        Raises:
            AssertionError: It says no, or opens fewer apps than there are acts.
        """
        waiting, printed = list(acts), _TerminalText()

        def run_app(app: App[Any], **_: object) -> Any:
            asyncio.run(self._play(app, waiting.pop(0)))
            return app.return_value

        with self._entered(run_app), redirect_stdout(printed), redirect_stderr(printed):
            status = main([*words, *["--light"] * (self.look == "light" and bool(acts))])
        assert (status, waiting) == (0, []), printed.getvalue()
        return printed.getvalue()

    @contextmanager
    def _entered(self, run_app: Callable[..., Any]) -> Iterator[None]:
        clock = self.clock
        with ExitStack() as stack:
            stack.enter_context(chdir(self.folder))
            stack.enter_context(patch.dict(os.environ, XDG_CONFIG_HOME=str(self.folder / ".settings")))
            os.environ.pop(NO_COLOUR, None)
            if self.look == "without colour":
                os.environ[NO_COLOUR] = "1"
            stack.enter_context(patch.object(SystemClock, "read", lambda _: clock.read()))
            stack.enter_context(patch("sys.stdin", _TerminalText()))
            for module in _RUNNERS:
                stack.enter_context(patch(f"{module}.run_app", run_app))
            yield

    async def _play(self, app: App[Any], act: Act) -> None:
        app.console._color_system = ColorSystem.TRUECOLOR
        async with app.run_test(size=self.size) as pilot:
            await pilot.pause()
            await act(pilot)
