"""What a disk, a hand, a signal or another program can do to the coach: python -m tests.bench faults."""

import errno
import fcntl
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, redirect_stderr, redirect_stdout, suppress
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final
from unittest import mock

from coach.cli import main
from coach.errors import CoachError
from coach.journal.events import Event, JournalError, Kind
from coach.journal.reading import Reading
from coach.plan.reading import read_plan
from coach.session.session_service import SessionService
from coach.store.drafts import Draft, draft_file
from coach.store.journal_access import journal_path, open_to_read, open_to_work
from coach.store.plan_file import PlanFile, save_plan
from coach.store.system_clock import SystemClock
from tests.whole.killing import shown
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach
from tests.whole.test_hand_made_journals import MADE

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

_AT: Final = Reading(wall_ms=1_790_000_000_000, offset_s=0, elapsed_ms=1, boot="b")
_LONGEST_S: Final = 20.0
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


def faults(count: int, folder: Path) -> Iterator[Tried]:
    """Try everything, the random ones `count` times, in a folder of its own."""
    for attack in (
        kills,
        signals,
        bursts,
        full_disks,
        failing_calls,
        flips,
        wrong_files,
        foreign_journals,
        locks,
        slow_line,
    ):
        with TemporaryDirectory(dir=folder) as new:
            yield attack(count, Path(new))


def _plan(folder: Path, *, press: bool = True) -> Path:
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
    terminal.until_shown("turn ", "q quit")
    if "not begun" in terminal.text:
        terminal.type("space")
        terminal.until_shown("working")


def kills(count: int, folder: Path) -> Tried:
    """Kill the coach at random moments on every screen; every move that was shown is there."""
    tried, chance, plan = Tried("kills on every screen"), random.Random(1), _plan(folder)  # noqa: S311
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
    tried, plan = Tried("signals on every screen"), _plan(folder)
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
            plan = _plan(Path(new), press=False)
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


_APPENDS: Final = """
import resource, sys
from pathlib import Path
from coach.errors import CoachError
from coach.store.journal_access import open_to_work
from tests.bench.faults import note
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
try:
    access = open_to_work(Path(sys.argv[1]))
    for number in range(60):
        print(access.journal.append(note(f"{number} " + "x" * 400)).seq, flush=True)
except CoachError as error:
    print(str(error).count("\\n"), file=sys.stderr)
"""


def note(text: str) -> Event:
    """Return a note."""
    return Event(seq=0, at=_AT, kind=Kind.NOTED, text=text)


def full_disks(count: int, folder: Path) -> Tried:
    """Let no file grow beyond so many bytes, as on a full disk: what was acknowledged is there, one sentence said."""
    tried, chance = Tried("disk full at every size"), random.Random(2)  # noqa: S311
    for number in range(count):
        plan = folder / f"{number}.yaml"
        most = str(chance.randrange(0, 80_000))
        command = [sys.executable, "-c", _APPENDS, str(plan), most]
        found = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
        acknowledged = [int(line) for line in found.stdout.split()]
        with closing(open_to_work(plan)) as access:
            there = [event.seq for event in access.journal.after(0)]
            is_well = there[: len(acknowledged)] == acknowledged and not access.journal.damage
        tried.check(is_well and found.stderr in {"", "0\n"}, f"{most} bytes: {found.stderr[-300:]}")
    return tried


_CALLS: Final = ("os.open", "os.fsync", "os.link", "os.fdopen", "pathlib.Path.replace", "pathlib.Path.chmod")


def failing_calls(count: int, folder: Path) -> Tried:
    """Let the n-th call of a kind fail while plan and draft are saved: each file is the old one or the new one."""
    del count
    tried = Tried("write and sync errors injected")
    plan, draft = folder / "plan.yaml", draft_file(folder / "plan.yaml")
    for call in _CALLS:
        for fails_at in range(4):
            for code in (errno.ENOSPC, errno.EIO):
                plan.write_text("old")
                draft.put(Draft.NOTE, "old")
                with _failing(call, fails_at, code):
                    for step in (lambda: save_plan(plan, "new", read_text="old"), lambda: draft.put(Draft.NOTE, "new")):
                        with suppress(CoachError):
                            step()
                is_well = plan.read_text() in {"old", "new"} and draft.load()["note"] in {"old", "new"}
                left = [path.name for path in folder.iterdir() if path.name.startswith(".")]
                tried.check(is_well and not left, f"{call} {fails_at}: {left}")
    return tried


def _failing(call: str, fails_at: int, code: int) -> "mock._patch[object]":
    module, _, name = call.rpartition(".")
    real: Callable[..., object] = getattr(Path if module.endswith("Path") else os, name)
    calls = [0]

    def fake(*arguments: object, **options: object) -> object:
        calls[0] += 1
        if calls[0] == fails_at + 1:
            raise OSError(code, os.strerror(code))
        return real(*arguments, **options)

    return mock.patch(call, fake)


