"""A pedal that sends a key nobody foresaw: learned once, it moves the work on, and bad settings stop nothing."""

import json
import sys
from pathlib import Path

import pytest

from tests.whole.terminal import Terminal, coach

_TEXT = """\
canvases: [Hall, School]
limits: {press: 0 s}
passes:
  - name: eyes
    passages: [{name: iris, minutes: 10}]
"""


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return where the settings of this test lie; the system's folder is left alone."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    (tmp_path / "plan.yaml").write_text(_TEXT, encoding="utf-8")
    return tmp_path / "config" / "portrait-coach" / "settings.json"


def test_a_key_that_was_learned_goes_on(settings: Path, tmp_path: Path) -> None:
    with Terminal([sys.executable, "-m", "coach", "--pedal"], columns=80, lines=24) as terminal:
        terminal.until_shown("Press your pedal")
        terminal.type("k")
        terminal.until_shown("k came. What should it mean?")
        terminal.type("enter")
        terminal.until_shown("k means go on.")
        terminal.type("escape")
        terminal.until(lambda: not terminal.is_open)
        assert terminal.wait() == 0
    assert json.loads(settings.read_text(encoding="utf-8")) == {"sound": False, "pedal": {"k": "go on"}}
    with coach(tmp_path / "plan.yaml") as terminal:
        terminal.until_shown("Space begin")
        while "Space begin" in terminal.text:  # the settings are read behind the first screen
            terminal.type("k")
            terminal.until_quiet(0.5)
        terminal.type("k")
        terminal.until(lambda: "turn 2 of 2" in terminal.text or "finished" in terminal.text.lower())
        assert terminal.leave() == 0


@pytest.mark.parametrize("text", ["{", '{"pedal": {"k": "fly"}}'])
def test_bad_settings_are_one_sentence_and_stop_nothing(settings: Path, tmp_path: Path, text: str) -> None:
    settings.parent.mkdir(parents=True)
    settings.write_text(text, encoding="utf-8")
    with coach(tmp_path / "plan.yaml", columns=120) as terminal:
        terminal.until_shown("Your settings in")
        terminal.type("space")
        terminal.until_shown("turn 1 of 2", "done")
        assert terminal.leave() == 0
