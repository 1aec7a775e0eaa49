"""Windows of every size and keys without mercy: the canvas can always be read, and nothing is lost."""

import random
import time
from pathlib import Path
from typing import Final

import psutil
import pytest

from coach.screens.widgets.block_letters import Form, block_lines
from tests.whole.killing import shown
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach

_CANVASES: Final = ("← Hall", "School →")
_CORNERS: Final = ((20, 5), (300, 100), (20, 100), (300, 5), (40, 12), (41, 12), (40, 100), (300, 12))
_MOST_SCALE: Final = 2


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of 2000 turns in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(plan_text(10, 100))
    return path


def drawn_names() -> list[list[str]]:
    """Return the names of the canvases as they are drawn in block letters, in every form and at every scale."""
    drawn = (
        block_lines(name, scale, form) for name in _CANVASES for form in Form for scale in range(1, _MOST_SCALE + 1)
    )
    return [[line.rstrip() for line in lines if line.strip()] for lines in drawn]


def test_the_canvas_can_be_read_in_every_window_from_40_by_12(plan: Path) -> None:
    chance = random.Random(3)  # noqa: S311  the sizes need no secrecy
    sizes = [*_CORNERS, *((chance.randint(20, 300), chance.randint(5, 100)) for _ in range(12))]
    drawn = drawn_names()

    def shows_canvas() -> bool:
        """Return whether the name of a canvas stands on the screen, in plain or in block letters."""
        rows = terminal.screen.display
        return any(name in terminal.text for name in _CANVASES) or any(
            lines[0] in row and all(line in below for line, below in zip(lines, rows[start:], strict=False))
            for lines in drawn
            for start, row in enumerate(rows[: len(rows) - len(lines) + 1])
        )

    with coach(plan) as terminal:
        terminal.until_shown("what else")
        for columns, lines in sizes:
            terminal.resize(columns, lines)
            terminal.until(shows_canvas if columns >= 40 and lines >= 12 else lambda: bool(terminal.text))
        for columns, lines in sizes:  # as fast as they can be sent
            terminal.resize(columns, lines)
            terminal.type("space")
        terminal.resize(80, 12)
        terminal.until(lambda: f"turn {len(sizes)} of" in terminal.text and shows_canvas())
        assert terminal.leave() == 0


def until_idle(terminal: Terminal) -> None:
    """Look until the coach has nothing to do but to show the time: every key is taken."""
    process = psutil.Process(terminal.pid)
    used_s = -1.0
    while (now_s := sum(process.cpu_times()[:2])) - used_s > 0.03:
        used_s, end_s = now_s, time.perf_counter() + 1
        while time.perf_counter() < end_s:
            terminal.look(0.1)


def test_mashed_keys_with_notes_and_the_log_among_them_crash_nothing(plan: Path) -> None:
    chance = random.Random(5)  # noqa: S311
    keys = [*"opmsurwendlfcOPX1é[", "space", "space", "space", "enter", "pagedown", "right", "left", "up", "down"]
    keys += ["pageup", "tab", "backspace", "escape", *(("space",) * 12), "escape", "escape"]
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        begun_s = time.perf_counter()
        for number in range(300):  # 200 a second
            terminal.type(chance.choice(keys))
            while (left_s := begun_s + (number + 1) / 200 - time.perf_counter()) > 0:
                terminal.look(left_s)

        def is_at_the_easel() -> bool:
            """Close what is open, a question, a field or a page, and say whether nothing is any more."""
            until_idle(terminal)
            is_there = "turn " in terminal.text and "what else" in terminal.text
            if not is_there:
                terminal.type("escape")
            return is_there

        terminal.until(is_at_the_easel, limit_s=60)
        terminal.type("n")
        terminal.until_shown("Enter keeps it", limit_s=60)
        terminal.type("the last key", "enter")  # keys are taken in order: all before it have had their effect
        terminal.until_shown("“the last key”")
        turn = shown(terminal).turn
        assert turn > 3
        assert terminal.leave() == 0
    with coach(plan) as terminal:
        terminal.until_shown(f"turn {turn} of")
