"""An edit is set into the painter's own text, and every line it does not touch stays as it was."""

import difflib
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan import writing_in_place
from coach.plan.commission import Canvas, Limits, MarkedBox, MarkedHead, Mixture, Passage, Plan
from coach.plan.editing.figures import change
from coach.plan.editing.passages import (
    add_passage,
    delete_passage,
    join,
    move_passage,
    move_to_pass,
    rename_passage,
    split,
)
from coach.plan.editing.passes import add_pass, delete_pass, move_pass, rename_pass
from coach.plan.layers import WritingError
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.text_edits import LayoutError, TextEdit, with_edits
from coach.plan.writing import plan_text
from coach.plan.writing_in_place import edited_text, edits_between
from coach.plan.yaml_text import tree_of
from tests.plan.editing.made import LAYERED, layered
from tests.plan.hostile_plans import plans

ORCHARD = Path("tests/cases/plans/orchard-keeper.yaml").read_text()
FERRY = Path("tests/cases/plans/ferry-sisters.yaml").read_text()


def _plan(text: str) -> Plan:
    return read_plan(text, "plan.yaml")


def _changed(old: str, new: str) -> list[str]:
    """Return the lines that went, behind a minus, and those that came, behind a plus."""
    return [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line[0] in "+-"]


def _edited(text: str, plan: Plan) -> list[str]:
    edited = edited_text(text, _plan(text), plan)
    assert _plan(edited) == plan
    return _changed(text, edited)


def test_other_minutes_for_one_passage_change_exactly_one_line() -> None:
    assert _edited(ORCHARD, change(_plan(ORCHARD), "eyes", "iris", "minutes", "15").plan) == [
        "-       - {name: iris, value: 3, minutes: 12, area: 1 cm2, mixture: deep flesh}",
        "+       - {name: iris, value: 3, minutes: 15, area: 1 cm2, mixture: deep flesh}",
    ]


def test_a_new_name_changes_only_the_lines_that_say_it() -> None:
    lines = _edited(ORCHARD, rename_passage(_plan(ORCHARD), "mouth", "lip line", "parting: lips").plan)
    assert len(lines) == 6
    assert "+       - {name: 'parting: lips', value: 2, minutes: 8, area: 2 cm2, mixture: warm dark}" in lines
    assert _edited(ORCHARD, rename_pass(_plan(ORCHARD), "nose", "nose and cheeks").plan) == [
        "-   - name: nose",
        "+   - name: nose and cheeks",
    ]


def test_a_passage_moves_as_a_line_and_takes_the_comment_right_above_it_along() -> None:
    assert _edited(ORCHARD, move_passage(_plan(ORCHARD), "hair", "hair mass", -1).plan)[0].startswith(
        "+       - {name: hair mass"
    )
    moved = edited_text(LAYERED, layered(), move_passage(layered(), "eyes", "iris", -1).plan)
    assert "      - iris   # keep it clean\n      - {name: lid" in moved
    edge = edited_text(LAYERED, layered(), move_to_pass(layered(), "ground", "edge", "eyes").plan)
    assert "into: iris}\n      # the last stroke\n      - {name: edge, value: 5}\n" in edge


@pytest.mark.parametrize(
    ("name", "by", "order"),
    [("c", -2, "c\n\na b d"), ("c", -1, "a\n\nc b d"), ("d", -1, "a b d\n\nc"), ("a", 3, "b\n\nc d a")],
)
def test_a_blank_line_between_entries_is_not_lost_when_they_move(name: str, by: int, order: str) -> None:
    head = "canvases: [Hall]\npasses:\n  - name: eyes\n    passages:\n"
    text = head + "      - a\n      - b\n\n      - c\n      - d\n"
    edited = edited_text(text, _plan(text), move_passage(_plan(text), "eyes", name, by).plan)
    assert edited == head + "".join(
        f"      - {line}\n" if line else "\n" for line in order.replace(" ", "\n").split("\n")
    )


def test_a_line_broken_in_two_stays_broken() -> None:
    lines = _edited(FERRY, change(_plan(FERRY), "elder clothing", "oilskin light", "minutes", "1").plan)
    assert lines == [
        "-       - {name: oilskin light, value: 4, minutes: 26, area: 290 cm2, mixture: oilskin blue,",
        "+       - {name: oilskin light, value: 4, minutes: 1, area: 290 cm2, mixture: oilskin blue,",
    ]
    assert _edited(FERRY, split(_plan(FERRY), "elder clothing", "oilskin light").plan)[0].endswith("oilskin blue,")


