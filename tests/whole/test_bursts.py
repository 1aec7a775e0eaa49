"""Keys typed faster than a screen is drawn, or pasted: what is written is what was typed, in the order it was typed."""

import sys
import time
from pathlib import Path

import pytest

from coach.plan.reading import read_plan
from coach.store.journal_access import open_to_read
from tests.whole.terminal import KEYS, Terminal, coach

_TEXT = """\
canvases: [Hall, School]
passes:
  - name: eyes
    passages: [{name: iris, minutes: 10}, {name: lash line, minutes: 6}]
"""
_GAPS_S = (0.0, 0.002, 0.01)
"""Between two keys; without a gap all come in one read, as a paste does where the terminal does not mark it."""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of two passages in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(_TEXT, encoding="utf-8")
    return path


def burst(terminal: Terminal, gap_s: float, *keys: str) -> None:
    """Type keys, a name of `KEYS` or a letter, with a gap between them."""
    sent = [KEYS.get(key, key.encode()) for key in keys]
    for data in sent if gap_s else [b"".join(sent)]:
        terminal.send(data)
        time.sleep(gap_s)


@pytest.mark.parametrize("gap_s", _GAPS_S)
def test_the_minutes_of_a_passage_are_those_that_were_typed(plan: Path, gap_s: float) -> None:
    """Letters once overtook Backspace: the field was wiped, and the screen said that it was saved."""
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        open_minutes = ("enter", "down", "enter")
        typed = ("9", "9", "backspace", "backspace", "2", "x", "backspace", "5", "enter")
        burst(terminal, gap_s, "v", *open_minutes, *typed)
        terminal.until_shown("25 min")
        burst(terminal, gap_s, "right", "enter", "8", "enter", "w", "v")
        terminal.until_shown("turn 1 of")
        assert terminal.leave() == 0
    passages = read_plan(plan.read_text(encoding="utf-8"), "").passes[0].passages
    assert [passage.planned_s for passage in passages] == [25 * 60, 8 * 60]


@pytest.mark.parametrize("gap_s", _GAPS_S)
def test_a_note_is_what_was_typed_and_the_keys_after_it_are_moves(plan: Path, gap_s: float) -> None:
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        burst(terminal, gap_s, "space", "n", *"edgex", "backspace", "left", "left", "backspace", "D", "enter", "m")
        terminal.until_shown("“eDge”", "marked")
        burst(terminal, gap_s, "n", *"dropped", "escape")
        time.sleep(0.5)  # the byte of Escape begins longer keys: it is one of its own only once nothing follows
        burst(terminal, gap_s, "x", "n", *"skipped", "enter")
        terminal.until_shown("“skipped”", "turn 2 of")
        assert terminal.leave() == 0
    notes = [event.text for event in open_to_read(plan).after(0) if event.kind == "noted"]
    assert notes == ["eDge", "skipped"]


def test_a_paste_into_a_field_is_text_even_where_lines_end_in_it(plan: Path) -> None:
    """Bracketed paste (xterm control sequences: 200~ and 201~ around what is pasted)."""
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        terminal.send(b" n\x1b[200~first\nquiet second\x1b[201~!\r")
        terminal.until_shown("“first quiet second!”")
        assert terminal.leave() == 0


@pytest.mark.parametrize("gap_s", _GAPS_S)
def test_the_answers_of_a_new_commission_are_those_that_were_typed(tmp_path: Path, gap_s: float) -> None:
    path = tmp_path / "new.yaml"
    with Terminal([sys.executable, "-m", "coach", "new", str(path)]) as terminal:
        terminal.until_shown("question 1 of")
        words = [*"The elx", "backspace", *"der", "enter", "enter", *"Halls", "backspace", "enter", "3", "enter"]
        burst(terminal, gap_s, *words)  # without a photo there are no heads to ask for
        terminal.until_shown("question 5 of", "Hall", "3 canvases")
        assert "Halls" not in terminal.text
