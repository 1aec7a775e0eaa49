"""Days off, days with hours of their own, hours of the body, forecast and layers: what is read, what is refused."""

import datetime as dt
import subprocess
import sys

import pytest

from coach.plan.commission import DayRange, Limits, Plan, Repeat
from coach.plan.problems import PlanError, Problem
from coach.plan.reading import read_plan

_C = "canvases: [Hall, School]\n"
_P = "passes: [{name: eyes, passages: [iris]}]\n"
_FRIDAYS = "FREQ=WEEKLY;BYDAY=FR"


def _read(line: str) -> Plan:
    return read_plan(f"{_C}{_P}{line}\n", "plan.yaml")


def _problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(PlanError) as caught:
        read_plan(text, "plan.yaml")
    return caught.value.problems


def _told(line: str) -> tuple[str, str, str]:
    (problem,) = _problems(f"{_C}{_P}{line}\n")
    assert problem.line == 3
    return problem.where, problem.what, problem.suggestion


def test_days_off_are_days_ranges_and_rules() -> None:
    rule = "RRULE:freq=monthly; byday=1sa; until=20280101T120000Z"
    plan = _read(f"off: [2027-03-26, 2027-4-10 .. 2027-04-18, {{every: '{rule}', from: 2027-01-02}}]")
    assert plan.off == (
        DayRange(first=dt.date(2027, 3, 26), last=dt.date(2027, 3, 26)),
        DayRange(first=dt.date(2027, 4, 10), last=dt.date(2027, 4, 18)),
        Repeat(rule="FREQ=MONTHLY;BYDAY=1SA;UNTIL=20280101T120000Z", start=dt.date(2027, 1, 2)),
    )


def test_days_with_hours_of_their_own_are_a_mapping_or_a_list() -> None:
    day = DayRange(first=dt.date(2027, 4, 24), last=dt.date(2027, 4, 24))
    assert _read("also: {2027-04-24: 8 h}").also == ((day, 8 * 3600),)
    listed = f"also: [{{every: {_FRIDAYS}, from: 2027-01-08, time: 24 h}}, {{day: 2027-04-24, time: 0 h}}]"
    assert _read(listed).also == ((Repeat(rule=_FRIDAYS, start=dt.date(2027, 1, 8)), 24 * 3600), (day, 0))


def test_a_day_may_be_off_and_have_hours_and_the_same_hours_may_be_said_twice() -> None:
    plan = _read("off: [2027-04-20..2027-04-30, 2027-04-24]\nalso: {2027-04-24: 8 h, 2027-04-23..2027-04-24: 8 h}")
    assert len(plan.also) == 2


def test_a_week_without_hours_can_be_read() -> None:
    assert _read("week: {mon: 0 h}").week_s == (0,) * 7


