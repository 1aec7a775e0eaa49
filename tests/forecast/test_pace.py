"""Pace and the share of the hours kept, against the check figures of trade facts K4 and against numpy."""

from math import exp, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.forecast.adherence import ALL_KEPT, Adherence, DayKept, Overhead, adherence_of, overhead_of
from coach.forecast.outlook import TurnTime, is_forgotten, sorted_turns
from coach.forecast.pace import PLANNED_PACE, pace_of
from coach.plan.commission import Limits

HOUR_S = 3600
NONE = Overhead()


def turn(ratio: float, pass_name: str = "eyes", *, is_lead: bool = True, planned_s: float = 900) -> TurnTime:
    return TurnTime(pass_name, is_lead, planned_s, planned_s * ratio)


def test_six_turns_give_the_figures_of_the_check() -> None:
    """Trade facts K4: y = .3 .5 .4 .2 .6 .4, one pass, lead first in turn."""
    turns = [turn(exp(own), is_lead=no % 2 == 0) for no, own in enumerate((0.3, 0.5, 0.4, 0.2, 0.6, 0.4))]
    pace = pace_of(turns)

    assert pace.noise_sd == pytest.approx(0.3069, abs=5e-5)
    assert (pace.mean[0], pace.cov[0][0] ** 0.5) == pytest.approx((0.3570, 0.1957), abs=5e-5)
    assert pace.log_factor("eyes") == pytest.approx((0.3879, 0.1196), abs=5e-5)
    assert pace.log_factor("nose") == pytest.approx((0.3570, 0.2798), abs=5e-5)
    assert pace.median_frac == pytest.approx(1.43, abs=0.005)
    assert pace.taken_frac == pytest.approx(sum(own.worked_s for own in turns) / (6 * 900))


def test_before_any_log_painters_need_1_3_times_their_plan() -> None:
    pace = pace_of([])

    assert pace.median_frac == pytest.approx(1.3)
    assert pace.log_factor("eyes", is_lead=True) == pytest.approx((log(1.3), (0.35**2 + 0.2**2 + 0.08**2) ** 0.5))
    assert pace.taken_frac is None


def test_many_turns_leave_the_log_and_a_pass_not_begun_stays_uncertain() -> None:
    pace = pace_of([turn(1.5, is_lead=no % 2 == 0) for no in range(200)])

    assert exp(pace.log_factor("eyes")[0]) == pytest.approx(1.5, abs=0.01)
    assert pace.log_factor("eyes")[1] < 0.03
    assert pace.log_factor("nose")[1] > 0.2


def test_leading_and_following_turns_part_as_far_as_the_log_shows() -> None:
    pace = pace_of([turn(1.2 if no % 2 else 1.4, is_lead=no % 2 == 0) for no in range(80)])

    assert exp(pace.log_factor("eyes", is_lead=True)[0]) == pytest.approx(1.4, abs=0.02)
    assert exp(pace.log_factor("eyes", is_lead=False)[0]) == pytest.approx(1.2, abs=0.02)


def test_draws_have_the_means_and_the_spread_that_are_believed() -> None:
    pace = pace_of([turn(1.3), turn(0.9, "mouth"), turn(1.6, is_lead=False)])
    drawn = pace.drawn(np.random.default_rng(1).standard_normal((4, 200_000)))

    assert drawn.mean(axis=1) == pytest.approx(np.array(pace.mean), abs=0.003)
    assert np.cov(drawn) == pytest.approx(np.array(pace.cov), abs=0.001)
    assert PLANNED_PACE.drawn(np.ones((2, 3))).tolist() == [[0, 0, 0]] * 2


@given(st.lists(st.tuples(st.sampled_from(["eyes", "mouth"]), st.booleans(), st.floats(0.1, 9)), max_size=12))
def test_the_order_of_the_turns_does_not_matter(drawn: list[tuple[str, bool, float]]) -> None:
    turns = [turn(ratio, name, is_lead=is_lead) for name, is_lead, ratio in drawn]
    pace, turned = pace_of(turns), pace_of(turns[::-1])

    for name in ("eyes", "mouth", "hair"):
        assert pace.log_factor(name, is_lead=True) == pytest.approx(turned.log_factor(name, is_lead=True))


def test_a_forgotten_key_and_a_key_pressed_twice_are_left_out() -> None:
    good, forgotten, twice = turn(1.0), turn(17.0), turn(0.04)

    assert sorted_turns([good, forgotten, twice]) == ((good,), (forgotten, twice))
    assert not is_forgotten(3000, 4 * HOUR_S)
    assert is_forgotten(9 * HOUR_S, 10 * HOUR_S + 1)


def test_four_days_give_the_figures_of_the_check() -> None:
    """Trade facts K4: shares .6 .9 0 .7."""
    found = adherence_of([DayKept(100, 100 * share) for share in (0.6, 0.9, 0, 0.7)], NONE)

    assert found.day_sd == pytest.approx(0.3087, abs=5e-5)
    assert (found.alpha, found.beta) == pytest.approx((8.582, 4.244), abs=0.003)
    assert found.mean_frac == pytest.approx(0.669, abs=5e-4)
    assert found.kept_frac == pytest.approx(0.55)


def test_the_share_that_is_told_is_hours_painted_over_hours_promised_days_off_left_out() -> None:
    found = adherence_of(
        [DayKept(0, HOUR_S), DayKept(4 * HOUR_S, HOUR_S), DayKept(4 * HOUR_S, HOUR_S)], overhead_of(Limits())
    )

    assert (found.days, found.kept_frac) == (2, 0.25)
    assert adherence_of([], NONE) == Adherence()
    assert ALL_KEPT.mean_frac == 1


def test_a_day_far_over_its_promise_makes_up_for_no_other() -> None:
    over, kept = (adherence_of([DayKept(100, painted)] * 50, NONE) for painted in (900, 100))

    assert over.mean_frac == pytest.approx(kept.mean_frac, abs=0.01)
    assert adherence_of([DayKept(HOUR_S, 0)] * 1000, NONE).mean_frac < 0.05


def test_five_promised_hours_leave_three_and_three_quarters_after_setting_up_and_rests() -> None:
    """50 min of work and 10 min of rest (trade facts H); a quarter of an hour at each end (common practice)."""
    usable_s = overhead_of(Limits()).usable_s

    assert usable_s(5 * HOUR_S) == pytest.approx(3.75 * HOUR_S)
    assert usable_s(20 * 60) == pytest.approx(15 * 60 * 50 / 60)  # on a short day less is set up
    assert usable_s(0) == 0
