"""The rest of the work played through: calendars worked by hand, walks turn by turn, and draws against scipy."""

import datetime as dt
from itertools import accumulate
from math import ceil, exp, log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import kstest, lognorm, norm, truncnorm

from coach.forecast.adherence import DayKept
from coach.forecast.draws import at_log_tail, log_tail, slices_of, sums_of
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Laid, Outlook, TurnTime
from coach.forecast.scenarios import NO_CHANGE, Trials
from coach.forecast.simulation import NEVER, Days, Simulation, quantile_day, simulate
from coach.forecast.steps import last_wet, steps_of
from coach.forecast.what_if import Change
from coach.plan.commission import Passage, Plan
from coach.plan.delivery import After, Approval, DayRange, Forecast
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, orchard, orchard_at_40_percent, plan_of, turns_of

PLAIN = Forecast(is_spread=False)
AFTER = After(drying_days=9, framing_working_days=3, transport_working_days=2)


def plain(**changes: object) -> Plan:
    return plan_of()._replace(forecast=PLAIN, after=AFTER, due=FRIDAY)._replace(**changes)  # type: ignore[arg-type]


def played(plan: Plan, outlook: Outlook) -> Days:
    trials = Trials(plan, outlook)
    return trials.days_of([trials.play_of(NO_CHANGE)])[0]


def days_of(plan: Plan, outlook: Outlook) -> tuple[dt.date | None, dt.date | None]:
    """Return the days of the last stroke and of everything dry."""
    found = played(plan, outlook)
    last, dry = (quantile_day(outlook.today, own, 0.5) for own in (found.last_stroke, found.touch_dry))
    return last, dry


def after(days: int) -> dt.date:
    return MONDAY + dt.timedelta(days=days)


def sums(simulation: Simulation) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    parts = [sums_of(simulation.rows, own.times_s, None) for own in slices_of(simulation.work, simulation.rows)]
    return np.concatenate(parts, axis=1)


def test_sixty_hours_at_six_a_day_from_19_november_end_on_2_december() -> None:
    """Trade check 104, forwards; nine days of drying."""
    assert days_of(plain(), Outlook(dt.date(2026, 11, 19), hours_of_work(60))) == (
        dt.date(2026, 12, 2),
        dt.date(2026, 12, 11),
    )


def test_of_today_only_what_is_left_counts_and_a_turn_in_hand_needs_only_the_rest() -> None:
    outlook = Outlook(MONDAY, hours_of_work(6))
    assert days_of(plain(), outlook)[0] == MONDAY
    painted = outlook._replace(today_painted_s=HOUR_S)
    assert days_of(plain(), painted)[0] == after(1)
    in_hand = painted._replace(remaining=(outlook.remaining[0]._replace(worked_s=HOUR_S), *outlook.remaining[1:]))
    assert days_of(plain(), in_hand)[0] == MONDAY
    assert days_of(plain(), painted._replace(today_painted_s=9 * HOUR_S))[0] == after(1)


def test_seconds_that_differ_by_a_rounding_fit_into_the_day() -> None:
    """Six hours in parts of no whole second fill a day of six hours and do not begin the next."""
    turns = tuple(own._replace(planned_s=6 * HOUR_S / 7) for own in hours_of_work(7))
    assert days_of(plain(), Outlook(MONDAY, turns))[0] == MONDAY


def test_days_off_and_days_with_hours_of_their_own_count() -> None:
    off = plain(off=(DayRange(MONDAY, after(3)),))
    assert days_of(off, Outlook(MONDAY, hours_of_work(6)))[0] == after(4)
    also = plain(also=((DayRange(MONDAY, MONDAY), 12 * HOUR_S),))
    assert days_of(also, Outlook(MONDAY, hours_of_work(12)))[0] == MONDAY


