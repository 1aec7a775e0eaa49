"""Quantities as a painter writes them."""

import pytest

from coach.plan import units


def test_an_inch_is_25_4_mm() -> None:
    """Source: 16 CFR 500.19 (looked up): 1 inch = 2.54 cm and 1 square inch = 6.4516 cm², both marked exact."""
    assert units.size_mm("1 x 10 in") == pytest.approx((25.4, 254.0))
    assert units.area_cm2("1 in2") == pytest.approx(6.4516)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("14 min", 840),
        ("1 h 30 min", 5400),
        ("1.5 h", 5400),
        ("1,5 h", 5400),
        ("2h5min", 7500),
        ("45 s", 45),
        ("0.7 s", 1),
        ("2.33 min", 140),
    ],
)
def test_times_are_whole_seconds(text: str, seconds: int) -> None:
    """The nearest second: 2.33 min are 139.8 s."""
    assert units.duration_s(text) == seconds


@pytest.mark.parametrize("text", ["", "14", "1:30", "-5 min", "30 min 1 h", "1e3 s", "٣ min", "5 m"])
def test_what_is_no_time_is_none(text: str) -> None:
    assert units.duration_s(text) is None


def test_sizes_and_areas_are_converted_to_one_unit() -> None:
    assert units.size_mm("40 × 50 cm") == units.size_mm("400x500 mm") == (400.0, 500.0)
    assert units.size_mm("40 cm") is None
    assert units.area_cm2("12 cm²") == pytest.approx(12)
    assert units.area_cm2("100 mm2") == pytest.approx(1)
    assert units.area_cm2("12 cm") is None


def test_days_and_working_days_are_told_apart() -> None:
    assert units.days("9 days", working=False) == 9
    assert units.days("1 working day", working=True) == 1
    assert units.days("9 days", working=True) is None
    assert units.days("9 working days", working=False) is None


def test_warmth_thickness_and_parts_of_days_carry_their_unit() -> None:
    assert units.celsius("18 C") == units.celsius("18°C") == units.celsius("18 °C") == units.celsius("18") == 18
    assert units.celsius("-3,5 C") == -3.5
    assert units.celsius("68 F") is None
    assert units.micrometres("62.5 um") == units.micrometres("62,5 µm") == units.micrometres("62.5μm") == 62.5
    assert units.micrometres("100") is None
    assert units.micrometres("0.1 mm") is None
    assert units.fractional_days("2.5 days") == 2.5
    assert units.fractional_days("1 day") == 1
    assert units.fractional_days("1 week") is None
