"""Boxes lie on the right cells at any size, names are data, and each answer of the disk makes the right state."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.composition.choices import Choice, choices_of
from coach.composition.marking import Marking, begun, next_in_hand, with_head
from coach.composition.photo_boxes import PhotoSize
from coach.composition.sizes import stock_canvases
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.screens.composition.state import (
    CompositionState,
    Marked,
    Shown,
    Sitter,
    found,
    is_ranking_of,
    key_of,
    ranked,
    taking,
    turned,
    unwritten,
    written,
)
from coach.screens.composition.view import Told, answer_lines, composition_rows
from coach.screens.widgets.block_letters import block_lines
from coach.screens.widgets.half_blocks import MarkRole, Marks
from coach.screens.widgets.marked_photo import Extent, box_between, extent_of, names_on, with_boxes
from coach.shapes.photo_window import PhotoWindow, whole

PHOTO = PhotoSize(width_px=400, height_px=600)


def marking(*boxes: tuple[str, MarkedBox], keeps: tuple[MarkedBox, ...] = ()) -> Marking:
    return begun(PHOTO, tuple(MarkedHead(*box) for box in boxes), keeps)


def window_of(photo: PhotoSize, columns: int, rows: int) -> PhotoWindow:
    """Return all of a photo as it is shown in so many cells."""
    return whole((0.0, 0.0, float(photo.width_px), float(photo.height_px)), columns, rows)


def drawing(marks: Marks, columns: int, rows: int) -> list[str]:
    """Return marks as text: a dot where there is none."""
    return [
        "".join(marks[row][column].sign if column in marks.get(row, {}) else "." for column in range(columns))
        for row in range(rows)
    ]


def lines_on(window: PhotoWindow, shown: Marking) -> list[str]:
    """Return the lines about the boxes as text: a dot of the picture is grey, so that they are white."""
    grey = np.full((window.down, window.across, 3), 90, dtype=np.uint8)
    lined = with_boxes(grey, window, shown)[:, :, 0]
    return ["".join("#" if dot == 255 else "." for dot in row) for row in lined.tolist()]


def test_a_photo_of_400_x_600_px_in_20_x_15_cells_has_a_box_on_the_dots_it_covers() -> None:
    """20 x 30 dots, 20 px each."""
    window = window_of(PHOTO, 20, 15)

    assert (window.across, window.down) == (20, 30)
    assert extent_of(window, MarkedBox(40, 80, 200, 240)) == Extent(2, 4, 9, 11)
    assert extent_of(window, MarkedBox(41, 81, 201, 241)) == Extent(2, 4, 10, 12)
    assert extent_of(window, MarkedBox(0, 0, 400, 600)) == Extent(0, 0, 19, 29)
    assert extent_of(window, MarkedBox(399, 599, 400, 600)) == Extent(19, 29, 19, 29)
    assert extent_of(window, MarkedBox(900, 900, 950, 950)) == Extent(19, 29, 19, 29)


def test_each_kind_of_box_has_a_line_of_its_own_and_carries_its_name() -> None:
    shown = marking(("Anna", MarkedBox(40, 80, 200, 240)), ("B", MarkedBox(240, 80, 380, 240)))
    shown = next_in_hand(shown._replace(keeps=(MarkedBox(0, 480, 200, 600),)))
    window = window_of(PHOTO, 20, 15)

    assert lines_on(window, shown) == [
        *["...................."] * 4,
        "..##.##.##..#######.",
        "..#......#..#.....#.",
        "............#.....#.",
        "..#......#..#.....#.",
        "..#......#..#.....#.",
        "............#.....#.",
        "..#......#..#.....#.",
        "..##.##.##..#######.",
        *["...................."] * 12,
        "#..#..#..#..........",
        *["...................."] * 2,
        "#........#..........",
        *["...................."] * 1,
        "#..#..#..#..........",
    ]
    assert drawing(names_on(window, shown), 20, 15)[1] == "..Anna......B......."
    assert drawing(names_on(window, shown), 20, 15)[11] == "keep 1.............."


@pytest.mark.parametrize(("grey", "line"), [(250, 0), (20, 255)])
def test_a_line_stands_out_from_light_and_from_dark(grey: int, line: int) -> None:
    window = window_of(PHOTO, 20, 15)
    dots = np.full((window.down, window.across, 3), grey, dtype=np.uint8)

    lined = with_boxes(dots, window, marking(("Anna", MarkedBox(40, 80, 200, 240))))
    assert set(np.unique(lined).tolist()) == {grey, line}
    assert (dots == grey).all()


def test_a_name_stands_above_its_box_or_within_it_where_nothing_is_above() -> None:
    window = window_of(PHOTO, 20, 15)
    above = names_on(window, marking(("the boy", MarkedBox(40, 200, 120, 280))))
    within = names_on(window, marking(("the boy", MarkedBox(360, 0, 400, 120))))

    assert drawing(above, 20, 15)[4] == "..the boy..........."
    assert drawing(within, 20, 15)[0] == ".............the boy"


@given(st.integers(1, 9000), st.integers(1, 9000), st.integers(1, 200), st.integers(1, 60), st.data())
@settings(max_examples=300, deadline=None)
def test_a_box_lies_within_a_dot_of_where_the_photo_has_it(
    width_px: int, height_px: int, columns: int, rows: int, data: st.DataObject
) -> None:
    photo = PhotoSize(width_px=width_px, height_px=height_px)
    left, right = sorted(data.draw(st.tuples(*[st.integers(0, width_px)] * 2).filter(lambda ends: ends[0] != ends[1])))
    top, bottom = sorted(data.draw(st.tuples(*[st.integers(0, height_px)] * 2).filter(lambda ends: ends[0] != ends[1])))
    window = window_of(photo, columns, rows)
    extent = extent_of(window, MarkedBox(left, top, right, bottom))

    assert 0 <= extent.left <= extent.right < window.across <= columns
    assert 0 <= extent.top <= extent.bottom < window.down <= 2 * rows
    across, down = Fraction(window.across, width_px), Fraction(window.down, height_px)
    assert extent.left <= left * across < extent.left + 1
    assert extent.right < right * across <= extent.right + 1
    assert extent.top <= top * down < extent.top + 1
    assert extent.bottom < bottom * down <= extent.bottom + 1


@given(st.integers(1, 9000), st.integers(1, 9000), st.tuples(*[st.integers(0, 70)] * 4))
@settings(max_examples=200, deadline=None)
def test_a_box_drawn_by_the_mouse_lies_on_the_cells_it_was_drawn_over(
    width_px: int, height_px: int, cells: tuple[int, int, int, int]
) -> None:
    photo = PhotoSize(width_px=width_px, height_px=height_px)
    window = window_of(photo, 60, 40)
    one = min(cells[0], window.across - 1), min(cells[1], window.down // 2 - 1)
    other = min(cells[2], window.across - 1), min(cells[3], window.down // 2 - 1)
    box = box_between(window, one, other)
    extent = extent_of(window, box)

    assert 0 <= box.left_px < box.right_px <= width_px
    assert 0 <= box.top_px < box.bottom_px <= height_px
    if min(width_px / window.across, height_px / window.down) >= 1:
        rows = 2 * min(one[1], other[1]), 2 * max(one[1], other[1]) + 1
        wanted = (min(one[0], other[0]), rows[0], max(one[0], other[0]), rows[1])
        assert all(abs(a - b) <= 1 for a, b in zip(extent, wanted, strict=True))


@pytest.mark.parametrize("name", ["[red]x[/]", "漢字の名", "e\u0301\u0301", "🎨", "x" * 60])
@pytest.mark.parametrize("columns", [1, 2, 5, 20])
def test_a_name_is_written_sign_by_sign_and_never_beyond_the_picture(name: str, columns: int) -> None:
    window = window_of(PHOTO, columns, 15)
    marks = names_on(window, marking((name, MarkedBox(40, 200, 120, 280))))

    for row, line in marks.items():
        assert 0 <= row < window.down // 2
        cells = sum(cell_len(mark.sign) for mark in line.values())
        assert cells == len(line)
        assert max(line) < window.across


def test_without_marks_nothing_is_drawn() -> None:
    assert names_on(window_of(PHOTO, 20, 15), begun(PHOTO)) == {}
    assert "#" not in "".join(lines_on(window_of(PHOTO, 20, 15), begun(PHOTO)))


def test_the_box_in_hand_is_told_from_the_others_by_role_too() -> None:
    shown = marking(("A", MarkedBox(40, 80, 200, 240)), ("B", MarkedBox(240, 80, 380, 240)))
    marks = names_on(window_of(PHOTO, 20, 15), shown)

    assert marks[1][2].role is MarkRole.IN_HAND
    assert marks[1][12].role is MarkRole.PLAIN


LARGE = PhotoSize(width_px=4000, height_px=6000)


def shown_of(names: tuple[str, ...] = ("Anna",)) -> Shown:
    heads = tuple(MarkedHead(name, MarkedBox(300 * n, 1200, 300 * n + 700, 2100)) for n, name in enumerate(names, 1))
    marked = begun(LARGE, heads, (MarkedBox(0, 5950, 100, 6000),))
    choices = choices_of(LARGE, heads, marked.keeps, stock_canvases())
    return Shown(marked, choices=choices, is_stock=True)


@pytest.mark.parametrize("columns", [30, 46, 58, 78])
@pytest.mark.parametrize("lines", [8, 20, 36, 56])
def test_every_line_fits_and_canvases_heads_and_warnings_are_told(columns: int, lines: int) -> None:
    shown = shown_of(("Anna", "[b]Berta[/b]" * 9))
    view = composition_rows(shown._replace(chosen=70), columns, lines)

    assert max(map(cell_len, view)) <= columns
    text = " ".join(" ".join(view).split())
    assert "71 of 74, stock list, upright" in text
    assert "> " + shown.listed[70].canvas.name in text
    assert "[b]Berta[/b]" in text
    assert any(line.startswith("! ") for line in view)


def test_the_height_of_a_head_and_its_share_of_life_are_told() -> None:
    """trade-checks.md 54 and 57: a head of 900 px, 4000 x 6000 px on 16 x 20 in: 9.1 cm, 38.7 and 41.2 %."""
    shown = shown_of()
    number = [key_of(choice) for choice in shown.listed].index(("16 x 20 in", "upright"))
    text = " ".join(" ".join(composition_rows(shown._replace(chosen=number), 78, 40)).split())

    assert "Anna: 9.1 cm, 39 % of a man's, 41 % of a woman's mean head" in text
    assert "> 16 x 20 in, upright 9.1 39 41 17 %" in text


def test_at_46_columns_two_heads_above_life_still_show_what_is_lost() -> None:
    lines = composition_rows(shown_of(("Anna", "Berta"))._replace(direction="lying", chosen=73), 46, 60)
    (row,) = (line for line in lines if line.startswith("> ") and "lying" in line)
    assert row.endswith(" %")


def test_wide_letters_are_broken_by_the_cells_they_take_and_no_word_is_lost() -> None:
    shown = shown_of(("漢字の名", "名"))
    lines = composition_rows(shown._replace(direction="lying", chosen=73), 46, 60)
    text = " ".join(" ".join(lines).split())

    assert max(map(cell_len, lines)) <= 46
    assert all(" ".join(warning.split()) in text for warning in shown._replace(direction="lying").listed[73].warnings)
    assert "…" not in text


def test_a_taken_canvas_bears_a_star() -> None:
    shown = shown_of()
    view = composition_rows(shown._replace(taken=key_of(shown.listed[0])), 60, 40)

    assert any(line.startswith(f">*{', '.join(key_of(shown.listed[0]))}") for line in view)


def test_what_is_missing_is_told_in_a_sentence() -> None:
    text = " ".join(composition_rows(Shown(begun(LARGE)), 300, 20))
    assert "No head is marked: draw one with the mouse" in text
    assert "No canvas of the plan says its size: c ranks the stock list." in text
    fault = 'the head "Anna" lies outside the photo'
    assert composition_rows(Shown(begun(LARGE), fault=fault), 80, 20)[-1] == fault


ANNA = MarkedHead("Anna", MarkedBox(1500, 1200, 2200, 2100))
TALL = MarkedHead("Anna", MarkedBox(1000, 1200, 3000, 4800))
MARKED = Marked("sitter.jpg", (ANNA,), ())
SITTER = Sitter(MARKED, (CanvasSize(400.0, 500.0),), "sitter.jpg", LARGE)


def opened(sitter: Sitter = SITTER) -> CompositionState:
    return found(CompositionState(), sitter, is_other=False)


def choices(head: MarkedHead) -> tuple[Choice, ...]:
    return choices_of(LARGE, [head], [], stock_canvases())


def with_another_head(state: CompositionState) -> CompositionState:
    assert state.shown is not None
    return state._replace(shown=state.shown._replace(marking=with_head(state.shown.marking)))


def test_before_anything_is_found_nothing_is_marked_and_nothing_can_be_lost() -> None:
    empty = CompositionState()
    assert (empty.marked, empty.is_written, empty.canvases, empty.has_head_in_hand) == (Marked(), True, (), False)
    assert ranked(empty, (), "x") == taking(empty, None) == written(empty, MARKED, None) == empty
    assert is_ranking_of(empty, begun(LARGE), is_stock=True)
    assert unwritten(empty) == ()
    assert turned(empty) == empty
    assert "The photo is being read." in told(empty)


def test_the_plans_own_sizes_are_ranked_first_and_the_stock_list_where_there_are_none() -> None:
    assert [canvas.name for canvas in opened().canvases] == ["40 x 50 cm"]
    assert opened(SITTER._replace(sizes=())).canvases == stock_canvases()


def test_what_is_marked_is_written_until_it_changes() -> None:
    state = opened()
    assert state.is_written
    assert unwritten(state) == ()
    changed = with_another_head(state)
    assert not changed.is_written
    assert unwritten(changed) == ("the heads",)
    assert written(changed, changed.marked, None).is_written
    assert not opened(SITTER._replace(photo="other.jpg")).is_written


def test_the_first_canvas_stays_first_but_one_that_was_gone_to_stays_chosen() -> None:
    before, after = choices(ANNA), choices(TALL)
    assert key_of(before[0]) != key_of(after[0])
    state = ranked(opened(), before, "")
    assert state.shown is not None
    fresh = ranked(state, after, "")
    gone_to = ranked(state._replace(shown=state.shown._replace(chosen=5)), after, "")
    assert fresh.shown is not None
    assert gone_to.shown is not None
    assert fresh.shown.chosen == 0
    assert gone_to.shown.choice is not None
    assert key_of(gone_to.shown.choice) == key_of(before[5])
    nowhere = ranked(gone_to, (), "a fault")
    assert nowhere.shown is not None
    assert (nowhere.shown.chosen, nowhere.shown.choice, nowhere.shown.fault) == (0, None, "a fault")


def test_a_ranking_holds_while_boxes_and_list_are_the_same_whichever_is_in_hand() -> None:
    state = opened()
    assert state.shown is not None
    marking = state.shown.marking
    assert is_ranking_of(state, marking._replace(in_hand=None, step_px=1), is_stock=False)
    assert not is_ranking_of(state, marking, is_stock=True)
    assert not is_ranking_of(with_another_head(state), marking, is_stock=False)


def test_a_canvas_that_is_taken_waits_to_be_written_and_is_then_the_plans_size() -> None:
    best = choices(ANNA)[0]
    state = taking(opened(), best)
    assert not state.is_written
    kept = written(state, state.marked, best.size)
    assert kept.is_written
    assert kept.taken is None
    assert kept.sitter is not None
    assert kept.sitter.sizes == (best.size,)


def test_a_photo_that_cannot_be_read_leaves_nothing_to_mark() -> None:
    state = opened(SITTER._replace(size=None, fault="sitter.jpg: there is no such file"))
    assert state.shown is None
    assert "sitter.jpg: there is no such file" in told(state)
    assert "The plan names no photo: c takes its name." in told(opened(Sitter(Marked(), ())))


def told(state: CompositionState, proposed: int | None = 0, columns: int = 50, lines: int = 23) -> str:
    rows = answer_lines(Told(state, "", proposed), columns, lines)
    assert len(rows) <= lines
    assert all(cell_len(row.text) <= columns for row in rows)
    return " ".join(" ".join(row.text for row in rows).split())


def ranked_for(head: MarkedHead, *canvases: str) -> CompositionState:
    """Return the state with a head on stock canvases, the first one chosen."""
    state = opened(SITTER._replace(written=MARKED._replace(heads=(head,))))
    wanted = [one for one in stock_canvases() if one.name in canvases]
    return ranked(state, choices_of(LARGE, [head], [], wanted), "")


@pytest.mark.parametrize(
    ("height_px", "word"),
    [(900, "2/5"), (1700, "3/4"), (2280, "LIFE"), (3600, "OVER")],
)
def test_the_head_is_told_against_life(height_px: int, word: str) -> None:
    """4000 x 6000 px on 16 x 20 in, 40.64 cm across, cut to 4000 x 5000 px: 98.4 px to the cm; life 22.9 cm."""
    head = MarkedHead("Anna", MarkedBox(1500, 500, 2500, 500 + height_px))
    found_as = told(ranked_for(head, "16 x 20 in"), columns=300)
    letters = " ".join(" ".join(block_lines(word if word == "LIFE" else f"{word} LIFE", 1)).split())
    tall = height_px / (4000 / 40.64)

    assert letters in " ".join(told(ranked_for(head, "16 x 20 in"), columns=60, lines=12).split())
    assert f"ead of {tall:.{0 if tall >= 10 else 1}f} cm on 16 x 20 in." in found_as


def test_a_head_that_the_canvas_cuts_is_the_answer() -> None:
    head = MarkedHead("Anna", MarkedBox(100, 100, 3900, 5900))
    assert "Anna's head is cut" in told(ranked_for(head, "16 x 20 in"))


def test_the_direction_is_the_plans_else_the_photos_until_it_is_turned() -> None:
    lying = opened(SITTER._replace(sizes=(CanvasSize(500.0, 400.0),)))
    broad = opened(SITTER._replace(sizes=(), size=PhotoSize(width_px=6000, height_px=4000)))
    upright = opened(SITTER._replace(sizes=()))
    assert [one.shown and one.shown.direction for one in (lying, broad, upright)] == ["lying", "lying", "upright"]

    state = ranked(upright, choices(ANNA), "")
    assert state.shown is not None
    assert {choice.direction for choice in state.shown.listed} == {"upright"}
    assert len(state.shown.listed) == len(stock_canvases())
    after = turned(state).shown
    assert after is not None
    assert after.choice is not None
    assert state.shown.choice is not None
    assert key_of(after.choice) == (state.shown.choice.canvas.name, "lying")
