"""The whole answer, and the sentences for a plan that cannot hold."""

import datetime as dt
import json
from statistics import fmean

import pytest

from coach.forecast.adherence import DayKept
from coach.forecast.answer import DayQuantiles, ForecastAnswer, brief_of, forecast_of
from coach.forecast.calendar import promised_days
from coach.forecast.drying import DryAnswer
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, TurnTime
from coach.forecast.sentences import (
    DRY_TO_TOUCH,
    NO_TREND,
    chance_in_ten,
    chance_words,
    day_words,
    due_sentence,
    range_words,
)
from coach.journal.events import LaidPaint
from coach.json_values import json_value
from coach.plan.commission import Passage, Plan
from coach.plan.delivery import After, Forecast
from coach.review.forecast_table import latest_lines
from coach.text import counted
from tests.bench.painters import DONE_FRACS, Kind, asked_of_kind
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, orchard, orchard_at_40_percent, plan_of, turns_of

TIGHT = dt.date(2027, 4, 6)
PLAIN = Forecast(is_spread=False)
AFTER = After(drying_days=9, framing_working_days=3, transport_working_days=2)


def tight() -> tuple[Plan, Outlook, ForecastAnswer]:
    """Return the orchard keeper so late that 1 May may or may not hold."""
    plan, outlook = orchard(), orchard_at_40_percent(TIGHT)
    return plan, outlook, forecast_of(plan, outlook)


def test_the_answer_of_the_demo_has_every_key_of_the_command_and_is_the_same_again() -> None:
    plan, outlook, answer = tight()
    found = json.loads(json.dumps(json_value(answer)))
    assert set(found) >= {
        *("due", "chance", "last_stroke", "touch_dry", "framed", "delivered"),
        *("latest_last_stroke", "slack_hours", "hours_a_day_for", "helps", "needed_hours", "drying_days"),
        *("headline", "remarks", "latest", "today"),
    }
    assert set(found["latest"]) == {
        *("leave_studio", "to_framer", "last_stroke", "last_painting_day", "first_painting_day"),
    }
    assert all(set(own) >= {"change", "chance"} for own in found["helps"])
    assert set(found["last_stroke"]) == {"p50", "p80", "p95"}
    assert 0.1 < found["chance"] < 0.9
    assert found["due"] == "2027-05-01"
    assert json_value(forecast_of(plan, outlook)) == json_value(answer)


def test_days_follow_each_other_by_stage_and_by_chance() -> None:
    answer = tight()[2]
    stages = [answer.last_stroke, answer.touch_dry, answer.framed, answer.delivered]
    rows = [(days.p50, days.p80, days.p95) for days in stages]
    for days in (*rows, *zip(*rows, strict=True)):
        known = [day for day in days if day is not None]
        assert len(known) == len(days)
        assert known == sorted(known)
    assert answer.delivered_chance is not None
    assert answer.delivered_chance >= 0.8


def test_the_hours_that_are_named_restore_the_chance_and_a_tenth_less_does_not() -> None:
    """Every day of the rest of the plan gets the hours; today keeps its own."""
    plan, outlook, answer = tight()
    outlook = outlook._replace(today=TIGHT - dt.timedelta(days=2))  # a Sunday: no hours of its own
    answer = forecast_of(plan, outlook)
    for name, wanted in (("80", 0.80), ("95", 0.95)):
        hours = answer.hours_a_day_for[name]
        assert hours is not None
        for tenths, is_enough in ((hours, True), (hours - 0.1, False)):
            chance = brief_of(plan._replace(week_s=(round(tenths * HOUR_S),) * 6 + (0,)), outlook).chance
            assert chance is not None
            assert (chance >= wanted) is is_enough


def test_the_latest_first_day_still_holds_with_80_percent_and_a_day_later_does_not() -> None:
    plan, outlook = orchard(), orchard_at_40_percent(dt.date(2027, 3, 8))
    answer = forecast_of(plan, outlook)
    assert answer.latest is not None
    first = answer.latest.first_painting_day
    assert first is not None
    assert answer.slack_hours is not None
    assert answer.slack_hours > 0
    assert promised_days(plan, first, first) > (0,)
    on_it, later = (
        brief_of(plan, outlook._replace(today=first + dt.timedelta(days=days))).chance or 0 for days in (0, 1)
    )
    assert later < 0.8 <= on_it + 0.01


