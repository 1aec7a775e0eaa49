"""Pace by role and by pass, and the turns that are left out of it."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.forecast.outlook import TurnTime, sorted_turns
from coach.forecast.pace import NOISE_PRIOR_TURNS, NOISE_SD, PRIOR_SD, pace_of, shrunk

FEATURES = {
    "eyes": (1.42, 1.25, 1.60),
    "mouth": (1.10, 1.30),
    "hair": (0.85, 0.95, 0.90, 0.80),
    "ground": (0.70,),
    "clothing": (1.00, 1.05),
}
HOUR_S = 3600


def turn(ratio: float, pass_name: str = "eyes", *, is_lead: bool = True, planned_s: float = 900) -> TurnTime:
    return TurnTime(pass_name, is_lead, planned_s, planned_s * ratio)


def test_five_features_are_drawn_together_as_printed() -> None:
    """Order facts N, empirical Bayes by one-way moments."""
    found = shrunk([[log(ratio) for ratio in ratios] for ratios in FEATURES.values()])
    assert found.within_var == pytest.approx(0.008862, abs=5e-7)
    assert found.group_size == pytest.approx(2.291667, abs=5e-7)
    assert found.between_var == pytest.approx(0.061996, abs=5e-7)
    assert found.mean == pytest.approx(0.016908, abs=5e-7)
    assert found.weights_frac == pytest.approx((0.954518, 0.933294, 0.965496, 0.874931, 0.933294), abs=5e-7)
    factors = [exp(mean) for mean in found.means]
    assert factors == pytest.approx((1.394979, 1.182979, 0.877817, 0.733483, 1.024183), abs=5e-7)


def test_groups_that_differ_no_more_than_chance_become_one() -> None:
    found = shrunk([[0.1, -0.1], [0.1, -0.1]])
    assert found.between_var == 0
    assert found.means == pytest.approx((0, 0))


def test_values_that_are_all_the_same_are_their_own_mean() -> None:
    assert shrunk([[0.25, 0.25], [0.25]]).means == (0.25, 0.25)


def test_leading_turns_alone_give_the_factor_of_the_formula_and_a_weaker_one_to_following_turns() -> None:
    """Order facts N, known sigma: 1/v = 1/tau^2 + n/sigma^2, m = v * sum r / sigma^2 where mu0 is 0."""
    turns = [turn(ratio) for ratio in (1.30, 1.10, 1.45, 1.20)]
    pace = pace_of(turns)
    variance = 1 / (PRIOR_SD**-2 + 4 * pace.noise_sd**-2)
    alone = (variance * sum(own.log_ratio for own in turns) * pace.noise_sd**-2, variance**0.5)
    assert pace.lead == pytest.approx(alone)
    assert 0 < pace.follow.log_mean < pace.lead.log_mean
    assert pace.lead.log_sd < pace.follow.log_sd < PRIOR_SD


def test_leading_and_following_turns_have_factors_of_their_own() -> None:
    turns = [turn(1.5) for _ in range(40)] + [turn(0.9, is_lead=False) for _ in range(40)]
    pace = pace_of(turns)
    assert pace.lead.median_frac == pytest.approx(1.5, abs=0.05)
    assert pace.follow.median_frac == pytest.approx(0.9, abs=0.03)


def test_without_a_log_the_plan_counts() -> None:
    pace = pace_of([])
    assert list(pace.factor("eyes", is_lead=True)) == pytest.approx([0, PRIOR_SD])
    assert pace.noise_sd == NOISE_SD


def test_a_pass_with_enough_turns_has_a_factor_of_its_own_and_a_new_pass_is_less_certain() -> None:
    ratios = (1.1, 0.9, 1.0, 1.05, 0.95)
    turns = [turn(own * 1.5, "eyes") for own in ratios] + [turn(own, "hair") for own in ratios]
    pace = pace_of(turns)
    eyes, hair, other = (pace.factor(name, is_lead=True) for name in ("eyes", "hair", "ground"))
    assert eyes.median_frac / hair.median_frac == pytest.approx(1.5, rel=0.05)
    assert hair.median_frac < other.median_frac < eyes.median_frac
    assert other.log_sd > eyes.log_sd


@pytest.mark.parametrize("turns", [[turn(1.4)] * 9, [turn(1.4, "eyes"), turn(0.7, "hair")] * 2])
def test_passes_do_not_count_apart_where_there_is_too_little(turns: list[TurnTime]) -> None:
    assert pace_of(turns).by_pass == {}


@given(st.lists(st.floats(0.3, 3), min_size=1, max_size=30))
def test_the_order_of_the_turns_does_not_matter(ratios: list[float]) -> None:
    there, back = pace_of([turn(own) for own in ratios]), pace_of([turn(own) for own in reversed(ratios)])
    assert there.lead == pytest.approx(back.lead)


def test_an_uneven_painter_gets_a_wider_spread_of_turns() -> None:
    uneven = [turn(own) for own in (0.3, 3.0) * 30]
    assert pace_of(uneven).noise_sd > 2 * NOISE_SD
    assert pace_of([turn(1.0)] * 60).noise_sd < NOISE_SD * (NOISE_PRIOR_TURNS / 60) ** 0.5


@pytest.mark.parametrize(
    ("planned_s", "worked_s", "counts"),
    [
        (14 * 60, 14 * HOUR_S, False),
        (4 * HOUR_S, 11 * HOUR_S, False),
        (50 * 60, 4.5 * HOUR_S, False),
        (3 * HOUR_S, 4.5 * HOUR_S, True),
        (14 * 60, 3.9 * HOUR_S, True),
        (20 * 60, 59, False),
        (20 * 60, 61, True),
        (20 * 60, 0, False),
        (0, 60, False),
    ],
)
def test_a_forgotten_key_and_a_key_pressed_twice_are_left_out_for_correction(
    planned_s: float, worked_s: float, *, counts: bool
) -> None:
    given_turn = TurnTime("eyes", True, planned_s, worked_s)
    found = sorted_turns([given_turn])
    assert found.counted == ((given_turn,) if counts else ())
    assert found.outliers == (() if counts else (given_turn,))