def test_what_is_laid_can_be_the_last_to_dry_and_still_wet_moves_it() -> None:
    """Crimson (6 to 12 d) laid yesterday outlasts an hour of umber (1 to 3 d) today; plain takes the slow end."""
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="umber"), Passage("lid", HOUR_S, mixture="crimson"))))
    plan = plan._replace(forecast=PLAIN)
    outlook = Outlook(MONDAY, hours_of_work(1))
    laid = Laid("Hall", "eyes", "lid", after(-1))
    assert days_of(plan, outlook)[1] == after(3)
    assert days_of(plan, outlook._replace(laid=(laid,)))[1] == after(11)
    assert days_of(plan, outlook._replace(laid=(laid._replace(dries=DaysRange(5, 5)),)))[1] == after(4)
    wet = laid._replace(painted=after(-12), wet_days=11.9)
    found = days_of(plan, outlook._replace(laid=(wet,)))[1]
    assert found is not None
    assert found > after(3)
    stated = plan._replace(after=After(drying_days=2))
    assert days_of(stated, outlook)[1] == after(2)
    assert days_of(stated, outlook._replace(laid=(wet,)))[1] == found


def test_with_nothing_left_to_paint_the_last_stroke_is_a_fact_and_no_forecast_lies_in_the_past() -> None:
    laid = tuple(Laid("Hall", "eyes", "iris", after(-days)) for days in (7, 3))
    assert days_of(plain(), Outlook(MONDAY, laid=laid)) == (after(-3), after(6))
    assert days_of(plain(), Outlook(MONDAY, laid=(laid[0]._replace(painted=after(-30)),))) == (after(-30), MONDAY)
    assert days_of(plain(), Outlook(MONDAY)) == (MONDAY, after(9))


def test_a_passage_waits_on_its_own_canvas_only() -> None:
    face, glaze = Passage("cheek", HOUR_S, mixture="umber"), Passage("blush", HOUR_S, over=("face", "cheek"))
    plan = plan_of(("face", (face,)), ("glaze", (glaze,)))._replace(forecast=PLAIN)
    laid = (Laid("School", "face", "cheek", MONDAY),)
    turn = hours_of_work(1)[0]._replace(pass_name="glaze", passages=("blush",))
    assert days_of(plan, Outlook(MONDAY, (turn,), laid=laid))[0] == MONDAY
    assert days_of(plan, Outlook(MONDAY, (turn._replace(canvas="School"),), laid=laid))[0] == after(3)


def test_a_canvas_that_is_away_is_painted_last_and_not_before_it_is_back() -> None:
    """Six hours on each canvas; School is back on Thursday, and Hall fills Monday."""
    outlook = Outlook(MONDAY, (*hours_of_work(6, "School"), *hours_of_work(6, "Hall")))
    for back, last in ((0, 1), (3, 3)):
        assert days_of(plain(away=(("School", after(back)),)), outlook)[0] == after(last)


STOPPED = plan_of(("eyes", (Passage("iris", HOUR_S),)), ("mouth", (Passage("lips", HOUR_S),)))._replace(
    forecast=PLAIN, after=After(drying_days=0), approval=(Approval("eyes", 3),)
)


def test_no_later_pass_is_begun_before_the_client_has_answered() -> None:
    """Monday and three days is Thursday; what was shown on the Sunday before is answered on Wednesday."""
    whole = Outlook(MONDAY, turns_of(STOPPED))
    assert days_of(STOPPED, whole)[0] == after(3)
    shown = whole._replace(remaining=whole.remaining[2:], passes_painted={"eyes": after(-1)})
    assert days_of(STOPPED, shown)[0] == after(2)
    assert days_of(STOPPED, shown._replace(passes_painted={"eyes": after(-9)}))[0] == MONDAY
    assert days_of(STOPPED._replace(approval=()), whole)[0] == MONDAY


def test_the_answer_to_the_last_pass_holds_up_what_comes_after_the_last_stroke() -> None:
    plan = STOPPED._replace(approval=(Approval("mouth", 3),))
    assert days_of(plan, Outlook(MONDAY, turns_of(plan))) == (MONDAY, after(3))


