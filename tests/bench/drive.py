"""Programs driven through a pseudo-terminal, and what they take to answer."""

import sys
import time
from pathlib import Path
from typing import Final

import psutil

from tests.whole.terminal import RawTerminal

PAUSE_S: Final = 0.06
"""Pause before a key, so that the answer to the one before has been drawn."""

QUIET_S: Final = 0.15
"""An answer has come whole when nothing has come for so long."""

_LIMIT_S: Final = 60.0
_SPACE: Final = b" "


class Program(RawTerminal):
    """A program whose raw output is watched."""

    def __init__(self, module: str, *arguments: str, ready: bytes, columns: int = 100, lines: int = 30) -> None:
        """Start a module of Python; its first screen is there when `ready` has come."""
        self._ready = ready
        super().__init__([sys.executable, "-m", module, *arguments], columns=columns, lines=lines)

    def start_s(self) -> float:
        """Wait for the first screen and return the seconds since the program was started.

        Raises:
            TimeoutError: The screen did not come, or the program ended before; with the output.
        """
        seen = b""
        while self._ready not in seen:
            if not self.is_open or time.perf_counter() - self.started_s > _LIMIT_S:
                raise TimeoutError(f"{self._ready!r} not seen in {seen!r}")
            seen += self.read(1.0)
        return time.perf_counter() - self.started_s

    def rest(self, span_s: float) -> None:
        """Take in for so long what the program writes."""
        end_s = time.perf_counter() + span_s
        while (left_s := end_s - time.perf_counter()) > 0:
            self.read(left_s)

    def answer_s(self) -> float:
        """Press Space after a pause and return the seconds until the first bytes come.

        Raises:
            TimeoutError: Nothing came.
        """
        self.rest(PAUSE_S)
        pressed_s = time.perf_counter()
        self.send(_SPACE)
        if not self.read(_LIMIT_S):
            raise TimeoutError("the key was not answered")
        return time.perf_counter() - pressed_s

    def whole(self, key: bytes) -> tuple[float, int]:
        """Press a key after a pause; return the seconds until the last byte of the answer, and how many bytes came.

        Raises:
            TimeoutError: Nothing came.
        """
        self.rest(PAUSE_S)
        pressed_s = last_s = time.perf_counter()
        self.send(key)
        count = 0
        while data := self.read(QUIET_S if count else _LIMIT_S):
            last_s, count = time.perf_counter(), count + len(data)
        if not count:
            raise TimeoutError("the key was not answered")
        return last_s - pressed_s, count

    def leave(self) -> None:
        """Press q and wait for the end, as a painter leaves."""
        self.send(b"q")
        end_s = time.perf_counter() + _LIMIT_S
        while self.is_open:
            if time.perf_counter() > end_s:
                raise TimeoutError("the program did not end")
            self.read(1.0)
        self.wait()

    def resident_mib(self) -> float:
        """Return the resident memory in MiB."""
        return float(psutil.Process(self.pid).memory_info().rss) / 2**20

    def processor_s(self) -> float:
        """Return the processor time used so far, on all threads.

        Source:
            Linux, Documentation/scheduler/sched-stats.rst: the first figure of schedstat is the time on the
            processor in ns. Elsewhere psutil's figure, in ticks of about 10 ms.
        """
        threads = list(Path(f"/proc/{self.pid}/task").glob("*/schedstat"))
        if threads:
            return sum(int(thread.read_text(encoding="ascii").split()[0]) for thread in threads) / 1e9
        times = psutil.Process(self.pid).cpu_times()
        return float(times.user + times.system)


def coach(plan: Path, *options: str, columns: int = 100, lines: int = 30) -> Program:
    """Return the coach, just started on a plan."""
    return Program("coach", str(plan), *options, ready=b"turn ", columns=columns, lines=lines)


def bare(*options: str) -> Program:
    """Return the barest app, just started."""
    return Program("tests.bench.bare_app", *options, ready=b"count 0")
