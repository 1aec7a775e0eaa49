"""`coach forecast`: the answer of the issue's form, and the hand-worked calendars."""

import json
from pathlib import Path

import pytest

from coach.cli import main
from tests.painter import Habits, paint_journal

BACK_PLAN = """
canvases: [{name: Hall}]
due: 2026-12-18
week: {mon-fri: 6 h}
after: {drying: 9 days, framing: 3 working days, transport: 2 working days}
forecast: {spread: none}
passes:
  - name: ground
    passages: [{name: upper half, minutes: 1440}, {name: lower half, minutes: 1440}, {name: edge, minutes: 720}]
"""


def told(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    assert main(["forecast", *words, "--json"]) == 0
    answer: dict[str, object] = json.loads(capsys.readouterr().out)
    return answer


def plan_at(folder: Path, text: str, name: str = "plan.yaml") -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return str(folder / name)


def test_the_back_plan_comes_out_of_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Trade checks F, row 104: worked by hand on the calendar of December 2026."""
    answer = told(capsys, plan_at(tmp_path, BACK_PLAN), "--today", "2026-11-19")

    assert answer["latest"] == {
        "leave_studio": "2026-12-16",
        "to_framer": "2026-12-11",
        "last_stroke": "2026-12-02",
        "last_painting_day": "2026-12-02",
        "first_painting_day": "2026-11-19",
    }
    assert answer["last_stroke"] == {"p50": "2026-12-02", "p80": "2026-12-02", "p95": "2026-12-02"}
    assert answer["delivered"] == {"p50": "2026-12-18", "p80": "2026-12-18", "p95": "2026-12-18"}
    assert answer["chance"] is None
    assert answer["headline"] == "Fri 18 Dec 2026 holds: delivered on Fri 18 Dec 2026 if all goes by the plan."


def test_a_day_later_the_due_day_no_longer_holds(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = told(capsys, plan_at(tmp_path, BACK_PLAN), "--today", "2026-11-20")

    assert "does not hold" in str(answer["headline"])


def test_the_answer_has_every_key_and_the_same_seed_gives_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = Path("tests/cases/plans/orchard-keeper.yaml").read_text(encoding="utf-8")
    plan = plan_at(tmp_path, text)
    first, second = (told(capsys, plan, "--today", "2027-04-06") for _ in range(2))

    assert first == second
    assert set(first) >= {
        "due",
        "chance",
        "last_stroke",
        "touch_dry",
        "framed",
        "delivered",
        "latest_last_stroke",
        "slack_hours",
        "hours_a_day_for",
        "helps",
    }
    assert isinstance(first["helps"], list)
    is_enough = [found["chance"] >= 0.8 for found in first["helps"]]
    assert is_enough == sorted(is_enough, reverse=True)


def test_a_painted_journal_tells_pace_and_hours_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path("tests/cases/plans/orchard-keeper.yaml").read_text(encoding="utf-8")
    plan = plan_at(tmp_path, text)
    paint_journal(Path(plan), Habits(session_min=120), 20)
    assert main(["forecast", plan, "--today", "2027-04-01"]) == 0
    said = " ".join(capsys.readouterr().out.split())

    assert "So far you take 0.9 times as long as planned." in said
    assert "of the hours your week promised" in said
    assert "What would help most:" in said or "more than 99 %" in said


def test_the_calendar_is_written_once_and_never_over_another_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, target = plan_at(tmp_path, BACK_PLAN), tmp_path / "days.ics"
    words = ["forecast", plan, "--today", "2026-11-19", "--calendar", str(target)]
    assert main(words) == 0
    assert target.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert b"DTSTART;VALUE=DATE:20261218" in target.read_bytes()

    assert main(words) == 1
    assert "there is such a file already" in capsys.readouterr().err


def test_a_day_that_is_none_is_refused_in_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["forecast", plan_at(tmp_path, BACK_PLAN), "--today", "soon"]) == 2
    assert "--today soon: write the day as 2027-03-01" in capsys.readouterr().err


def test_a_journal_to_learn_from_must_lie_beside_the_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["forecast", plan_at(tmp_path, BACK_PLAN + "learn-from: [other.journal]\n")]) == 1
    assert "there is no journal other.journal beside the plan" in capsys.readouterr().err


def test_the_pace_of_an_earlier_commission_is_learned(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    study = Path("tests/cases/plans/evening-study.yaml").read_text(encoding="utf-8")
    paint_journal(Path(plan_at(tmp_path, study, "evening-study.yaml")), Habits())
    plan = plan_at(tmp_path, BACK_PLAN.replace("spread: none", "seed: 1") + "learn-from: [evening-study.journal]\n")
    assert main(["forecast", plan, "--today", "2026-11-19"]) == 0

    assert "So far you take 0.9 times as long as planned." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("due: 2026-12-18", "due: 2026-11-01"), "past"),
        (("due: 2026-12-18", "due: 2026-11-25"), "days"),
        (("mon-fri: 6 h", "mon-fri: 0 h"), "hours"),
    ],
)
def test_what_cannot_hold_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str], sentence: str
) -> None:
    plan = plan_at(tmp_path, BACK_PLAN.replace("spread: none", "seed: 1").replace(*change))
    assert main(["forecast", plan, "--today", "2026-11-19"]) == 0

    assert sentence in capsys.readouterr().out


def test_a_plan_without_a_due_day_has_days_but_no_chance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = plan_at(tmp_path, BACK_PLAN.replace("due: 2026-12-18\n", "").replace("spread: none", "seed: 1"))
    answer = told(capsys, plan, "--today", "2026-11-19")
    assert (answer["due"], answer["chance"], answer["latest"]) == (None, None, None)

    assert main(["forecast", plan, "--today", "2026-11-19"]) == 0
    said = capsys.readouterr().out
    assert "The plan states no due day" in said
    assert "At the latest" not in said


def test_without_hours_no_table_of_days_stands_and_the_hours_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "canvases: [Hall, School]\ndue: 2027-05-01\npasses: [{name: eyes, passages: [{name: iris, minutes: 10}]}]\n"
    assert main(["forecast", plan_at(tmp_path, text), "--today", "2027-03-01"]) == 0
    said = capsys.readouterr().out

    assert said.startswith("Sat 1 May 2027 cannot be told: say your hours.")
    assert "ten years" not in said
    assert "promised" not in said
