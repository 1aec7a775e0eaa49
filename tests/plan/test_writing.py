"""A new text of a plan reads as the same plan, and looks as if a person had written it."""

import datetime as dt
from pathlib import Path

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coach.plan.commission import (
    Canvas,
    CanvasSize,
    MarkedBox,
    MarkedHead,
    Mixture,
    Paint,
    Pass,
    Passage,
    Plan,
    runs_of,
)
from coach.plan.delivery import After, DayRange
from coach.plan.key_table import KEYS_INSIDE
from coach.plan.layers import WritingError
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.units import area_text, duration_text, minutes_text, size_text
from coach.plan.writing import plan_text
from coach.plan.yaml_text import scalar_text
from tests.plan.hostile_plans import NAMES, plans

PLANS = sorted(Path("tests/cases/plans").glob("*.yaml"))


@given(plans())
@settings(max_examples=60, deadline=None)
def test_any_plan_reads_back_as_the_same(plan: Plan) -> None:
    try:
        text = plan_text(plan)
    except WritingError as error:
        said = str(error)
        assert "cannot tell" in said
        shapes = [(one.name, passage.name) for one in plan.passes for passage in one.passages]
        assert any("/" in name or len(name) > 100 for shape in shapes for name in shape)
    else:
        assert read_plan(text, "plan.yaml") == plan
        assert text.endswith("\n")


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_plans_that_come_with_the_coach_keep_their_passages_line_for_line(path: Path) -> None:
    """They were written by hand: a new text of them has the same lines, save comments and what is as usual."""
    text = path.read_text()
    plan = read_plan(text, path.name)
    written = plan_text(plan)
    assert read_plan(written, path.name) == plan
    by_hand = {line for line in text.splitlines() if not line.lstrip().startswith("#")}
    other = [line for line in written.splitlines() if line not in by_hand]
    assert len(other) <= 2
    assert all(len(line) <= 120 for line in written.splitlines())


def test_a_new_text_has_a_settled_form() -> None:
    passages = (Passage("iris", 720, 3.0, 1.0, "deep flesh"), Passage("no", 450, beside="iris", difficulty=1.5))
    plan = Plan(
        commission="Study: one head",
        due=dt.date(2027, 5, 1),
        canvases=(Canvas("Hall", "left", CanvasSize(400.0, 500.0)), Canvas("School")),
        passes=(Pass("eyes", passages, runs_of("eyes", passages)),),
        photo="sitter.jpg",
        heads=(MarkedHead("left", MarkedBox(10, 20, 300, 400)),),
        keeps=(MarkedBox(0, 0, 50, 60),),
        away=(("School", dt.date(2027, 3, 4)),),
        week_s=(18000,) * 5 + (10800, 0),
        after=After(9, 1, None),
        palette=(Paint("umber", "PBr7"), Paint("ochre", None, 2.5, 8.5)),
        mixtures=(Mixture("deep flesh", (("umber", 3), ("ochre", 2.5))),),
        also=((DayRange(dt.date(2027, 4, 24), dt.date(2027, 4, 24)), 28800),),
    )
    assert (
        plan_text(plan)
        == """\
commission: 'Study: one head'
due: 2027-05-01

canvases:
  - {name: Hall, place: left, size: 40 x 50 cm}
  - School

photo: sitter.jpg
heads:
  - {name: left, box: [10, 20, 300, 400]}
keep:
  - [0, 0, 50, 60]

away:
  - School until 2027-03-04

week: {mon-fri: 5 h, sat: 3 h}
also: {2027-04-24: 8 h}
after: {drying: 9 days, framing: 1 working day}

palette:
  - {name: umber, pigment: PBr7}
  - {name: ochre, dries: 2.5 days, price: 8.5}

mixtures:
  - {name: deep flesh, parts: {umber: 3, ochre: 2.5}}

passes:
  - name: eyes
    passages:
      - {name: iris, value: 3, minutes: 12, area: 1 cm2, mixture: deep flesh}
      - {name: 'no', minutes: 7.5, beside: iris, difficulty: 1.5}
"""
    )


