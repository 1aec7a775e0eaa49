"""Head size against the ANSUR II means, as worked in trade-checks.md 59 to 65."""

import pytest

from coach.composition.life_size import (
    EYE_LINE_MAN_FRAC,
    EYE_LINE_WOMAN_FRAC,
    HAND_MAN_FRAC,
    HAND_WOMAN_FRAC,
    HEAD_MAN_MM,
    HEAD_WOMAN_MM,
    height_for_mm,
    life_percent,
    yardstick_lines,
)
from coach.composition.sizes import stock_canvases

HEAD_MM = 900 / 5000 * 508


def test_a_head_of_900_px_on_16_x_20_in_is_under_half_life_size() -> None:
    """Check 59."""
    found = life_percent(HEAD_MM)

    assert pytest.approx(91.4, abs=0.05) == HEAD_MM
    assert (found.man, found.woman) == pytest.approx((38.7, 41.2), abs=0.05)


def test_the_canvas_that_brings_it_to_half_life_size_is_the_next_figure_size() -> None:
    """Check 60: 65.7 cm, so No. 20 of 73 cm (No. 15 has 65 cm)."""
    needed_mm = height_for_mm(HEAD_MAN_MM / 2, HEAD_MM, 508)
    tall_enough = [f for f in stock_canvases() if f.name.endswith("figure") and f.long_mm >= needed_mm]

    assert needed_mm == pytest.approx(657, abs=0.5)
    assert (tall_enough[0].name, tall_enough[0].long_mm) == ("20 figure", 730)


@pytest.mark.parametrize(
    ("mean_mm", "expected_mm"), [(HEAD_MAN_MM, (118, 177, 213, 236)), (HEAD_WOMAN_MM, (111, 167, 200, 222))]
)
def test_heights_at_50_75_90_and_100_percent_of_life(mean_mm: float, expected_mm: tuple[int, ...]) -> None:
    """Checks 61 and 62 (111 of 111.0, 166.5 and 199.8 rounded)."""
    shares = [share * mean_mm for share in (0.5, 0.75, 0.9, 1.0)]

    assert shares == pytest.approx(expected_mm, abs=0.51)


def test_eyes_and_hand_as_shares_of_the_head() -> None:
    """Checks 64 and 65."""
    assert pytest.approx((0.481, 0.491), abs=0.0005) == (EYE_LINE_MAN_FRAC, EYE_LINE_WOMAN_FRAC)
    assert pytest.approx((0.818, 0.816), abs=0.0005) == (HAND_MAN_FRAC, HAND_WOMAN_FRAC)


def test_life_is_named_for_whose_mean_it_is() -> None:
    said = " ".join(yardstick_lines())

    assert "soldiers (2012 US Army survey, ANSUR II)" in said
    assert "half 11.8 and 11.1 cm, three quarters 17.7 and 16.6 cm, life size 23.6 and 22.2 cm" in said
    assert "82 % of a head" in said