def test_passes_keep_their_comments_and_the_empty_lines_between_them() -> None:
    moved = edited_text(LAYERED, layered(), move_pass(layered(), "ground", -1).plan)
    assert moved.index("- name: ground") < moved.index("  # the nose\n  - name: nose")
    assert "\n\n\n" not in moved
    added = edited_text(
        ORCHARD, _plan(ORCHARD), add_pass(_plan(ORCHARD), "hands", Passage("knuckles"), after="ears").plan
    )
    assert (
        "mixture: ruddy flesh}\n\n  - name: hands\n    passages:\n      - knuckles\n\n  # The forehead belongs here"
        in added
    )
    gone = edited_text(ORCHARD, _plan(ORCHARD), delete_pass(_plan(ORCHARD), "eyes").plan)
    assert "passes:\n  # The cheeks go with the nose, while its edge is wet.\n  - name: nose\n" in gone


def test_a_deleted_passage_takes_only_its_own_lines() -> None:
    lines = _edited(LAYERED, delete_passage(layered(), "ground", "tree").plan)
    assert lines == [
        "-       - name: tree",
        "-         value: 3",
        "-         over: sky   # when dry",
        "-       - {name: edge, beside: tree, value: 5}",
        "+       - {name: edge, value: 5}",
    ]


def test_a_comment_that_stands_apart_outlives_what_it_stood_above() -> None:
    apart, nose = "\n  # ---- the rest ----\n\n", "  # the nose\n  - name: nose\n"
    plan = delete_pass(layered(), "nose").plan
    edited = edited_text(LAYERED, layered(), plan)
    assert f"{apart}\n  - name: ground\n" in edited
    assert "# the nose" not in edited
    last = delete_pass(plan, "ground").plan
    alone = edited_text(edited, plan, last)
    assert alone.endswith(f"into: iris}}\n{apart}\n")
    assert _plan(alone) == last
    assert LAYERED.count(apart + nose) == 1


@pytest.mark.parametrize(
    ("plan", "old", "new"),
    [
        (change(layered(), "eyes", "iris", "value", "3").plan, "- iris   # keep", "- {name: iris, value: 3}   # keep"),
        (
            change(layered(), "ground", "sky", "value", "").plan,
            "        value: 7    # high\n        min",
            "        min",
        ),
        (change(layered(), "ground", "sky", "value", "8").plan, "value: 7    # high", "value: 8    # high"),
        (change(layered(), "ground", "tree", "minutes", "1.5").plan, "value: 3\n", "value: 3\n        minutes: 1.5\n"),
        (add_passage(layered(), "nose", Passage("a, b"), after="ridge").plan, "[ridge, ", "[ridge, 'a, b', "),
        (delete_passage(layered(), "nose", "ridge").plan, "[ridge, {name: tip, beside: ridge", "[{name: tip"),
        (join(layered(), "eyes", "iris", "lid").plan, "- iris ", "- {name: iris, beside: lid} "),
        (layered()._replace(limits=Limits(rest_s=900)), "{block: 50 min}", "{block: 50 min, rest: 15 min}"),
        (layered()._replace(batch=2), "# two\n", "# two\nbatch: 2\n"),
        (
            layered()._replace(canvases=(Canvas("Hall"), Canvas("School", "left"))),
            "School]",
            "{name: School, place: left}]",
        ),
        (
            layered()._replace(mixtures=(Mixture("dark", (("umber", 2),), "fat"), Mixture("light", (("umber", 1),)))),
            "{name: dark, parts: {umber: 2}}",
            "{name: dark, parts: {umber: 2}, oil: fat}",
        ),
    ],
)
def test_each_way_of_writing_takes_an_edit_where_it_stands(plan: Plan, old: str, new: str) -> None:
    assert LAYERED.count(old) == 1
    assert edited_text(LAYERED, layered(), plan) == LAYERED.replace(old, new)


def test_a_name_that_would_come_to_mean_another_passage_is_written_in_full() -> None:
    """`sky` alone would be taken for the new passage, which stands in the pass of its own."""
    text = "canvases: [Hall]\npasses: [{name: a, passages: [sky]}, {name: b, passages: [x, {name: y, over: sky}]}]\n"
    plan = add_passage(_plan(text), "b", Passage("sky"), after="x").plan
    edited = edited_text(text, _plan(text), plan)
    assert edited.endswith("[x, sky, {name: y, over: a / sky}]}]\n")
    assert _plan(edited) == plan