@given(
    st.dictionaries(
        st.sampled_from([key for key in KEYS_INSIDE["limits"] if key != "press"]),
        st.sampled_from(["40 min", "7 h", "11 h", "13 h"]),
    )
)
@settings(max_examples=60, deadline=None)
def test_limits_that_give_way_to_each_other_read_back_as_the_same(stated: dict[str, str]) -> None:
    limits = ", ".join(f"{key}: {time}" for key, time in stated.items())
    text = f"canvases: [Hall]\nlimits: {{{limits}}}\npasses: [{{name: eyes, passages: [iris]}}]\n"
    try:
        plan = read_plan(text, "plan.yaml")
    except PlanError:  # figures that must rise fall
        return
    assert read_plan(plan_text(plan), "plan.yaml") == plan


@pytest.mark.parametrize(("written", "press_s"), [("0 s", 0.0), ("1.25 s", 1.25), ("3 s", 3.0), ("0.7 s", 0.7)])
def test_the_quiet_before_a_press_reads_back_as_the_same(written: str, press_s: float) -> None:
    plan = read_plan(
        f"canvases: [Hall]\nlimits: {{press: {written}}}\npasses: [{{name: eyes, passages: [iris]}}]\n", ""
    )
    assert plan.limits.press_s == press_s
    assert read_plan(plan_text(plan), "") == plan
    assert (f"press: {written}" in plan_text(plan)) == (press_s != 0.7)


@given(NAMES)
@example("\ufeff" * 300)
def test_a_name_is_the_same_text_to_any_reader_of_yaml(name: str) -> None:
    """By PyYAML's own safe loader, which takes `no` without quotes for False (YAML 1.1, type bool)."""
    written = scalar_text(name)
    assert yaml.safe_load(f"[{written}, x]") == [name, "x"]
    assert yaml.safe_load(f"- {written}\n") == [name]
    assert "\n" not in written


def test_a_name_is_in_quotes_only_where_yaml_needs_them() -> None:
    for plain in ("iris", "white of the eye", "half-tone flesh", "nose 2", "élan", "it's", "a -b", "1 x"):
        assert scalar_text(plain) == plain
    for quoted in ("no", "1:30", "~", "- x", "a: b", "a #b", "{x", "2027-05-01", "12", "a, b", " x", "C:x"):
        assert scalar_text(quoted) == f"'{quoted}'"


@pytest.mark.parametrize(
    ("week_s", "written"),
    [
        ((0,) * 7, "{mon-sun: 0 h}"),
        ((18000,) * 7, "{mon-sun: 5 h}"),
        ((0, 18000, 0, 5400, 5400, 0, 60), "{tue: 5 h, thu-fri: 1 h 30 min, sun: 1 min}"),
    ],
)
def test_days_of_the_week_with_the_same_hours_stand_together(week_s: tuple[int, ...], written: str) -> None:
    passages = (Passage("iris"),)
    passes = (Pass("eyes", passages, runs_of("eyes", passages)),)
    plan = Plan(canvases=(Canvas("Hall"),), passes=passes, week_s=week_s)
    assert f"\nweek: {written}\n" in plan_text(plan)
    assert read_plan(plan_text(plan), "plan.yaml") == plan


def test_namesakes_that_read_alike_are_told_and_not_written() -> None:
    one, other = Passage("a/b"), Passage("glaze", over=("eyes", "a/b"))
    passes = tuple(
        Pass(name, (own,), runs_of(name, (own,))) for name, own in (("eyes", one), ("nose", one), ("x", other))
    )
    with pytest.raises(WritingError, match='"x / glaze" cannot tell "eyes / a/b" from its namesakes'):
        plan_text(Plan(canvases=(Canvas("Hall"),), passes=passes))


def test_quantities_are_written_in_the_unit_that_reads_best() -> None:
    """The inch is 25.4 mm exactly (international inch, 1959)."""
    assert size_text(CanvasSize(400.0, 500.0)) == "40 x 50 cm"
    assert size_text(CanvasSize(16 * 25.4, 20 * 25.4)) == "16 x 20 in"
    assert area_text(12.0) == "12 cm2"
    assert area_text(2 * 2.54**2) == "2 in2"
    assert [duration_text(s) for s in (0, 45, 3000, 18000, 5400, 3661)] == [
        "0 h", "45 s", "50 min", "5 h", "1 h 30 min", "1 h 1 min 1 s",
    ]  # fmt: skip
    assert [minutes_text(s) for s in (720, 450, 5400, 100)] == ["12", "7.5", "90", "1 min 40 s"]
