"""The figures: each function measures one of them, or a few that belong together, several times over."""

import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from coach.plan.reading import read_plan
from coach.session.journal_state import JournalState
from coach.session.ordering import names_of, planned_orders
from coach.session.work import runs_of_work, turns_ahead, work_of
from tests.bench import made
from tests.bench.drive import PAUSE_S, Program, bare, coach
from tests.whole.killing import kill_often
from tests.whole.made_plans import plan_text

_KEYS: Final = 25
_IDLE_S: Final = 20.0
_FRAME_MS: Final = 1000 / 60
_PHOTO_S: Final = 3.0
"""By then the photo is read."""

_TO_THE_FACE: Final = 40
"""Turns of transfer and block-in in the orchard plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One line of the table.

    Attributes:
        name: What was measured.
        unit: Unit of `measured`, `baseline` and `most`.
        measured: The coach's figure.
        baseline: What it is held against, or None.
        most_frac: The most that the ratio of the two may be, or None.
        most: The most that `measured` may be, or None.
    """

    name: str
    unit: str
    measured: float
    baseline: float | None = None
    most_frac: float | None = None
    most: float | None = None

    @property
    def ratio_frac(self) -> float | None:
        """Return measured / baseline; None without a baseline."""
        return self.measured / self.baseline if self.baseline else None

    @property
    def is_met(self) -> bool | None:
        """Return whether the bound is kept; None without a bound."""
        if self.most is not None:
            return self.measured <= self.most
        if self.most_frac is None or self.ratio_frac is None:
            return None
        return self.ratio_frac <= self.most_frac


def _median_pair(runs: int, ours: Callable[[], float], base: Callable[[], float]) -> tuple[float, float]:
    """Measure the two in turn, so that both meet the same state of the machine, and return the medians."""
    pairs = [(ours(), base()) for _ in range(runs)]
    return median(one for one, _ in pairs), median(other for _, other in pairs)


def _start_s(program: Program) -> float:
    with program:
        taken_s = program.start_s()
        program.leave()
        return taken_s


def start(runs: int, folder: Path) -> list[Figure]:
    """Measure the start on the demo plan."""
    plan = made.opened_demo(folder)
    ours_s, base_s = _median_pair(runs, lambda: _start_s(coach(plan)), lambda: _start_s(bare()))
    return [Figure(name="start, demo plan", unit="s", measured=ours_s, baseline=base_s, most_frac=1.5)]


def first(runs: int, folder: Path) -> list[Figure]:
    """Measure the first opening of the demo plan, when nothing lies beside it."""

    def first_s() -> float:
        with TemporaryDirectory(dir=folder) as new:
            return _start_s(coach(made.demo_plan(Path(new))))

    ours_s, base_s = _median_pair(runs, first_s, lambda: _start_s(bare()))
    return [Figure(name="first opening, demo plan", unit="s", measured=ours_s, baseline=base_s)]


def large(runs: int, folder: Path) -> list[Figure]:
    """Measure the start on a commission of full size."""
    plan = made.full_commission(folder)
    ours_s, base_s = _median_pair(runs, lambda: _start_s(coach(plan)), lambda: _start_s(bare()))
    name = "start, 1,000 runs, 3,000 passages, 30,600 events"
    return [Figure(name=name, unit="s", measured=ours_s, baseline=base_s, most_frac=2)]


def _answers_ms(program: Program) -> list[float]:
    with program:
        program.start_s()
        program.answer_s()  # begins the session
        answers = [program.answer_s() * 1000 for _ in range(_KEYS)]
        program.leave()
        return answers


def _appends_ms(folder: Path) -> list[float]:
    taken = []
    with closing(made.durable_table(folder)) as connection:
        for _ in range(_KEYS):
            time.sleep(PAUSE_S)
            begun_s = time.perf_counter()
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO event (body) VALUES (?)", ("x" * 100,))
            connection.execute("COMMIT")
            taken.append((time.perf_counter() - begun_s) * 1000)
    return taken


def key(runs: int, folder: Path) -> list[Figure]:
    """Measure the time from a key to the changed screen, in a plan of 400 turns."""
    ours: list[float] = []
    base: list[float] = []
    appends: list[float] = []
    for _ in range(runs):
        with TemporaryDirectory(dir=folder) as new:
            ours += _answers_ms(coach(made.made_plan(Path(new), passes=2, passages=100)))
            base += _answers_ms(bare())
            appends += _appends_ms(Path(new))
    bare_ms, append_ms = median(base), median(appends)
    allowed_ms = 2 * bare_ms + append_ms
    name = "key to screen, against 2 x bare + append"
    return [
        Figure(name=name, unit="ms", measured=median(ours), baseline=allowed_ms, most_frac=1),
        Figure(name="  the same without the append", unit="ms", measured=median(ours) - append_ms, most=_FRAME_MS),
        Figure(name="  key to screen, bare app", unit="ms", measured=bare_ms),
        Figure(name="  one durable append", unit="ms", measured=append_ms),
    ]


def picture(runs: int, folder: Path) -> list[Figure]:
    """Measure what goes out where the picture stays and where it changes, in a window of 120 x 40 with the photo.

    Letters, bar and time are what goes out without the photo; that they go out first a test of the Easel holds.
    """
    taken_s, base_s, appends = [], [], []
    for _ in range(min(runs, 3)):
        with (
            TemporaryDirectory(dir=folder) as new,
            coach(made.pictured_plan(Path(new)), columns=120, lines=40) as program,
        ):
            program.start_s()
            program.rest(_PHOTO_S)
            program.whole(b" ")
            taken_s += [program.whole(b"m")[0] for _ in range(_KEYS)]
            program.leave()
            appends += _appends_ms(Path(new))
        with bare() as program:
            program.start_s()
            base_s += [program.whole(b" ")[0] for _ in range(_KEYS)]
            program.leave()
    letters, both = (_most_sent(folder, *options) for options in (("--words-only",), ()))
    allowed_ms = 2 * 1000 * median(base_s) + median(appends)
    name = "key to whole screen, the picture stays"
    return [
        Figure(name=name, unit="ms", measured=1000 * median(taken_s), baseline=allowed_ms, most_frac=1),
        Figure(name="turn changes: letters, bar and time, the most", unit="KiB", measured=letters / 1024, most=8),
        Figure(name="  the picture, the most", unit="KiB", measured=(both - letters) / 1024, most=64),
    ]


