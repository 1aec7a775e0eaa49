"""What the Deadline asks of the disk: the plan in its file, its journal, and a changed plan written back."""

import datetime as dt
from pathlib import Path

import pytest

from coach.commands.repositories import PlanForecastSource
from coach.errors import CoachError
from coach.forecast.what_if import Change, changed_plan
from coach.store.system_clock import SystemClock
from tests.painter import Habits, paint_journal
from tests.sessions import Easel

TEXT = """\
# for the spring
canvases: [Hall, School]
due: 2027-05-01   # promised by word of mouth
week: {mon-fri: 5 h, sat: 3 h}
passes:
  - name: eyes
    passages: [{name: socket, minutes: 20}, {name: iris, minutes: 10}]
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    (tmp_path / "plan.yaml").write_text(TEXT, encoding="utf-8")
    return tmp_path / "plan.yaml"


def foresight_on(path: Path) -> PlanForecastSource:
    return PlanForecastSource(path, Easel(TEXT).session, SystemClock())


def test_it_asks_about_what_the_file_states_and_the_journal_holds(path: Path) -> None:
    paint_journal(path, Habits(), 2)
    path.write_text(TEXT.replace("2027-05-01", "2027-06-01"), encoding="utf-8")
    asked = foresight_on(path).asked()

    assert asked.stated.due == dt.date(2027, 6, 1)
    assert len(asked.outlook.turns) == 2


def test_a_faulty_file_leaves_the_plan_in_force(path: Path) -> None:
    path.write_text("canvases: [", encoding="utf-8")
    assert foresight_on(path).asked().stated.due == dt.date(2027, 5, 1)


def test_a_choice_is_written_and_every_other_character_stays(path: Path) -> None:
    forecast_source = foresight_on(path)
    plan = forecast_source.asked().stated
    said = forecast_source.write(plan, changed_plan(plan, Change(week_s=(6 * 3600,) * 5 + (3 * 3600, 0))))

    was, now = "week: {mon-fri: 5 h, sat: 3 h}", "week: {mon-fri: 6 h, sat: 3 h}"
    assert said == f"Saved. The easel knows it. Before: “{was}”, now: “{now}”."
    assert path.read_text(encoding="utf-8") == TEXT.replace(was, now)
    assert forecast_source.take_back() == f"Taken back. Before: “{now}”, now: “{was}”."
    assert path.read_text(encoding="utf-8") == TEXT
    with pytest.raises(CoachError, match="nothing was written here"):
        forecast_source.take_back()


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (Change(room_c=23), "room"),
        (Change(medium="alkyd"), "medium"),
        (Change(framing_working_days=2), "framing"),
        (Change(due=dt.date(2027, 5, 8)), "due"),
    ],
)
def test_only_lines_of_the_figure_that_was_tried_change_and_a_plan_changed_since_stays(
    path: Path, change: Change, key: str
) -> None:
    forecast_source = foresight_on(path)
    plan = forecast_source.asked().stated
    forecast_source.write(plan, changed_plan(plan, change))
    written = path.read_text(encoding="utf-8")
    assert all(
        key in own or own in {"forecast:", "after:"} for own in set(written.splitlines()) - set(TEXT.splitlines())
    )
    path.write_text(written + "# mine\n", encoding="utf-8")
    with pytest.raises(CoachError, match="changed meanwhile"):
        forecast_source.take_back()
    assert path.read_text(encoding="utf-8") == written + "# mine\n"


def test_a_plan_that_was_changed_meanwhile_is_not_written_over(path: Path) -> None:
    forecast_source = foresight_on(path)
    plan = forecast_source.asked().stated
    path.write_text(TEXT.replace("minutes: 20", "minutes: 25"), encoding="utf-8")

    with pytest.raises(CoachError, match="changed meanwhile"):
        forecast_source.write(plan, changed_plan(plan, Change(room_c=21)))
    assert "minutes: 25" in path.read_text(encoding="utf-8")


def test_the_elapsed_clock_does_not_run_back(path: Path) -> None:
    forecast_source = foresight_on(path)
    assert forecast_source.now_ms() <= forecast_source.now_ms()


def test_a_coach_that_only_shows_writes_no_plan(path: Path) -> None:
    easel = Easel(TEXT)
    forecast_source = PlanForecastSource(path, easel.opened(read_only="open in another coach"), SystemClock())
    plan = forecast_source.asked().stated

    with pytest.raises(CoachError, match="not written: open in another coach"):
        forecast_source.write(plan, changed_plan(plan, Change(room_c=21)))
    assert path.read_text(encoding="utf-8") == TEXT
