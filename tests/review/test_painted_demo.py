"""The review of journals that the simulated painter painted: what is known to be true is what is told."""

import json
from pathlib import Path

import pytest

from coach.cli import main
from tests.painter import Habits, paint_journal

PLANS = Path(__file__).parents[1] / "cases" / "plans"


def reviewed(folder: Path, plan: str, habits: Habits, capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    """Paint a plan and return what `coach log --fairness --json` tells."""
    text = (PLANS / plan).read_text(encoding="utf-8")
    (folder / plan).write_text(text, encoding="utf-8")
    paint_journal(folder / plan, habits)
    assert main(["log", str(folder / plan), "--fairness", "--json"]) == 0
    answer: dict[str, object] = json.loads(capsys.readouterr().out)
    return answer


@pytest.mark.parametrize("plan", ["orchard-keeper.yaml", "ferry-sisters.yaml"])
def test_a_painter_who_saves_12_percent_when_following_is_told_so(
    plan: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = reviewed(tmp_path, plan, Habits(seed=1, follow_frac=0.88, noise=0.06, slip_frac=0.1), capsys)

    follow, canvases, sentences = told["follow_with_canvases_allowed_for"], told["canvases"], told["sentences"]
    assert isinstance(follow, dict)
    assert isinstance(canvases, list)
    assert isinstance(sentences, list)
    assert follow["ratio_frac"] == pytest.approx(0.88, abs=0.04)
    assert follow["high_frac"] < 1
    assert sentences[0].startswith("Fair: ")
    assert "saved about" in sentences[1]
    assert max(canvas["leads"] for canvas in canvases) - min(canvas["leads"] for canvas in canvases) <= 3


def test_the_practice_that_was_painted_is_found_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = reviewed(tmp_path, "orchard-keeper.yaml", Habits(seed=3, learning_frac=0.9, noise=0.05), capsys)

    practice = told["practice"]
    assert isinstance(practice, dict)
    assert practice["low_frac"] <= 0.9 <= practice["high_frac"]


def test_a_painter_who_always_begins_on_the_same_canvas_is_told_that_nothing_can_be_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fixed = (PLANS / "orchard-keeper.yaml").read_text(encoding="utf-8").replace("\nweek:", "\norder: fixed\nweek:", 1)
    plan = tmp_path / "fixed.yaml"
    plan.write_text(fixed, encoding="utf-8")
    paint_journal(plan, Habits(slip_frac=0))
    assert main(["log", str(plan), "--fairness"]) == 0
    said = " ".join(capsys.readouterr().out.split())

    assert "but Hall led every run: whether that is the place or the canvas cannot be told." in said
    assert said.startswith("Fair: no. Hall led ")
