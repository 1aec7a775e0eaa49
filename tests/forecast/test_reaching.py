"""The day of each stroke and of the last wet passage, by hand-worked calendars and by brute force."""

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.forecast.adherence import Adherence
from coach.forecast.drying_table import DaysRange
from coach.forecast.simulation import NEVER, dry_days, kept_share, marks_of, plain_draws, strokes_of, work_sums
from coach.forecast.steps import Step, last_wet

QUICK = DaysRange(1, 1)


def step(
    hours: float,
    dries: DaysRange = QUICK,
    over: tuple[int, ...] = (),
    laid: tuple[tuple[int, DaysRange], ...] = (),
) -> Step:
    return Step(log(hours), 0.0, dries, over, laid)


def simulate(steps: list[Step], usable: list[float], dry_frac: float = 1.0) -> tuple[int, int]:
    """Return the days of the last stroke and of all dry; units of time are hours."""
    wet = last_wet(steps)
    marks = marks_of(steps, wet)
    work = work_sums(steps, marks, plain_draws(), 0.0)
    found = strokes_of(
        steps,
        marks,
        wet,
        work_s=work,
        share_frac=np.ones(1),
        usable_s=np.array(usable),
        dry_frac=np.array([dry_frac]),
    )
    return int(found.last[0]), int(found.dry[0])


@pytest.mark.parametrize(
    ("usable", "last"),
    [
        ([2, 2, 2], 1),
        ([4, 0, 0], 0),
        ([3.9, 0, 0.1], 2),
        ([0, 0, 2, 0, 2], 4),
        ([1, 1, 1], NEVER),
        ([0, 0], NEVER),
    ],
)
def test_the_last_stroke_falls_on_the_first_day_by_whose_end_the_hours_are_there(
    usable: list[float], last: int
) -> None:
    """Four hours of work; worked by hand."""
    assert simulate([step(1), step(3)], usable)[0] == last


def test_a_painting_is_dry_when_its_last_wet_passage_is() -> None:
    """Day 0 lays a slow passage, day 1 a quick one: the first is the last to dry."""
    steps = [step(2, DaysRange(4, 8)), step(2, DaysRange(1, 3))]
    assert simulate(steps, [2, 2, 2]) == (1, 8)
    assert simulate(steps, [2, 2, 2], dry_frac=0.0) == (1, 4)
    assert simulate(steps, [2, 2, 2], dry_frac=0.5) == (1, 6)


def test_a_passage_over_another_waits_until_that_is_dry_and_holds_up_what_follows() -> None:
    """Laid on day 0, dry on day 3; the hours of days 0 to 2 that are left over are lost."""
    below, above, after = step(1, DaysRange(2, 3)), step(2, over=(0,)), step(2)
    assert simulate([below, above, after], [3] * 9)[0] == 4
    assert simulate([below, above, after], [3] * 9, dry_frac=0.0)[0] == 3
    assert simulate([below, step(2), after], [3] * 9)[0] == 1


def test_work_in_between_fills_the_time_of_waiting() -> None:
    below, between, above = step(1, DaysRange(2, 3)), step(8), step(2, over=(0,))
    assert simulate([below, between, above], [3] * 9)[0] == 3


def test_a_passage_over_what_was_laid_before_waits_for_that() -> None:
    """Laid two days ago, dry five days after: on day 3."""
    assert simulate([step(1, laid=((-2, DaysRange(5, 5)),))], [3] * 9)[0] == 3
    assert simulate([step(1, laid=((-6, DaysRange(5, 5)),))], [3] * 9)[0] == 0


def test_waiting_past_the_days_looked_at_never_ends() -> None:
    assert simulate([step(1, DaysRange(9, 9)), step(1, over=(0,))], [3] * 5)[0] == NEVER


def test_days_to_dry_are_whole_days_rounded_up() -> None:
    fracs = np.array([0.0, 0.5, 1.0])
    assert dry_days(DaysRange(1.5, 4), fracs).tolist() == [2, 3, 4]
    assert dry_days(DaysRange(9, 9), fracs).tolist() == [9, 9, 9]
    assert dry_days(DaysRange(0.75, 1), fracs).tolist() == [1, 1, 1]


def test_the_share_kept_is_never_nothing_and_narrows_over_many_days() -> None:
    draws = plain_draws()._replace(kept_z=np.array([-50.0, -1.0, 0.0]))
    few = kept_share(Adherence(), 10.0, np.full(100, 5.0), draws)
    many = kept_share(Adherence(days=50), 400.0, np.full(100, 5.0), draws)
    assert few[0] == 0.05
    assert few[1] < many[1] < many[2] == few[2] == 1


steps_drawn = st.lists(
    st.builds(
        lambda hours, low, more, back: (hours, DaysRange(low, low + more), back),
        st.floats(0.1, 5),
        st.integers(0, 9),
        st.integers(0, 9),
        st.integers(0, 12),
    ),
    min_size=1,
    max_size=12,
)


@given(
    steps_drawn, st.lists(st.sampled_from([0.0, 1.0, 3.5]), min_size=1, max_size=20), st.sampled_from([0.0, 0.3, 1.0])
)
def test_every_day_is_that_of_a_painter_who_goes_through_turn_by_turn(
    drawn: list[tuple[float, DaysRange, int]], usable: list[float], frac: float
) -> None:
    """The quick way over marks against a plain walk that keeps every turn; every third turn lies over another."""
    steps = [
        step(hours, dries, (number - back,) if 0 < back <= number and number % 3 == 0 else ())
        for number, (hours, dries, back) in enumerate(drawn)
    ]
    assert simulate(steps, usable, frac) == _walked(steps, usable, frac)


def _walked(steps: list[Step], usable: list[float], frac: float) -> tuple[int, int]:
    used = 0.0
    dry: list[int] = []
    ends = np.cumsum(usable)
    for own in steps:
        ready = max((dry[below] for below in own.waits_for), default=0)
        used = max(used, float(np.sum(usable[:ready]))) + float(np.exp(own.log_mean))
        day = next((number for number, end in enumerate(ends) if end >= used - 1e-6), NEVER)
        dry.append(day + int(dry_days(own.drying, np.array([frac]))[0]))
    return (day, NEVER) if day >= NEVER else (day, max(dry))
