"""What the review refuses, and what importing it must not load."""

import subprocess
import sys
from math import inf, nan
from pathlib import Path

import pytest

from coach.errors import CoachError
from coach.review.fairness.fair_review import review_fairness
from coach.review.fairness.run_times import RunTimes

TWO = ("Hall", "School")


def one_run(order: tuple[str, ...] = TWO, minutes: tuple[float, ...] = (10.0, 9.0), run_no: int = 1) -> RunTimes:
    return RunTimes(pass_name="eyes", run_no=run_no, order=order, minutes=minutes, planned_min=10)


@pytest.mark.parametrize("bad_min", [0.0, -1.0, nan, inf, -inf, True])
def test_bad_minutes_are_refused(bad_min: float) -> None:
    with pytest.raises(CoachError):
        one_run(minutes=(10.0, bad_min))
    with pytest.raises(CoachError):
        RunTimes(pass_name="eyes", run_no=1, order=TWO, minutes=(1.0, 1.0), planned_min=bad_min)


def test_bad_runs_are_refused() -> None:
    with pytest.raises(CoachError):
        one_run(order=("Hall", "Hall"))
    with pytest.raises(CoachError):
        one_run(order=(), minutes=())
    with pytest.raises(CoachError):
        one_run(minutes=(1.0,))
    with pytest.raises(CoachError):
        one_run(run_no=0)
    with pytest.raises(CoachError, match="Attic"):
        review_fairness([one_run(order=("Hall", "Attic"))], canvases=TWO)
    with pytest.raises(CoachError):
        review_fairness([], canvases=("Hall", "Hall"))


def test_import_loads_no_numeric_library() -> None:
    code = (
        "import sys; import coach.review.fairness.fair_review, coach.review.fairness.fairness_plain, "
        "coach.review.fairness.from_painted; sys.exit(bool({'numpy', 'scipy'} & set(sys.modules)))"
    )
    root = Path(__file__).parents[2]

    assert subprocess.run([sys.executable, "-c", code], cwd=root, check=False).returncode == 0