def test_a_week_of_no_hours_never_ends_and_work_of_years_is_still_found() -> None:
    found = played(plain(week_s=(0,) * 7), Outlook(MONDAY, hours_of_work(1)))
    assert (found.last_stroke.tolist(), found.touch_dry.tolist()) == ([NEVER], [NEVER])
    plan = plain(week_s=(HOUR_S, 0, 0, 0, 0, 0, 0))
    assert days_of(plan, Outlook(MONDAY, hours_of_work(200)))[0] == after(7 * 199)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.1, 5), st.integers(1, 9), st.integers(0, 12)), min_size=1, max_size=12),
    st.lists(st.sampled_from([0.0, 1.0, 3.5]), min_size=7, max_size=7).filter(any),
)
def test_every_day_is_that_of_a_painter_who_goes_through_turn_by_turn(
    drawn: list[tuple[float, int, int]], week_h: list[float]
) -> None:
    """The quick way over marks against a plain walk that keeps every turn; every third turn lies over another."""
    passages, over = [], []
    for number, (hours, _, back) in enumerate(drawn):
        over.append(number - back if 0 < back <= number and number % 3 == 0 else None)
        below = None if over[-1] is None else ("eyes", f"p{over[-1]}")
        passages.append(Passage(f"p{number}", round(hours * HOUR_S), over=below))
    plan = plan_of(("eyes", passages), week_h=week_h)._replace(forecast=PLAIN)
    turn = hours_of_work(1)[0]
    turns = tuple(turn._replace(passages=(own.name,), planned_s=own.planned_s or 0) for own in passages)
    simulation = simulate(plan, Outlook(MONDAY, turns))
    dries = [12] * len(passages)  # any paint, by its slow end
    assert [step.waits_for for step in simulation.steps] == [() if own is None else (own,) for own in over]

    used, dry = 0.0, list[int]()
    usable = [week_h[number % 7] * HOUR_S for number in range(3653)]
    ends = list(accumulate(usable))
    for number, passage in enumerate(passages):
        below_no = over[number]
        ready = 0 if below_no is None else dry[below_no]
        used = max(used, ends[ready - 1] if ready else 0.0) + (passage.planned_s or 0)
        day = next(no for no, end in enumerate(ends) if end >= used - 1e-6)
        dry.append(day + dries[number])
    assert days_of(plan, Outlook(MONDAY, turns)) == (after(day), after(max(dry)))


def test_one_turn_to_come_has_the_percentiles_of_scipys_log_normal() -> None:
    """A pass not begun: ln 1.3 with 0.35, 0.20, 0.08 and the noise of a turn together (trade facts K4)."""
    found = sums(simulate(plan_of(), Outlook(MONDAY, hours_of_work(1), trials=20_000)))[0] / HOUR_S
    spread = (0.35**2 + 0.2**2 + 0.08**2 + 0.35**2) ** 0.5

    quantiles = [0.1, 0.5, 0.8, 0.9]
    assert np.quantile(found, quantiles) == pytest.approx(lognorm.ppf(quantiles, s=spread, scale=1.3), rel=0.02)


def test_a_sum_of_turns_has_the_moments_of_log_normals_that_share_the_painter() -> None:
    turns = tuple(TurnTime("eyes", no % 2 == 0, 900, 900 * exp(0.3 if no % 4 < 2 else -0.3)) for no in range(400))
    simulation = simulate(plan_of(), Outlook(MONDAY, hours_of_work(40), turns=turns, trials=20_000))
    one = lognorm(s=simulation.pace.noise_sd)
    found = sums(simulation)[0] / HOUR_S

    assert found.mean() == pytest.approx(40 * one.mean(), rel=0.01)
    known_sd = 40 * one.mean() * simulation.pace.log_factor("eyes", is_lead=True)[1]
    assert found.std() == pytest.approx(((40**0.5 * one.std()) ** 2 + known_sd**2) ** 0.5, rel=0.03)


def test_a_turn_in_hand_has_the_rest_that_painters_have_who_are_not_over() -> None:
    """Brute force: of many painters those whose turn takes longer than an hour and a half, less that time."""
    turn = hours_of_work(1)[0]._replace(worked_s=1.5 * HOUR_S)
    found = sums(simulate(plan_of(), Outlook(MONDAY, (turn,), trials=20_000)))[0] / HOUR_S
    spread = (0.35**2 + 0.2**2 + 0.08**2 + 0.35**2) ** 0.5
    least = (log(1.5) - log(1.3)) / spread
    whole = np.exp(log(1.3) + spread * truncnorm.ppf([0.2, 0.5, 0.8], least, np.inf))

    assert np.quantile(found, [0.2, 0.5, 0.8]) == pytest.approx(whole - 1.5, rel=0.04)