FAULTS = [
    ("off: [March]", "off[1]", 'there is no day "March"', "write year-month-day: 2027-05-01"),
    ("off: [26 March 2027]", "off[1]", 'there is no day "26 March 2027"', "did you mean 2027-03-26"),
    (
        "off: [2027-04-10 - 2027-04-18]",
        "off[1]",
        '"2027-04-10 - 2027-04-18" names more than one day',
        "write 2027-04-10..2027-04-18, or one day for each entry",
    ),
    (
        "off: [2027-04-18..2027-04-10]",
        "off[1]",
        '"2027-04-18..2027-04-10" ends before it begins',
        "write 2027-04-10..2027-04-18",
    ),
    (
        "off: [2027-01-01..2030-01-05]",
        "off[1]",
        '"2027-01-01..2030-01-05" covers more than 3 years',
        "end it earlier",
    ),
    ("off: [2027-01-01..]", "off[1]", 'there is no day ""', "write year-month-day: 2027-05-01"),
    (f"off: [{{every: {_FRIDAYS}}}]", "off[1]", 'the key "from" is missing', "write from: 2027-01-08"),
    ("also: {2027-04-24: -8 h}", "also.2027-04-24", '"-8 h" is not a time', "a time is greater than 0: write 8 h"),
    (
        "also: {2027-04-24: 25 h}",
        "also.2027-04-24",
        '"25 h" is more than the 24 h of a day',
        "write the hours that are painted, such as 5 h",
    ),
    (
        "also: {2027-04-24: 8 h, 2027-04-20..2027-04-26: 6 h}",
        "also",
        '"2027-04-20..2027-04-26: 6 h" contradicts "2027-04-24: 8 h"',
        "give each day one time",
    ),
    (
        "also: [{day: 2027-04-24, time: 8 h}, {day: 2027-4-24, time: 6 h}]",
        "also",
        '"2027-4-24: 6 h" contradicts "2027-04-24: 8 h"',
        "give each day one time",
    ),
    ("also: [{day: 2027-04-24}]", "also[1]", 'the key "time" is missing', "write time: 4 h"),
    ("forecast: {spread: some}", "forecast.spread", '"some" is not known here', "write one of: learned, none"),
    (
        "forecast: {room: 0}",
        "forecast.room",
        '"0" is not between 5 and 40 C, where drying can be foretold',
        "write the warmth of the room it dries in, such as 18 C",
    ),
    (
        "forecast: {room: 45 C}",
        "forecast.room",
        '"45 C" is not between 5 and 40 C, where drying can be foretold',
        "write the warmth of the room it dries in, such as 18 C",
    ),
    (
        "forecast: {room: -3 °C}",
        "forecast.room",
        '"-3 °C" is not between 5 and 40 C, where drying can be foretold',
        "write the warmth of the room it dries in, such as 18 C",
    ),
    ("forecast: {room: 68 F}", "forecast.room", '"68 F" is not a temperature', "write degrees Celsius, such as 18 C"),
    ("forecast: {film: 100}", "forecast.film", '"100" is not a thickness', "write 100 um"),
    ("forecast: {film: 1}", "forecast.film", '"1" is not a thickness', "write micrometres, such as 100 um"),
    (
        "forecast: {film: 3001 um}",
        "forecast.film",
        '"3001 um" is not between 5 and 3000 um',
        "write the wet thickness of one layer, such as 100 um",
    ),
    ("forecast: {medium: oils}", "forecast.medium", '"oils" is not known here', 'did you mean "oil"'),
    ("forecast: {rom: 18}", "forecast", 'the key "rom" is not known', 'did you mean "room"'),
    (
        "learn-from: [../study.journal]",
        "learn-from[1]",
        '"../study.journal" is not the plain name of a journal beside the plan',
        "move the journal beside the plan and write evening-study.journal",
    ),
    (
        "learn-from: [study]",
        "learn-from[1]",
        '"study" does not end in .journal',
        "write study.journal",
    ),
    (
        "learn-from: [a.journal, A.journal]",
        "learn-from[2]",
        'the name "A.journal" stands twice',
        "keep one of them",
    ),
    (
        "palette: [{name: white, dries: 3}]",
        "palette[1].dries",
        '"3" is not a count of days from 0 to 365',
        "write 3 days",
    ),
    (
        "palette: [{name: white, dries: 0 days}]",
        "palette[1].dries",
        '"0 days" is not a count of days from 0 to 365',
        "write days, such as 3 days or 2.5 days",
    ),
    (
        "limits: {day: 9 h, long-day: 8 h}",
        "limits.long-day",
        'long-day, "8 h", is shorter than day, "9 h"',
        "write long-day: 9 h or longer",
    ),
    (
        "limits: {longest-day: 9 h, day: 10 h}",
        "limits.longest-day",
        'longest-day, "9 h", is shorter than day, "10 h"',
        "write longest-day: 10 h or longer",
    ),
    ("limits: {week: 169 h}", "limits.week", '"169 h" is not between 1 s and 168 h', "write hours, such as 48 h"),
]


