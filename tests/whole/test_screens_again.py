"""Screens that are kept, and shown a second time, in a real terminal."""

import shutil
from pathlib import Path

from tests.whole.terminal import coach

_DOORS = {"g": "will it be ready?", "i": "composition ·", "t": "squint", "b": "name photos"}


def test_a_screen_that_was_shown_before_is_drawn_again(tmp_path: Path) -> None:
    """The framework stops the timer by which a screen is drawn when it goes: kept, it stood dark at its second turn."""
    for file in Path("plans").glob("orchard-keeper.*"):
        shutil.copy(file, tmp_path)
    with coach(tmp_path / "orchard-keeper.yaml") as terminal:
        terminal.until_shown("what else")
        for _ in range(2):
            for key, shown in _DOORS.items():
                terminal.type(key)
                terminal.until_shown(shown)
            terminal.type("v")
            terminal.until_shown("is it sound?")
        terminal.type("v")
        terminal.until_shown("turn 1 of")
        assert terminal.leave() == 0
