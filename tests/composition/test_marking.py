"""Boxes are marked, moved, sized, named and taken away, and none leaves the photo."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.composition.marking import (
    Marking,
    begun,
    dragged,
    in_hand_at,
    moved,
    next_in_hand,
    renamed,
    resized,
    with_head,
    with_keep,
    with_step,
    without_in_hand,
)
from coach.composition.photo_boxes import CompositionError, PhotoSize, check_boxes
from coach.plan.commission import MarkedBox, MarkedHead

PHOTO = PhotoSize(width_px=4000, height_px=6000)
ANNA = MarkedHead("Anna", MarkedBox(1500, 1200, 2200, 2100))
BERTA = MarkedHead("Berta", MarkedBox(2800, 1300, 3500, 2200))
KEEP = MarkedBox(0, 5000, 400, 6000)


def two_heads_and_a_keep() -> Marking:
    return with_step(begun(PHOTO, (ANNA, BERTA), (KEEP,)), 100.2)


def box_in_hand(marking: Marking) -> MarkedBox:
    assert marking.in_hand is not None
    return marking.boxes[marking.in_hand]


def test_a_step_is_a_dot_of_the_picture_and_a_pixel_at_least() -> None:
    assert [with_step(begun(PHOTO), dot_px).step_px for dot_px in (61.5, 1.0, 0.4)] == [62, 1, 1]


def test_tab_goes_round_the_heads_and_then_the_parts_to_keep() -> None:
    marking = two_heads_and_a_keep()
    names = []
    for _ in range(4):
        assert marking.in_hand is not None
        names.append(marking.names[marking.in_hand])
        marking = next_in_hand(marking)
    assert names == ["Anna", "Berta", "keep 1", "Anna"]
    assert next_in_hand(begun(PHOTO)) == begun(PHOTO)


def test_a_new_head_lies_in_the_middle_as_large_as_the_last_one_with_a_free_name() -> None:
    marking = with_head(with_head(two_heads_and_a_keep()))
    assert [head.name for head in marking.heads] == ["Anna", "Berta", "head 1", "head 2"]
    assert box_in_hand(marking) == MarkedBox(1650, 2550, 2350, 3450)
    assert with_head(begun(PHOTO)).heads[0].box == MarkedBox(1580, 2400, 2420, 3600)


def test_arrows_move_by_a_step_and_stop_at_the_edge() -> None:
    marking = two_heads_and_a_keep()
    assert box_in_hand(moved(marking, 1, -1)) == MarkedBox(1600, 1100, 2300, 2000)
    far = moved(marking._replace(step_px=1000), 9, 9)
    assert box_in_hand(far) == MarkedBox(3300, 5100, 4000, 6000)
    assert far.heads[1] == BERTA


def test_sizing_moves_the_right_and_bottom_edge_and_leaves_a_pixel() -> None:
    marking = two_heads_and_a_keep()
    assert box_in_hand(resized(marking, 1, 2)) == MarkedBox(1500, 1200, 2300, 2300)
    assert box_in_hand(resized(marking._replace(step_px=1000), -5, -5)) == MarkedBox(1500, 1200, 1501, 1201)


def test_a_box_marked_in_a_larger_photo_can_be_brought_inside() -> None:
    small = PhotoSize(width_px=1000, height_px=1000)
    marking = resized(begun(small, (BERTA,)), 0, 0)
    check_boxes(small, marking.heads, [])
    assert box_in_hand(marking) == MarkedBox(300, 100, 1000, 1000)


def test_a_box_taken_away_leaves_the_next_one_in_hand() -> None:
    marking = without_in_hand(two_heads_and_a_keep())
    assert (marking.names, marking.in_hand) == (("Berta", "keep 1"), 0)
    marking = without_in_hand(next_in_hand(marking))
    assert (marking.names, marking.in_hand) == (("Berta",), 0)
    marking = without_in_hand(marking)
    assert (marking.names, marking.in_hand) == ((), None)
    assert without_in_hand(marking) == moved(marking, 1, 1) == resized(marking, 1, 1) == marking


def test_the_smallest_box_about_a_point_is_taken_in_hand() -> None:
    inside = MarkedHead("eye", MarkedBox(1600, 1300, 1700, 1400))
    marking = begun(PHOTO, (ANNA, BERTA, inside))
    assert in_hand_at(marking, 1650, 1350).in_hand == 2
    assert in_hand_at(marking, 1500, 1200).in_hand == 0
    assert in_hand_at(marking, 2800, 1300).in_hand == 1
    assert in_hand_at(marking, 2200, 2100) == marking, "right and bottom lie outside"


def test_a_head_is_renamed_and_a_name_is_data() -> None:
    assert renamed(two_heads_and_a_keep(), "  the \x1b[31m  boy ").heads[0].name == "the \ufffd[31m boy"


@pytest.mark.parametrize(
    ("in_hand", "name", "why"),
    [
        (0, " ", "a head has a name; write one"),
        (0, "BERTA", 'two heads are named "BERTA"; give each its own name'),
        (2, "x", "only a head has a name; take one in hand with Tab"),
    ],
)
def test_a_name_that_cannot_be_is_told(in_hand: int, name: str, why: str) -> None:
    with pytest.raises(CompositionError, match=why):
        renamed(two_heads_and_a_keep()._replace(in_hand=in_hand), name)


def test_a_head_may_keep_its_own_name() -> None:
    assert renamed(two_heads_and_a_keep(), "ANNA").heads[0].name == "ANNA"


def test_the_thirteenth_of_a_kind_is_one_too_many() -> None:
    marking = begun(PHOTO)
    for _ in range(12):
        marking = with_keep(with_head(marking))
    with pytest.raises(CompositionError, match="12 heads are marked"):
        with_head(marking)
    with pytest.raises(CompositionError, match="12 parts to keep are marked"):
        with_keep(marking)


ONE = begun(PHOTO, (ANNA,), (KEEP,))
DRAWN = MarkedBox(2500, 2500, 3000, 3000)


@pytest.mark.parametrize(
    ("at", "by", "in_hand", "box"),
    [
        ((1800, 1700), (300, -200), 0, (1800, 1000, 2500, 1900)),  # inside: it moves
        ((1800, 1700), (9000, 9000), 0, (3300, 5100, 4000, 6000)),  # as far as the photo goes
        ((1520, 1700), (-100, 50), 0, (1400, 1200, 2200, 2100)),  # the left edge
        ((1480, 1700), (-100, 50), 0, (1400, 1200, 2200, 2100)),  # from outside
        ((2190, 2110), (100, 200), 0, (1500, 1200, 2300, 2300)),  # a corner
        ((1800, 1220), (0, 5000), 0, (1500, 2099, 2200, 2100)),  # an edge stops before the other
        ((200, 5500), (10, 10), 1, (2500, 2500, 3000, 3000)),  # in a part to keep: a head is drawn
        ((390, 5500), (100, 0), 1, (0, 5000, 500, 6000)),  # at its edge: that moves
        ((2400, 2400), (600, 600), 1, (2500, 2500, 3000, 3000)),  # beside all boxes
    ],
)
def test_a_drag_changes_the_box_it_begins_at_and_else_draws_a_head(
    at: tuple[float, float], by: tuple[float, float], in_hand: int, box: tuple[int, int, int, int]
) -> None:
    marking = dragged(ONE._replace(in_hand=None), at, by, DRAWN, 40)

    assert marking.in_hand == in_hand
    assert box_in_hand(marking) == box
    is_drawn = box == DRAWN
    assert len(marking.boxes) == 2 + is_drawn


def test_a_head_drawn_over_a_head_takes_its_place() -> None:
    over, beside = MarkedBox(1400, 1100, 2300, 2000), MarkedBox(2100, 1100, 2900, 2000)
    assert dragged(ONE, (1400, 1100), (900, 900), over, 40).heads == (MarkedHead("Anna", over),)
    assert [head.box for head in dragged(ONE, (2900, 1100), (-800, 900), beside, 40).heads] == [ANNA.box, beside]


def test_the_middle_of_a_box_smaller_than_the_reach_moves_it() -> None:
    tiny = begun(PHOTO, (MarkedHead("Anna", MarkedBox(100, 100, 108, 108)),))
    assert box_in_hand(dragged(tiny, (104, 104), (10, 0), DRAWN, 40)) == MarkedBox(110, 100, 118, 108)


def drag(marking: Marking, x: float, y: float, across: int, down: int) -> Marking:
    at = x * marking.photo.width_px, y * marking.photo.height_px
    return dragged(marking, at, (across, down), MarkedBox(0, 0, 1, 1), 3)


_PLACE, _FAR = st.floats(0, 1), st.integers(-6000, 6000)
_WALKS = st.lists(
    st.one_of(
        st.tuples(st.just(drag), _PLACE, _PLACE, _FAR, _FAR),
        st.tuples(st.sampled_from([moved, resized]), st.integers(-3, 3), st.integers(-3, 3)),
        st.tuples(st.just(next_in_hand), st.sampled_from([-1, 1])),
        st.tuples(st.sampled_from([with_head, with_keep, without_in_hand])),
    ),
    max_size=30,
)


@given(st.integers(1, 5000), st.integers(1, 5000), _WALKS)
@settings(max_examples=100, deadline=None)
def test_whatever_keys_and_mouse_do_the_boxes_can_be_in_the_photo(
    width_px: int, height_px: int, walk: list[tuple[Any, ...]]
) -> None:
    photo = PhotoSize(width_px=width_px, height_px=height_px)
    marking = begun(photo)
    for step, *how in walk:
        try:
            marking = step(marking, *how)
        except CompositionError:  # 12 of a kind
            continue
    check_boxes(photo, marking.heads, marking.keeps)
    assert marking.in_hand is None if not marking.boxes else marking.in_hand in range(len(marking.boxes))
