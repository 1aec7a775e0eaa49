"""What a disk, a hand, a signal or another program can do to the coach: python -m tests.bench faults."""

import errno
import fcntl
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, redirect_stderr, redirect_stdout, suppress
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final
from unittest import mock

from coach.cli import main
from coach.errors import CoachError
from coach.journal.events import Event, JournalError, Kind
from coach.journal.reading import Reading
from coach.store.drafts import Draft, draft_file
from coach.store.journal_access import journal_path, open_to_read, open_to_work
from coach.store.plan_file import PlanFile, save_plan
from tests.bench.terminal_faults import Tried, bursts, kills, made_plan, signals, slow_line
from tests.whole.test_hand_made_journals import MADE

_AT: Final = Reading(wall_ms=1_790_000_000_000, offset_s=0, elapsed_ms=1, boot="b")
_LONGEST_S: Final = 20.0


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
                plan = made_plan(Path(new))
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
            plan = made_plan(Path(new))
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


def print_faults(count: int, folder: Path) -> None:
    """Print the table, and what was lost."""
    print(f"{'fault':<36} {'tried':>6} {'survived':>9}")
    for one in faults(count, folder):
        print(f"{one.name:<36} {one.tried:>6} {one.tried - len(one.losses):>9}", flush=True)
        for loss in one.losses[:5]:
            print(f"  {loss}", flush=True)
