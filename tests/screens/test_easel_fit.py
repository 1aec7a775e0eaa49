"""What the Easel gives up first where room is short, and what stands still while the clock runs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.lines import Line, Role
from coach.session import moves
from coach.session.situation import Situation
from tests.sittings import TWO_CANVASES, Easel

KEYS = tuple((key, "what it does") for key in "oprnmsuweldq")


def following_turn() -> Situation:
    """Return the follow turn of the first run, two minutes in."""
    easel = Easel(TWO_CANVASES)
    easel.sitting.make(moves.go_on)
    easel.pass_time(20)
    easel.sitting.make(moves.go_on)
    easel.pass_time(2)
    return easel.sitting.situation()


SITUATION = following_turn()


def roles(view: tuple[Line, ...]) -> set[Role]:
    return {line.role for line in view if line.text}


def is_drawn(view: tuple[Line, ...], role: Role) -> bool:
    """Whether the lines of a role are block letters."""
    lines = [line.text for line in view if line.role is role]
    return len(lines) > 1 and all(set(text) <= set(" ▀▄█") for text in lines)


@given(
    columns=st.integers(1, 300),
    lines=st.integers(1, 100),
    remarks=st.lists(st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=200), max_size=5),
)
def test_a_view_fills_any_terminal_exactly(columns: int, lines: int, remarks: list[str]) -> None:
    view = easel_view(SITUATION, ViewContext(remarks=tuple(remarks), keys=KEYS), columns, lines)
    assert len(view) == lines
    assert all(cell_len(line.text) <= columns for line in view)


@pytest.mark.parametrize("remarks", [(), ("a remark of a few words",) * 3, ("a long remark " * 40,) * 9])
@pytest.mark.parametrize("columns", [20, 40, 80, 300])
def test_canvas_passage_and_time_stay_then_calm_lines_then_keys_then_details(
    remarks: tuple[str, ...], columns: int
) -> None:
    around = ViewContext(remarks=remarks, keys=KEYS)
    key_lines = sum(line.role is Role.KEYS for line in easel_view(SITUATION, around, columns, 100))
    assert key_lines
    for lines in range(5, 101):
        view = easel_view(SITUATION, around, columns, lines)
        told = roles(view)
        assert {Role.CANVAS, Role.PASSAGE, Role.TIME} <= told
        assert Role.NOTICE in told or not remarks
        spare_lines = sum(line.role in (Role.HEAD, Role.DETAIL) for line in view)
        assert Role.KEYS in told or spare_lines < key_lines


@pytest.mark.parametrize("remarks", [(), ("one calm line",), ("two calm lines", "two calm lines")])
def test_at_80_by_24_canvas_passage_and_time_are_all_in_block_letters(remarks: tuple[str, ...]) -> None:
    view = easel_view(SITUATION, ViewContext(remarks=remarks, keys=KEYS[:9]), 80, 24)
    assert all(is_drawn(view, role) for role in (Role.CANVAS, Role.PASSAGE, Role.TIME))


@pytest.mark.parametrize("size", [(44, 30), (60, 40), (80, 24), (120, 40), (200, 60)])
def test_the_time_keeps_its_size_whatever_its_figures(size: tuple[int, int]) -> None:
    heights = {
        sum(line.role is Role.TIME for line in easel_view(SITUATION._replace(turn_ms=ms), ViewContext(), *size))
        for ms in (71_000, 131_000, 191_000, 500_000, 528_000)
    }
    assert len(heights) == 1


def test_a_long_recipe_goes_on_in_a_second_line() -> None:
    passage = SITUATION.passages[0]._replace(mixture="shadow flesh of the far cheek, warmed with burnt sienna")
    view = easel_view(SITUATION._replace(passages=(passage,)), ViewContext(keys=KEYS[:9]), 60, 30)
    assert "warmed with burnt sienna" in " ".join(line.text.strip() for line in view)


def test_a_line_whose_rest_has_no_room_ends_in_an_ellipsis() -> None:
    passage = SITUATION.passages[0]._replace(mixture="shadow flesh of the far cheek")
    situation = SITUATION._replace(passages=(passage,), turn=None)  # no time line, so the passage is needed most
    view = easel_view(situation._replace(turn=SITUATION.turn), ViewContext(), 40, 6)
    assert [line.text[-1] for line in view if line.text.startswith("socket shadow: ")] == ["…"]


def test_passages_in_plain_text_are_all_named() -> None:
    view = easel_view(SITUATION, ViewContext(keys=KEYS), 70, 12)
    assert [line.text for line in view if line.role is Role.PASSAGE] == ["socket shadow + upper lid"]


def test_where_every_turn_is_painted_no_next_turn_and_no_last_turn_is_spoken_of() -> None:
    done = SITUATION._replace(turn=None, canvas=None, passages=(), before=(), coming=(), done_frac=1.0)
    text = "\n".join(line.text for line in easel_view(done, ViewContext(), 120, 40))
    assert "100% done" in text
    assert "next:" not in text


def test_the_share_done_is_100_per_cent_only_when_every_turn_is_painted() -> None:
    view = easel_view(SITUATION._replace(done_frac=0.998), ViewContext(), 120, 40)
    assert "99% done" in view[0].text
