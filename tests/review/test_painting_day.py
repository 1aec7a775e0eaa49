"""A day ahead and a day behind, worked out by hand."""

import datetime as dt

import pytest

from coach.composition.quantity import WASTE_FRAC
from coach.plan.reading import read_plan
from coach.review.forecast_input import forecast_input
from coach.review.painting_day import DayAhead, day_ahead, day_behind
from coach.session import moves
from coach.session.journal_state import JournalState, state_of
from tests.sessions import TWO_CANVASES, Easel

MONDAY = dt.date(2027, 1, 18)
PAINTS = """
palette: [umber, white]
mixtures: [{name: shadow, parts: {umber: 3, white: 1}}]
"""


def ahead(week: str = "", text: str = TWO_CANVASES, state: JournalState | None = None) -> DayAhead:
    plan = read_plan(f"{text}\n{week}", "plan.yaml")
    asked = forecast_input(plan, state or JournalState(), MONDAY, {})
    return day_ahead(asked.plan, asked.outlook)


@pytest.mark.parametrize(
    ("week", "turns"), [("mon: 45 min", 1), ("mon: 46 min", 2), ("mon: 56 min", 3), ("mon: 1 min", 1)]
)
def test_the_turns_fit_into_the_hours_of_the_day(week: str, turns: int) -> None:
    """The first run takes 14 + 9 minutes on each of two canvases, the second 10; one turn is always ahead."""
    assert len(ahead(f"week: {{{week}}}").turns) == turns


def test_on_a_day_without_hours_the_limit_of_the_day_stands_for_them() -> None:
    found = ahead("week: {tue: 1 h}\n").hours_s
    assert found == 8 * 3600
    assert not ahead("week: {tue: 1 h}").is_promised


def test_a_pile_is_mixed_for_all_canvases_with_waste_on_top() -> None:
    """1 ml on 100 cm2 is a film of 100 um (identity); so is 2 x 200 cm2 under 50 um 2 ml, and a quarter more."""
    text = TWO_CANVASES.replace("value: 2, minutes: 14", "minutes: 14, area: 200 cm2, mixture: shadow")
    piles = ahead("week: {mon: 1 min}\nforecast: {film: 50 um}" + PAINTS, text).piles
    pile = piles[0]
    assert pile.mixture == "shadow"
    assert pile.ml == pytest.approx(2 * (1 + WASTE_FRAC))
    assert pile.paints_ml == pytest.approx({"umber": 1.875, "white": 0.625})


def test_what_was_painted_is_wet_until_the_table_says_dry_and_counts_in_the_day() -> None:
    easel = Easel(TWO_CANVASES + "week: {mon-sun: 1 h}")
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    state = state_of(easel.journal.after(0))
    today = dt.datetime.fromtimestamp(easel.clock.wall_ms / 1000, dt.UTC).date()
    asked = forecast_input(easel.plan, state, today, {})
    found = day_ahead(asked.plan, asked.outlook)
    assert found.hours_s == 40 * 60
    (wet,) = found.wet
    assert wet.passages == len(state.turns[0].turn.passages)
    assert wet.canvas == state.turns[0].turn.canvas
    assert wet.dry > today


def test_the_day_behind_counts_minutes_and_leads_and_says_when_the_night_is_over() -> None:
    easel = Easel(TWO_CANVASES + "week: {wed: 1 h}")
    easel.session.make(moves.go_on)
    for minutes in (20, 15):
        easel.pass_time(minutes)
        easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    begun = dt.datetime.fromtimestamp(easel.clock.wall_ms / 1000, dt.UTC)
    found = day_behind(easel.plan, state_of(easel.journal.after(0)), begun.date())
    assert found.turns == 2
    assert sorted((one.worked_ms // 60_000, one.led) for one in found.canvases) == [(15, 0), (20, 1)]
    assert found.rested_until - begun == dt.timedelta(hours=11)
    assert found.next_day is not None
    assert found.next_day > begun.date()
    assert found.next_day.weekday() == 2
