"""A window closed, a signal or a power cut in the middle of an edit: what was typed is offered at the next opening."""

import os
import signal
from pathlib import Path

import pytest

from tests.whole.terminal import Terminal, coach

_TEXT = """\
canvases: [Hall, School]
passes:
  - name: eyes
    passages: [{name: iris, minutes: 10}, {name: lash line, minutes: 6}]
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of two passages in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(_TEXT, encoding="utf-8")
    return path


def half_done(plan: Path) -> Terminal:
    """Return the coach with the minutes of a passage edited and not saved."""
    terminal = coach(plan)
    terminal.until_shown("what else")
    terminal.type("space", "v", "enter", "down", "enter", "25", "enter")
    terminal.until_shown("25 min", "NOT SAVED")
    return terminal


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, None])
def test_edits_that_were_not_saved_come_back(plan: Path, ending: signal.Signals | None) -> None:
    draft = plan.with_suffix(".draft")
    with half_done(plan) as terminal:
        if ending is None:  # a power cut: what the tick has kept is all there is
            terminal.until(draft.exists)
        else:
            os.kill(terminal.pid, ending)
            terminal.until(lambda: not terminal.is_open)
    assert plan.read_text(encoding="utf-8") == _TEXT
    with coach(plan) as terminal:
        terminal.until_shown("You left changes to the plan unsaved last time: v shows them.")
        terminal.type("v")
        terminal.until_shown("The edits of last time are here", "NOT SAVED")
        terminal.type("w")
        terminal.until_shown("Saved.")
        terminal.type("v")
        terminal.until_shown("turn 1 of")
        assert terminal.leave() == 0
    assert "{name: iris, minutes: 25}" in plan.read_text(encoding="utf-8")
    assert not draft.exists()


def test_a_half_typed_note_comes_back_after_its_window_was_closed(plan: Path) -> None:
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        terminal.type("space", "n", "edge too ha")
        terminal.until_shown("edge too ha")
        os.close(terminal._descriptor)
        terminal._descriptor = os.open(os.devnull, os.O_RDONLY)
        terminal.wait()
        terminal.is_open = False
    with coach(plan) as terminal:
        terminal.until_shown("You left a note unfinished last time: n goes on with it.")
        terminal.type("n")
        terminal.until_shown("edge too ha")
        terminal.type("rd", "enter")
        terminal.until_shown("“edge too hard”")
        assert terminal.leave() == 0
    assert not plan.with_suffix(".draft").exists()
