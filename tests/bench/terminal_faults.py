"""What a kill, a signal, a held key and a slow line can do to the coach in a terminal: part of the table of faults."""

import os
import random
import signal
import time
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from coach.plan.reading import read_plan
from coach.session.session_service import SessionService
from coach.store.journal_access import open_to_work
from coach.store.plan_file import PlanFile
from coach.store.system_clock import SystemClock
from tests.whole.killing import shown
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach

SCREENS: Final = {
    "easel": (),
    "note half typed": ("n", "cooler in the sh"),
    "log": ("l",),
    "deadline": ("g",),
    "plan": ("v",),
    "plan with edits": ("v", "down", "down", "m", "2", "5", "enter"),
    "composition": ("i",),
}
"""Keys that lead from the Easel to every screen, and to work that is not saved there."""

_BYTES_IN_100_MS: Final = 192
"""At 19,200 baud, ten bits a byte."""

_MOST_WAITING: Final = 64 * 1024


@dataclass(slots=True)
class Tried:
    """One line of the table: how often something was tried, and what was lost or not as it must be."""

    name: str
    tried: int = 0
    losses: list[str] = field(default_factory=list)

    def check(self, is_well: bool, what: str) -> None:
        """Count one more, and what is lost if it is not well."""
        self.tried += 1
        if not is_well:
            self.losses.append(what)


def made_plan(folder: Path, *, press: bool = True) -> Path:
    """Return a plan of 800 turns in a folder; with `press` every key counts."""
    plan = folder / "plan.yaml"
    text = plan_text(20, 20)
    plan.write_text(text if press else "\n".join(line for line in text.splitlines() if "press" not in line) + "\n")
    return plan


def _turns(plan: Path) -> int:
    """Return the number of the turn that a fresh replay of the journal stands at; -1 for damage."""
    file = PlanFile(plan)
    with closing(open_to_work(plan)) as access:
        services = [
            SessionService(
                plan=read_plan(file.read(), file.name),
                journal=access.journal,
                clock=SystemClock(),
                source=file,
                last_seen=access.last_seen,
            )
            for _ in range(2)
        ]
        one, other = (service.situation() for service in services)
        if access.journal.damage or access.journal.notice or one.turn != other.turn or one.turn_no != other.turn_no:
            return -1
        return one.turn_no


def _begin(terminal: Terminal) -> None:
    terminal.until_shown("turn ", "what else")
    if "Space begin" in terminal.text:
        terminal.type("space")
        terminal.until_shown("Space done")


def kills(count: int, folder: Path) -> Tried:
    """Kill the coach at random moments on every screen; every move that was shown is there."""
    tried, chance, plan = Tried("kills on every screen"), random.Random(1), made_plan(folder)  # noqa: S311
    for number in range(count):
        name, keys = list(SCREENS.items())[number % len(SCREENS)]
        with coach(plan, columns=100, lines=30) as terminal:
            _begin(terminal)
            wanted = shown(terminal).turn + 1
            terminal.type("space")
            terminal.until(lambda wanted=wanted: shown(terminal).turn == wanted)  # type: ignore[misc]
            for key in keys:
                terminal.type(key)
                terminal.look(chance.uniform(0.0, 0.1))
            terminal.look(chance.uniform(0.0, 0.5))
            terminal.die()
        found = _turns(plan)
        tried.check(found == wanted, f"{name}: turn {wanted} was shown, now {found}")
    return tried


def signals(count: int, folder: Path) -> Tried:
    """End the coach by each signal on every screen; the terminal is given back and nothing shown is lost."""
    tried, plan = Tried("signals on every screen"), made_plan(folder)
    cases = [(name, one) for name in SCREENS for one in (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)]
    for name, one in cases[: max(1, min(count, len(cases)))]:
        with coach(plan, columns=100, lines=30) as terminal:
            _begin(terminal)
            turn = shown(terminal).turn
            for key in SCREENS[name]:
                terminal.type(key)
                terminal.until_quiet()
            os.kill(terminal.pid, one)
            said = b""
            while terminal.is_open:
                said += terminal.read(1.0)
            is_plain = all(code in said for code in (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?1003l"))
            tried.check(is_plain and terminal.wait() == 128 + one, f"{name}, {one.name}: {terminal.status}")
        found = _turns(plan)
        tried.check(found == turn, f"{name}, {one.name}: turn {turn} was shown, now {found}")
    return tried


def bursts(count: int, folder: Path) -> Tried:
    """Hold a key down, with 0 to 20 ms between its repeats: it counts once."""
    tried = Tried("bursts at 0 to 20 ms")
    for number in range(max(1, min(count, 5))):
        with TemporaryDirectory(dir=folder) as new:
            plan = made_plan(Path(new), press=False)
            with coach(plan, columns=100, lines=30) as terminal:
                _begin(terminal)
                end_s = time.perf_counter() + 1.6
                while time.perf_counter() < end_s:
                    terminal.look(0.05)
                for _ in range(40):
                    terminal.type("space")
                    terminal.look(0.005 * number)
                terminal.until_quiet(0.3)
                turn = shown(terminal).turn
                terminal.die()
            tried.check(turn == _turns(plan) == 2, f"{5 * number} ms apart: turn {turn}")
    return tried


def slow_line(count: int, folder: Path) -> Tried:
    """Take the picture at 19,200 baud for some seconds: it is never further behind than the line itself can hold."""
    del count
    tried, plan = Tried("a line of 19,200 baud"), made_plan(folder)
    with coach(plan, columns=200, lines=60) as terminal:
        _begin(terminal)
        terminal.set_size(180, 50)
        for _ in range(80):
            terminal.type("space")
            time.sleep(0.1)
            taken = os.read(terminal._descriptor, _BYTES_IN_100_MS)
            terminal._emulator.feed(taken)
        begun_s = time.perf_counter()
        waiting = 0
        while data := terminal.read(0.3):
            waiting += len(data)
        tried.check(waiting < _MOST_WAITING, f"{waiting} bytes waited, {time.perf_counter() - begun_s:.1f} s")
        terminal.die()
    return tried
