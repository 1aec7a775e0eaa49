"""The Plan as lines: what each row tells, how far each passage is, and that everything fits every window."""

import datetime as dt
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.journal.events import Turn
from coach.plan.reading import read_plan
from coach.screens.lines import Role
from coach.screens.plan.draft import PlanDraft, draft_of, moved, written
from coach.screens.plan.order_page import Warnings, order_page, page_line_count, page_view, warnings_of
from coach.screens.plan.repository import PlanProgress
from coach.screens.plan.tree import PassageState, PassageStates, TreeRow
from coach.screens.plan.view import RowTexts, TreeContext, plan_view, text_line_count, text_page
from coach.text import first_shown
from tests.sessions import TWO_CANVASES

TODAY = dt.date(2027, 4, 7)
NOTHING = PlanProgress(TODAY)
LONG = "\u5409\u7530 long " * 33
LAYERED = """
commission: The ferry sisters
due: 2027-04-01
canvases: [North, Harbour, Mill]
palette: [{name: white, dries: 9 days}, {name: umber, dries: 2 days}]
mixtures:
  - {name: fat light, parts: {white: 1}, oil: fat}
  - {name: lean dark, parts: {umber: 1}, oil: lean}
passes:
  - name: ground
    passages: [{name: wash, mixture: fat light, minutes: 20}]
  - name: eyes
    passages:
      - {name: iris, mixture: lean dark, over: ground / wash, area: 12 cm2, value: 3.5}
      - {name: ring, beside: iris}
"""
SIZES = [(40, 12), (80, 24), (120, 40), (200, 60), (20, 5), (10, 3)]


def draft(text: str) -> PlanDraft:
    return draft_of(read_plan(text, "plan.yaml"), frozenset())


def context(here: PlanDraft, progress: PlanProgress = NOTHING, said: str = "") -> TreeContext:
    return TreeContext(RowTexts(PassageStates(here.plan, progress)), warnings_of(here.plan, progress), said)


def shown(here: PlanDraft, columns: int = 120, lines: int = 30, progress: PlanProgress = NOTHING) -> list[str]:
    return [line.text for line in plan_view(here, context(here, progress), columns, lines)]


def states(text: str, progress: PlanProgress) -> dict[str, tuple[str, ...]]:
    """Return how far each row is, by its name."""
    here = draft(text)
    every = PassageStates(here.plan, progress)
    rows = [row for branch in here.tree.branches for row in branch]
    return {_name(row): tuple(state.word for state in every.of(row)) for row in rows}


def _name(row: TreeRow) -> str:
    return row.passage.name if row.passage else f"run {row.run.number}" if row.run else row.one_pass.name


@pytest.mark.parametrize(("columns", "lines"), SIZES)
@pytest.mark.parametrize("long", [False, True])
@pytest.mark.parametrize("row_no", [0, 1, 3])
def test_every_line_fits_and_the_row_in_hand_is_always_seen(columns: int, lines: int, long: bool, row_no: int) -> None:
    text = LAYERED.replace("eyes", LONG).replace("Harbour", LONG) if long else LAYERED
    here = moved(draft(text), row_no)
    view = plan_view(here, context(here, said="a sentence that is long " * 20), columns, lines)

    assert len(view) == lines
    assert max(cell_len(line.text) for line in view) <= columns
    assert any(line.role is Role.CANVAS for line in view)


@pytest.mark.parametrize("columns", [40, 80, 120])
def test_every_row_is_as_wide_as_the_heading_says(columns: int) -> None:
    for canvases in (1, 3, 12):
        names = ", ".join(f"C{number:02}" for number in range(canvases))
        text = TWO_CANVASES.replace("[{name: Hall, place: left}, {name: School, place: right}]", f"[{names}]")
        lines = shown(draft(text), columns, 30)
        assert all(line.endswith("\u00b7") and len(line) >= len(lines[1]) - 1 for line in lines[2:11])


@given(number=st.integers(0, 200), count=st.integers(1, 201), lines=st.integers(1, 60))
def test_the_window_always_holds_the_line_in_hand_and_never_more_blanks_than_it_must(
    number: int, count: int, lines: int
) -> None:
    number = min(number, count - 1)
    first = first_shown(number, count, lines)

    assert first <= number < first + lines
    assert 0 <= first <= max(0, count - lines)


def test_a_row_tells_value_minutes_area_mixture_and_neighbour() -> None:
    lines = shown(draft(LAYERED))

    assert lines[1].split() == [
        "pass,",
        "run,",
        "passage",
        "value",
        "min",
        "cm\u00b2",
        "mixture",
        "beside",
        "No",
        "Ha",
        "Mi",
    ]
    iris = next(line for line in lines if " iris " in line)
    assert iris.split() == ["!", "iris", "3.5", "(15)", "12", "lean", "dark", "\u00b7", "\u00b7", "\u00b7"]
    assert " iris" in next(line for line in lines if line.strip().startswith("ring"))[40:]


def test_a_warning_stands_at_the_passage_it_is_about_and_a_past_due_day_in_the_head() -> None:
    here = moved(draft(LAYERED), 4)
    lines = shown(here)

    assert here.row.passage is not None
    assert here.row.passage.name == "iris"
    assert "due: 2027-04-01 is past" in lines[0]
    assert "2 warnings (!)" in lines[0]
    assert next(line for line in lines if " iris " in line).startswith(">!")
    assert any(line.startswith("Fast over slow: iris (eyes)") for line in lines)
    assert not any("Fast over slow" in line for line in shown(moved(here, 1)))
    assert set(warnings_of(here.plan, NOTHING).of) == {("eyes", "iris")}


