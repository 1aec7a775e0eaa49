"""The command line itself: which command a word means, what the help says, and what it costs to load."""

import subprocess
import sys
from pathlib import Path

import pytest

from coach.cli import COMMANDS, main
from coach.store.demo import demo_folder, put_demo_here
from tests.sessions import TWO_CANVASES

Out = pytest.CaptureFixture[str]


@pytest.mark.parametrize(("typed", "meant"), [("chekc", "check"), ("forcast", "forecast"), ("prepar", "prepare")])
def test_a_misspelt_command_names_the_one_it_looks_like(typed: str, meant: str, capsys: Out) -> None:
    assert main([typed, "plan.yaml"]) == 2
    assert f"did you mean coach {meant}?" in capsys.readouterr().err


def test_a_plan_is_found_by_its_name_without_ending(
    tmp_path: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("orchard.yml").write_text(TWO_CANVASES, encoding="utf-8")
    Path("plans").mkdir()
    Path("plans/ferry.yaml").write_text(TWO_CANVASES, encoding="utf-8")
    assert [main(["check", name]) for name in ("orchard", "ferry", "orchard.yml")] == [0, 0, 0]
    assert "orchard.yml is sound" in capsys.readouterr().out
    for words in (["check", "meadow"], ["log", "meadow"], ["meadow"]):
        assert main(words) == 1
        assert capsys.readouterr().err == "meadow: there is no such file\n"


def test_a_plan_that_looks_like_a_command_is_opened_where_it_is_there(
    tmp_path: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("chek.yaml").write_text(TWO_CANVASES, encoding="utf-8")
    assert main(["chek"]) == 2
    assert "needs a terminal" in capsys.readouterr().err


def test_the_help_names_every_command_and_loads_none(tmp_path: Path) -> None:
    code = "import sys; from coach.cli import main\ntry: main(['--help'])\nfinally: print(sorted(sys.modules))"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=tmp_path)
    said, loaded = shown.stdout.rsplit("[", 1)
    assert all(f"    {name} " in said for name in COMMANDS)
    assert not [name for name in ("textual", "rich", "yaml", "numpy", "coach.plan.reading") if f"'{name}'" in loaded]


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_help_of_its_own(name: str, capsys: Out) -> None:
    with pytest.raises(SystemExit) as stopped:
        main([name, "--help"])
    assert stopped.value.code == 0
    assert capsys.readouterr().out.startswith(f"usage: coach {name} ")


def test_the_version_is_that_of_the_package(capsys: Out) -> None:
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out.startswith("coach 0.")


def test_the_demo_is_copied_once_and_never_written_over(tmp_path: Path) -> None:
    path = put_demo_here(tmp_path)
    assert {one.name for one in tmp_path.iterdir()} == {one.name for one in demo_folder().glob(f"{path.stem}.*")}
    assert main(["check", str(path)]) == 0
    path.write_text(TWO_CANVASES, encoding="utf-8")
    assert put_demo_here(tmp_path) == path
    assert path.read_text(encoding="utf-8") == TWO_CANVASES
