"""The Plan as lines: what each row tells, how far each passage is, and that everything fits every window."""

import datetime as dt
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.journal.events import Turn
from coach.plan.reading import read_plan
from coach.screens.lines import Role
from coach.screens.page import MOST_WORDS, words_of
from coach.screens.plan.draft import PlanDraft, draft_of, moved, written
from coach.screens.plan.order_page import (
    Warnings,
    lead_picture,
    order_page,
    order_sentence,
    order_view,
    order_word,
    page_line_count,
    page_view,
    warnings_of,
)
from coach.screens.plan.pages import (
    DIFFERENCE,
    FORM,
    ORDER,
    PICTURE,
    Place,
    Shown,
    chips_of,
    main_lines,
    picture_top,
    side_lines,
    side_rows,
)
from coach.screens.plan.repository import PlanProgress
from coach.screens.plan.tree import PassageState, PassageStates, TreeRow
from coach.screens.plan.view import (
    RowTexts,
    TreeContext,
    answer_sentence,
    plan_page,
    plan_table,
    text_line_count,
    text_page,
)
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


def context(here: PlanDraft, progress: PlanProgress = NOTHING, *, is_wide: bool = False) -> TreeContext:
    return TreeContext(RowTexts(PassageStates(here.plan, progress)), warnings_of(here.plan, progress), is_wide=is_wide)


def table(here: PlanDraft, columns: int = 120, lines: int = 30, progress: PlanProgress = NOTHING) -> list[str]:
    return [line.text for line in plan_table(here, context(here, progress), columns, lines)]


def shown_at(place: Place, text: str = LAYERED, *, has_picture: bool = True, is_wide: bool = False) -> Shown:
    here = moved(draft(text), 2)
    texts, warnings = RowTexts(PassageStates(here.plan, NOTHING)), warnings_of(here.plan, NOTHING)
    order = order_page(here.plan, NOTHING)
    return Shown(
        place,
        here,
        texts,
        warnings,
        (3, 20),
        order,
        ("- one", "+ other"),
        has_picture,
        "",
        is_wide,
        is_picture_asked=False,
    )


def states(text: str, progress: PlanProgress) -> dict[str, tuple[str, ...]]:
    """Return how far each row is, by its name."""
    here = draft(text)
    every = PassageStates(here.plan, progress)
    rows = [row for branch in here.tree.branches for row in branch]
    return {_name(row): tuple(state.word for state in every.of(row)) for row in rows}


def _name(row: TreeRow) -> str:
    return row.passage.name if row.passage else row.one_pass.name


PLACES = [
    Place(),
    Place(with_facts=True),
    Place(tab=PICTURE),
    Place(tab=ORDER),
    Place(tab=ORDER, with_facts=True),
    Place(over=FORM, form_no=5),
    Place(over=DIFFERENCE),
]


@pytest.mark.parametrize(("columns", "lines"), SIZES)
@pytest.mark.parametrize("is_long", [False, True])
@pytest.mark.parametrize("place", PLACES)
def test_every_page_fills_every_window_and_the_row_in_hand_is_seen(
    columns: int, lines: int, is_long: bool, place: Place
) -> None:
    text = LAYERED.replace("eyes", LONG).replace("Harbour", LONG) if is_long else LAYERED
    shown = shown_at(place, text)
    said = shown.draft._replace(said="a sentence that is long " * 20)

    for one in (shown, shown._replace(draft=said), shown._replace(is_wide=True)):
        for view in (main_lines(one, columns, lines), side_lines(one, columns, lines)):
            assert len(view) == lines
            assert max(cell_len(line.text) for line in view) <= columns
    if lines > 5 and place.tab not in (ORDER, PICTURE) and place.over != DIFFERENCE:
        assert any(line.is_inverted for line in main_lines(shown._replace(draft=said), columns, lines))


