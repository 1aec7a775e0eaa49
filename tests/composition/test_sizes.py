"""Stock canvases against the tables of the trade, typed sizes, and heads against ANSUR II means."""

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
from coach.composition.sizes import (
    ISO_MM,
    SERIES_CM,
    CanvasFormat,
    canvas_named,
    canvas_of,
    iso_formats,
    stock_canvases,
)
from coach.errors import UsageError
from coach.plan.commission import CanvasSize


@pytest.mark.parametrize(
    ("name", "short_cm", "long_cm", "cm2", "ratio"),
    [
        ("16 x 20 in", 40.64, 50.80, 2064.51, 1.25),
        ("18 x 24 in", 45.72, 60.96, 2787.09, 1.3333),
        ("30 figure", 73, 92, 6716, 1.2603),
        ("25 figure", 65, 81, 5265, 1.2462),
        ("25 Marine", 54, 81, 4374, 1.5),
        ("10 paysage", 38, 55, 2090, 1.447),
        ("A3", 29.7, 42.0, 1247.4, 1.414),
    ],
)
def test_stock_canvases_have_the_sides_of_the_trade(
    name: str, short_cm: float, long_cm: float, cm2: float, ratio: float
) -> None:
    """trade-checks.md 50 to 53; the French table and ISO 216."""
    found = canvas_named(name)

    assert (found.short_mm, found.long_mm) == pytest.approx((short_cm * 10, long_cm * 10))
    assert found.short_mm * found.long_mm / 100 == pytest.approx(cm2, abs=0.005)
    assert found.long_mm / found.short_mm == pytest.approx(ratio, abs=0.0005)


def test_each_iso_a_size_is_the_last_one_halved() -> None:
    """trade-checks.md 58: halving rounds down to whole millimetres."""
    for number in range(5):
        short, long = ISO_MM[f"A{number}"]
        assert ISO_MM[f"A{number + 1}"] == (long // 2, short)


def test_the_short_side_of_a_figure_comes_back_as_paysage_and_marine() -> None:
    """trade.md C1.1: figure n is paysage one row down and marine two rows down, but for the largest two numbers."""
    rows = [shorts for _, *shorts in SERIES_CM.values()]

    for row, below, second in zip(rows[:12], rows[1:], rows[2:], strict=False):
        assert row[0] == below[1] == second[2]


def test_names_are_unique_and_the_lists_are_whole() -> None:
    names = [one.name for one in (*stock_canvases(), *iso_formats())]

    assert len(names) == len(set(names)) == 14 + 3 * 20 + 9


@pytest.mark.parametrize(
    ("text", "short_mm", "long_mm"),
    [
        ("40 x 50 cm", 400, 500),
        ("500 × 400 mm", 400, 500),
        ("  16x20IN ", 406.4, 508),
        ("40,5 x 50.5 cm", 405, 505),
        ("50 x 50 cm", 500, 500),
    ],
)
def test_sizes_of_ones_own_are_read(text: str, short_mm: float, long_mm: float) -> None:
    found = canvas_named(text)

    assert (found.short_mm, found.long_mm) == pytest.approx((short_mm, long_mm))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0 x 50 cm", "greater than 0"),
        ("-40 x 50 cm", "greater than 0"),
        ("0.4 x 0.5 m", "0.4 m is 40 cm"),
        ("1 x 2 metres", "0.4 m is 40 cm"),
        ("1 x 50 cm", "2 to 500 cm"),
        ("40 x 501 cm", "2 to 500 cm"),
        ("40 x 50", "write 40 x 50 cm"),
        ("7 figure", "write 40 x 50 cm"),
        ("", "write 40 x 50 cm"),
        ("nan x 50 cm", "write 40 x 50 cm"),
        ("40 x 50 cm\x1b[31m", "write 40 x 50 cm"),
    ],
)
def test_other_sizes_are_refused_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(UsageError, match=said) as caught:
        canvas_named(text)

    assert caught.value.exit_code == 2
    assert "\x1b" not in str(caught.value)


def test_a_square_hangs_one_way_only() -> None:
    assert list(canvas_named("50 x 50 cm").directions) == ["upright"]
    assert canvas_named("30 figure").directions["lying"] == (920, 730)


def test_a_canvas_of_a_plan_is_named_by_its_centimetres_short_side_first() -> None:
    """16 x 20 in are 40.64 x 50.8 cm (1 in = 2.54 cm exactly)."""
    assert canvas_of(CanvasSize(508, 406.4)) == CanvasFormat(name="40.64 x 50.8 cm", short_mm=406.4, long_mm=508)


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
