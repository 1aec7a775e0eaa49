"""From an empty folder to the first stroke: the real program, real keys, a real terminal and a real disk."""

import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

from tests.whole.terminal import Terminal

FERRY: Final = (
    ("Which photo do you paint from?", "elder, younger"),
    ("What is the commission called?", "none"),
    ("How many canvases?", "The ferry sisters"),
    ("What are they called", "3"),
    ("When must they be handed over?", "North, Harbour, Mill"),
)
"""What is typed to the first questions, each with what is asked next."""


def begun(folder: Path, *words: str) -> Terminal:
    """Return the coach, started in a folder."""
    program = f"import os; os.chdir({str(folder)!r}); from coach.cli import main; raise SystemExit(main({list(words)}))"
    return Terminal([sys.executable, "-c", program])


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "coach", *words]
    return subprocess.run(
        command, capture_output=True, text=True, check=False, timeout=30, stdin=subprocess.DEVNULL, cwd=folder
    )


def answer_ferry(terminal: Terminal) -> None:
    terminal.until_shown("Who sits for it?")
    for asked_next, typed in FERRY:
        terminal.type(typed, "enter")
        terminal.until_shown(asked_next)


def take_the_rest(terminal: Terminal) -> None:
    """Take what is proposed for the last seven questions."""
    for number in range(7, 13):
        terminal.type("enter")
        terminal.until_shown(f"question {number} of 12")
    terminal.type("enter")
    terminal.until_shown("The file of the plan:", "handed over by")


@pytest.mark.parametrize(("words", "first_key"), [(("new",), None), ((), "a"), ((), "enter")])
def test_from_an_empty_folder_to_the_first_stroke_without_leaving_the_coach(
    tmp_path: Path, words: tuple[str, ...], first_key: str | None
) -> None:
    with begun(tmp_path, *words) as terminal:
        if first_key is not None:
            terminal.until_shown("There is no commission in this folder yet", "begin a new commission")
            terminal.type(first_key)
        answer_ferry(terminal)
        take_the_rest(terminal)
        terminal.type("enter")
        terminal.until_shown("Oily rags: spread apart outdoors, never piled.")
        terminal.type("enter")
        terminal.until_shown("before the first stroke", "The ferry sisters", "what else")
        terminal.type("space")
        terminal.until_shown("Space done")
        assert terminal.leave() == 0
    assert (tmp_path / "the-ferry-sisters.journal").is_file()
    assert not (tmp_path / ".coach-new.json").exists()
    checked = run(tmp_path, "check", "the-ferry-sisters.yaml")
    assert checked.returncode == 0, checked.stderr
    assert "sound: 3 canvases" in checked.stdout


def test_killed_half_way_the_next_coach_goes_on_where_it_was(tmp_path: Path) -> None:
    with begun(tmp_path, "new") as terminal:
        answer_ferry(terminal)
        terminal.die()
    with begun(tmp_path, "new", "sisters.yaml") as terminal:
        terminal.until_shown("When must they be handed over?", "what was said before is here still")
        take_the_rest(terminal)
        assert "sisters.yaml" in terminal.text
        terminal.type("enter")
        terminal.until_shown("Oily rags: spread apart outdoors, never piled.")
        terminal.type("enter")
        terminal.until_shown("before the first stroke", "The ferry sisters", "what else")
        assert terminal.leave() == 0
    assert (tmp_path / "sisters.yaml").is_file()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "a new commission needs a terminal, for it asks questions"),
        (("plan.yaml",), "a new commission needs a terminal, for it asks questions"),
        (("--loud",), "unrecognized arguments: --loud"),
    ],
)
def test_without_a_terminal_it_says_so_in_one_sentence(tmp_path: Path, words: tuple[str, ...], says: str) -> None:
    found = run(tmp_path, "new", *words)
    assert found.returncode == 2
    assert says in found.stderr
    assert len(found.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("taken.yaml", "there is a plan, a journal or a file of shapes of that name already; name another"),
        ("taken", "there is a plan, a journal or a file of shapes of that name already; name another"),
        ("taken.yml", "there is a plan, a journal or a file of shapes of that name already; name another"),
        ("old.yaml", "there is a plan, a journal or a file of shapes of that name already; name another"),
        ("link.yaml", "there is a plan, a journal or a file of shapes of that name already; name another"),
        (".", "this is a folder; name a file to write"),
        ("plan.journal", "a plan is a YAML file; name one that ends in .yaml"),
        ("nowhere/plan.yaml", "there is no such folder to write it in"),
    ],
)
def test_a_file_that_cannot_be_the_new_plan_is_refused_before_anything_is_asked(
    tmp_path: Path, name: str, says: str
) -> None:
    (tmp_path / "taken.yaml").write_text("mine")
    (tmp_path / "old.journal").write_text("a journal")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "elsewhere.yaml")
    with begun(tmp_path, "new", name) as terminal:
        terminal.until(lambda: not terminal.is_open)
        assert says in terminal.text
        assert terminal.wait() == 2
    assert (tmp_path / "taken.yaml").read_text() == "mine"
    assert not (tmp_path / "elsewhere.yaml").exists()
