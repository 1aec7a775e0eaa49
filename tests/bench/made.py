"""What is measured on: plans and journals as a painter would have them."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from itertools import islice
from pathlib import Path
from typing import Final

from coach.journal.events import Announced, Event, Kind
from coach.journal.reading import Reading
from coach.plan.reading import read_plan
from coach.session.journal_state import JournalState
from coach.session.ordering import names_of
from coach.session.work import runs_of_work, turns_ahead, work_of
from coach.store.journal_access import journal_path
from coach.store.sqlite_journal import SqliteJournal
from coach.store.system_clock import SystemClock
from tests.bench.drive import PAUSE_S, coach
from tests.whole.made_plans import plan_text

_DEMO: Final = Path(__file__).parents[1] / "cases" / "plans" / "orchard-keeper.yaml"
_PICTURED: Final = Path(__file__).parents[2] / "plans" / "orchard-keeper.yaml"

_PASSES, _RUNS, _IN_RUN = 10, 100, 3
"""A plan of full size: ten passes of a hundred runs of three passages."""

_SESSIONS: Final = 300
_TURNS: Final = 5
_NOTES: Final = 19
"""Notes on a turn. A session begins, has 5 turns of 19 notes each, and ends: 102 events; 30,601 with the plan."""

_DAY_MS: Final = 24 * 60 * 60 * 1000
_MINUTE_MS: Final = 60 * 1000


def demo_plan(folder: Path) -> Path:
    """Return a copy of the orchard plan that was never opened."""
    return Path(shutil.copy(_DEMO, folder / "demo.yaml"))


def pictured_plan(folder: Path) -> Path:
    """Return a copy of the orchard plan of ours with its photo and its shapes."""
    for ending in ("yaml", "jpg", "shapes.svg"):
        shutil.copy(_PICTURED.with_suffix(f".{ending}"), folder)
    return folder / _PICTURED.name


def opened_demo(folder: Path) -> Path:
    """Return a copy of the orchard plan with one turn painted, and all that the coach keeps beside it."""
    plan = demo_plan(folder)
    with coach(plan) as program:
        program.start_s()
        program.answer_s()
        program.answer_s()
        program.rest(PAUSE_S)
        program.leave()
    return plan


def made_plan(folder: Path, *, passes: int, passages: int, order: str = "") -> Path:
    """Return a new plan of two canvases; `order` names the strategy, empty for the default."""
    plan = folder / f"made-{passes}-{passages}-{order or 'default'}.yaml"
    head = f"order: {order}\n" if order else ""
    plan.write_text(head + plan_text(passes, passages), encoding="utf-8")
    return plan


def full_plan(folder: Path, canvas_count: int) -> Path:
    """Return a new plan of full size: 1,000 runs, 3,000 passages."""
    plan = folder / f"full-{canvas_count}.yaml"
    canvases = ", ".join(f"canvas {number}" for number in range(1, canvas_count + 1))
    lines = [f"canvases: [{canvases}]", "limits: {press: 0 s}", "week: {mon-fri: 5 h}", "passes:"]
    for number in range(1, _PASSES + 1):
        lines += [f"  - name: pass {number}", "    passages:"]
        for run in range(1, _RUNS + 1):
            lines.append(f"      - {{name: shape {run}, minutes: {5 + run % 23}}}")
            lines += [f"      - {{name: shape {run}.{n}, beside: shape {run}}}" for n in range(2, _IN_RUN + 1)]
    plan.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return plan


def full_commission(folder: Path) -> Path:
    """Return a plan of full size on two canvases with a journal of 30,000 events, opened once."""
    plan = full_plan(folder, 2)
    with closing(SqliteJournal(journal_path(plan), writes=True)) as journal:
        # What is made here need not outlive a power cut; so many syncs would take minutes.
        journal._connection.execute("PRAGMA synchronous=OFF")
        for event in _events(plan.read_text(encoding="utf-8"), plan.name):
            journal.append(event)
    with coach(plan) as program:
        program.start_s()
        program.leave()
    return plan


def _events(text: str, name: str) -> Iterator[Event]:
    work = work_of(read_plan(text, name), {})
    turns = turns_ahead(work, {})
    announced = Announced(orders=names_of(runs_of_work(work.plan, JournalState(), work.absent), work.orders))
    now = SystemClock().read()
    first_ms = now.wall_ms - (_SESSIONS + 1) * _DAY_MS
    yield Event(seq=0, at=Reading(first_ms, now.offset_s, 0, ""), kind=Kind.PLAN_READ, text=text)
    for session in range(_SESSIONS):
        begun_ms = now.wall_ms - (_SESSIONS - session) * _DAY_MS
        readings = (Reading(begun_ms + no * _MINUTE_MS, now.offset_s, 0, "") for no in range(_DAY_MS // _MINUTE_MS))
        told = None if session else announced
        yield Event(seq=0, at=next(readings), kind=Kind.SESSION_BEGUN, announced=told)
        for turn in islice(turns, _TURNS):
            for number in range(_NOTES):
                yield Event(seq=0, at=next(readings), kind=Kind.NOTED, turn=turn, text=f"edge {number} lost")
            yield Event(seq=0, at=next(readings), kind=Kind.TURN_DONE, turn=turn)
        yield Event(seq=0, at=next(readings), kind=Kind.SESSION_ENDED)


def durable_table(folder: Path) -> sqlite3.Connection:
    """Return a new database whose appends are synced, with a table of one column `body`."""
    connection = sqlite3.connect(folder / "append.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE event (seq INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT")
    return connection