def test_a_layered_plan_must_begin_so_early_that_its_layers_dry() -> None:
    """One hour over one hour of any paint: 12 days lie between them by the slow end, and 12 more before the due day."""
    plan = plan_of(
        ("face", (Passage("cheek", HOUR_S),)), ("glaze", (Passage("blush", HOUR_S, over=("face", "cheek")),))
    )._replace(due=FRIDAY, forecast=PLAIN)
    answer = forecast_of(plan, Outlook(MONDAY, turns_of(plan)[::2]))
    assert answer.latest is not None
    assert answer.latest.first_painting_day == FRIDAY - dt.timedelta(
        days=28
    )  # a Friday: 4 December is the last day but a Sunday
    assert answer.latest.last_stroke == FRIDAY - dt.timedelta(days=12)


def test_a_plain_plan_answers_by_the_calendar_alone() -> None:
    """Trade check 104: sixty hours at six a day."""
    plan = plan_of()._replace(due=FRIDAY, after=AFTER, forecast=PLAIN)
    answer = forecast_of(plan, Outlook(dt.date(2026, 11, 19), hours_of_work(60)))
    assert answer.chance is None
    assert answer.delivered == DayQuantiles(p50=FRIDAY, p80=FRIDAY, p95=FRIDAY)
    assert answer.latest_last_stroke == dt.date(2026, 12, 2)
    assert answer.slack_hours == pytest.approx(0)
    assert answer.hours_a_day_for == {"80": 6.0, "95": 6.0}
    assert answer.headline == "Fri 18 Dec 2026 holds: delivered on Fri 18 Dec 2026 if all goes by the plan."
    late = forecast_of(plan, Outlook(dt.date(2026, 11, 20), hours_of_work(60)))
    assert late.headline.startswith("Fri 18 Dec 2026 does not hold: delivered on Mon 21 Dec 2026")
    assert late.slack_hours == pytest.approx(-6)


def test_a_due_day_that_is_past_is_said_with_the_days() -> None:
    plan = plan_of()._replace(due=MONDAY - dt.timedelta(days=3))
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert answer.headline == (
        f"Fri 30 Oct 2026 is past by 3 days: handed over on {day_words(answer.delivered.p80)}, 8 times in 10."
    )
    assert answer.chance == 0
    assert answer.latest is None
    assert not any("The last stroke must" in own for own in answer.why)
    assert answer.hours_a_day_for["80"] is None


def test_a_due_day_before_drying_can_end_is_said_with_the_days() -> None:
    """Monday + 9 d of drying is Wednesday 11; framing ends on Monday 16, transport on Wednesday 18 November."""
    plan = plan_of()._replace(due=dt.date(2026, 11, 12), after=AFTER)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert answer.remarks[0] == (
        "Even with the last stroke today it is dry, framed and delivered on Wed 18 Nov 2026 at the earliest: "
        "6 days after the due day."
    )


def test_drying_that_is_computed_counts_at_its_fast_end_for_the_earliest_day() -> None:
    """Titanium white: 4 d at best; laid crimson: 6 d from yesterday."""
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="white"), Passage("lid", mixture="crimson"))))
    plan = plan._replace(due=MONDAY + dt.timedelta(days=2))
    alone = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert "on Fri 6 Nov 2026 at the earliest: 2 days" in alone.remarks[0]
    laid = (Laid("Hall", "eyes", "lid", MONDAY - dt.timedelta(days=1)),)
    both = forecast_of(plan, Outlook(MONDAY, hours_of_work(1), laid=laid))
    assert "on Sat 7 Nov 2026 at the earliest: 3 days" in both.remarks[0]


@pytest.mark.parametrize(
    ("week_s", "says"),
    [
        (None, "The plan states no hours, so no day can be told: say your hours"),
        ((0,) * 7, "leave no time to paint in the next 128 days"),
        ((2 * 60, 0, 0, 0, 0, 0, 0), "more than these hours give"),
    ],
)
def test_hours_that_never_suffice_are_said(week_s: tuple[int, ...] | None, says: str) -> None:
    plan = plan_of()._replace(week_s=week_s)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(60), trials=100))
    assert answer.delivered == DayQuantiles(p50=None, p80=None, p95=None)
    assert says in " ".join(answer.remarks)


