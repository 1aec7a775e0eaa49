"""Drying against the trade checks of section B, and the rules for paints the table does not know."""

import pytest

from coach.errors import CoachError
from coach.forecast.drying import (
    arrhenius_factor,
    film_factor,
    mixture_drying,
    mixture_range,
    paint_drying,
    passage_drying,
    room_factor,
)
from coach.forecast.drying_table import PIGMENTS, SLOW, DaysRange
from coach.plan.commission import Forecast, Mixture, Paint, Passage
from tests.forecast.made import plan_of


@pytest.mark.parametrize(
    ("energy_kj_mol", "warm_c", "dries_h"),
    [(43.5, 85, 1.0), (41.3, 125, 17.5 / 60)],
    ids=["check 42", "check 43"],
)
def test_activation_energies_turn_a_day_at_21_degrees_into_the_printed_times(
    energy_kj_mol: float, warm_c: float, dries_h: float
) -> None:
    """Trade checks 42 and 43: a paint maker's article; the energies are given to a tenth."""
    assert 24 * arrhenius_factor(warm_c, 21, energy_kj_mol) == pytest.approx(dries_h, rel=0.006)


@pytest.mark.parametrize(
    ("energy_kj_mol", "factors"),
    [(43, (1.742, 1.442, 1.199, 0.790, 0.593)), (50, (1.906, 1.531, 1.234, 0.760, 0.545))],
    ids=["check 44", "check 45"],
)
def test_the_factor_against_21_degrees_is_the_identity_of_arrhenius(
    energy_kj_mol: float, factors: tuple[float, ...]
) -> None:
    """Trade checks 44 and 45, at 12, 15, 18, 25 and 30 degrees."""
    found = [arrhenius_factor(room_c, 21, energy_kj_mol) for room_c in (12, 15, 18, 25, 30)]
    assert found == pytest.approx(factors, abs=0.0005)


def test_halving_for_ten_degrees_is_51_kj_mol_around_25_degrees() -> None:
    """Trade check 46."""
    assert arrhenius_factor(20, 30, 51.2) == pytest.approx(2.0, abs=0.005)


def test_a_room_gives_the_band_between_both_energies() -> None:
    """Trade checks 44 and 45 at 12 and at 30 degrees: warm rooms turn the ends round."""
    assert room_factor(12, 21) == pytest.approx((1.742, 1.906), abs=0.0005)
    assert room_factor(30, 21) == pytest.approx((0.545, 0.593), abs=0.0005)
    assert room_factor(20) == (1, 1)


def test_a_film_twice_as_thick_takes_two_to_four_times_as_long() -> None:
    """Trade check 47; half the film is the same law turned round."""
    assert film_factor(200) == (2, 4)
    assert film_factor(50) == (0.25, 0.5)


def test_a_mixture_is_planned_on_its_slowest_part_and_shows_its_fastest() -> None:
    """Trade check 49: PW6 at 5 to 8 d with umber at 1 to 3 d."""
    assert mixture_range([DaysRange(5, 8), DaysRange(1, 3)]) == (1, 8)


@pytest.mark.parametrize(
    ("pigment", "days"),
    [
        ("PW1", (1.5, 4)),
        ("PW6", (4, 8)),
        ("PBk9", (4, 9)),
        ("PY43", (3, 7)),
        ("PR108", (4, 8)),
        ("PB29", (2, 7)),
        ("PG18", (4, 7)),
        ("PV19", (6, 12)),
        ("NBr8", (6, 12)),
        (" pw 6 ", (4, 8)),
        ("PB15:3", (2, 6)),
        ("PB29, PV19", (2, 12)),
        ("PBr7", (1, 5)),
    ],
)
def test_the_table_is_read_by_colour_index_name(pigment: str, days: tuple[float, float]) -> None:
    """Trade facts B3; a name in several rows, or several names, take the whole range."""
    assert paint_drying(Paint("a paint", pigment)).days == days


def test_the_name_of_the_paint_settles_which_row_of_a_colour_index_name_is_meant() -> None:
    assert paint_drying(Paint("old Burnt Umber", "PBr7")).days == (1, 3)
    assert paint_drying(Paint("burnt sienna", "PBr7")).days == (1, 5)
    assert paint_drying(Paint("titanium white")).days == (4, 8)


@pytest.mark.parametrize("paint", [Paint("mystery"), Paint("mystery", "PX99"), Paint("mystery", "PW6 PW99")])
def test_a_paint_the_table_does_not_know_is_slow_and_named(paint: Paint) -> None:
    assert paint_drying(paint) == (SLOW, ("mystery",))


def test_every_range_of_the_table_runs_from_its_fast_end_to_its_slow_end() -> None:
    assert all(0 < row.dries.low_days < row.dries.high_days for row in PIGMENTS)
    assert len({row.name for row in PIGMENTS}) == len(PIGMENTS)


def test_days_the_painter_measured_replace_the_table_in_any_room() -> None:
    plan = plan_of()._replace(forecast=Forecast(room_c=12, film_um=200))
    plan = plan._replace(palette=(Paint("house paint", "XX9", dries_days=2.5),))
    assert mixture_drying(plan, Mixture("odd", (("house paint", 1),))) == ((2.5, 2.5), ())


def test_an_alkyd_medium_dries_in_18_to_24_hours_whatever_the_pigment() -> None:
    """Trade facts B2.11."""
    plan = plan_of()._replace(forecast=Forecast(medium="alkyd"))
    assert passage_drying(plan, Passage("lips", mixture="crimson")).days == (0.75, 1)


def test_a_passage_without_a_mixture_takes_2_to_12_days() -> None:
    """Trade facts B2.1."""
    assert passage_drying(plan_of(), Passage("iris")) == ((2, 12), ())


def test_a_paint_of_the_palette_may_stand_for_a_mixture() -> None:
    assert passage_drying(plan_of(), Passage("iris", mixture="titanium white")).days == (4, 8)
    assert passage_drying(plan_of(), Passage("iris", mixture="tea")).days == (2, 12)


def test_unknown_paints_of_a_mixture_are_named_once_and_set_the_slow_end() -> None:
    assert passage_drying(plan_of(), Passage("iris", mixture="odd")) == ((1, 12), ("house paint",))


@pytest.mark.parametrize("room_c", [0.0, 45.0])
def test_the_coldest_and_the_warmest_room_of_a_plan_give_days_in_order(room_c: float) -> None:
    plan = plan_of()._replace(forecast=Forecast(room_c=room_c))
    low, high = passage_drying(plan, Passage("iris", mixture="white")).days
    assert 0 < low < high
    assert (high > 8) is (room_c < 20)


def test_a_film_of_nothing_and_a_room_below_absolute_zero_are_refused() -> None:
    with pytest.raises(CoachError, match="film"):
        film_factor(0)
    with pytest.raises(CoachError, match="absolute zero"):
        room_factor(-300)
