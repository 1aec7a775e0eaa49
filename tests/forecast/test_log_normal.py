"""The painter's factor against the check values of facts/order.md part 2 N and against scipy."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm

from coach.forecast.log_normal import Factor, posterior

RATIOS = [log(ratio) for ratio in (1.30, 1.10, 1.45, 1.20)]


def test_four_turns_give_the_printed_posterior() -> None:
    """Order facts N: tau 0.25, sigma 0.30."""
    found = posterior(RATIOS)
    assert found.log_mean == pytest.approx(0.167566, abs=5e-7)
    assert found.log_sd == pytest.approx(0.128624, abs=5e-7)
    assert found.median_frac == pytest.approx(1.182423, abs=5e-7)
    assert found.mean_frac == pytest.approx(1.192245, abs=5e-7)
    assert found.quantile_frac(0.025) == pytest.approx(0.918942, abs=5e-7)
    assert found.quantile_frac(0.975) == pytest.approx(1.521451, abs=5e-7)


def test_a_passage_of_25_minutes_to_come_has_the_printed_spread() -> None:
    """Order facts N."""
    found = posterior(RATIOS).of_one_turn(0.30)
    assert found.log_sd == pytest.approx(0.326411, abs=5e-7)
    minutes = [25 * value for value in (found.median_frac, found.mean_frac)]
    minutes += [25 * found.quantile_frac(own) for own in (0.8, 0.9)]
    assert minutes == pytest.approx([29.5606, 31.1780, 38.9063, 44.9142], abs=5e-5)


@given(st.floats(-2, 2), st.floats(0.01, 1), st.floats(0.01, 0.99))
def test_mean_and_quantiles_are_those_of_scipys_log_normal(log_mean: float, log_sd: float, frac: float) -> None:
    factor, other = Factor(log_mean, log_sd), lognorm(s=log_sd, scale=exp(log_mean))
    assert factor.mean_frac == pytest.approx(other.mean())
    assert factor.quantile_frac(frac) == pytest.approx(other.ppf(frac))


@given(st.lists(st.floats(-1, 1), max_size=12), st.lists(st.floats(-1, 1), max_size=12))
def test_turns_learned_one_after_the_other_tell_what_they_tell_together(first: list[float], then: list[float]) -> None:
    """Order facts N: sequential = batch."""
    one_by_one = posterior(then, prior=posterior(first))
    assert one_by_one == pytest.approx(posterior(first + then))


def test_few_turns_leave_the_plan_and_many_turns_leave_the_log() -> None:
    assert posterior([]).median_frac == 1
    assert 1 < posterior([log(1.5)]).median_frac < 1.25
    assert posterior([log(1.5)] * 200).median_frac == pytest.approx(1.5, abs=0.01)
