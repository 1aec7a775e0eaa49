"""The one model of the review against statsmodels, published data sets and simulated painters."""

import csv
import warnings
from dataclasses import replace
from math import exp, log
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from coach.review.fairness.lead_balance import return_marks
from coach.review.fairness.robust_fit import Estimate, RobustFit, holm, robust_fit
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.time_model import fit_times
from tests.simulated_runs import THREE, TWO, Truth

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import statsmodels.api as sm
    from statsmodels.stats.multitest import multipletests

Pairs = list[tuple[float, float]]

SENN: tuple[Pairs, Pairs] = (
    [(310, 270), (310, 260), (370, 300), (410, 390), (250, 210), (380, 350), (330, 365)],
    [(370, 385), (310, 400), (380, 410), (290, 320), (260, 340), (90, 220)],
)
"""Peak flow, first and second period, A first and B first: Senn, Cross-over Trials in Clinical Research, ch. 3, as
printed by a statistics package's manual and a university course (facts/order.md part 2 section H, case 1)."""

PEAK_FLOW = Path(__file__).parent.parent / "cases" / "crossover_peak_flow.csv"
"""Jones & Kenward, Design and Analysis of Cross-Over Trials, example 2.1 (case 2)."""


def peak_flow(sequence: str) -> Pairs:
    with PEAK_FLOW.open(encoding="utf-8") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return [
            (float(row["first_period"]), float(row["second_period"])) for row in rows if row["sequence"] == sequence
        ]


def within_fit(a_first: Pairs, b_first: Pairs, beyond_frac: float) -> RobustFit:
    """Return the fit of place (first less second) and canvas (A less B) within pairs of values."""
    pairs = np.array([*a_first, *b_first], dtype=float)
    y = (pairs - pairs.mean(axis=1, keepdims=True)).ravel()
    signs = [1.0] * len(a_first) + [-1.0] * len(b_first)
    x = np.array([[half, half * sign] for sign in signs for half in (0.5, -0.5)])
    return robust_fit(x, y, np.repeat(np.arange(len(pairs)), 2), np.ones(len(pairs)), beyond_frac=beyond_frac)


def as_runs(a_first: Pairs, b_first: Pairs) -> list[RunTimes]:
    """Return runs whose log minutes are these values."""
    led = [(("A", "B"), pair) for pair in a_first] + [(("B", "A"), pair) for pair in b_first]
    return [
        RunTimes(pass_name="p", run_no=no, order=order, minutes=(exp(pair[0]), exp(pair[1])), planned_min=1)
        for no, (order, pair) in enumerate(led, start=1)
    ]


@pytest.mark.parametrize(
    ("data", "df", "canvas", "place"),
    [
        (SENN, 11, (46.607143, 10.776560, 0.00120485), (-15.892857, 10.776560, 0.168314)),
        ((peak_flow("AB"), peak_flow("BA")), 54, (10.402583, 3.415615, 0.00358667), (-3.767176, 3.415615, 0.27495)),
    ],
)
def test_the_published_cross_overs(
    data: tuple[Pairs, Pairs], df: int, canvas: tuple[float, ...], place: tuple[float, ...]
) -> None:
    """facts/order.md part 2 section H, cases 1 and 2: to the digit where nothing is taken for far, else nearby."""
    plain = within_fit(*data, beyond_frac=0.0)
    for found, (value, se, p) in ((plain.estimate([0, 1]), canvas), (plain.estimate([1, 0]), place)):
        assert (found.value, found.se) == pytest.approx((value, se), abs=1e-6)
        assert found.p == pytest.approx(p, abs=5e-6)
        assert found.df == df

    model = fit_times(as_runs(*data), ("A", "B"))

    assert model.follow is not None
    assert -model.canvases[0].value == pytest.approx(canvas[0], abs=canvas[1] / 2)
    assert -model.follow.value == pytest.approx(place[0], abs=place[1] / 2)
    assert model.canvases[0].p < 0.01
    assert model.follow.p > 0.1


def test_the_published_interval() -> None:
    """facts/order.md part 2 section H, case 1."""
    assert within_fit(SENN[0], SENN[1], beyond_frac=0.0).estimate([0, 1]).ends() == pytest.approx(
        (22.8881, 70.3262), abs=5e-5
    )