@pytest.mark.parametrize(("line", "where", "what", "suggestion"), FAULTS)
def test_a_fault_is_told_with_a_way_out(line: str, where: str, what: str, suggestion: str) -> None:
    assert _told(line) == (where, what, suggestion)


def test_a_paint_and_a_recipe_say_how_they_dry_and_how_fat_they_are() -> None:
    line = "palette: [{name: umber, dries: 2.5 days}]\nmixtures: [{name: dark, parts: {umber: 1}, oil: LEAN}]"
    plan = _read(line)
    assert plan.palette[0].dries_days == 2.5
    assert plan.mixtures[0].oil == "lean"


def test_a_figure_that_is_not_stated_gives_way_to_those_that_are() -> None:
    assert _read("limits: {day: 11 h}").limits == Limits(day_s=11 * 3600, caution_day_s=11 * 3600)
    assert _read("limits: {day: 13 h}").limits == Limits(
        day_s=13 * 3600, caution_day_s=13 * 3600, strong_day_s=13 * 3600
    )
    assert _read("limits: {longest-day: 7 h}").limits == Limits(
        day_s=7 * 3600, caution_day_s=7 * 3600, strong_day_s=7 * 3600
    )
    assert _read("limits: {rest: 30 min}").limits == Limits(rest_s=1800, long_rest_s=1800)


def test_every_figure_of_the_body_can_be_stated() -> None:
    line = (
        "limits: {block: 1 h, rest: 2 min, long-rest: 3 min, long-rest-within: 4 h, day: 5 h, long-day: 6 h,"
        " longest-day: 7 h, between-days: 8 h, week: 90 h, free-stretch: 100 h, awake: 11 h, standing: 12 min}"
    )
    assert _read(line).limits == Limits(
        block_s=3600,
        rest_s=120,
        long_rest_s=180,
        long_rest_within_s=4 * 3600,
        day_s=5 * 3600,
        caution_day_s=6 * 3600,
        strong_day_s=7 * 3600,
        between_days_s=8 * 3600,
        week_s=90 * 3600,
        free_stretch_s=100 * 3600,
        awake_s=11 * 3600,
        standing_s=720,
    )


def test_a_plan_without_repeating_days_is_read_without_the_library_of_rules() -> None:
    text = f"{_C}{_P}off: [2027-03-26]\nalso: {{2027-04-24: 8 h}}\nforecast: {{room: 18 C}}\n"
    code = f"import sys; from coach.plan.reading import read_plan; read_plan({text!r}, ''); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "coach.plan.calendar_reading" in done.stdout.split()
    assert not [name for name in done.stdout.split() if name.startswith("dateutil")]


@pytest.mark.parametrize(
    ("line", "where"),
    [
        ("forecast: {room: [18 C]}", "forecast.room"),
        ("forecast: {film: [100 um]}", "forecast.film"),
        ("learn-from: [[study.journal]]", "learn-from[1]"),
        ("palette: [{name: white, dries: [3 days]}]", "palette[1].dries"),
        ("also: {2027-04-24: [8 h]}", "also.2027-04-24"),
        ("also: [{day: [2027-04-24], time: 8 h}]", "also[1].day"),
        ("off: [[2027-04-24]]", "off[1]"),
    ],
)
def test_a_list_is_no_single_value_of_the_calendar(line: str, where: str) -> None:
    assert _told(line) == (where, "a list stands where a text belongs", "write one text")


def test_more_days_than_a_year_has_are_told_at_once() -> None:
    first = dt.date(2027, 1, 1)
    days = ", ".join(f"{first + dt.timedelta(days=number)}: 1 h" for number in range(367))
    assert _told(f"also: {{{days}}}") == ("also", "367 days are named", "name at most 366")


def test_a_key_with_a_tag_is_told_and_never_read() -> None:
    what = [problem.what for problem in _problems(f"{_C}{_P}also: [{{!!x day: 2027-04-24, time: 8 h}}]\n")]
    assert what == ['the key "day" is missing', 'the tag "!!x" has no place in a plan']
