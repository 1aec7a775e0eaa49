"""Colour as light: held against the published standards and a general colour library."""

import numpy as np
import pytest
from skimage.color import rgb2lab

from coach.colour.light import lab_of, linear_of, luminance_of, srgb_of, value_of

SRGB_TO_LAB = (
    ((255, 255, 255), (100.0, 0.0, 0.0)),
    ((0, 0, 0), (0.0, 0.0, 0.0)),
    ((118, 118, 118), (49.6370, 0.0, 0.0)),
    ((255, 0, 0), (53.2371, 80.0901, 67.2033)),
    ((0, 255, 0), (87.7355, -86.1816, 83.1866)),
    ((0, 0, 255), (32.3009, 79.1953, -107.8555)),
    ((195, 128, 116), (60.1612, 24.4720, 17.1994)),
    ((109, 93, 71), (40.4674, 2.8840, 15.0537)),
)
"""IEC 61966-2-1 to CIE 15 under D65, agreed on by three colour libraries to their rounding."""

VALUE_TO_PERCENT = ((1, 1.180), (2, 3.048), (3, 6.391), (5, 19.272), (7, 41.985), (9, 76.696), (10, 100.0))
"""ASTM D1535-08, equation 2: luminance factor of the perfect white's scale, per cent."""


@pytest.mark.parametrize(("srgb", "lab"), SRGB_TO_LAB)
def test_lab_is_that_of_the_standard(srgb: tuple[int, ...], lab: tuple[float, ...]) -> None:
    assert lab_of(linear_of(np.array(srgb) / 255)) == pytest.approx(lab, abs=1e-3)


def test_lab_of_many_colours_is_that_of_a_general_library() -> None:
    colours = np.random.default_rng(1).random((1000, 3))
    assert np.abs(lab_of(linear_of(colours)) - rgb2lab(colours)).max() < 0.03  # its matrix is rounded


@pytest.mark.parametrize(("value", "percent"), VALUE_TO_PERCENT)
def test_value_is_that_of_the_standard(value: float, percent: float) -> None:
    assert value_of(percent / 100) == pytest.approx(value, abs=5e-4)


def test_light_and_display_lead_back_to_each_other() -> None:
    colours = np.linspace(0, 1, 999)
    assert srgb_of(linear_of(colours)) == pytest.approx(colours, abs=1e-12)


def test_a_checker_of_black_and_white_is_value_seven_and_a_half() -> None:
    """Half the light, not half the code: 7.5, where the mean of the codes would say 5.2."""
    board = linear_of(np.array([[0.0, 0.0, 0.0], [1.0, 1.0, 1.0]]))
    assert value_of(luminance_of(board.mean(axis=0))) == pytest.approx(7.5, abs=0.1)