def _most_sent(folder: Path, *options: str) -> int:
    """Return the most bytes that go out when a turn changes, over turns in the features of the face."""
    with TemporaryDirectory(dir=folder) as new:
        plan = made.pictured_plan(Path(new))
        with coach(plan, *options, columns=120, lines=40) as program:
            program.start_s()
            program.rest(_PHOTO_S)
            program.whole(b" ")  # begins the session
            for _ in range(_TO_THE_FACE):
                program.whole(b"x")
            sent = [program.whole(b"x")[1] for _ in range(_KEYS)]
            program.leave()
    return max(sent)


def _resident_mib(program: Program) -> float:
    with program:
        program.start_s()
        for _ in range(_KEYS):
            program.answer_s()
        program.rest(PAUSE_S)
        resident_mib = program.resident_mib()
        program.leave()
        return resident_mib


def memory(runs: int, folder: Path) -> list[Figure]:
    """Measure the resident memory after some keys."""

    def ours() -> float:
        with TemporaryDirectory(dir=folder) as new:
            return _resident_mib(coach(made.opened_demo(Path(new))))

    ours_mib, base_mib = _median_pair(min(runs, 3), ours, lambda: _resident_mib(bare()))
    return [Figure(name="resident memory", unit="MiB", measured=ours_mib, baseline=base_mib, most_frac=1.3)]


def _idle_ms(program: Program, span_s: float) -> float:
    with program:
        program.start_s()
        program.answer_s()
        program.rest(1.0)
        before_s = program.processor_s()
        program.rest(span_s)
        used_s = program.processor_s() - before_s
        program.leave()
        return used_s * 1000 / span_s


def idle(runs: int, folder: Path) -> list[Figure]:
    """Measure the processor time while a session stands and only the clock goes on, `_IDLE_S` for each in all."""
    plan = made.demo_plan(folder)
    turns = min(runs, 2)
    span_s = _IDLE_S / turns
    ours_ms, base_ms = _median_pair(
        turns, lambda: _idle_ms(coach(plan), span_s), lambda: _idle_ms(bare("--tick"), span_s)
    )
    name = "idle with a ticking clock, processor"
    return [Figure(name=name, unit="ms/s", measured=ours_ms, baseline=base_ms, most_frac=1.3)]


def _command_s(*words: str) -> float:
    return _run_s("-m", "coach", *words)


def _run_s(*words: str) -> float:
    begun_s = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun_s


def commands(runs: int, folder: Path) -> list[Figure]:
    """Measure every command that prints, whole, on a commission of full size, and the help."""
    plan, wide = str(made.full_commission(folder)), str(made.full_plan(folder, 12))
    asked = {
        "check": ("check", plan),
        "order": ("order", plan),
        "order, 12 canvases": ("order", wide),
        "log": ("log", plan),
        "log --fairness": ("log", plan, "--fairness"),
        "log --hours": ("log", plan, "--hours"),
        "prepare": ("prepare", plan),
    }
    figures = [
        Figure(name=f"coach {name}, full size", unit="s", measured=_median_of(runs, words), most=1.0)
        for name, words in asked.items()
    ]
    ours_s, base_s = _median_pair(runs, lambda: _command_s("--help"), lambda: _run_s("-c", "import argparse, yaml"))
    return [*figures, Figure(name="coach --help", unit="s", measured=ours_s, baseline=base_s, most_frac=2)]


def _median_of(runs: int, words: Sequence[str]) -> float:
    return median(_command_s(*words) for _ in range(runs))


def replan(runs: int, folder: Path) -> list[Figure]:  # noqa: ARG001  asks nothing of the disk
    """Measure planning the rest anew after the other canvas has led the first of 40 runs."""
    work, state = work_of(read_plan(plan_text(4, 10), "made"), {}), JournalState()
    announced = names_of(runs_of_work(work.plan, state, work.absent), work.orders)
    planned = next(turns_ahead(work, {}))
    other = next(canvas.name for canvas in work.plan.canvases if canvas.name != planned.canvas)
    state.places = {(planned.pass_name, name, other): 1 for name in planned.passages}
    taken = []
    for _ in range(runs):
        begun_s = time.perf_counter()
        planned_orders(runs_of_work(work.plan, state, work.absent), state, announced)
        taken.append((time.perf_counter() - begun_s) * 1000)
    return [Figure(name="planning 40 runs anew, in process", unit="ms", measured=median(taken))]


def kills(count: int, folder: Path) -> list[Figure]:
    """Kill the coach so many times and count what was shown and then lost."""
    plan = made.made_plan(folder, passes=100, passages=20)
    losses: Sequence[str] = kill_often(plan, kills=count, seed=1).losses
    for loss in losses:
        sys.stderr.write(f"{loss}\n")
    return [Figure(name=f"lost in {count} kills", unit="", measured=len(losses), most=0)]


FIGURES: Final = {one.__name__: one for one in (start, first, large, key, picture, memory, idle, commands, replan)}
"""The functions by name; each takes the number of runs and a folder for its files."""
