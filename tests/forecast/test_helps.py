"""Which changes are tried: only those that the plan allows, the body's hours bear, and no layer forbids."""

import datetime as dt
from collections.abc import Sequence
from typing import cast

import pytest

from coach.forecast.answer import brief_of, forecast_of
from coach.forecast.helps import MEDIUM_CAUTION, Help, helps_of, options_of
from coach.forecast.outlook import Laid, Outlook
from coach.forecast.scenarios import LIKELY_FRAC, Trials
from coach.forecast.what_if import Change, changed_outlook, changed_plan
from coach.plan.commission import Passage, Plan
from coach.plan.delivery import After, Forecast
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, plan_of, turns_of

LAYERED = plan_of(("face", (Passage("cheek", HOUR_S),)), ("glaze", (Passage("blush", HOUR_S, over=("face", "cheek")),)))


def words_of(plan: Plan, outlook: Outlook | None = None) -> list[str]:
    groups = options_of(plan, outlook or Outlook(MONDAY, turns_of(plan)))
    return [option.words for group in groups for option in group]


def helps(plan: Plan, outlook: Outlook) -> tuple[Help, ...]:
    found = forecast_of(plan, outlook).helps
    for own in found:  # each is what the same forecast says of the plan with the change written into it
        changed = brief_of(changed_plan(plan, own.edit), changed_outlook(plan, outlook, own.edit)).chance
        assert own.chance == pytest.approx(changed, abs=0.02)
    return found


def test_hours_rise_by_halves_and_saturdays_as_far_as_the_week_bears_them() -> None:
    found = words_of(plan_of())
    assert found[:3] == ["30 min more on each day you paint", "1 h more on each day you paint", "Saturdays too, 6 h"]
    (week, *_) = options_of(plan_of(), Outlook(MONDAY, hours_of_work(3)))
    sums = [sum(option.change.week_s or ()) for option in week]
    assert sums == sorted(sums)
    assert max(sums) <= 48 * HOUR_S
    assert max(max(option.change.week_s or ()) for option in week) <= 10 * HOUR_S


@pytest.mark.parametrize("week_h", [(10, 10, 10, 10, 8, 0, 0), (0,) * 7])
def test_hours_past_the_cautions_of_the_plan_are_not_offered(week_h: tuple[float, ...]) -> None:
    """Trade facts H: caution at 10 h a day, 48 h a week."""
    assert not any(" h" in words for words in words_of(plan_of(week_h=week_h)))


def test_what_can_still_change_is_tried_in_the_order_of_what_it_costs() -> None:
    plan = LAYERED._replace(due=FRIDAY, after=After(framing_working_days=2))
    kinds = [group[0].words for group in options_of(plan, Outlook(MONDAY, turns_of(plan)))]
    assert kinds == [
        "30 min more on each day you paint",
        "leaving out the rest of face",
        "1 working day less at the framer",
        "1 day more until the hand-over",
        "a room of 23 °C",
        "an alkyd medium for all that is still to come",
    ]
    bare = words_of(plan_of()._replace(week_s=None, forecast=Forecast(medium="alkyd", room_c=24), due=dt.date.max))
    assert bare == []


def test_with_nothing_left_to_paint_only_framer_due_day_and_room_can_help() -> None:
    plan = plan_of()._replace(due=FRIDAY, after=After(framing_working_days=1))
    found = words_of(plan, Outlook(MONDAY, laid=(Laid("Hall", "eyes", "iris", MONDAY),)))
    assert {own.split()[-1] for own in found} == {"framer", "hand-over", "°C"}


@pytest.mark.parametrize(
    ("turns", "is_safe"),
    [
        (slice(0, None), True),  # nothing is begun
        (slice(1, None), False),  # the cheek is laid in oil on one canvas and not on the other
        (slice(2, None), False),  # both glazes lie over cheeks laid in oil
        (slice(3, None), False),
    ],
)
def test_a_faster_medium_is_offered_only_where_no_oil_lies_below_and_on_every_canvas(
    turns: slice, is_safe: bool
) -> None:
    """Trade facts B5.1 and B5.2: never fast over slow, never lean over fat."""
    outlook = Outlook(MONDAY, turns_of(LAYERED)[turns])
    found = [option for group in options_of(LAYERED, outlook) for option in group if option.change.medium]
    assert [option.caution for option in found] == ([MEDIUM_CAUTION] if is_safe else [])


def test_a_turn_in_hand_in_oil_keeps_its_medium() -> None:
    first, *others = turns_of(plan_of())
    assert not any(
        "alkyd" in own for own in words_of(plan_of(), Outlook(MONDAY, (first._replace(worked_s=60), *others)))
    )


def test_the_least_that_is_enough_comes_first() -> None:
    plan = plan_of()._replace(due=dt.date(2026, 12, 4), after=After(drying_days=2))
    outlook = Outlook(MONDAY, hours_of_work(62))
    first, *_ = helps(plan, outlook)
    assert first.chance >= LIKELY_FRAC
    assert first.edit.week_s is not None
    less = tuple(own - 1800 if own else 0 for own in first.edit.week_s)
    assert (brief_of(plan._replace(week_s=less), outlook).chance or 0) < LIKELY_FRAC


def test_a_hopeless_plan_is_given_its_pairs_and_the_days_it_needs() -> None:
    plan = plan_of(
        ("eyes", tuple(Passage(f"e{no}", HOUR_S) for no in range(20))),
        ("coat", tuple(Passage(f"c{no}", HOUR_S) for no in range(20))),
    )._replace(due=dt.date(2026, 11, 20), after=After(drying_days=2, framing_working_days=2))
    outlook = Outlook(MONDAY, turns_of(plan))
    answer = forecast_of(plan, outlook)
    assert answer.chance is not None
    assert answer.chance < 0.05
    found = helps(plan, outlook)
    assert len(found) == 3
    assert found[0].edit.due is not None
    assert found[0].chance >= LIKELY_FRAC
    assert any(" and " in own.change and own.edit.without_pass and own.edit.week_s for own in found)


def test_nothing_is_offered_that_would_not_show() -> None:
    assert helps(plan_of()._replace(due=dt.date(2027, 6, 1)), Outlook(MONDAY, hours_of_work(3), trials=200)) == ()


def test_writing_a_help_changes_exactly_the_figure_that_was_tried() -> None:
    plan = plan_of()._replace(due=FRIDAY, after=After(drying_days=9, framing_working_days=3))
    for group in options_of(plan, Outlook(MONDAY, hours_of_work(30))):
        written = changed_plan(plan, group[0].change)
        changed = [name for name in plan._fields if getattr(plan, name) != getattr(written, name)]
        assert len(changed) == 1
        assert written.after.drying_days == 9
    assert changed_plan(plan, Change()) == plan


class RoughTrials:
    """Trials in which a day more brings 10 %, and 15 % where they are asked roughly."""

    def play_of(self, change: Change) -> Change:
        return change

    def chances(self, changes: Sequence[Change], *, roughly: bool) -> list[float]:
        frac = 0.15 if roughly else 0.10
        return [min(1.0, 0.1 + frac * ((own.due or FRIDAY) - FRIDAY).days) for own in changes]


def test_what_is_enough_only_roughly_gives_way_to_the_next_and_not_to_a_year_more() -> None:
    (due,) = [group for group in options_of(plan_of()._replace(due=FRIDAY), Outlook(MONDAY)) if group[0].change.due]
    found = helps_of(cast("Trials", RoughTrials()), 0.1, (due,))
    assert [(own.change, own.chance) for own in found] == [("7 days more until the hand-over", 0.8)]