def test_a_text_without_a_last_line_end_or_with_a_byte_order_mark_keeps_that() -> None:
    for text in (LAYERED.rstrip("\n"), "\ufeff" + LAYERED):
        plan = add_passage(layered(), "ground", Passage("sea")).plan
        edited = edited_text(text, layered(), plan)
        assert edited.endswith("value: 5}\n      - sea" + text[len(text.rstrip("\n")) :])
        assert edited[0] == text[0]
        assert _plan(edited) == plan


def test_the_same_plan_is_the_same_text() -> None:
    assert edited_text(ORCHARD, _plan(ORCHARD), _plan(ORCHARD)) == ORCHARD


def test_a_layout_that_takes_no_edit_is_written_anew_with_its_comments_at_the_head() -> None:
    text = "# why\n? passes\n: - name: eyes\n    # the first\n    passages: [iris]\n? canvases\n: [Hall]\n"
    plan = add_passage(_plan(text), "eyes", Passage("lid")).plan
    plan = add_pass(plan, "nose", Passage("tip")).plan
    edited = edited_text(text, _plan(text), plan)
    assert edited == "# why\n# the first\n" + plan_text(plan)
    assert _plan(edited) == plan


def test_a_splice_that_would_read_as_another_plan_is_never_handed_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing_in_place, "edits_between", lambda *_: [])
    plan = add_passage(layered(), "eyes", Passage("lower lid")).plan
    assert _plan(edited_text(LAYERED, layered(), plan)) == plan


def test_a_text_that_is_no_plan_is_not_overwritten_with_one() -> None:
    with pytest.raises(PlanError):
        edited_text("passes: [", layered(), _plan(ORCHARD))


@pytest.mark.parametrize("text", ["[a]", "passes: x", "passes: [x]", "passes: [{name: eyes, passages: iris}]"])
def test_a_tree_that_is_no_plan_takes_no_splice(text: str) -> None:
    with pytest.raises(LayoutError):
        edits_between(text, tree_of(text, ""), layered(), move_pass(layered(), "ground", -1).plan)


def test_a_key_goes_and_the_comment_before_it_stays() -> None:
    entry = "{name: iris, # the left one\n    value: 3 , # between\n    minutes: 4 }"
    text = f"canvases: [Hall]\npasses: [{{name: eyes, passages: [{entry}]}}]\n"
    plan = change(_plan(text), "eyes", "iris", "value", "").plan
    assert edited_text(text, _plan(text), plan) == text.replace("value: 3 ,", "")
    plan = change(_plan(text), "eyes", "iris", "minutes", "").plan
    assert edited_text(text, _plan(text), plan) == text.replace("minutes: 4", "")


@pytest.mark.parametrize(
    ("plan_of", "passages"),
    [
        (lambda plan: delete_passage(plan, "eyes", "iris").plan, "\n  lid, tip,  # b\n  # c\n  end   # d\n"),
        (lambda plan: delete_passage(plan, "eyes", "end").plan, "\n  iris,   # a\n  lid, tip,  # b\n  # c\n"),
        (
            lambda plan: move_passage(plan, "eyes", "end", -2).plan,
            "\n  iris,   # a\n  end,   # d\n  lid, tip,  # b\n  # c\n",
        ),
        (
            lambda plan: add_passage(plan, "eyes", Passage("new"), after="iris").plan,
            "\n  iris,   # a\n  new,\n  lid, tip,  # b\n  # c\n  end   # d\n",
        ),
    ],
)
def test_comments_in_a_list_in_brackets_stay_with_their_entries(plan_of: Callable[[Plan], Plan], passages: str) -> None:
    head = "canvases: [Hall]\npasses: [{name: eyes, passages: ["
    text = head + "\n  iris,   # a\n  lid, tip,  # b\n  # c\n  end   # d\n]}]\n"
    plan = plan_of(_plan(text))
    edited = edited_text(text, _plan(text), plan)
    assert edited == f"{head}{passages}]}}]\n"
    assert _plan(edited) == plan


