"""The draws against scipy: single turns, sums of log-normals, and their seed."""

from math import exp, log

import numpy as np
import pytest
from scipy.signal import fftconvolve
from scipy.stats import kstest, lognorm

from coach.forecast.drying_table import DaysRange
from coach.forecast.simulation import draws_of, plain_draws, work_sums
from coach.forecast.steps import Step

TRIALS = 20_000


def step(seconds: float, log_sd: float = 0.0) -> Step:
    return Step(log(seconds), log_sd, DaysRange(1, 2))


def test_one_turn_has_the_percentiles_of_scipys_log_normal() -> None:
    """Order facts N: 25 min, factor 0.167566 +- 0.128624, noise 0.30; standard error of the P90 is about 0.3 %."""
    draws = draws_of(3, TRIALS)
    one = Step(log(25 * 60) + 0.167566, 0.128624, DaysRange(1, 2))
    found = np.quantile(work_sums([one], [0], draws, 0.30)[0], [0.1, 0.5, 0.8, 0.9]) / 60
    assert found == pytest.approx(lognorm.ppf([0.1, 0.5, 0.8, 0.9], s=0.326411, scale=29.5606), rel=0.015)
    assert found[1:] == pytest.approx([29.5606, 38.9063, 44.9142], rel=0.015)


def test_a_sum_of_turns_has_the_percentiles_of_the_convolution() -> None:
    """Three log-normals convolved on a grid of scipy's densities."""
    grid = np.arange(0, 400, 0.05)
    density = np.array([1.0])
    for median in (20.0, 30.0, 45.0):
        density = fftconvolve(density, lognorm.pdf(grid, s=0.3, scale=median) * 0.05)
    expected = np.interp([0.1, 0.5, 0.8, 0.95], np.cumsum(density), np.arange(len(density)) * 0.05)
    sums = work_sums([step(20), step(30), step(45)], [2], draws_of(1, TRIALS), 0.3)[0]
    assert np.quantile(sums, [0.1, 0.5, 0.8, 0.95]) == pytest.approx(expected, rel=0.01)


def test_noise_averages_out_over_many_turns_and_the_factor_does_not() -> None:
    """Mean and variance of a sum of independent log-normals are the sums of theirs."""
    noise, factor = (
        work_sums([step(60, log_sd)] * 100, [99], draws_of(2, TRIALS), noise_sd)[0]
        for log_sd, noise_sd in ((0.0, 0.3), (0.3, 0.0))
    )
    one = lognorm(s=0.3, scale=60)
    assert noise.mean() == pytest.approx(100 * one.mean(), rel=0.005)
    assert noise.std() == pytest.approx(10 * one.std(), rel=0.03)
    assert factor.std() == pytest.approx(100 * one.std(), rel=0.02)


def test_marks_are_sums_up_to_and_with_their_step() -> None:
    steps = [step(10), step(20), step(30), step(40)]
    assert work_sums(steps, [0, 2, 3], plain_draws(), 0.0) == pytest.approx(np.array([[10], [60], [100]]))


def test_shared_draws_are_normal_and_even() -> None:
    draws = draws_of(5, 1000)
    assert kstest(draws.pace_z, "norm").statistic < 0.002
    assert kstest(draws.kept_z, "norm").statistic < 0.002
    assert kstest(draws.dry_frac, "uniform").statistic < 0.002
    assert abs(np.corrcoef(draws.pace_z, draws.kept_z)[0, 1]) < 0.15


def test_the_same_seed_draws_the_same_and_another_seed_does_not() -> None:
    first, again, other = (work_sums([step(60)] * 3, [2], draws_of(seed, 50), 0.3) for seed in (7, 7, 8))
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


def test_many_trials_in_pieces_are_whole() -> None:
    """A million numbers are drawn in several pieces; no trial may be left unfilled."""
    sums = work_sums([step(60)] * 400, [0, 399], draws_of(1, 2500), 0.1)
    assert sums[0].min() > 60 * exp(-0.6)
    assert np.abs(sums[1] / (400 * 60) - 1).max() < 0.05