def test_a_plan_without_hours_cannot_be_told_and_is_not_called_impossible() -> None:
    answer = forecast_of(plan_of()._replace(week_s=None, due=FRIDAY), Outlook(MONDAY, hours_of_work(6), trials=100))
    assert answer.headline == "Fri 18 Dec 2026 cannot be told: say your hours."
    assert (answer.chance, answer.hours_a_day_for["80"], answer.helps) == (None, None, ())


def test_a_forgotten_key_is_said() -> None:
    good = TurnTime("eyes", True, 900, 1000)
    forgotten = TurnTime("eyes", False, 840, 14 * HOUR_S, words="iris, School")
    answer = forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(3), turns=(good, forgotten), trials=100))
    assert "iris, School: 14 h worked, 14 min planned. It is left out until you correct it." in answer.remarks
    assert NO_TREND in answer.why


def test_the_pace_is_told_from_eight_turns_on_and_painters_pace_before() -> None:
    turn, outlook = TurnTime("eyes", True, 900, 1080), Outlook(MONDAY, hours_of_work(1), trials=100)
    said = {count: forecast_of(plan_of(), outlook._replace(turns=(turn,) * count)).why for count in (0, 7, 8)}
    assert (
        "Most painters take longer than they plan; until your log says otherwise the coach reckons 1.3 times as long."
        in said[0]
    )
    between = "By your first 7 turns, and what most painters take, the coach reckons 1.2 times as long as planned."
    assert between in said[7]
    assert "So far you take 1.2 times as long as planned." in said[8]


def test_the_share_kept_and_what_dry_to_touch_does_not_mean_are_told() -> None:
    days = (DayKept(4 * HOUR_S, HOUR_S),) * 3
    why = forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(6), days=days, trials=100)).why
    assert "You painted 25 % of the hours your week promised (3 days)." in why
    assert DRY_TO_TOUCH in why


def test_medium_and_room_that_change_nothing_beside_a_stated_drying_are_said() -> None:
    said = "The plan states 9 days of drying, so medium and room make no difference to the last drying."
    plan, outlook = plan_of()._replace(after=AFTER), Outlook(MONDAY, hours_of_work(1), trials=100)
    assert said not in forecast_of(plan, outlook).remarks
    for forecast in (Forecast(medium="alkyd"), Forecast(room_c=23)):
        assert said in forecast_of(plan._replace(forecast=forecast), outlook).remarks


def test_paints_the_table_does_not_know_and_an_icy_room_are_said() -> None:
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="odd"),)))._replace(forecast=Forecast(room_c=0))
    remarks = " ".join(forecast_of(plan, Outlook(MONDAY, turns_of(plan))).remarks)
    assert "house paint is not in the table of drying: counted as slow, dry to touch after 6 to 12 days." in remarks
    assert "At 0 °C the drying times are a guess" in remarks


def test_layers_that_may_crack_are_among_the_remarks() -> None:
    plan = plan_of(
        ("face", (Passage("cheek", HOUR_S, mixture="crimson"),)),
        ("glaze", (Passage("blush", HOUR_S, mixture="umber", over=("face", "cheek")),)),
    )
    assert "Fast over slow" in " ".join(forecast_of(plan, Outlook(MONDAY, turns_of(plan))).remarks)


def test_a_plan_without_a_due_day_has_days_but_no_chance() -> None:
    answer = forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(6)))
    assert (answer.chance, answer.latest_last_stroke, answer.slack_hours, answer.helps) == (None, None, None, ())
    assert answer.delivered.p80 is not None
    assert answer.headline.startswith("The plan states no due day; delivered on ")


@pytest.mark.parametrize("due", [dt.date(1970, 1, 1), dt.date.max])
def test_due_days_at_the_ends_of_the_calendar_are_answered(due: dt.date) -> None:
    plan = plan_of()._replace(due=due, after=AFTER)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(3), trials=50))
    assert answer.chance == (due > MONDAY)


