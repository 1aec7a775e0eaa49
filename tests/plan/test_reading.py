"""A plan is read whole, or every fault is told with its place and a way out."""

import datetime as dt
import subprocess
import sys

import pytest

from coach.plan.commission import Limits, MarkedBox, MarkedHead, Pass, Plan
from coach.plan.delivery import DayRange, Repeat
from coach.plan.problems import PlanError, Problem
from coach.plan.reading import problems_on, read_plan

_C = "canvases: [Hall, School]\n"
_FRIDAYS = "FREQ=WEEKLY;BYDAY=FR"
_EYES = "{name: eyes, passages: [socket, iris]}"
_P = "passes: [{name: eyes, passages: [iris]}]\n"


def _passage(fields: str) -> str:
    return _C + f"passes: [{{name: eyes, passages: [socket, {{name: iris, {fields}}}]}}]\n"


def _numbered(count: int) -> str:
    return f"canvases: [{', '.join(str(n) for n in range(count))}]\n{_P}"


def _problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(PlanError) as caught:
        read_plan(text, "plan.yaml")
    return caught.value.problems


def _read(line: str) -> Plan:
    return read_plan(f"{_C}{_P}{line}\n", "plan.yaml")


def _commission(written: str) -> str:
    return read_plan(f"{_C}{_P}commission: {written}\n", "plan.yaml").commission


@pytest.mark.parametrize(
    ("text", "line", "column", "what", "suggestion"),
    [
        ("canvases:\n\t- Hall\n" + _P, 2, 1, "a tab stands", "indent with spaces"),
        (_C + _C + _P, 2, 1, 'the key "canvases" stands twice', "keep one of them"),
        ("[" * 100_000, 1, 1001, "brackets or indents nest too deep", "six levels"),
        ("", 0, 0, "the plan is empty", "canvases and passes"),
        (_C + _P + "---\n" + _C, 3, 1, "a second document begins here", "one plan in a file"),
        ("!!python/object:os.system x", 1, 1, 'the tag "!!python/object:os.system"', "delete it"),
        (_C + _P + "commission: a\x1bb\n", 3, 14, "U+001B", "delete it"),
        ("canvases: []\n" + _P, 1, 11, "the list is empty", "at least one"),
        (_numbered(27), 1, 11, "the list has 27 entries", "at most 12"),
        (_C + _P + "comission: x\n", 3, 1, 'the key "comission" is not known', 'did you mean "commission"'),
        (_C + "passes: eyes\n", 2, 9, '"eyes" stands where a list belongs', "`- `"),
        (_C + _P + f"commission: {'a' * 301}\n", 3, 13, "has 301 characters", "at most 300"),
        (_passage("minutes: -5"), 2, 64, '"-5" is not a time', "write 5"),
        (_passage("minutes: [3]"), 2, 64, "a list stands where a text belongs", "write one text"),
        (_passage("minutes: ²:1"), 2, 64, '"²:1" is not a time', "write 14 min"),
        (_passage("lead: Hal"), 2, 61, 'there is no canvas "Hal"', 'did you mean "Hall"'),
        (_passage("beside: sokcet"), 2, 63, 'called "sokcet"', 'did you mean "socket"'),
        (_passage("difficulty: 0"), 2, 67, "greater than 0", "such as 1.5"),
        (_C + _P + "away: Schol until 2027-03-04\n", 3, 7, 'no canvas "Schol"', 'did you mean "School"'),
        (_C + _P + "due: 1 May 2027\n", 3, 6, 'there is no day "1 May 2027"', "did you mean 2027-05-01"),
        (_C + _P + "due: 1 May 2027 10:00 XYZ\n", 3, 6, "there is no day", "did you mean 2027-05-01"),
        (_C + _P + "seed: 00000000000099999999999\n", 3, 7, "not a whole number from 0", "write 0"),
    ],
)
def test_a_fault_is_told_with_its_place_and_a_way_out(
    text: str, line: int, column: int, what: str, suggestion: str
) -> None:
    (problem,) = _problems(text)
    assert (problem.line, problem.column) == (line, column)
    assert what in problem.what
    assert suggestion in problem.suggestion