def flips(count: int, folder: Path) -> Tried:
    """Turn bits of a journal and cut it, twice `count` times: no other events are read without a word."""
    tried, chance = Tried("flips and cuts of the journal"), random.Random(3)  # noqa: S311
    with closing(open_to_work(folder / "a.yaml")) as access:
        for number in range(200):
            access.journal.append(note(f"{number} {'x' * 60}"))
        sound = [event.text for event in access.journal.after(0)]
    data, copy = (folder / "a.journal").read_bytes(), folder / "b.journal"
    shutil.copy(folder / "a.journal-seen", folder / "b.journal-seen")
    for number in range(2 * count):
        damaged = bytearray(data)
        if number % 3:
            damaged[chance.randrange(len(damaged))] ^= 1 << chance.randrange(8)
        else:
            del damaged[chance.randrange(len(damaged)) :]
        copy.write_bytes(damaged)
        try:
            with closing(open_to_read(copy.with_suffix(".yaml"))) as journal:
                found = [event.text for event in journal.after(0)]
                is_well = found == sound[: len(found)] and bool(journal.damage or found == sound)
        except JournalError:
            is_well = True
        tried.check(is_well, f"damage {number} was not seen")
    return tried


_BESIDE: Final = (
    ".yaml",
    ".journal",
    ".journal-wal",
    ".journal-shm",
    ".journal-seen",
    ".journal-lock",
    ".draft",
    ".saving.yaml",
)


def wrong_files(count: int, folder: Path) -> Tried:
    """Put a link, a pipe, a folder and a device in the place of every file: no hang, no traceback, nothing followed."""
    del count
    tried = Tried("links, pipes, folders and devices")
    for ending in _BESIDE:
        for kind in ("link", "pipe", "folder", "device"):
            (folder / "mine").write_text("mine")
            with TemporaryDirectory(dir=folder) as new:
                plan = _plan(Path(new))
                with closing(open_to_work(plan)) as access:
                    access.journal.append(note("x"))
                _put(kind, Path(new) / f"plan{ending}", folder / "mine")
                program = "import sys; from tests.bench.faults import work; work(sys.argv[1])"
                try:
                    command = [sys.executable, "-c", program, str(plan)]
                    found = subprocess.run(command, capture_output=True, text=True, check=False, timeout=_LONGEST_S)
                    held = "mine# edited\n" if (ending, kind) == (".yaml", "link") else "mine"  # a plan may be a link
                    is_well = found.returncode == 0 and (folder / "mine").read_text() == held
                    tried.check(is_well, f"{kind} for {ending}: {found.stderr[-300:]}")
                except subprocess.TimeoutExpired:
                    tried.check(False, f"{kind} for {ending}: hangs")
    return tried


def _put(kind: str, path: Path, mine: Path) -> None:
    path.unlink(missing_ok=True)
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to(mine if kind == "link" else "/dev/zero")


def work(plan: str) -> None:
    """Do with a plan what a painter does in a session; one sentence is an answer, a traceback is none."""
    path = Path(plan)
    with suppress(CoachError), closing(open_to_work(path)) as access:
        list(access.journal.after(0))
        access.last_seen.write(_AT)
        with suppress(CoachError):
            access.journal.append(note("on"))
    with suppress(CoachError):
        draft_file(path).put(Draft.NOTE, "half")
    with suppress(CoachError):
        text = PlanFile(path).read()
        save_plan(path, text + "# edited\n", read_text=text)
    main(["log", plan])


def foreign_journals(count: int, folder: Path) -> Tried:
    """Read journals made by hand: an answer or one sentence."""
    del count
    tried = Tried("foreign journals")
    for name, make in MADE.items():
        with TemporaryDirectory(dir=folder) as new:
            plan = _plan(Path(new))
            make(journal_path(plan))
            for command in (["log"], ["log", "--hours"], ["log", "--fairness"], ["order"]):
                errors = StringIO()
                with redirect_stdout(StringIO()), redirect_stderr(errors):
                    status = main([*command, str(plan)])
                tried.check(status in {0, 1} and errors.getvalue().count("\n") <= 2, f"{name}: {errors.getvalue()}")
    return tried


def locks(count: int, folder: Path) -> Tried:
    """Let another program hold the folder and the database: it is waited for two seconds and then said."""
    del count
    tried, plan = Tried("another program's locks"), folder / "plan.yaml"
    plan.write_text("old")
    with closing(open_to_work(plan)) as access:
        access.journal.append(note("x"))
    held = os.open(folder, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    tried.check(*_refused_within_s(4, lambda: save_plan(plan, "new", read_text="old")))
    os.close(held)
    with closing(sqlite3.connect(folder / "plan.journal", isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        tried.check(*_refused_within_s(4, lambda: open_to_work(plan)))
    return tried


def _refused_within_s(most_s: float, step: Callable[[], object]) -> tuple[bool, str]:
    begun_s = time.perf_counter()
    try:
        step()
    except CoachError as error:
        taken_s = time.perf_counter() - begun_s
        return taken_s < most_s, f"{error}, after {taken_s:.1f} s"
    return False, "it was not refused"


def slow_line(count: int, folder: Path) -> Tried:
    """Take the picture at 19,200 baud for some seconds: it is never further behind than the line itself can hold."""
    del count
    tried, plan = Tried("a line of 19,200 baud"), _plan(folder)
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


def print_faults(count: int, folder: Path) -> None:
    """Print the table, and what was lost."""
    print(f"{'fault':<36} {'tried':>6} {'survived':>9}")
    for one in faults(count, folder):
        print(f"{one.name:<36} {one.tried:>6} {one.tried - len(one.losses):>9}", flush=True)
        for loss in one.losses[:5]:
            print(f"  {loss}", flush=True)
