"""The process dies at any moment: what was acknowledged is there, and nothing half."""

import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from coach.journal.events import JournalError
from coach.store.journal_access import open_to_work

OPEN = """
import sys
from pathlib import Path
from coach.journal.events import Event, Kind
from coach.journal.reading import Reading
from coach.store.journal_access import open_to_work

AT = Reading(wall_ms=1_790_000_000_000, offset_s=0, elapsed_ms=1, boot="0d5e")
def append(text):
    return journal.append(Event(seq=0, at=AT, kind=Kind.NOTED, text=text)).seq
def say(word):
    print(word, flush=True)
def wait():
    return sys.stdin.readline()

access = open_to_work(Path(sys.argv[1]))
journal = access.journal
"""

HALF = """
for text in "abc":
    append(text)
held = journal._connection
held.execute("PRAGMA cache_size = 1")  # so that much of it is written before it is whole
held.execute("BEGIN IMMEDIATE")
for _ in range(200):
    held.execute(
        "INSERT INTO event (wall_ms, offset_s, elapsed_ms, boot, kind, version, body)"
        " VALUES (1, 0, 1, '', 'noted', 1, ?)", ('{"text":"' + "half" * 200 + '"}',)
    )
say("half")
wait()
"""

FAST = """
while True:
    say(append("x" * 100))
"""

HOLDING = """
say("open")
while text := wait().strip():
    say(append(text))
"""

MAKING = """
import os, pathlib, signal, sys
from coach.store import safe_files
from coach.store.sqlite_journal import SqliteJournal
def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)
os.fsync = die
SqliteJournal(pathlib.Path(sys.argv[1]), writes=True)
"""


@contextmanager
def running(script: str, path: Path) -> Iterator["subprocess.Popen[str]"]:
    """Run a script that is killed at the end, if it has not been before."""
    process = subprocess.Popen(
        [sys.executable, "-c", script, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    with process:
        try:
            yield process
        finally:
            process.kill()


def next_line(process: "subprocess.Popen[str]") -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def tell(process: "subprocess.Popen[str]", text: str) -> str:
    """Send a line and return the answer."""
    assert process.stdin is not None
    process.stdin.write(f"{text}\n")
    process.stdin.flush()
    return next_line(process)


def test_a_kill_before_commit_loses_nothing_before_and_shows_nothing_half(tmp_path: Path) -> None:
    with running(OPEN + HALF, tmp_path / "a.yaml") as process:
        assert next_line(process) == "half"
        assert (tmp_path / "a.journal-wal").stat().st_size > 50_000
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert not access.read_only
        assert [event.text for event in access.journal.after(0)] == ["a", "b", "c"]


@pytest.mark.parametrize("kill_after", [1, 2, 7, 40, 150, 400])
def test_a_kill_amid_fast_appending_loses_no_acknowledged_event(tmp_path: Path, kill_after: int) -> None:
    with running(OPEN + FAST, tmp_path / "a.yaml") as process:
        acknowledged = [int(next_line(process)) for _ in range(kill_after)]
        process.kill()
        assert process.stdout is not None
        acknowledged += [int(line) for line in process.stdout if line.endswith("\n")]
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert not access.read_only
        there = [event.seq for event in access.journal.after(0)]
    assert there[: len(acknowledged)] == acknowledged == list(range(1, len(acknowledged) + 1))
    assert len(there) - len(acknowledged) in {0, 1}  # the last may have been recorded and not yet told


def test_a_kill_while_the_journal_is_made_leaves_none_and_the_next_coach_makes_it(tmp_path: Path) -> None:
    with running(MAKING, tmp_path / "a.journal") as process:
        assert process.wait() == -signal.SIGKILL
    assert not (tmp_path / "a.journal").exists()
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert not access.read_only
        assert list(access.journal.after(0)) == []
        assert not access.journal.damage


def test_a_second_coach_only_reads_and_follows_and_the_lock_dies_with_the_first(tmp_path: Path) -> None:
    plan = tmp_path / "a.yaml"
    with running(OPEN + HOLDING, plan) as first:
        assert next_line(first) == "open"
        assert tell(first, "before") == "1"
        with closing(open_to_work(plan)) as second:
            assert second.read_only == "this commission is open in another coach; here it is only shown"
            assert [event.text for event in second.journal.after(0)] == ["before"]
            assert tell(first, "meanwhile") == "2"
            assert [event.text for event in second.journal.after(1)] == ["meanwhile"]
            first.kill()
            first.wait()
            assert [event.seq for event in second.journal.after(0)] == [1, 2]
    with closing(open_to_work(plan)) as third:
        assert not third.read_only
        assert [event.text for event in third.journal.after(0)] == ["before", "meanwhile"]


def test_a_link_in_the_place_of_a_journal_is_not_followed(tmp_path: Path) -> None:
    """Through it two coaches would write one journal under two locks."""
    (tmp_path / "b.journal").symlink_to(tmp_path / "a.journal")
    with pytest.raises(JournalError, match="this is not an ordinary file"):
        open_to_work(tmp_path / "b.yaml")
    assert not (tmp_path / "a.journal").exists()