@pytest.mark.parametrize("text", [*(path.read_text() for path in sorted(Path("plans").glob("*.yaml"))), LAYERED])
@pytest.mark.parametrize("row_no", [0, 9, 30])
def test_the_first_page_is_read_at_a_glance(text: str, row_no: int) -> None:
    """One word, one sentence of at most 14 words, four keys, at most 60 words."""
    here = moved(draft(text), row_no)
    asked = context(here)._replace(turns=(31, 152))
    view = plan_page(here, asked, 78, 23)
    shown = shown_at(Place())._replace(draft=here)
    chips = chips_of(shown)

    assert len(chips) <= 4
    assert words_of(view) + sum(len(f"{one.key} {one.label}".split()) for one in chips) <= MOST_WORDS
    assert len(answer_sentence(here, asked).split()) <= 14
    assert sum("█" in line.text for line in view) >= 4
    assert sum(line.role in {Role.PASSAGE, Role.CANVAS} and "·" in line.text for line in view) >= 3


@pytest.mark.parametrize(
    ("turns", "said"),
    [
        ((0, 20), "20 turns to come"),
        ((3, 20), "3 of 20 turns done"),
        ((20, 20), "all is painted"),
        ((0, 0), "6 passages"),
    ],
)
def test_the_answer_says_whether_the_plan_is_sound_and_how_far_it_is(turns: tuple[int, int], said: str) -> None:
    here = draft(TWO_CANVASES)
    assert answer_sentence(here, context(here)._replace(turns=turns)) == f"{said}; 59 min a canvas."
    warned = draft(LAYERED)
    assert answer_sentence(warned, context(warned)._replace(turns=turns)).startswith("4 things to look at, marked !; ")
    assert plan_page(warned, context(warned), 120, 24)[-1].text.startswith("• due: 2027-04-01 is past")


@pytest.mark.parametrize(("columns", "lines"), [(18, 5), (38, 12)])
@pytest.mark.parametrize("tab", [Place(), Place(tab=ORDER)])
def test_a_small_window_shows_the_answer_whole(columns: int, lines: int, tab: Place) -> None:
    view = [line.text for line in main_lines(shown_at(tab, TWO_CANVASES), columns, lines - 1)]
    said = " ".join(" ".join(view).split())
    if tab.tab == ORDER:
        assert "15 MIN" in said or "█" in said
        assert "in the end." in said or columns < 20
    else:
        assert "SOUND" in said or "█" in said
        assert "a canvas." in said


@given(number=st.integers(0, 200), count=st.integers(1, 201), lines=st.integers(1, 60))
def test_the_window_always_holds_the_line_in_hand_and_never_more_blanks_than_it_must(
    number: int, count: int, lines: int
) -> None:
    number = min(number, count - 1)
    first = first_shown(number, count, lines)

    assert first <= number < first + lines
    assert 0 <= first <= max(0, count - lines)


def test_a_row_tells_value_minutes_area_and_mixture_and_brackets_hold_a_run() -> None:
    lines = table(draft(LAYERED))

    assert lines[1].split() == ["value", "min", "cm\u00b2", "mixture", "No", "Ha", "Mi"]
    iris = next(line for line in lines if " iris " in line)
    assert iris.split() == ["!┌", "iris", "3.5", "(15)", "12", "lean", "dark", "\u00b7", "\u00b7", "\u00b7"]
    assert any(line.strip().startswith("└ ring") for line in lines)


def test_the_photo_stands_beside_the_rows_unless_it_is_asked_for() -> None:
    shown = shown_at(Place(), is_wide=True)
    assert side_rows(shown, 38) == 19
    assert side_rows(shown._replace(is_picture_asked=True), 38) == 0
    assert side_rows(shown._replace(place=Place(with_facts=True)), 38) == 0
    asked = shown._replace(is_picture_asked=True, place=Place(tab=PICTURE))
    assert picture_top(asked, 78, 23) is not None


def test_canvases_that_begin_alike_are_told_apart_above_their_signs() -> None:
    names = ", ".join(f"Big canvas {letter}" for letter in "ABCDEF")
    text = TWO_CANVASES.replace("[{name: Hall, place: left}, {name: School, place: right}]", f"[{names}]")

    assert table(draft(text), 80)[1].endswith("ABCDEF")
    assert table(draft(text.replace(f"[{names}]", "[Big hall]")), 80)[1].endswith("Bi")


