"""The photo beside the easel: whose light its dots hold, what of it is shown, what is outlined and what dimmed."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.colour.light import linear_of
from coach.shapes.dots import SummedLight, coded, values_of
from coach.shapes.features import HeadBox
from coach.shapes.reference import Reference
from coach.shapes.shape import Picture

GREY = linear_of(0.6)
SQUARE = (((20.0, 30.0), (28.0, 30.0), (28.0, 38.0), (20.0, 38.0)),)
REST = (((0.0, 0.0), (60.0, 0.0), (60.0, 80.0), (0.0, 80.0)), *SQUARE)


def reference(head: HeadBox | None = None, scale: float = 1.0) -> Reference:
    """Return a grey photo of 60 x 80 px with a white square in it."""
    linear = np.full((80, 60, 3), GREY)
    linear[30:38, 20:28] = 1.0
    across = round(1 / scale)
    linear = linear.reshape(80 // across, across, 60 // across, across, 3).mean(axis=(1, 3))
    picture = Picture(linear=linear, left_px=0, top_px=0, scale=scale)
    return Reference(picture, {"k1": SQUARE, "k2": REST}, [head] if head else [])


def test_a_checker_of_black_and_white_is_value_7_and_a_half() -> None:
    """Half the light of white, 50 % luminance, is value 7.5 (ASTM D1535-08); its mean in sRGB would be 5.2."""
    checker = np.repeat((np.indices((8, 8)).sum(axis=0) % 2).astype(float)[..., None], 3, axis=2)
    dots = coded(SummedLight(checker).dots((0, 0, 8, 8), 4, 4))
    assert values_of(dots) == pytest.approx(np.full((4, 4), 7.5), abs=0.1)


@given(st.tuples(st.floats(0, 5), st.floats(0, 4), st.floats(0.1, 4), st.floats(0.1, 4)), st.integers(1, 9), st.data())
def test_a_dot_holds_the_mean_light_of_its_part_of_the_picture(
    part: tuple[float, float, float, float], across: int, data: st.DataObject
) -> None:
    """Held against weights by how much of each pixel lies in the dot."""
    light = np.random.default_rng(data.draw(st.integers(0, 9))).random((8, 9, 3))
    left, top, wide, high = part
    dots = SummedLight(light).dots((left, top, left + wide, top + high), across, 2)

    def weights(low: float, size: float, count: int, pixels: int) -> "np.ndarray":
        ends = low + np.arange(count + 1) * size / count
        shared = np.minimum(ends[1:, None], np.arange(1, pixels + 1)) - np.maximum(ends[:-1, None], np.arange(pixels))
        return shared.clip(0) / (size / count)

    expected = np.einsum("yr,rcz,xc->yxz", weights(top, high, 2, 8), light, weights(left, wide, across, 9))
    assert np.allclose(dots, expected, atol=1e-6)


def test_without_shapes_the_whole_photo_is_shown_and_keeps_its_shape() -> None:
    assert reference().reference([], 30, 20).shape == (40, 30, 3)
    assert reference().reference([], 80, 20).shape == (40, 30, 3)
    assert reference().reference([], 15, 30).shape == (20, 15, 3)
    assert reference().reference([], 1, 1).shape == (2, 1, 3)
    assert set(reference().reference(["gone"], 30, 20)[0, 0].tolist()) == {153}


def test_the_shapes_are_as_they_are_the_line_is_white_and_the_rest_is_darker() -> None:
    shown = values_of(reference(HeadBox(name="Anna", left=0, top=0, right=60, bottom=80)).reference(["k2"], 30, 20))
    assert shown[0, 0] == pytest.approx(6.2, abs=0.2)  # sRGB 153 is 32 % luminance
    hole = shown[15:19, 10:14]
    assert hole[0].min() == 10  # the line lies outside of the shape, so here in the hole
    assert hole[1:-1, 1:-1].max() < 6.2


@pytest.mark.parametrize("size", [(4, 2), (12, 8), (60, 30)])
def test_a_shape_of_one_dot_or_less_is_still_outlined(size: tuple[int, int]) -> None:
    shown = values_of(reference(HeadBox(name="Anna", left=0, top=0, right=60, bottom=80)).reference(["k1"], *size))
    assert (shown == 10).sum() >= 3
    assert (shown < 5).any()


def test_a_shape_in_a_head_is_shown_with_what_is_about_it_there() -> None:
    """At 62 % of the height of the head a square of 8 px takes 8/50 of the rows."""
    shown = values_of(reference(HeadBox(name="Anna", left=0, top=0, right=60, bottom=80)).reference(["k1"], 60, 25))
    lines = np.flatnonzero((shown == 10).any(axis=1))
    assert lines[-1] - lines[0] - 1 == pytest.approx(50 * 8 / (0.62 * 80), abs=1)
    near = values_of(reference().reference(["k1"], 60, 25))
    lines = np.flatnonzero((near == 10).any(axis=1))
    assert lines[-1] - lines[0] - 1 == pytest.approx(50 * 8 / (0.2 * 80), abs=1)


def test_mirrored_and_upside_down_are_the_same_picture_turned() -> None:
    shown = reference().reference(["k1"], 20, 12)
    assert np.array_equal(reference().reference(["k1"], 20, 12, mirrored=True), shown[:, ::-1])
    assert np.array_equal(reference().reference(["k1"], 20, 12, upside_down=True), shown[::-1, ::-1])
    both = reference().reference(["k1"], 20, 12, mirrored=True, upside_down=True)
    assert np.array_equal(both, shown[::-1])


def test_a_scaled_picture_shows_the_same_place() -> None:
    assert np.array_equal(reference(scale=0.5).reference(["k1"], 20, 12), reference().reference(["k1"], 20, 12))
