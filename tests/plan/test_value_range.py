"""The value range fits the photo's values into those that paint reaches, and keeps their order."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.colour.light import value_of
from coach.plan.value_range import PAINT_REACH, ValueRange

SPANS = st.tuples(st.floats(0, 9), st.floats(0.1, 1)).map(lambda span: (span[0], span[0] + span[1]))


@given(SPANS, SPANS, st.floats(0, 10), st.floats(0, 10))
def test_what_is_lighter_in_the_photo_is_never_painted_darker(
    photo: tuple[float, float], paint: tuple[float, float], one: float, other: float
) -> None:
    values = ValueRange(photo, paint)
    darker, lighter = sorted((one, other))
    assert paint[0] <= values.paint_value(darker) <= values.paint_value(lighter) <= paint[1] + 1e-9


@pytest.mark.parametrize(("photo", "paint"), [(0, 2), (10, 9.5), (5, 5.75), (4, 5)])
def test_the_usual_range_by_hand(photo: float, paint: float) -> None:
    assert ValueRange((0, 10), (2, 9.5)).paint_value(photo) == paint


def test_paint_reaches_what_measured_oil_films_reach() -> None:
    """L* of bone black and lead white in oil: Geldof et al., Heritage Science 6:17 (2018); value: ASTM D1535-08."""
    black, white = (float(value_of(((lightness + 16) / 116) ** 3)) for lightness in (21.5, 95.7))
    assert (black, white) == pytest.approx(PAINT_REACH, abs=0.15)
