"""The plan in the painter's hands: what each key edits at which row, and which row is in hand afterwards."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.events import Turn
from coach.plan.reading import read_plan
from coach.screens.plan import draft as drafting
from coach.screens.plan.draft import (
    TAKE_UP,
    PlanDraft,
    at_turn,
    draft_of,
    edited,
    form_of,
    moved,
    moved_by_pass,
    redone,
    text_before,
    undone,
    written,
)
from coach.screens.plan.edits import FIELDS
from coach.screens.plan.repository import PlanProgress
from coach.screens.plan.tree import number_of, row_at, rows_from, tree_of
from tests.sessions import TWO_CANVASES

TODAY = dt.date(2027, 4, 7)
SCATTERED = """
canvases: [Hall, School]
passes:
  - name: hair
    passages: [mass, strand, {name: light, beside: mass}, {name: edge, beside: strand}, wisp]
"""


def draft(text: str = TWO_CANVASES, *done: tuple[str, str]) -> PlanDraft:
    return draft_of(read_plan(text, "plan.yaml"), frozenset(done))


def at(here: PlanDraft, pass_name: str, passage: str | None = None) -> PlanDraft:
    """Return the draft with a row in hand."""
    number = number_of(here.tree, pass_name, passage)
    assert number is not None
    return here._replace(row_no=number)


def names(here: PlanDraft, pass_name: str) -> list[str]:
    return [p.name for one in here.plan.passes if one.name == pass_name for p in one.passages]


def runs(here: PlanDraft, pass_name: str) -> list[tuple[str, ...]]:
    return [run.passage_names for one in here.plan.passes if one.name == pass_name for run in one.runs]


def in_hand(here: PlanDraft) -> str:
    row = here.row
    return row.passage.name if row.passage else row.one_pass.name


def test_the_tree_has_a_row_for_each_pass_and_passage_and_a_bracket_holds_a_run_together() -> None:
    here = edited(at(draft(), "eyes", "iris"), "join")
    rows = rows_from(here.tree, 0, here.tree.row_count)
    said = [in_hand(here._replace(row_no=number)) for number in range(len(rows))]

    assert said == ["eyes", "socket shadow", "upper lid", "iris", "lash line", "nose", "wing", "tip"]
    assert [row.planned_s // 60 for row in rows] == [39, 14, 9, 10, 6, 20, 12, 8]
    assert "".join(row.bracket for row in rows) == " ┌│└    "


def test_the_plan_opens_at_the_turn_in_hand_also_where_it_is_a_return() -> None:
    turn = Turn(pass_name="return to nose", run=1, passages=("tip",), canvas="Hall", place=1, planned_s=60)

    assert in_hand(at_turn(draft(), turn)) == "tip"
    assert in_hand(at_turn(draft(), None)) == "eyes"
    assert in_hand(at_turn(draft(), turn._replace(passages=("gone",)))) == "eyes"


@given(first=st.integers(0, 7), count=st.integers(1, 12))
def test_any_stretch_of_rows_is_that_stretch_of_all_rows(first: int, count: int) -> None:
    tree = draft().tree
    every = [row_at(tree, number) for number in range(tree.row_count)]

    assert rows_from(tree, first, count) == every[first : first + count]


def test_an_edit_makes_new_rows_for_its_own_pass_only() -> None:
    before = at(draft(), "eyes", "iris")
    after = edited(before, "join")

    assert after.tree.branches[1] is before.tree.branches[1]
    assert after.tree.branches[0] is not before.tree.branches[0]
    assert after.tree.branches == tree_of(after.plan).branches


def test_the_row_in_hand_stops_at_both_ends_and_goes_from_pass_to_pass() -> None:
    here = draft()
    assert in_hand(moved(here, -3)) == "eyes"
    assert in_hand(moved(here, 1000)) == "tip"
    assert in_hand(moved_by_pass(here, 1)) == "nose"
    assert in_hand(moved_by_pass(moved(here, 1000), -1)) == "nose"
    assert in_hand(moved_by_pass(moved_by_pass(here, 1), -1)) == "eyes"


@pytest.mark.parametrize(
    ("passage", "text", "wanted"),
    [
        ("iris", "limbus", ["socket shadow", "upper lid", "iris", "limbus", "lash line"]),
        (None, "limbus", ["socket shadow", "upper lid", "iris", "lash line", "limbus"]),
    ],
)
def test_a_passage_is_added_below_the_row_in_hand_and_is_in_hand_then(
    passage: str | None, text: str, wanted: list[str]
) -> None:
    here = written(at(draft(), "eyes", passage), "add", f"  {text} ")

    assert names(here, "eyes") == wanted
    assert in_hand(here) == text


def test_a_pass_is_added_with_its_first_passage_or_the_form_is_told() -> None:
    here = written(at(draft(), "eyes", "iris"), "add_pass", "ears: outer shadow")
    assert [one.name for one in here.plan.passes] == ["eyes", "ears", "nose"]
    assert names(here, "ears") == ["outer shadow"]
    assert in_hand(here) == "ears"

    refused = written(at(draft(), "eyes", "iris"), "add_pass", "ears")
    assert refused.is_saved
    assert "ears: outer shadow" in refused.said


@pytest.mark.parametrize(
    ("field", "text", "figure", "wanted"),
    [
        ("minutes", "14", "planned_s", 840),
        ("minutes", "1 h 30 min", "planned_s", 5400),
        ("minutes", "", "planned_s", None),
        ("value", "2,5", "value", 2.5),
        ("value", "", "value", None),
        ("area", "12", "area_cm2", 12.0),
        ("area", "12 cm2", "area_cm2", 12.0),
        ("difficulty", "1.5", "difficulty", 1.5),
        ("difficulty", "", "difficulty", 1.0),
        ("mixture", "deep flesh", "mixture", "deep flesh"),
        ("lead", "School", "lead", "School"),
    ],
)
def test_a_field_changes_its_figure_and_what_stands_there_already_changes_nothing(
    field: str, text: str, figure: str, wanted: object
) -> None:
    here = written(at(draft(), "eyes", "iris"), field, text)
    assert here.row.passage is not None
    assert getattr(here.row.passage, figure) == wanted
    assert in_hand(here) == "iris"
    again = written(here, field, text_before(here, field))
    assert again.plan == here.plan


@pytest.mark.parametrize(
    ("field", "text", "told"),
    [
        ("minutes", "soon", '"soon" is not a time'),
        ("minutes", "25 h", "between 1 s and 24 h"),
        ("value", "dark", '"dark" is not a number'),
        ("value", "11", "from 0 to 10"),
        ("area", "wide", '"wide" is not an area'),
        ("difficulty", "hard", '"hard" is not a number'),
        ("lead", "Hell", 'did you mean "Hall"'),
        ("rename", "", "a name is missing"),
        ("rename", "lash line", "is taken"),
        ("to_pass", "noes", 'did you mean "nose"'),
    ],
)
def test_a_text_that_cannot_be_is_refused_in_a_sentence_and_nothing_changes(field: str, text: str, told: str) -> None:
    here = at(draft(), "eyes", "iris")
    refused = written(here, field, text)

    assert refused.plan is here.plan
    assert told in refused.said
    assert refused.said.endswith(".")


def test_the_form_holds_all_that_the_row_can_say_and_each_line_can_be_filled_in() -> None:
    checked = written(at(draft(), "nose", "tip"), "check", "mirror")
    for here, lacks in (
        (at(draft(), "eyes", "iris"), ()),
        (checked, ("value", "over")),
        (at(draft(), "eyes"), ("minutes",)),
    ):
        names = [line.name for line in form_of(here, with_skipped=True)]
        assert names[0] == "rename"
        assert names[-1] == TAKE_UP
        assert not set(names) & set(lacks)
        for name in names[:-1]:
            if name in FIELDS and name != "add_pass":
                again = written(here, name, text_before(here, name))
                assert again.plan == here.plan
                assert again.said
    whole = [line.name for line in form_of(at(draft(), "eyes", "iris"), with_skipped=False)]
    assert {"minutes", "value", "area", "mixture", "brush", "over", "lead", "shapes"} <= set(whole)
    assert TAKE_UP not in whole


def test_an_empty_neighbour_cuts_a_passage_from_its_run() -> None:
    joined = written(at(draft(), "eyes", "lash line"), "beside", "iris")
    assert runs(joined, "eyes")[-1] == ("iris", "lash line")
    assert runs(written(joined, "beside", ""), "eyes")[-2:] == [("iris",), ("lash line",)]


def test_moving_moves_a_pass_a_passage_inside_its_run_and_from_its_end_the_whole_run() -> None:
    assert [one.name for one in edited(at(draft(), "eyes"), "move_down").plan.passes] == ["nose", "eyes"]
    run = edited(at(draft(), "eyes", "upper lid"), "move_down")
    assert names(run, "eyes") == ["iris", "socket shadow", "upper lid", "lash line"]
    assert in_hand(run) == "upper lid"
    assert names(edited(at(draft(), "eyes", "iris"), "move_up"), "eyes")[0] == "iris"
    three = written(at(draft(), "eyes", "iris"), "beside", "socket shadow")
    assert names(edited(at(three, "eyes", "iris"), "move_up"), "eyes")[:3] == ["socket shadow", "iris", "upper lid"]
    assert "must come after it" in edited(at(three, "eyes", "upper lid"), "move_up").said


def test_joining_meets_the_passage_above_in_the_plan_even_where_runs_are_scattered() -> None:
    here = edited(at(draft(), "eyes", "iris"), "join")
    assert runs(here, "eyes") == [("socket shadow", "upper lid", "iris"), ("lash line",)]
    assert "opens its pass" in edited(at(draft(), "eyes", "socket shadow"), "join").said

    strand = edited(at(draft(SCATTERED), "hair", "strand"), "join")
    assert runs(strand, "hair") == [("mass", "strand", "light", "edge"), ("wisp",)]


def test_splitting_sorting_renaming_and_deleting_do_what_they_say_and_are_told() -> None:
    here = edited(at(draft(), "eyes", "upper lid"), "split")
    assert runs(here, "eyes")[:2] == [("socket shadow",), ("upper lid",)]
    assert in_hand(here) == "upper lid"
    dark = written(at(draft(), "nose", "tip"), "value", "2")
    dark = edited(written(at(dark, "nose", "wing"), "value", "6"), "sort")
    assert names(dark, "nose") == ["tip", "wing"]
    assert dark.said.endswith("Runs stay whole, go by their darkest passage, and come after what they lie over.")
    assert "already" in edited(dark, "sort").said
    named = written(at(draft(), "eyes", "socket shadow"), "rename", "orbit")
    assert named.plan.passes[0].passages[1].beside == "orbit"
    assert in_hand(named) == "orbit"
    assert in_hand(written(at(draft(), "nose"), "rename", "snout")) == "snout"
    gone = edited(at(draft(), "eyes", "iris"), "delete")
    assert "iris" not in names(gone, "eyes")
    assert [one.name for one in edited(at(draft(), "nose", None), "delete").plan.passes] == ["eyes"]
    away = written(at(draft(), "eyes", "iris"), "to_pass", "nose")
    assert names(away, "nose") == ["wing", "tip", "iris"]
    assert in_hand(away) == "iris"


@pytest.mark.parametrize("name", ["delete", "split"])
def test_what_is_done_is_not_deleted_or_split(name: str) -> None:
    here = at(draft(TWO_CANVASES, ("eyes", "upper lid")), "eyes", "upper lid")
    assert edited(here, name).plan is here.plan
    assert "is begun" in edited(here, name).said
    assert "is begun" in written(here, "rename", "lid").said
    assert written(here, "rename", "lid").is_refused
    assert not written(here, "value", "4").is_refused


@given(keys=st.lists(st.sampled_from(["move_up", "move_down", "split", "join", "sort", "delete"]), max_size=12))
def test_undoing_as_often_as_was_edited_gives_the_plan_that_was_read_and_redoing_the_last(keys: list[str]) -> None:
    here = at(draft(), "eyes", "iris")
    for number, key in enumerate(keys):
        here = edited(moved(here, number % 3 - 1), key)
    last = here.plan
    for _ in keys:
        here = undone(here)
    assert here.is_saved
    for _ in keys:
        here = redone(here)
    assert here.plan is last
    assert 0 <= here.row_no < here.tree.row_count


def test_undoing_puts_in_hand_what_it_changes_and_says_when_nothing_is_left() -> None:
    here = written(at(draft(), "nose", "wing"), "minutes", "30")
    back = undone(moved(here, -100))
    assert in_hand(back) == "wing"
    assert undone(back).said == "Nothing is left to undo."
    assert redone(redone(back)).said == "Nothing is left to redo."


def test_what_was_painted_meanwhile_keeps_its_name() -> None:
    here = written(at(draft(), "eyes", "iris"), "rename", "ring")
    assert drafting.lost_place(here, frozenset()) == ""
    assert '"eyes / iris" was painted meanwhile' in drafting.lost_place(here, frozenset({("eyes", "iris")}))


def test_done_is_what_is_painted_skipped_or_begun_also_in_a_return() -> None:
    turn = Turn(pass_name="return to nose", run=1, passages=("tip",), canvas="Hall", place=1, planned_s=60)
    places = {("eyes", "iris", "Hall"): 0, ("return to return to eyes", "lash line", "Hall"): 1}
    progress = PlanProgress(TODAY, places, (), turn, is_begun=True)

    assert progress.done == {("eyes", "iris"), ("eyes", "lash line"), ("nose", "tip")}
    assert progress._replace(is_begun=False).done == {("eyes", "iris"), ("eyes", "lash line")}
