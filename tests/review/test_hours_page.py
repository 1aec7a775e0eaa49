"""The page of the hours: answers, tired hours, pace and rules, as sentences, as tables and as JSON."""

import json
from pathlib import Path

import pytest

from coach.cli import main
from coach.json_values import json_value
from coach.limits.rule_table import RULES
from coach.review.hours.report import hours_report
from coach.review.hours.sections import Section, hours_sections, week_average
from coach.session import moves
from coach.session.journal_state import state_of
from tests.painter import Habits, Painter, paint_journal
from tests.sessions import TWO_CANVASES, Easel, woke

PLANS = Path(__file__).parents[1] / "cases" / "plans"
EXACT = Habits(follow_frac=1, learning_frac=1, noise=0, slip_frac=0)


def sections_of(easel: Easel) -> dict[str, Section]:
    told = hours_report(state_of(easel.journal.after(0)))
    return {section.title.split(",")[0]: section for section in hours_sections(told)}


def plain_of(easel: Easel) -> dict[str, object]:
    told = hours_report(state_of(easel.journal.after(0)))
    answer: dict[str, object] = json.loads(json.dumps(json_value(told), allow_nan=False))
    return answer


def painted(text: str = TWO_CANVASES) -> Easel:
    easel = Easel(text)
    Painter(easel.session, easel.clock, EXACT).paint()
    return easel


def test_every_answer_has_its_local_time_and_its_sentence() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.session.make(woke("06:30"))
    easel.pass_time(55)
    easel.session.make(moves.work_ten_more)
    easel.pass_time(10)
    easel.session.make(moves.silence_today)
    easel.session.make(moves.go_on)
    easel.session.make(moves.retiming("58"))
    easel.session.make(moves.rest)

    assert sections_of(easel)["What was answered"].sentences == (
        "2027-01-15 09:00 woke at 06:30",
        "2027-01-15 09:55 ten more minutes",
        "2027-01-15 10:05 not today: standing (notice)",
        "2027-01-15 10:05 time corrected: socket shadow + upper lid on Hall took 58 min, not 1 h 05 min",
        "2027-01-15 10:05 rest, after 58 min of unbroken work",
    )


def test_a_rest_before_any_limit_answers_none() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.rest)

    assert sections_of(easel)["What was answered"].sentences == ("No limit was answered.",)


def test_a_rest_answers_no_limit_that_only_a_night_or_a_free_day_can_keep() -> None:
    easel = Easel()
    for off_min in (7 * 60, 0):
        easel.session.make(moves.go_on)
        easel.pass_time(10)
        easel.session.make(moves.end_session if off_min else moves.rest)
        easel.clock.go(minutes=off_min)
    found = sections_of(easel)

    assert found["Limits passed"].sentences[0] == "2027-01-15: between days 7 h: strong caution below 9 h"
    assert found["What was answered"].sentences == ("No limit was answered.",)


def test_the_days_are_a_table_of_hours_and_minutes() -> None:
    kept = sections_of(painted())["What was kept"]

    assert kept.table == (
        ("day", "begin", "end", "work", "block", "rests", "night", "awake"),
        ("2027-01-15", "09:00", "11:22", "1:58", "0:56", "2 in 0:24", "", ""),
    )
    assert kept.rows_in_words == ("2027-01-15: begin 09:00, end 11:22, work 1:58, block 0:56, rests 2 in 0:24",)


def test_the_tired_hours_have_a_row_an_hour_and_a_column_a_canvas() -> None:
    """By hand: Hall 23, School 23, School 10, rest, Hall 10, Hall 6, School 6, School 12, Hall 12, ...

    The first halves of a block end at 25 min; the first hour is full with 14 min of the second block.
    """
    easel = painted()
    order = [event.turn.canvas for event in easel.journal.events if event.turn is not None]
    assert order == ["Hall", "School", "School", "Hall", "Hall", "School", "School", "Hall", "Hall", "School"]

    table = sections_of(easel)["Tired hours"].table
    assert table[0] == ("minutes in", "Hall", "School")
    assert {row[0]: row[1:] for row in table[1:]} == {
        "hour 1": ("27", "33"),
        "hour 2": ("32", "26"),
        "first half of a block": ("39", "19"),
        "second half": ("20", "40"),
    }


def test_a_work_painted_by_the_plan_is_at_100_percent_and_too_short_to_tell_more() -> None:
    pace = sections_of(painted())["Pace through the day"]

    assert pace.sentences[0].startswith("Too few turns to tell whether your pace changes after 4 h")
    assert pace.table[1:] == (
        ("hour 1 of work", "4", "too few to tell", ""),
        ("hour 2 of work", "6", "100 %", "100 to 100 %"),
    )


def test_a_turn_counts_to_the_hour_in_which_it_was_taken_up_and_a_skipped_one_to_none() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    for minutes, end in ((50, moves.go_on), (15, moves.skip), (60, moves.pause), (0, moves.pause), (5, moves.go_on)):
        easel.pass_time(minutes)
        easel.session.make(end)

    rows = sections_of(easel)["Pace through the day"].table[1:]
    assert [row[:2] for row in rows] == [("hour 1 of work", "1"), ("hour 2 of work", "1")]
    assert plain_of(easel)["pace"] == {
        "sentence": "Too few turns to tell whether your pace changes after 4 h: 5 before and after.",
        "late": None,
        "by_hour": [{"hour": 1, "turns": 1, "pace": None}, {"hour": 2, "turns": 1, "pace": None}],
        "left_out": [],
    }