def test_a_turn_of_no_time_and_of_a_pass_that_the_plan_lacks_are_no_trouble() -> None:
    turns = (RemainingTurn("Hall", "returns", ("iris",), True, 0), *hours_of_work(1))
    named = turns[1]._replace(pass_name="returns")
    answer = forecast_of(plan_of()._replace(forecast=PLAIN), Outlook(MONDAY, (turns[0], named)))
    assert answer.needed_hours == pytest.approx(1)


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1.0, "as good as certain"),
        (0.98, "very likely"),
        (0.90, "very likely"),
        (0.83, "likely"),
        (0.66, "likely"),
        (0.5, "as likely as not"),
        (0.33, "as likely as not"),
        (0.2, "unlikely"),
        (0.05, "very unlikely"),
        (0.0, "as good as impossible"),
    ],
)
def test_words_change_at_the_bounds_of_the_published_scale(chance: float, words: str) -> None:
    """Likelihood scale of the IPCC guidance note of 2010 (from memory)."""
    assert chance_words(chance) == words


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (1.0, "As good as certain"),
        (0.98, "9 in 10"),
        (0.834, "8 in 10"),
        (0.06, "1 in 10"),
        (0.01, "Hardly a chance"),
    ],
)
def test_no_chance_is_called_nothing_or_everything(chance: float, said: str) -> None:
    assert chance_in_ten(chance) == said


def test_the_headline_says_whether_the_due_day_holds() -> None:
    due, late = dt.date(2027, 5, 1), dt.date(2027, 5, 3)
    assert due_sentence(orchard(), 0.83, due, TIGHT) == "Sat 1 May 2027 is likely to hold (8 in 10)."
    assert due_sentence(orchard(), None, None, TIGHT).startswith(
        "Sat 1 May 2027 does not hold: delivered on no day that can be told yet"
    )
    assert due_sentence(orchard(), 1, due, late) == "Sat 1 May 2027 held: handed over on Sat 1 May 2027."
    assert due_sentence(orchard(), 0, late, due + dt.timedelta(days=1)) == (
        "Sat 1 May 2027 is past by 1 day: handed over on Mon 3 May 2027, 8 times in 10."
    )


def test_with_nothing_left_to_paint_no_hours_are_told_and_no_day_to_paint_on() -> None:
    laid = (Laid("Hall", "eyes", "iris", MONDAY),)
    answer = forecast_of(plan_of()._replace(due=FRIDAY, after=AFTER), Outlook(MONDAY, (), laid=laid))
    assert "Nothing is left to paint." in answer.why
    assert not any(" a day for " in own or "promised" in own or "still needed" in own for own in answer.why)
    (said,) = latest_lines(answer.latest)
    assert "to the framer" in said
    assert "stroke" not in said
    assert "painting" not in said


def test_what_was_felt_of_a_mixture_is_told_beside_the_table() -> None:
    paint = LaidPaint(mixture="umber", medium="oil", oil="", low_days=1, high_days=3)
    laid = tuple(Laid(name, "eyes", "iris", MONDAY, wet_days=6, paint=paint) for name in ("Hall", "School"))
    outlook = Outlook(MONDAY + dt.timedelta(days=6), hours_of_work(1), laid=laid)
    start = "By what you felt, umber is dry to touch after "
    assert not any(own.startswith(start) for own in forecast_of(plan_of(), outlook).why)
    felt = outlook._replace(answers=(DryAnswer(mixture="umber", wet_days=6, dry_days=None),))
    (said,) = [own for own in forecast_of(plan_of(), felt).why if own.startswith(start)]
    assert said.endswith("days; the table says 1 to 3 days.")


def test_work_of_less_than_a_tenth_of_an_hour_is_not_called_nothing() -> None:
    short = (RemainingTurn("Hall", "eyes", ("iris",), True, 60),)
    answer = forecast_of(plan_of()._replace(due=FRIDAY), Outlook(MONDAY, short))
    assert "Left to paint: a few minutes." in answer.why
    assert not any(" 0.0 h a day" in own for own in answer.why)


def test_days_and_ranges_are_counted_in_words() -> None:
    assert [counted(1, "day"), counted(2, "day")] == ["1 day", "2 days"]
    assert [range_words(9, 9), range_words(0.75, 1), range_words(4, 8)] == ["9 days", "0.75 to 1 days", "4 to 8 days"]


def test_of_simulated_painters_about_four_of_five_meet_the_80_percent_day() -> None:
    """In small; `python -m tests.bench --room forecast` holds the bands of trade facts K2 and K3 (standard error 7)."""
    told = asked_of_kind(Kind(), 30, seed=3)
    for place in range(len(DONE_FRACS)):
        assert fmean(own[place].is_met for own in told) >= 0.60
        assert 0.8 <= fmean(own[place].stated for own in told) <= 0.9
