"""Windows of every size and keys without mercy: the canvas can always be read, and nothing is lost."""

import json
import random
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pytest

from coach.screens.widgets.block_letters import block_lines
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach

_CANVASES: Final = ("← Hall", "School →")
_CORNERS: Final = ((20, 5), (300, 100), (20, 100), (300, 5), (40, 12), (41, 12), (40, 100), (300, 12))
_MOST_SCALE: Final = 8


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of 2000 turns in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(plan_text(10, 100))
    return path


def shows_canvas(terminal: Terminal) -> bool:
    """Return whether the name of a canvas stands on the screen, in plain or in block letters."""
    rows = terminal.screen.display
    drawn = (
        [line.rstrip() for line in block_lines(name, scale) if line.strip()]
        for name in _CANVASES
        for scale in range(1, _MOST_SCALE + 1)
    )
    return any(name in terminal.text for name in _CANVASES) or any(
        all(line in row for line, row in zip(lines, rows[start:], strict=False))
        for lines in drawn
        for start in range(len(rows) - len(lines) + 1)
    )


def test_the_canvas_can_be_read_in_every_window_from_40_by_12(plan: Path) -> None:
    chance = random.Random(3)  # noqa: S311  the sizes need no secrecy
    sizes = [*_CORNERS, *((chance.randint(20, 300), chance.randint(5, 100)) for _ in range(52))]
    with coach(plan) as terminal:
        terminal.until_shown("q quit")
        for columns, lines in sizes:
            terminal.resize(columns, lines)
            if columns >= 40 and lines >= 12:
                terminal.until(lambda: shows_canvas(terminal), limit_s=5)
            else:
                terminal.until(lambda: bool(terminal.text), limit_s=5)
        for columns, lines in sizes:  # as fast as they can be sent
            terminal.resize(columns, lines)
            terminal.type("space")
        terminal.resize(80, 12)
        terminal.until(lambda: f"turn {len(sizes)} of" in terminal.text and shows_canvas(terminal))
        assert terminal.leave() == 0


def test_mashed_keys_with_notes_and_the_log_among_them_crash_nothing(plan: Path) -> None:
    chance = random.Random(5)  # noqa: S311
    keys = [*"opmsurwendlfcOPX1é[", "space", "space", "space", "enter", "pagedown", "right", "left", "up", "down"]
    keys += ["pageup", "tab", "backspace", "escape"]
    with coach(plan) as terminal:
        terminal.until_shown("q quit")
        begun_s = time.perf_counter()
        for number in range(600):  # 200 a second, for three seconds
            terminal.type(chance.choice(keys))
            while (left_s := begun_s + (number + 1) / 200 - time.perf_counter()) > 0:
                terminal.look(left_s)
        terminal.until_quiet(0.2)
        for _ in range(3):  # closes what is open: a note, the log
            terminal.type("escape")
            terminal.until_quiet(0.2)
        terminal.until_shown("turn ", "q quit")
        command = [sys.executable, "-m", "coach", "log", "--json", str(plan)]
        log = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
        assert len(log["turns"]) > 10
        terminal.until_shown(f"turn {len(log['turns']) + 1} of")
        assert terminal.leave() == 0