def test_a_turn_that_cannot_be_believed_is_left_out_and_named_until_it_is_corrected() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(840)
    easel.session.make(moves.go_on)
    said = sections_of(easel)["Pace through the day"].sentences

    assert said[1] == (
        "Left out until you correct its minutes: socket shadow + upper lid on Hall, 2027-01-15 09:00, "
        "took 14 h, planned 23 min."
    )
    easel.session.make(moves.retiming("23"))
    assert len(sections_of(easel)["Pace through the day"].sentences) == 1


def test_a_painter_who_slows_after_the_fourth_hour_is_told_so() -> None:
    """24 turns of 9 or 11 min, 240 min in all, then 18 that take half as long again."""
    passages = ", ".join(f"{{name: p{number}, minutes: 10}}" for number in range(21))
    easel = Easel(f"canvases: [Hall, School]\npasses: [{{name: eyes, passages: [{passages}]}}]\n")
    easel.session.make(moves.go_on)
    for number in range(42):
        early = number < 24
        easel.pass_time((9 if number % 2 else 11) * (1 if early else 1.5))
        easel.session.make(moves.go_on)
    told = hours_report(state_of(easel.journal.after(0)))

    assert told.pace.late is not None
    assert told.pace.late.ratio_frac == pytest.approx(1.5, abs=0.02)
    assert told.pace.sentence.startswith("After 4 h you are slower: a turn takes 15")
    assert [float(share.late_frac) for share in told.tired_hours.canvases] == pytest.approx([270 / 510] * 2, abs=0.02)


def test_looser_limits_of_the_plan_are_told_and_every_rule_is_listed_with_the_limit_in_force() -> None:
    found = sections_of(Easel(TWO_CANVASES.replace("press: 0 s", "day: 9 h")))

    (said,) = found["Where the plan's limits are looser"].sentences
    assert said.startswith("The plan allows 9 h of work a day; the yardstick is 8 h (")
    rules = found["The rules"].table[1:]
    assert rules[0][:2] == ("day", "notice from 9 h")
    assert rules[-1][:2] == ("night", "caution from 23:00")
    in_force = [rule for rule in RULES if rule.fields != ("meal_s",)]  # the plan states no meal
    assert all(rule.source in row[2] for rule, row in zip(in_force, rules, strict=True))


def test_an_empty_journal_is_told_in_sentences() -> None:
    found = sections_of(Easel())

    assert found["What was kept"].sentences == ("Nothing is painted yet, so there are no hours to tell of.",)
    assert found["Tired hours"].sentences == ("Nothing is painted yet, so no canvas had the tired hours.",)
    assert [section.title for section in found.values() if section.table] == ["The rules"]


def test_json_tells_the_same_in_minutes() -> None:
    plain = plain_of(painted())

    assert plain["days"] == [
        {
            "day": "2027-01-15",
            "begun": "2027-01-15T09:00:00+01:00",
            "ended": "2027-01-15T11:22:00+01:00",
            "work_minutes": 118.0,
            "longest_block_minutes": 56.0,
            "rests": 2,
            "rest_minutes": 24.0,
            "night_minutes": None,
            "awake_minutes": None,
            "passed": [{"rule": "block", "grade": "notice", "minutes": 56.0, "limit_minutes": 50.0}],
        }
    ]
    assert isinstance(plain["tired_hours"], dict)
    hall, school = plain["tired_hours"]["canvases"]
    assert hall["minutes_by_hour"] == [27.0, 32.0]
    assert school["first_half_minutes"] == 19.0
    assert plain_of(Easel())["days"] == []


def test_the_command_prints_the_page_and_its_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "evening-study.yaml"
    plan.write_bytes((PLANS / plan.name).read_bytes())
    paint_journal(plan, Habits())

    assert main(["log", str(plan), "--hours"]) == 0
    said = capsys.readouterr().out
    assert main(["log", str(plan), "--hours", "--json"]) == 0
    (day,) = json.loads(capsys.readouterr().out)["days"]

    assert said.startswith("What was kept\n")
    hours, minutes = divmod(int(day["work_minutes"]), 60)
    assert f" {hours}:{minutes:02} " in said
    assert "2027-01-15" in said


@pytest.mark.parametrize("option", [["--csv"], ["--fairness"], ["--pass", "eyes"], ["--canvas", "Hall"]])
def test_hours_are_told_of_the_whole_work_only(
    option: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["log", str(tmp_path / "plan.yaml"), "--hours", *option]) == 2
    assert "--hours is told of the whole work" in capsys.readouterr().err


def test_the_average_week_counts_weeks_without_work_too() -> None:
    easel = Easel()
    for days_off in (1, 20, 0):
        easel.session.make(moves.go_on)
        easel.pass_time(60)
        easel.session.make(moves.end_session)
        easel.clock.go(minutes=days_off * 24 * 60)

    said = " ".join(sections_of(easel)["What was kept"].sentences)
    assert "Over 4 weeks you worked 0:45 a week; the limit is 48 h." in said


@pytest.mark.parametrize(
    ("weeks_h", "average_h"),
    [([60] * 5 + [40] * 12, 45.88), ([99] * 20 + [60] * 5 + [40] * 12, 45.88), ([48] * 17, 48), ([50, 0], 25)],
)
def test_the_week_is_averaged_over_the_last_seventeen(weeks_h: list[int], average_h: float) -> None:
    """Trade check 33: 5 weeks of 60 h and 12 of 40 h are 45.88 h, within 48 h (WTR 1998, 48 h over 17 weeks)."""
    average = week_average([hours * 60 for hours in weeks_h])

    assert average / 60 == pytest.approx(average_h, abs=0.005)
    assert average <= 48 * 60
