"""The real program in a real pseudo-terminal, and the screen it draws, kept in memory."""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import pyte

KEYS: Final = {
    "space": b" ",
    "enter": b"\r",
    "escape": b"\x1b",
    "right": b"\x1b[C",
    "left": b"\x1b[D",
    "up": b"\x1b[A",
    "down": b"\x1b[B",
    "pagedown": b"\x1b[6~",
    "pageup": b"\x1b[5~",
    "tab": b"\t",
    "backspace": b"\x7f",
}
"""What a terminal sends for the keys that have names. Source: ECMA-48 (cursor keys), xterm control sequences."""

_LEFT_OUT: Final = ("NO_COLOR", "COLUMNS", "LINES", "PYTHONDONTWRITEBYTECODE")
"""What the program must not inherit: with the last it would be compiled anew at every start, the framework not."""

_ENDINGS: Final = (signal.SIGHUP, signal.SIGINT, signal.SIGQUIT, signal.SIGTERM)
_MOST_LIFE_S: Final = 600.0

_UNKNOWN = re.compile(rb"\x1b\[(?:[<=>][0-9;:]*|[0-9;:?]*\$)[@-~]")
"""Sequences that the emulator would print as text: private ones marked by < = >, and queries marked by $."""
_UNFINISHED = re.compile(rb"\x1b(?:\[[0-?]*[ -/]*)?\Z")


class RawTerminal:
    """A program in a pseudo-terminal whose output is only handed on, so that watching costs next to nothing."""

    def __init__(self, command: Sequence[str], *, columns: int = 100, lines: int = 30) -> None:
        """Start the program in a window of this size; `started_s` is the clock just before."""
        environment = os.environ | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8"}
        for name in _LEFT_OUT:
            environment.pop(name, None)
        size = struct.pack("HHHH", lines, columns, 0, 0)
        self.started_s = time.perf_counter()
        self.pid, self._descriptor = pty.fork()
        if self.pid == 0:  # the child: nothing but the start of the program
            try:
                for ending in _ENDINGS:  # a run in the background ignores some, and what it starts would too
                    signal.signal(ending, signal.SIG_DFL)
                fcntl.ioctl(0, termios.TIOCSWINSZ, size)
                os.execvpe(command[0], list(command), environment)  # noqa: S606  a shell has no part in it
            finally:
                os._exit(127)
        self.is_open = True
        self.status: int | None = None

    def read(self, wait_s: float) -> bytes:
        """Return what arrives within `wait_s`; empty where nothing does or the program is gone.

        Raises:
            TimeoutError: The program has run longer than any test needs it.
        """
        if time.perf_counter() - self.started_s > _MOST_LIFE_S:
            raise TimeoutError(f"still running after {_MOST_LIFE_S:.0f} s")
        if not self.is_open or not select.select([self._descriptor], [], [], wait_s)[0]:
            return b""
        data = b""
        with suppress(OSError):  # the program is gone and took its side of the terminal along
            data = os.read(self._descriptor, 1 << 16)
        self.is_open = bool(data)
        return data

    def send(self, data: bytes) -> None:
        """Type bytes."""
        os.write(self._descriptor, data)

    def set_size(self, columns: int, lines: int) -> None:
        """Give the window another size; the program is told by the system."""
        fcntl.ioctl(self._descriptor, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))

    def kill(self) -> None:
        """End the program as a power cut would: SIGKILL, nothing is tidied up."""
        if self.status is None:
            os.kill(self.pid, signal.SIGKILL)
            self.wait()

    def wait(self) -> int:
        """Wait for the end of the program and return its exit status, negative for a signal."""
        if self.status is None:
            self.status = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return self.status

    def close(self) -> None:
        """End the program, if it still runs, and give the terminal back."""
        self.kill()
        os.close(self._descriptor)
        self.is_open = False

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close it."""
        self.close()


class Terminal(RawTerminal):
    """A program in a pseudo-terminal, and the screen it draws."""

    def __init__(self, command: Sequence[str], *, columns: int = 100, lines: int = 30) -> None:
        """Start the program in a window of this size."""
        self.screen = pyte.Screen(columns, lines)
        self._emulator = pyte.ByteStream(self.screen)
        self._held = b""
        super().__init__(command, columns=columns, lines=lines)

    @property
    def text(self) -> str:
        """What the screen shows, as one line with single spaces."""
        return " ".join(" ".join(self.screen.display).split())

    def look(self, wait_s: float = 0.0) -> bool:
        """Draw what arrives within `wait_s`; return whether anything did."""
        data = self.read(wait_s)
        if data:
            data = self._held + data
            unfinished = _UNFINISHED.search(data)
            cut = unfinished.start() if unfinished else len(data)
            self._held = data[cut:]
            self._emulator.feed(_UNKNOWN.sub(b"", data[:cut]))
        return bool(data)

    def until(self, claim: Callable[[], bool], *, limit_s: float = 20.0) -> None:
        """Look until `claim()` holds.

        Raises:
            TimeoutError: It did not hold within `limit_s`, or the program ended before; with the screen's text.
        """
        end_s = time.perf_counter() + limit_s
        while not claim():
            is_late = time.perf_counter() >= end_s
            if is_late or (not self.look(0.05) and not self.is_open and not claim()):
                why = f"not seen within {limit_s} s" if is_late else "the program has ended"
                raise TimeoutError(f"{why}; the screen shows:\n" + "\n".join(self.screen.display))

    def until_shown(self, *texts: str, limit_s: float = 20.0) -> None:
        """Look until all these texts are on the screen."""
        self.until(lambda: all(text in self.text for text in texts), limit_s=limit_s)

    def until_quiet(self, quiet_s: float = 0.05, *, limit_s: float = 5.0) -> None:
        """Look until nothing has arrived for `quiet_s`."""
        end_s = time.perf_counter() + limit_s
        while self.look(quiet_s) and time.perf_counter() < end_s:
            pass

    def type(self, *keys: str) -> None:
        """Type keys: a name of `KEYS`, or the text itself."""
        self.send(b"".join(KEYS.get(key, key.encode()) for key in keys))

    def resize(self, columns: int, lines: int) -> None:
        """Give the window another size and wipe the screen, so that only what is drawn anew is seen."""
        self.set_size(columns, lines)
        self.screen.resize(lines, columns)
        self.screen.erase_in_display(2)

    def die(self) -> None:
        """Kill the program, then draw what it had written before."""
        self.kill()
        while self.look(0.0):
            pass

    def leave(self) -> int:
        """Press q and return the exit status."""
        self.type("q")
        self.until(lambda: not self.is_open)
        return self.wait()


def coach(plan: Path, *options: str, columns: int = 100, lines: int = 30) -> Terminal:
    """Return the coach, opened on a plan."""
    command = [sys.executable, "-m", "coach", str(plan), *options]
    return Terminal(command, columns=columns, lines=lines)
