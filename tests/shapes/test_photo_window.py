"""Enlarging a photo about a point: down to one pixel a dot, never beyond what there is, the point always in it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.shapes.photo_window import finest_px, whole

BOUNDS = (100.0, 50.0, 3300.0, 4050.0)
ROOM = (52, 22)
POINTS = st.tuples(st.floats(100, 3299), st.floats(50, 4049))
ROOMS = st.tuples(st.integers(1, 200), st.integers(1, 60))


def test_all_of_it_keeps_its_shape_and_fills_one_direction() -> None:
    window = whole(BOUNDS, *ROOM)
    assert (window.box, window.across, window.down) == (BOUNDS, 35, 44)
    assert whole(BOUNDS, 20, 60)[-2:] == (20, 24)
    assert whole((0, 0, 1, 1000), 5, 5)[-2:] == (1, 10)


@given(POINTS, ROOMS)
def test_enlarged_to_the_end_a_dot_is_a_pixel_and_the_point_lies_in_one(
    point: tuple[float, float], room: tuple[int, int]
) -> None:
    window = whole(BOUNDS, *room)
    for _ in range(14):
        before, window = window, window.enlarged(point)
        assert window.dot_px < before.dot_px or window == before
        assert window.across <= room[0]
        assert window.down <= 2 * room[1]
        column, row = window.dot_at(point)
        assert 0 <= column < window.across
        assert 0 <= row < window.down
    assert window.dot_px == 1.0
    assert window.box[0].is_integer()
    assert window.box[1].is_integer()
    assert window.point_at(*window.dot_at(point)) == (point[0] // 1 + 0.5, point[1] // 1 + 0.5)


@given(POINTS)
def test_reduced_to_the_end_all_of_it_is_seen_again(point: tuple[float, float]) -> None:
    window = whole(BOUNDS, *ROOM)
    for _ in range(3):
        window = window.enlarged(point)
    for _ in range(3):
        window = window.reduced(point)
    assert window == whole(BOUNDS, *ROOM)


@pytest.mark.parametrize(("px_per_mm", "finest"), [(10.0, 1.0), (0.4, 0.4), (None, 1.0)])
def test_the_finest_dot_is_a_pixel_or_a_millimetre_on_the_canvas(px_per_mm: float | None, finest: float) -> None:
    assert finest_px(px_per_mm) == finest
    window = whole((0, 0, 40, 50), *ROOM, finest)
    for _ in range(9):
        window = window.enlarged((20, 20))
    assert window.dot_px == pytest.approx(finest)


@given(POINTS, st.integers(0, 6), ROOMS)
def test_a_point_near_the_edge_is_brought_to_the_middle_and_another_moves_nothing(
    point: tuple[float, float], times: int, room: tuple[int, int]
) -> None:
    window = whole(BOUNDS, *ROOM)
    for _ in range(times):
        window = window.enlarged((1700, 2050))
    moved = window.following(point)
    left, top, right, bottom = moved.box
    assert left <= point[0] <= right
    assert top <= point[1] <= bottom
    assert BOUNDS[0] <= left < right <= BOUNDS[2]
    assert BOUNDS[1] <= top < bottom <= BOUNDS[3]
    assert moved.following(((left + right) / 2, (top + bottom) / 2)) == moved
    other = moved.in_room(*room, point)
    assert other.dot_px == pytest.approx(min(moved.dot_px, whole(BOUNDS, *room).dot_px), rel=0.6)


def test_a_dot_and_the_point_in_its_middle_are_the_same_place() -> None:
    window = whole((100, 50, 200, 150), 50, 25)
    assert (window.across, window.down, window.dot_px) == (50, 50, 2)
    assert window.dot_at((100, 50)) == (0, 0)
    assert window.dot_at((199.9, 149.9)) == (49, 49)
    assert window.dot_at((99, 151)) == (-1, 50)
    assert window.point_at(0, 49) == (101, 149)


def test_a_step_goes_to_the_middle_of_the_next_dot_and_not_beyond_the_photo() -> None:
    window = whole((100, 50, 200, 150), 50, 25)
    assert window.stepped((120.3, 60.9), 1, 0) == (123, 61)
    assert window.stepped((120.3, 60.9), 0, -1) == (121, 59)
    assert window.stepped((199, 51), 1, -1) == (200, 50)
