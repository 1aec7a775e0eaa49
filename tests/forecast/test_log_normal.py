"""The painter's factor against the check values of facts/order.md part 2 N and against scipy.

The check values take the spread of a turn as known, 0.30; the coach learns it from the log. So the four printed
ratios are moved apart about their mean until they show just that spread: number and mean, on which the factor
rests, stay those of N.
"""

from math import exp, log
from statistics import fmean, stdev

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm

from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Outlook, TurnTime
from coach.forecast.pace import NOISE_SD, Factor, pace_of
from coach.forecast.simulation import Simulation, draws_of, simulate, work_sums
from coach.forecast.steps import Step
from tests.forecast.made import MONDAY, hours_of_work, plan_of

LOGS = [log(ratio) for ratio in (1.30, 1.10, 1.45, 1.20)]
TRIALS = 20_000


def turns(logs: list[float]) -> tuple[TurnTime, ...]:
    return tuple(TurnTime("eyes", True, 900, 900 * exp(own)) for own in logs)


def printed_turns() -> tuple[TurnTime, ...]:
    mean, apart = fmean(LOGS), NOISE_SD / stdev(LOGS)
    return turns([mean + apart * (own - mean) for own in LOGS])


def passage_of_25_minutes() -> Simulation:
    turn = hours_of_work(1)[0]._replace(planned_s=25 * 60)
    return simulate(plan_of(), Outlook(MONDAY, (turn,), turns=printed_turns(), trials=TRIALS))


def test_four_turns_give_the_printed_factor() -> None:
    """Order facts N: tau 0.25, sigma 0.30; the weight of the data is the share of their mean that is believed."""
    pace = pace_of(printed_turns())
    assert pace.noise_sd == pytest.approx(0.30)
    assert pace.lead.log_mean == pytest.approx(0.167566, abs=5e-7)
    assert pace.lead.log_sd == pytest.approx(0.128624, abs=5e-7)
    assert pace.lead.log_mean / fmean(LOGS) == pytest.approx(0.735294, abs=5e-7)
    assert pace.lead.median_frac == pytest.approx(1.182423, abs=5e-7)
    assert pace.lead.mean_frac == pytest.approx(1.192245, abs=5e-7)


def test_the_factor_is_drawn_between_the_printed_ends() -> None:
    """Order facts N, 95 %: a second of work without the noise of a turn; evenly spread draws lie within 0.02 %."""
    lead = pace_of(printed_turns()).lead
    drawn = work_sums([Step(lead.log_mean, lead.log_sd, DaysRange(1, 2))], [0], draws_of(3, TRIALS), 0.0)[0]
    assert np.quantile(drawn, [0.025, 0.975]) == pytest.approx([0.918942, 1.521451], rel=2e-4)


def test_a_passage_of_25_minutes_to_come_has_the_printed_spread() -> None:
    """Order facts N: median, P80, P90, mean and predictive sd; the error of 20 000 draws is about 0.3 to 0.5 %."""
    minutes = passage_of_25_minutes().work_s[-1] / 60
    assert np.quantile(minutes, [0.5, 0.8, 0.9]) == pytest.approx([29.5606, 38.9063, 44.9142], rel=0.015)
    assert minutes.mean() == pytest.approx(31.1780, rel=0.01)
    assert np.log(minutes).std() == pytest.approx(0.326411, rel=0.02)


@given(st.floats(-2, 2), st.floats(0.01, 1))
def test_median_and_mean_are_those_of_scipys_log_normal(log_mean: float, log_sd: float) -> None:
    factor, other = Factor(log_mean, log_sd), lognorm(s=log_sd, scale=exp(log_mean))
    assert factor.median_frac == pytest.approx(other.median())
    assert factor.mean_frac == pytest.approx(other.mean())


def test_few_turns_leave_the_plan_and_many_turns_leave_the_log() -> None:
    assert pace_of([]).lead.median_frac == 1
    assert 1 < pace_of(turns([log(1.5)])).lead.median_frac < 1.25
    assert pace_of(turns([log(1.5)] * 200)).lead.median_frac == pytest.approx(1.5, abs=0.01)
