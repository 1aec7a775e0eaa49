"""How the photo is looked at: squinted, flat, one feature alone, its shapes outlined."""

import numpy as np
import pytest

from coach.colour.light import linear_of
from coach.shapes.dots import values_of
from coach.shapes.looks import SQUINTS, Look, looked_at

ROWS, COLUMNS = 20, 30
LABELS = np.zeros((ROWS, COLUMNS), dtype=np.int32)
LABELS[:, 15:] = 1
LABELS[8:12, 20:24] = 2
RAMP = np.repeat(np.linspace(0.02, 0.9, COLUMNS)[None, :, None], ROWS, axis=0).repeat(3, axis=2)
GREY = np.full((ROWS, COLUMNS, 3), linear_of(0.5))
WHOLE = (0.0, 10.0)


def test_each_squint_leaves_fewer_values_and_the_last_press_brings_all_back() -> None:
    assert SQUINTS == (0, 5, 3, 2)
    for values in SQUINTS[1:]:
        shown = values_of(looked_at(RAMP, LABELS, Look(values=values, value_range=WHOLE)))
        assert len(np.unique(shown.round(2))) == values
        assert np.all(np.diff(shown[5]) >= 0)


@pytest.mark.parametrize(("count", "value"), [(2, 7.5), (5, 5.0)])
def test_a_value_left_stands_in_the_middle_of_those_it_stands_for(count: int, value: float) -> None:
    """A code of 0.5 in sRGB is 21.4 % luminance, value 5.2 (ASTM D1535-08)."""
    shown = values_of(looked_at(GREY, LABELS, Look(values=count, value_range=WHOLE)))
    assert shown == pytest.approx(np.full(LABELS.shape, value), abs=0.1)


def test_flat_every_shape_has_one_colour_its_own_where_it_is_known() -> None:
    bare = LABELS.copy()
    bare[0, 0] = -1
    shown = looked_at(RAMP, bare, Look(is_flat=True))
    assert len({tuple(colour) for colour in shown[bare == 1]}) == 1
    assert shown[0, 0].tolist() != shown[0, 1].tolist()
    red = np.array([[1, 0, 0], [np.nan] * 3])
    known = looked_at(RAMP, bare, Look(is_flat=True), red)
    assert known[1, 0].tolist() == [255, 0, 0]
    assert known[0, 16].tolist() == shown[0, 16].tolist()
    squinted = values_of(looked_at(RAMP, LABELS, Look(is_flat=True, values=2, value_range=WHOLE)))
    assert len(np.unique(squinted[LABELS == 0])) == 1


def test_one_feature_alone_dims_all_the_rest() -> None:
    shown = values_of(looked_at(GREY, LABELS, Look(only={0})))
    assert shown[3, 3] > 5
    assert shown[3, 25] < 3


def test_a_thin_line_runs_between_large_shapes_lighter_in_the_dark_and_darker_in_the_light() -> None:
    for light, is_lighter in ((0.02, True), (0.9, False)):
        shown = values_of(looked_at(np.full((ROWS, COLUMNS, 3), light), LABELS, Look()))
        line = np.flatnonzero(shown[3] != shown[3, 0])
        assert line.tolist() == [14]
        assert bool(shown[3, 14] > shown[3, 0]) is is_lighter
        assert shown[10, 22] == shown[3, 0]  # the small shape has no line about it


def test_what_is_marked_has_a_white_line_and_what_is_chosen_a_black_one_about_that() -> None:
    marked = values_of(looked_at(GREY, LABELS, Look(marked={2})))
    assert (marked[7, 20:24] == 10).all()
    assert (marked[8:12, 20:24] == marked[0, 0]).all()
    assert (marked[6, 20:24] == marked[0, 0]).all()
    chosen = values_of(looked_at(GREY, LABELS, Look(chosen={2})))
    assert (chosen[7, 20:24] == 10).all()
    assert (chosen[6, 20:24] == 0).all()
