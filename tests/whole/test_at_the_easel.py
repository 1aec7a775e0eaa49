"""The coach beside the easel: the real program, real keys, a real terminal, and a journal on a real disk."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any, Final

import pytest

from tests.whole.killing import kill_often
from tests.whole.made_plans import PRESS, plan_text
from tests.whole.terminal import Terminal, coach

_PLANS: Final = Path(__file__).parents[1] / "cases" / "plans"
_BEGUN: Final = ("turn 1 of", "what else")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of 400 turns in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(plan_text(10, 20))
    return path


def told(command: str, plan: Path) -> Any:
    """Return what another run of the program says of a plan, as JSON."""
    words = [sys.executable, "-m", "coach", command, str(plan), "--json"]
    found = subprocess.run(words, capture_output=True, text=True, check=True, timeout=30)
    assert not found.stderr
    return json.loads(found.stdout)


def press(terminal: Terminal, key: str, *wanted: str) -> None:
    """Press a key and wait for what must then be on the screen."""
    terminal.type(key)
    terminal.until_shown(*wanted)


def write_note(terminal: Terminal, text: str) -> None:
    """Write a note and wait until the screen shows it as kept."""
    press(terminal, "n", "Enter keeps it")
    write_note_text(terminal, text)


def write_note_text(terminal: Terminal, text: str) -> None:
    """Fill in the note that is open and wait until the screen shows it as kept."""
    terminal.type(text, "enter")
    terminal.until_shown(f"“{text}”")


def test_the_log_tells_exactly_the_session_that_the_keys_made(tmp_path: Path) -> None:
    plan = tmp_path / "evening-study.yaml"
    plan.write_text(f"order: there and back\n{PRESS}\n" + (_PLANS / "evening-study.yaml").read_text())
    planned = told("order", plan)["turns"]
    with coach(plan) as terminal:
        terminal.until_shown("Space begin", *_BEGUN)
        press(terminal, "space", "Space done", "turn 1 of")
        write_note(terminal, "edge too hard")
        press(terminal, "m", "marked")
        press(terminal, "space", "turn 2 of")
        press(terminal, "r", "Space carry on", "turn 2 of")
        press(terminal, "space", "Space done", "turn 2 of")
        press(terminal, "space", "turn 3 of")
        press(terminal, "o", "out of turn", f"Next: {planned[2]['canvas']}")
        press(terminal, "space", "turn 4 of")
        press(terminal, "x", "turn 5 of")
        press(terminal, "space", "turn 6 of")
        press(terminal, "u", "turn 5 of")
        press(terminal, "e", "after the session", "painted.")
        assert terminal.leave() == 0
    log = told("log", plan)
    facts = [(turn["canvas"], turn["passages"], turn["notes"], turn["return"]) for turn in log["turns"]]
    first, second, third, fourth = (turn["canvas"] for turn in planned[:4])
    passages = [turn["passages"] for turn in planned[:4]]
    assert first == fourth
    assert second == third
    assert facts == [
        (first, passages[0], ["edge too hard"], True),
        (second, passages[1], [], False),
        (fourth, passages[3], [], False),
        (third, passages[2], [], False),
    ]
    went, skipped = log["turns"][2]["deviation"], log["turns"][3]["deviation"]
    assert [turn["deviation"] for turn in log["turns"]] == ["", "", went, skipped]
    assert went
    assert "skipped" in skipped
    assert [session["session"] for session in log["sessions"]] == [1]


def test_nothing_that_was_shown_is_lost_when_the_coach_is_killed_again_and_again(plan: Path) -> None:
    """The bench does it 500 times, on every screen."""
    tally = kill_often(plan, kills=8, seed=20261125)
    assert tally.losses == []
    log = told("log", plan)
    assert (tally.kills, len(log["turns"]) + 1) == (8, tally.turns)
    kept = {note for turn in log["turns"] for note in turn["notes"]}
    assert tally.notes
    assert tally.notes <= kept
    assert len(log["sessions"]) == 1


def test_a_second_coach_only_shows_the_commission_and_follows_the_first(plan: Path) -> None:
    with coach(plan) as first:
        first.until_shown(*_BEGUN)
        press(first, "space", "Space done")
        with coach(plan) as other:
            other.until_shown("open in another coach; here it is only shown", *_BEGUN)
            other.type("space", "x", "m")
            other.until_quiet()
            press(first, "space", "turn 2 of")
            other.until_shown("turn 2 of", "here it is only shown")
            assert other.leave() == 0
        assert first.leave() == 0
    turns = told("log", plan)["turns"]
    assert [(turn["deviation"], turn["return"]) for turn in turns] == [("", False)]


def test_a_plan_broken_while_the_coach_runs_is_refused_with_its_line_and_the_old_one_goes_on(plan: Path) -> None:
    good = plan.read_text()
    with coach(plan, columns=200) as terminal:
        terminal.until_shown(*_BEGUN)
        press(terminal, "space", "Space done", "turn 1 of 400")
        lines = good.splitlines()
        lines[4] = "      - {name: shape 1.1, minutes: many}"
        plan.write_text("\n".join(lines) + "\n")
        press(terminal, "space", f"{plan}:5:", "turn 2 of 400")
        press(terminal, "space", f"{plan}:5:", "turn 3 of 400")
        plan.write_text(plan_text(10, 21))
        terminal.type("space")
        terminal.until(lambda: "turn 4 of 420" in terminal.text and f"{plan}:" not in terminal.text)
        assert terminal.leave() == 0
    assert len(told("log", plan)["turns"]) == 3