def test_anchors_cannot_multiply_a_plan() -> None:
    lists = "".join(f"      - &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 30))
    text = _C + "passes:\n  - name: eyes\n    passages:\n      - &a0 [x]\n" + lists
    assert {problem.what for problem in _problems(text)} == {"a list stands where a text belongs"}
    (problem,) = _problems("canvases: [&a Hall, School]\npasses: [{name: eyes, passages: [*a]}]\n")
    assert (problem.line, problem.column) == (1, 12)
    assert "an alias (*name) repeats" in problem.what


def test_every_fault_is_told_at_once_in_the_order_of_the_file() -> None:
    text = "due: never\norder: snak\ncanvases: []\nseed: -1\npasses: []\n"
    assert [(p.line, p.where) for p in _problems(text)] == [
        (1, "due"),
        (2, "order"),
        (3, "canvases"),
        (4, "seed"),
        (5, "passes"),
    ]


@pytest.mark.parametrize("count", [1, 12])
def test_one_to_twelve_canvases_are_read(count: int) -> None:
    assert len(read_plan(_numbered(count), "plan.yaml").canvases) == count


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ('"[bold red]Hall[/]"', "[bold red]Hall[/]"),
        (r'"\e[31mred"', "�[31mred"),
        (r'"a\x9b31m\u202eb\u2066c"', "a�31m�b�c"),
        ("🎨", "🎨"),
        ("שלום", "שלום"),
        ("é" * 300, "é" * 300),
    ],
)
def test_names_are_data_and_never_steer_a_terminal(written: str, read: str) -> None:
    assert _commission(written) == read


@pytest.mark.parametrize("written", ["no", "1:30", "012", "1_000", "2027-05-01", "0x1F", "on"])
def test_names_stay_as_written_where_yaml_1_1_would_convert_them(written: str) -> None:
    """Source: YAML 1.1 type repository, bool (y, no, on) and int (base 8, base 60, underscores); from memory."""
    assert _commission(written) == written


def test_times_with_a_colon_are_asked_about_rather_than_guessed() -> None:
    """YAML 1.1 reads 1:30 as 90 (int, base 60); from memory."""
    (problem,) = _problems(_passage("minutes: 1:30"))
    assert problem.suggestion == "write 1 h 30 min, or 1 min 30 s"


@pytest.mark.parametrize(("written", "seconds"), [("2.33", 140), ("2.32", 139), ("0.01", 1)])
def test_bare_minutes_are_taken_to_the_nearest_second(written: str, seconds: int) -> None:
    assert read_plan(_passage(f"minutes: {written}"), "plan.yaml").passes[0].passages[1].planned_s == seconds


def test_a_past_due_day_is_told_and_the_plan_can_still_be_read() -> None:
    plan = read_plan(_C + _P + "due: 2027-05-01\n", "plan.yaml")
    assert problems_on(plan, dt.date(2027, 5, 1)) == ()
    (problem,) = problems_on(plan, dt.date(2027, 5, 2))
    assert problem.what == "2027-05-01 is past: today is 2027-05-02"


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


def test_a_plan_names_its_photo_the_heads_in_it_and_what_must_stay() -> None:
    text = "photo: sitter.jpg\nheads: [{name: keeper, box: [1, 2, 30, 40]}]\nkeep: [[0, 50, 10, 60]]\n"
    plan = read_plan(_C + _P + text, "plan.yaml")

    assert plan.photo == "sitter.jpg"
    assert plan.heads == (MarkedHead("keeper", MarkedBox(1, 2, 30, 40)),)
    assert plan.keeps == (MarkedBox(0, 50, 10, 60),)


def test_a_plan_without_a_photo_has_none_and_nothing_marked() -> None:
    plan = read_plan(_C + _P, "plan.yaml")
    assert (plan.photo, plan.heads, plan.keeps) == (None, (), ())


def _passes(passages: str) -> tuple[Pass, ...]:
    text = (
        f"canvases: [Hall]\npasses: [{_EYES}, {{name: nose, passages: [ridge, socket]}}, {{name: end, {passages}}}]\n"
    )
    return read_plan(text, "plan.yaml").passes


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("first", ("end", "first")),
        ("end / first", ("end", "first")),
        ("iris", ("eyes", "iris")),
        ("eyes/socket", ("eyes", "socket")),
        ("nose / socket", ("nose", "socket")),
    ],
)
def test_an_earlier_passage_is_named_alone_or_with_its_pass(written: str, meant: tuple[str, str]) -> None:
    for key in ("over", "into"):
        passage = _passes(f"passages: [first, {{name: x, {key}: {written}}}]")[2].passages[1]
        assert getattr(passage, key) == meant


def test_the_passage_of_the_same_pass_is_meant_first() -> None:
    passages = _passes("passages: [socket, {name: x, over: socket}]")[2].passages
    assert passages[1].over == ("end", "socket")
