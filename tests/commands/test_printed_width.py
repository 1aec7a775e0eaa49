"""What the commands print fits 80 columns, at which a pipe is taken, and 60; no name is broken into letters."""

import shutil
from pathlib import Path

import pytest

from coach.cli import main
from coach.plan.reading import read_plan
from coach.text import cells
from tests.painter import Habits, paint_journal

PLANS = Path(__file__).parents[2] / "plans"


@pytest.fixture(scope="module")
def painted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a demo plan with its photo, some of it painted."""
    folder = tmp_path_factory.mktemp("painted")
    for path in PLANS.glob("evening-study.*"):
        shutil.copy(path, folder)
    paint_journal(folder / "evening-study.yaml", Habits(), 12)
    return folder / "evening-study.yaml"


@pytest.mark.parametrize("columns", [60, 80])
@pytest.mark.parametrize(
    "words",
    ["check", "order", "order --compare", "log", "log --fairness", "log --hours", "forecast", "compose", "prepare"],
)
def test_every_line_fits_and_the_names_of_the_plan_stand_whole(
    painted: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, words: str, columns: int
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    command, *options = words.split()
    assert main([command, str(painted), *options]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(map(cells, lines)) <= columns
    found = {word.strip(".,:;()“”") for line in lines for word in line.split()}
    if words in {"order", "log"}:
        plan = read_plan(painted.read_text(encoding="utf-8"), "")
        names = [canvas.name for canvas in plan.canvases] + [one.name for one in plan.passes[0].passages]
        assert {word for name in names for word in name.split()} <= found


def test_the_keys_of_a_plan_fit_too(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["check", "--keys"]) == 0
    assert max(map(cells, capsys.readouterr().out.splitlines())) <= 80
