"""The commands as a shell runs them: one sentence where something is wrong, and an exit status."""

import csv
import io
import json
import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest

from tests.whole.made_plans import plan_text
from tests.whole.terminal import coach

_COMMANDS: Final = ("check", "order", "log", "forecast", "prepare")
_STEERING = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Control characters of ECMA-48 but the line feed, and the bidirectional ones of Unicode (UAX #9)."""
_LIMIT_S: Final = 30


def run(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the coach without a terminal."""
    command = [sys.executable, "-m", "coach", *words]
    return subprocess.run(
        command, capture_output=True, text=True, check=False, timeout=_LIMIT_S, stdin=subprocess.DEVNULL, cwd=cwd
    )


def assert_one_sentence(found: subprocess.CompletedProcess[str], status: int) -> None:
    """Hold what a command said of a fault against the rule."""
    assert found.returncode == status, found.stderr
    assert "Traceback" not in found.stderr
    assert len(found.stderr.splitlines()) == 1, found.stderr
    assert not _STEERING.search(found.stderr)


def _paint_two_turns(plan: Path) -> None:
    with coach(plan) as terminal:
        terminal.until_shown("turn 1 of", "what else")
        for key, wanted in ((" ", "Space done"), (" ", "turn 2 of"), (" ", "turn 3 of")):
            terminal.type(key)
            terminal.until_shown(wanted)
        assert terminal.leave() == 0


def _missing(_: Path) -> None:
    pass


def _empty(plan: Path) -> None:
    plan.touch()


def _binary(plan: Path) -> None:
    plan.write_bytes(bytes(range(256)) * 4)


def _sparse(plan: Path) -> None:
    with plan.open("wb") as file:
        file.truncate(100_000_000)


def _latin_1(plan: Path) -> None:
    plan.write_bytes("canvases: [Café, Hall]\npasses: [{name: eyes, passages: [lid]}]\n".encode("latin-1"))


def _folder(plan: Path) -> None:
    plan.mkdir()


@pytest.mark.parametrize("command", _COMMANDS)
@pytest.mark.parametrize("make", [_missing, _empty, _binary, _sparse, _latin_1, _folder])
def test_a_plan_that_is_none_is_refused_in_one_sentence(
    tmp_path: Path, command: str, make: Callable[[Path], None]
) -> None:
    plan = tmp_path / "plan.yaml"
    make(plan)
    found = run(command, str(plan))
    assert_one_sentence(found, 1)
    assert "plan." in found.stderr
    assert not found.stdout


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("order", "plan.yaml", "--seed", "many"),
        ("order", "plan.yaml", "--seed", "-1"),
        ("order", "plan.yaml", "--strategy", "as it comes"),
        ("log", "plan.yaml", "--json", "--csv"),
        ("plan.yaml", "--loud"),
        ("plan.yaml",),
        (),
    ],
)
def test_wrong_usage_or_an_easel_without_a_terminal_ends_with_status_2(tmp_path: Path, words: tuple[str, ...]) -> None:
    (tmp_path / "plan.yaml").write_text(plan_text(1, 2))
    found = run(*words, cwd=tmp_path)
    assert found.returncode == 2, found.stderr
    assert found.stderr
    assert "Traceback" not in found.stderr
    assert not found.stdout


def test_the_easel_without_a_terminal_is_refused_in_one_sentence(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(1, 2))
    found = run(str(plan))
    assert_one_sentence(found, 2)
    assert "needs a terminal" in found.stderr


HOSTILE: Final = "Hall\x1b]0;owned\x07\x1b[2J\u202e\x9b31m"


def test_hostile_names_in_a_plan_never_print_a_steering_character(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(1, 2).replace("name: Hall", f"name: {json.dumps(HOSTILE)}"))
    for words in (("check",), ("check", "--json"), ("order",), ("order", "--json"), ("order", "--compare")):
        found = run(words[0], str(plan), *words[1:])
        assert found.returncode in (0, 1)
        assert not _STEERING.search(found.stdout + found.stderr), words


@pytest.mark.parametrize("command", ["check", "order"])
def test_a_hostile_file_name_never_prints_a_steering_character(tmp_path: Path, command: str) -> None:
    plan = tmp_path / f"{HOSTILE.replace('/', '')}.yaml"
    assert_one_sentence(run(command, str(plan)), 1)
    plan.write_text("canvases: [Hall\n")
    assert_one_sentence(run(command, str(plan)), 1)


def test_json_and_csv_parse_and_say_the_same(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(2, 2))
    assert json.loads(run("check", str(plan), "--json").stdout) == {"problems": [], "advice": [], "shapes": []}
    for options in ((), ("--compare",)):
        assert json.loads(run("order", str(plan), "--json", *options).stdout)
    _paint_two_turns(plan)
    told = json.loads(run("log", str(plan), "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(run("log", str(plan), "--csv").stdout), strict=True))
    assert [row["canvas"] for row in rows] == [turn["canvas"] for turn in told["turns"]]
    assert len(rows) == 2
    assert all(None not in row and None not in row.values() for row in rows)
    assert json.loads(run("log", str(plan), "--fairness", "--json").stdout)


@pytest.mark.parametrize("words", ["order {} --json", "order {}"])
def test_a_reader_that_leaves_early_sees_no_traceback(tmp_path: Path, words: str) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(20, 40))
    command = f"{shlex.quote(sys.executable)} -m coach {words.format(shlex.quote(str(plan)))} | head -1"
    found = subprocess.run(["/bin/sh", "-c", command], capture_output=True, text=True, check=False, timeout=_LIMIT_S)
    assert len(found.stdout.splitlines()) == 1
    assert not found.stderr


def test_a_journal_that_is_none_is_told_in_one_sentence(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(1, 2))
    plan.with_suffix(".journal").write_bytes(b"this is no journal\n" * 500)
    found = run("log", str(plan))
    assert_one_sentence(found, 1)
    assert "journal" in found.stderr


def test_a_journal_cut_short_is_told_in_one_sentence(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan_text(1, 2))
    _paint_two_turns(plan)
    journal = plan.with_suffix(".journal")
    with journal.open("r+b") as file:
        file.truncate(journal.stat().st_size // 2)
    found = run("log", str(plan))
    assert_one_sentence(found, 1)
    assert "journal" in found.stderr