@pytest.mark.parametrize("canvases", [TWO, THREE])
def test_equals_statsmodels_on_what_a_simulated_painter_painted(canvases: tuple[str, ...]) -> None:
    """Least squares with a level for every run, and the fixed point: weighed least squares with the fit's weights."""
    truth = Truth(canvases=canvases, runs=40, follow_frac=0.9, slower={canvases[-1]: 1.1})
    runs = truth.painted(seed=5)
    rows = [(no, place, name) for no, run in enumerate(runs) for place, name in enumerate(run.order)]
    x = np.array(
        [
            [*(no == run for run in range(40)), *(place == k for k in range(1, len(canvases)))]
            + [name == other for other in canvases[1:]]
            for no, place, name in rows
        ],
        dtype=float,
    )
    y = np.log([minutes for run in runs for minutes in run.minutes])
    ols = sm.OLS(y, x).fit()
    places = len(canvases) - 1

    model = fit_times(runs, canvases)

    assert model.follow is not None
    follow = ols.t_test(np.r_[np.zeros(40), np.full(places, 1 / places), np.zeros(places)])
    assert model.follow.value == pytest.approx(float(follow.effect[0]), abs=float(follow.sd[0, 0]) / 2)
    assert model.follow.se == pytest.approx(float(follow.sd[0, 0]), rel=0.15)
    assert model.follow.df == ols.df_resid

    demeaned = x[:, 40:] - np.stack([x[:, 40:][[r[0] == no for r in rows]].mean(axis=0) for no, *_ in rows])
    blocks = np.array([no for no, *_ in rows])
    centred = y - np.array([y[blocks == no].mean() for no in blocks])
    fit = robust_fit(demeaned, centred, blocks, np.full(40, float(places)))
    wls = sm.WLS(centred, demeaned, weights=fit.weights[blocks]).fit()
    assert fit.coefficients == pytest.approx(wls.params, abs=1e-5)


def test_one_far_value_is_let_go_as_by_the_bisquare_of_statsmodels() -> None:
    chance = np.random.default_rng(3)
    x = np.column_stack([np.ones(40), np.tile([1.0, -1.0], 20)])
    y = x @ [0.2, -0.1] + chance.normal(0, 0.1, 40)
    y[7] += 5

    ours = robust_fit(x, y, np.arange(40), np.ones(40))
    theirs = sm.RLM(y, x, M=sm.robust.norms.TukeyBiweight()).fit()

    assert ours.weights[7] == 0
    assert ours.coefficients == pytest.approx(theirs.params, abs=0.25 * theirs.bse[0])
    assert ours.estimate([1, 0]).se == pytest.approx(theirs.bse[0], rel=0.15)


def test_times_in_whole_minutes_that_are_mostly_alike_are_not_taken_for_certain() -> None:
    """Of 20 runs 14 took 5 minutes on both canvases, six a minute more or less on the second."""
    y = np.log([1.0] * 14 + [6 / 5, 6 / 5, 6 / 5, 6 / 5, 4 / 5, 6 / 5])

    low, high = robust_fit(np.ones((20, 1)), y, np.arange(20), np.ones(20)).estimate([1]).ends()

    assert high - low == pytest.approx(2 * stats.t.ppf(0.975, 19) * y.std(ddof=1) / 20**0.5, rel=0.25)


def test_without_scatter_the_truth_comes_back() -> None:
    """facts/order.md part 2 section H: noise-free recovery to 1e-10."""
    truth = Truth(
        canvases=THREE, runs=30, noise=0, run_noise=0, follow_frac=0.88, slower={"Mill": 1.1}, rate_frac=0.95,
        passes=3, pass_noise=0.3,
    )  # fmt: skip

    model = fit_times(truth.painted(seed=1), THREE)

    assert model.follow is not None
    assert model.practice is not None
    assert model.follow.value == pytest.approx(log(0.88), abs=1e-10)
    assert [one.value for one in model.canvases] == pytest.approx([-log(1.1) / 3, -log(1.1) / 3, log(1.1) * 2 / 3])
    assert model.practice.value == pytest.approx(log(0.95), abs=1e-10)


