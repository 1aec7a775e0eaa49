"""Killed coaches, plans that vanish and damaged journals: what was there stays, and painting goes on where it can."""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

from coach.journal.events import Event, Kind, Turn
from coach.journal.reading import Reading
from coach.store.journal_access import journal_path
from coach.store.sqlite_journal import SqliteJournal
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach

_PAGE_BYTES: Final = 4096
_FEATURE: Final = "pass 1"


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of 40 turns in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(plan_text(2, 10))
    return path


def press(terminal: Terminal, key: str, *wanted: str) -> None:
    terminal.type(key)
    terminal.until_shown(*wanted)


def test_when_the_first_coach_is_killed_another_one_can_record_at_once(plan: Path) -> None:
    with coach(plan) as first:
        first.until_shown("turn 1 of", "what else")
        press(first, "space", "Space done")
        with coach(plan) as watching:
            watching.until_shown("only shown", "what else")
            press(first, "space", "turn 2 of")
            watching.until_shown("turn 2 of")
            first.die()
            with coach(plan) as third:
                third.until_shown("turn 2 of", "Space done", "what else")
                assert "only shown" not in third.text
                press(third, "space", "turn 3 of")
                watching.until_shown("turn 3 of", "only shown")
                assert third.leave() == 0


def test_a_plan_that_vanishes_while_the_coach_runs_is_missed_in_words_and_the_old_one_goes_on(plan: Path) -> None:
    good = plan.read_text()
    with coach(plan, columns=200) as terminal:
        terminal.until_shown("turn 1 of 40", "what else")
        press(terminal, "space", "Space done")
        plan.unlink()
        press(terminal, "space", "turn 2 of 40", "there is no such file")
        plan.write_text(good)
        terminal.type("space")
        terminal.until(lambda: "turn 3 of 40" in terminal.text and "no such file" not in terminal.text)
        assert terminal.leave() == 0


@pytest.mark.parametrize("content", [None, b"", bytes(range(256)), b"canvases: [Hall\n"])
def test_a_plan_that_is_none_ends_the_easel_in_one_sentence(plan: Path, content: bytes | None) -> None:
    plan.unlink()
    if content is not None:
        plan.write_bytes(content)
    with coach(plan, columns=250) as terminal:
        terminal.until(lambda: not terminal.is_open)
        assert terminal.wait() == 1
        said = [line for line in terminal.screen.display if line.strip()]
        assert len(said) == 1
        assert said[0].startswith(str(plan))


def _painted(plan: Path, turns: int) -> bytes:
    """Paint turns under a journal and return its bytes."""
    at = Reading(wall_ms=1_795_000_000_000, offset_s=0, elapsed_ms=0, boot="")
    journal = SqliteJournal(journal_path(plan), writes=True)
    journal.append(Event(seq=0, at=at, kind=Kind.SESSION_BEGUN))
    for number in range(turns):
        turn = Turn(pass_name=_FEATURE, run=1, passages=(f"old {number:04}",), canvas="Hall", place=1, planned_s=60)
        journal.append(Event(seq=0, at=at, kind=Kind.TURN_DONE, turn=turn))
    journal.append(Event(seq=0, at=at, kind=Kind.SESSION_ENDED))
    journal.close()
    return journal_path(plan).read_bytes()


def _zero_page(data: bytes) -> bytes:
    start = len(data) // _PAGE_BYTES // 2 * _PAGE_BYTES
    return data[:start] + bytes(_PAGE_BYTES) + data[start + _PAGE_BYTES :]


def _bad_json(data: bytes) -> bytes:
    return data.replace(b'["pass 1",1,["old 0200"]', b'["pass 1"?1?["old 0200"?')


@pytest.mark.parametrize("damage", [_zero_page, _bad_json])
def test_a_journal_damaged_in_the_middle_is_read_up_to_there_and_never_written(plan: Path, damage: object) -> None:
    assert callable(damage)
    data = damage(_painted(plan, 400))
    journal_path(plan).write_bytes(data)
    command = [sys.executable, "-m", "coach", "log", "--csv", str(plan)]
    found = subprocess.run(command, capture_output=True, text=True, check=False)
    assert found.returncode == 1
    assert "old 0010" in found.stdout
    assert "old 0399" not in found.stdout
    assert len(found.stderr.splitlines()) == 1
    told = re.search(r"; it is read up to event (\d+)", found.stderr)
    assert told is not None
    with coach(plan, columns=150) as terminal:
        press(terminal, "enter", "Paint on in a new journal beside it")
        terminal.until_shown("what else", "turn ")
        press(terminal, "space", told[0])
        assert terminal.leave() == 0
    with coach(plan, columns=150) as terminal:
        terminal.until_shown("[y/N]")
        press(terminal, "y\r", "what else", "turn ")
        press(terminal, "space", "turn 2 of")
        assert terminal.leave() == 0
    assert plan.with_suffix(".journal").read_bytes() == data
    log = json.loads(subprocess.run([*command[:4], "--json", str(plan)], capture_output=True, check=True).stdout)
    assert len(log["turns"]) == int(told[1])