def test_comments_in_a_list_that_closes_on_its_last_line_stay() -> None:
    text = "canvases: [Hall]\npasses: [{name: eyes, passages: [iris, # a\n   lid]}]\n"
    plan = delete_passage(_plan(text), "eyes", "iris").plan
    assert edited_text(text, _plan(text), plan) == text.replace("iris, # a\n   ", "")
    plan = add_passage(_plan(text), "eyes", Passage("tip")).plan
    assert "[iris, # a\n   lid, tip" in edited_text(text, _plan(text), plan)


def test_an_entry_whose_dash_stands_alone_is_written_anew_when_it_moves() -> None:
    alone = "  -\n    name: eyes\n    passages: [iris]\n"
    text = f"canvases: [Hall]\npasses:\n{alone}  # two\n  - {{name: nose, passages: [tip]}}\n"
    plan = move_pass(_plan(text), "nose", -1).plan
    assert edited_text(text, _plan(text), plan) == "# two\n" + plan_text(plan)


def test_splices_that_overlap_are_refused() -> None:
    assert with_edits("abcd", [TextEdit(1, 2, "x"), TextEdit(1, 1, "-"), TextEdit(2, 2, "+")]) == "a-x+cd"
    with pytest.raises(LayoutError):
        with_edits("abcd", [TextEdit(0, 2, "x"), TextEdit(1, 3, "y")])


@given(plans(), plans(), st.sampled_from([True, False, None, "ours"]), st.booleans(), st.sampled_from([30, 1000]))
@settings(max_examples=50, deadline=None)
def test_any_plan_is_edited_into_any_other_in_whatever_way_it_is_written(
    before: Plan, after: Plan, style: bool | str | None, is_sorted: bool, width: int
) -> None:
    """In braces, in blocks and mixed, as PyYAML writes them; the last comment shows that none was written anew."""
    try:
        text = plan_text(before)
        plan_text(after)
    except WritingError:
        return
    if not isinstance(style, str):
        whole = yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506  it makes texts and nothing else
        text = yaml.safe_dump(whole, default_flow_style=style, sort_keys=is_sorted, width=width, allow_unicode=True)
    text += "# the end\n"
    edited = edited_text(text, _plan(text), after)
    assert _plan(edited) == after
    assert edited.endswith("\n# the end\n")


@pytest.mark.parametrize("indent", ["", "  "])
def test_a_long_list_that_is_new_has_a_line_for_each_entry_and_a_short_one_stays_on_one(indent: str) -> None:
    text = f"{indent}canvases: [Hall]\n{indent}passes: [{{name: eyes, passages: [iris]}}]   # the first\n"
    heads = (MarkedHead("elder", MarkedBox(1, 2, 3000, 4000)), MarkedHead("younger", MarkedBox(5, 6, 7000, 8000)))
    keeps = (MarkedBox(0, 0, 9, 9), MarkedBox(1, 1, 9, 9))
    added = [
        f"+ {indent}photo: sitter.jpg",
        f"+ {indent}heads:",
        f"+ {indent}  - {{name: elder, box: [1, 2, 3000, 4000]}}",
        f"+ {indent}  - {{name: younger, box: [5, 6, 7000, 8000]}}",
        f"+ {indent}keep: [[0, 0, 9, 9], [1, 1, 9, 9]]",
    ]
    marked = _plan(text)._replace(photo="sitter.jpg", heads=heads, keeps=keeps)
    assert _edited(text, marked) == added
    written = edited_text(text, _plan(text), marked)
    assert edited_text(written, marked, _plan(text)) == text
    moved = marked._replace(keeps=(MarkedBox(0, 0, 99, 99),))
    assert _edited(written, moved) == [f"- {added[-1][2:]}", f"+ {indent}keep: [[0, 0, 99, 99]]"]


def test_a_list_in_a_block_stays_in_one_while_it_is_long() -> None:
    text = "canvases: [Hall]\nkeep:\n  - [0, 0, 9, 9]   # her hand\npasses: [{name: eyes, passages: [iris]}]\n"
    keeps = tuple(MarkedBox(n, 1000, 9000, 9000) for n in range(1000, 1005))
    lines = _edited(text, _plan(text)._replace(keeps=keeps))
    assert lines[0] == "-   - [0, 0, 9, 9]   # her hand"
    assert [line.removesuffix("   # her hand") for line in lines[1:]] == [
        f"+   - [{n}, 1000, 9000, 9000]" for n in range(1000, 1005)
    ]