@pytest.mark.parametrize("wet", [0.0, 5.0, 7.9, 40.0])
def test_a_layer_found_wet_dries_by_the_tail_of_scipys_truncated_normal(wet: float) -> None:
    """Trade facts K7, only "wet": T_q = exp(m + s isf(sf(a) (1 - q)))."""
    plan = plan_of(("eyes", (Passage("lid", mixture="white"),)))
    laid = Laid("Hall", "eyes", "lid", after(-int(wet)), wet_days=wet)
    found = played(plan, Outlook(MONDAY, laid=(laid,), trials=20_000)).touch_dry + int(wet)
    mean, spread = log(4 * 8) / 2, log(2) / 2.5631
    least = (log(wet) - mean) / spread if wet else -np.inf
    days = [exp(mean + spread * norm.isf(norm.sf(least) * (1 - frac))) for frac in (0.5, 0.8)]

    assert [quantile_day(MONDAY, found, frac) for frac in (0.5, 0.8)] == [
        after(max(ceil(own), int(wet) + 1)) for own in days
    ]


def test_the_tail_of_the_table_is_that_of_scipy() -> None:
    z = np.linspace(-7, 11, 200)
    assert log_tail(z) == pytest.approx(-norm.logsf(z), rel=1e-4, abs=1e-6)
    assert at_log_tail(-norm.logsf(z[40:])) == pytest.approx(z[40:], abs=2e-3)


def test_shared_draws_are_even_and_the_same_seed_draws_the_same() -> None:
    plan, outlook = plan_of(), Outlook(MONDAY, hours_of_work(2), trials=1000)
    simulation = simulate(plan, outlook)
    (part,) = slices_of(simulation.work, simulation.rows)
    (again,) = slices_of(simulation.work, simulation.rows)
    other = simulate(plan._replace(forecast=Forecast(seed=8)), outlook)
    (another,) = slices_of(other.work, other.rows)

    assert kstest(part.dry_z, "norm").statistic < 0.002
    assert kstest(part.kept, "beta", args=(4.89, 1.22)).statistic < 0.02
    assert abs(np.corrcoef(part.dry_z, part.kept_z)[0, 1]) < 0.15
    assert np.array_equal(part.times_s, again.times_s)
    assert not np.array_equal(part.times_s, another.times_s)


def test_the_demo_is_stable_to_a_day_between_seeds() -> None:
    outlook = orchard_at_40_percent(dt.date(2027, 4, 6))
    days = set()
    for seed in range(4):
        found = played(orchard()._replace(forecast=Forecast(seed=seed)), outlook)
        days.add(tuple(quantile_day(outlook.today, found.touch_dry, own) for own in (0.5, 0.8, 0.95)))

    for own in zip(*days, strict=True):
        known = [day for day in own if day is not None]
        assert len(known) == len(own)
        assert (max(known) - min(known)).days <= 1


def test_promises_that_were_not_kept_put_the_day_off() -> None:
    outlook = Outlook(MONDAY, hours_of_work(60), trials=1000)
    poor = outlook._replace(days=(DayKept(6 * HOUR_S, 1.5 * HOUR_S),) * 20)
    kept, missed = (played(plan_of(), own).last_stroke.mean() for own in (outlook, poor))

    assert missed > 1.7 * kept


def test_a_pass_left_out_takes_its_time_and_its_waits_with_it() -> None:
    below, above = Passage("cheek", 6 * HOUR_S), Passage("blush", HOUR_S, over=("face", "cheek"))
    plan = plan_of(("face", (below,)), ("glaze", (above,)))._replace(forecast=PLAIN, due=FRIDAY)
    turn = hours_of_work(1)[0]
    outlook = Outlook(
        MONDAY,
        (
            turn._replace(pass_name="face", passages=("cheek",), planned_s=6 * HOUR_S),
            turn._replace(pass_name="glaze", passages=("blush",)),
        ),
    )
    trials = Trials(plan, outlook, [Change(without_pass="face"), Change(without_pass="glaze")])
    plays = [trials.play_of(own) for own in (NO_CHANGE, Change(without_pass="face"), Change(without_pass="glaze"))]

    assert [days.last_stroke.tolist() for days in trials.days_of(plays)] == [[14], [0], [0]]
    assert [days.touch_dry.tolist() for days in trials.days_of(plays)] == [[26], [12], [12]]
    assert last_wet(steps_of(plan, outlook)) == (1,)