def test_a_warning_stands_at_the_passage_it_is_about_and_a_past_due_day_below_all() -> None:
    here = moved(draft(LAYERED), 3)
    lines = table(here)

    assert here.row.passage is not None
    assert here.row.passage.name == "iris"
    assert any(line.startswith("• due: 2027-04-01 is past") for line in lines)
    assert "4 things to look at" in lines[0]
    assert next(line for line in lines if " iris " in line).startswith(">!")
    assert any(line.startswith("Fast over slow: iris (eyes)") for line in lines)
    assert not any("Fast over slow" in line for line in table(moved(here, 1)))
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
    assert told["iris"] == ("look again", "now")
    assert told["lash line"] == ("to come", "to come")
    assert told["eyes"] == ("look again", "now")
    assert told["wing"] == ("done", "to come")
    assert told["nose"] == ("partly", "to come")


def test_a_return_in_hand_is_in_hand_at_its_passage_and_one_marked_again_is_marked() -> None:
    turn = Turn(pass_name="return to nose", run=1, passages=("wing",), canvas="Hall", place=1, planned_s=600)
    places = {("nose", "wing", "Hall"): 1, ("nose", "wing", "School"): 1, ("return to nose", "wing", "School"): 1}
    marks = (("nose", "wing", "Hall"), ("nose", "wing", "School"), ("return to nose", "wing", "School"))

    assert states(TWO_CANVASES, PlanProgress(TODAY, places, marks, turn))["wing"] == ("now", "look again")


def test_every_state_has_a_sign_and_a_word_of_its_own_and_a_sign_is_one_narrow_cell() -> None:
    assert (
        len({state.sign for state in PassageState}) == len({state.word for state in PassageState}) == len(PassageState)
    )
    assert all(
        cell_len(state.sign) == 1 and unicodedata.east_asian_width(state.sign) not in "WF" for state in PassageState
    )


def test_what_is_not_saved_is_told_first() -> None:
    here = draft(TWO_CANVASES)
    edited = written(moved(here, 2), "minutes", "3")
    assert "NOT SAVED" not in table(here)[0]
    assert table(edited)[0].startswith("NOT SAVED")
    assert plan_page(edited, context(edited), 80, 24)[0].text.endswith("NOT SAVED")


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
    assert every[0].text == "The order: 10 turns to come"
    assert every[-1].text
    assert page_view(page, None, columns, 5, count - 5) == every[-5:]
    assert len(page_view(None, None, columns, 5)) == 5


def test_the_order_is_a_strip_of_who_leads_and_says_how_even_it_ends() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")
    order = order_page(plan, PlanProgress(TODAY, {("eyes", "iris", "Hall"): 1, ("eyes", "iris", "School"): 2}))
    rows = [line.text for line in lead_picture(order, ("nose", 2), 60, 20)]
    led = {name: [row for row in rows if row.startswith(name)] for name in ("Hall", "School")}

    assert [run.pass_name for run in order.runs] == ["eyes", "eyes", "eyes", "nose", "nose"]
    assert order.ahead == {0, 2, 3, 4}
    assert order.leads == {name: sum(run.order[0] == name for run in order.runs) for name in order.names}
    assert len(led["Hall"]) == len(led["School"]) == 2
    drawn = ["".join(part[8:] for part in both) for both in led.values()]
    assert sum(part.count("▀") for part in drawn) > 0
    assert sum(part.count("─") for part in drawn) > sum(part.count("▀") for part in drawn)
    assert [row.split()[-1] for row in rows if row.strip() in {"eyes", "nose"}] == ["eyes", "nose"]
    assert sum(part.count("█") for part in drawn) > 0
    assert rows[-1] == "▀ painted   ─ to come   █ this row"


@pytest.mark.parametrize(
    ("canvases", "word", "said"),
    [
        ("[Hall, School]", "EVEN", "Hall leads 2 times, School 3; 1 min apart in the end."),
        ("[Hall]", "NO LEADS", "No work is taken from one canvas to another."),
        (f"[{', '.join('ABCDEFGHIJKL')}]", "23 MIN", "Each canvas leads 0 to 1 times; 23 min apart in the end."),
    ],
)
def test_the_order_is_answered_in_a_word_and_a_sentence(canvases: str, word: str, said: str) -> None:
    text = TWO_CANVASES.replace("[{name: Hall, place: left}, {name: School, place: right}]", canvases)
    text = text.replace("order: snake", "")
    order = order_page(read_plan(text, "plan.yaml"), NOTHING)

    assert order_sentence(order).startswith(said)
    assert len(order_sentence(order).split()) <= 14
    assert order_word(order) == word
    assert len(order_view(None, ("", 1), 40, 12)) == 12


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