def test_a_turn_begun_on_a_later_day_has_an_effect_of_its_own() -> None:
    runs = [
        replace(run, later=frozenset(run.order[1:]), minutes=(run.minutes[0], run.minutes[1] * 1.2)) if no % 3 else run
        for no, run in enumerate(Truth(runs=30, noise=0, follow_frac=0.9).painted(seed=2))
    ]

    model = fit_times(runs, TWO)

    assert model.follow is not None
    assert model.later is not None
    assert (model.follow.value, model.later.value) == pytest.approx((log(0.9), log(1.2)))
    assert fit_times([replace(run, later=frozenset(run.order[1:])) for run in runs], TWO).later is None


def test_one_turn_of_ten_times_its_length_moves_no_estimate_by_half_its_standard_error() -> None:
    """Turns from all of the work but its first run, on which half of what practice tells rests."""
    for canvases, every in ((TWO, 5), (THREE, 9)):
        runs = Truth(canvases=canvases, runs=40, follow_frac=0.92, passes=4).painted(seed=8)
        before = _estimates(runs, canvases)
        for no, run in list(enumerate(runs))[1::every]:
            for place in range(len(canvases)):
                minutes = tuple(m * (10 if at == place else 1) for at, m in enumerate(run.minutes))
                after = _estimates((*runs[:no], replace(run, minutes=minutes), *runs[no + 1 :]), canvases)
                moved = [abs(b.value - a.value) / a.se for a, b in zip(before, after, strict=True)]
                assert max(moved) < 0.5


@pytest.mark.parametrize("canvases", [TWO, THREE])
def test_intervals_hold_and_claims_are_true_as_often_as_they_say(canvases: tuple[str, ...]) -> None:
    """The bench in small: of 100 works 95 intervals hold and 5 claims are false, give or take 4 standard errors."""
    truth = Truth(canvases=canvases, follow_frac=0.92, slower={canvases[0]: 1.3}, rate_frac=0.9, pass_noise=0.3)
    apart = log(1.3) if len(canvases) == 2 else log(1.3) / 3
    held, false, power = [0, 0, 0], [0, 0, 0], 0
    for seed in range(100):
        found = _estimates(truth.painted(seed), canvases)
        own = (found[0], found[-2], found[-1])
        for no, (one, true) in enumerate(zip(own, (log(0.92), -apart, log(0.9)), strict=True)):
            held[no] += one.ends()[0] <= true <= one.ends()[1]
        power += own[0].p < 0.05
        null = _estimates(Truth(canvases=canvases, pass_noise=0.3).painted(seed), canvases)
        for no, p in enumerate((null[0].p, min(holm([one.p for one in null[1:-1]])), null[-1].p)):
            false[no] += p < 0.05

    assert min(held) >= 86
    assert max(held) < 100
    assert max(false) <= 14
    assert power >= 50


def _estimates(runs: tuple[RunTimes, ...], canvases: tuple[str, ...]) -> tuple[Estimate, ...]:
    model = fit_times(runs, canvases)
    assert model.follow is not None
    assert model.practice is not None
    return (model.follow, *model.canvases, model.practice)


def test_holm_by_the_published_rule_and_by_statsmodels() -> None:
    """Holm (1979): the smallest p of m against 5 % / m, the next against 5 % / (m - 1); figures from memory."""
    p_values = [0.01, 0.04, 0.03, 0.005]

    assert holm(p_values) == pytest.approx([0.03, 0.06, 0.06, 0.02])
    assert holm(p_values) == pytest.approx(multipletests(p_values, method="holm")[1])
    assert holm([]) == ()


@pytest.mark.parametrize("canvases", [2, 3, 5])
def test_the_sign_test_is_that_of_scipy(canvases: int) -> None:
    names = tuple("ABCDE"[:canvases])
    for leading, following in ((0, 6), (1, 7), (5, 5), (9, 2)):
        runs = [
            RunTimes(
                pass_name="p", run_no=no + 1, order=names, minutes=(5.0,) * canvases, planned_min=5,
                marked=frozenset(names[0] if no < leading else names[1]),
            )
            for no in range(leading + following)
        ]  # fmt: skip

        found = return_marks(runs, canvases)

        assert (found.leading, found.following) == (leading, following)
        assert found.p == pytest.approx(stats.binomtest(leading, leading + following, 1 / canvases).pvalue)