def test_the_state_of_each_passage_on_each_canvas_is_told() -> None:
    turn = Turn(pass_name="eyes", run=2, passages=("iris",), canvas="School", place=2, planned_s=600)
    places = {
        ("eyes", "socket shadow", "Hall"): 1,
        ("eyes", "upper lid", "Hall"): 1,
        ("eyes", "socket shadow", "School"): 2,
        ("eyes", "upper lid", "School"): 0,
        ("eyes", "iris", "Hall"): 1,
        ("nose", "wing", "Hall"): 1,
        ("return to nose", "wing", "Hall"): 1,
    }
    marks = (("eyes", "iris", "Hall"), ("nose", "wing", "Hall"))
    told = states(TWO_CANVASES, PlanProgress(TODAY, places, marks, turn))

    assert told["socket shadow"] == ("done", "done")
    assert told["upper lid"] == ("done", "skipped")
    assert told["run 1"] == ("done", "done")
    assert told["iris"] == ("marked for return", "in hand")
    assert told["lash line"] == ("to come", "to come")
    assert told["eyes"] == ("marked for return", "in hand")
    assert told["wing"] == ("done", "to come")
    assert told["nose"] == ("partly", "to come")


def test_a_return_in_hand_is_in_hand_at_its_passage_and_one_marked_again_is_marked() -> None:
    turn = Turn(pass_name="return to nose", run=1, passages=("wing",), canvas="Hall", place=1, planned_s=600)
    places = {("nose", "wing", "Hall"): 1, ("nose", "wing", "School"): 1, ("return to nose", "wing", "School"): 1}
    marks = (("nose", "wing", "Hall"), ("nose", "wing", "School"), ("return to nose", "wing", "School"))

    assert states(TWO_CANVASES, PlanProgress(TODAY, places, marks, turn))["wing"] == ("in hand", "marked for return")


def test_every_state_has_a_sign_and_a_word_of_its_own_and_a_sign_is_one_narrow_cell() -> None:
    assert (
        len({state.sign for state in PassageState}) == len({state.word for state in PassageState}) == len(PassageState)
    )
    assert all(
        cell_len(state.sign) == 1 and unicodedata.east_asian_width(state.sign) not in "WF" for state in PassageState
    )


def test_what_is_not_saved_is_told_first() -> None:
    here = draft(TWO_CANVASES)
    assert "NOT SAVED" not in shown(here)[0]
    assert shown(written(moved(here, 2), "minutes", "3"))[0].startswith("Plan \u00b7 NOT SAVED")


def test_the_order_tells_every_turn_to_come_and_the_balance_of_the_whole_and_of_each_pass() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")
    whole = order_page(plan, NOTHING)
    places = {("eyes", name, "Hall"): 1 for name in ("socket shadow", "upper lid")}
    begun = order_page(plan, PlanProgress(TODAY, places, (("eyes", "upper lid", "Hall"),)))

    assert len(whole.turns) == 10
    assert "socket shadow + upper lid \u00b7 23 min" in whole.turns[0]
    assert " leads " in whole.turns[0]
    assert whole.balance[0].startswith("The whole work: ")
    assert [line.split(":")[0] for line in whole.of_passes] == ["eyes", "nose"]
    assert len(begun.turns) == 10
    assert begun.turns[-1].startswith("Hall leads \u00b7 return to eyes: upper lid")


@pytest.mark.parametrize("columns", [40, 46, 80])
def test_the_page_shows_the_run_in_hand_marked_and_scrolls_to_its_end(columns: int) -> None:
    page = order_page(read_plan(TWO_CANVASES, "plan.yaml"), NOTHING)
    view = page_view(page, ("nose", 2), columns, 8)
    count = page_line_count(page, columns)
    every = page_view(page, None, columns, count, 0)

    assert sum(line.text.startswith("> ") and "nose: tip" in line.text for line in view) == 1
    assert max(cell_len(line.text) for line in every) <= columns
    assert every[0].text == "Order of work: 10 turns to come"
    assert every[-1].text
    assert page_view(page, None, columns, 5, count - 5) == every[-5:]
    assert len(page_view(None, None, columns, 5)) == 5


def test_canvases_that_are_away_are_told_with_the_order() -> None:
    plan = read_plan(TWO_CANVASES + "away: [School until 2027-05-01]\n", "plan.yaml")
    page = order_page(plan, NOTHING)

    assert any("School" in line and "2027-05-01" in line for line in page.balance)
    assert all("School" not in line for line in page.turns)


def test_a_long_difference_is_chopped_and_nothing_of_it_is_left_out() -> None:
    texts = ("-  - {name: iris, minutes: 10}" * 3, "", "+ \u5409" * 30)
    count = text_line_count("both are kept", texts, 40)
    every = text_page("both are kept", texts, 0, 40, count)

    assert "".join(line.text for line in every[1:]) == "".join(texts)
    assert max(cell_len(line.text) for line in every) <= 40
    assert text_page("both are kept", texts, 2, 40, 3)[1] == every[3]
    title = text_page("plan.yaml was changed by another hand and stays so", texts, 0, 40, 5)[:2]
    assert [line.text for line in title] == ["plan.yaml was changed by another hand", "and stays so"]


def test_warnings_that_name_nothing_are_none() -> None:
    assert warnings_of(read_plan(TWO_CANVASES, "plan.yaml"), NOTHING) == Warnings()
