"""Drying against the trade checks of section B, and the rules for paints the table does not know."""

import numpy as np
import pytest
from scipy.stats import norm

from coach.errors import CoachError
from coach.forecast.drying import (
    DryAnswer,
    arrhenius_factor,
    film_factor,
    learned_range,
    log_days,
    mixture_drying,
    mixture_range,
    paint_drying,
    passage_drying,
    room_factor,
)
from coach.forecast.drying_table import PIGMENTS, SLOW, DaysRange
from coach.plan.commission import Mixture, Paint, Passage
from coach.plan.delivery import Forecast
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


def quantile(days: DaysRange, frac: float) -> float:
    mean, spread = log_days(days)
    return float(np.exp(norm.ppf(frac, mean, spread)))


def test_a_range_holds_eight_of_ten_layers() -> None:
    """Trade facts K7: lo and hi are the 10 and 90 % points."""
    assert [quantile(DaysRange(4, 8), frac) for frac in (0.1, 0.5, 0.8, 0.9)] == pytest.approx(
        [4, 5.66, 7.10, 8], rel=0.002
    )


def test_answers_of_two_layers_move_the_next_one_as_printed() -> None:
    """Trade facts K7: 4 to 8 d, dried in (5, 9] and in (6, 8]: new layer 6.26, 80 % 7.63."""
    answers = [DryAnswer(mixture="white", wet_days=wet, dry_days=dry) for wet, dry in ((5, 9), (6, 8))]
    found = learned_range(DaysRange(4, 8), answers)

    assert [quantile(found, 0.5), quantile(found, 0.8)] == pytest.approx([6.26, 7.63], abs=0.01)


@pytest.mark.parametrize(("wet", "dry"), [(0, 3), (4, None), (4, 21), (2, 2.5), (0, 21)])
def test_a_new_layer_is_that_of_a_sum_over_centres_by_scipy(wet: float, dry: float | None) -> None:
    """Interval-censored: centre normal, layer about it with sd 0.2, likelihood by scipy's normal distribution."""
    mean, spread = log_days(DaysRange(1, 3))
    centres = np.linspace(mean - 3, mean + 3, 1501)
    below = norm.cdf((np.log(dry) - centres) / 0.2) if dry is not None else np.ones(len(centres))
    weights = norm.pdf(centres, mean, (spread**2 - 0.04) ** 0.5)
    weights *= below - (norm.cdf((np.log(wet) - centres) / 0.2) if wet else 0)
    days = np.linspace(0.4, 12, 600)
    reached = np.array([np.average(norm.cdf((np.log(own) - centres) / 0.2), weights=weights) for own in days])
    found = learned_range(DaysRange(1, 3), [DryAnswer(mixture="", wet_days=wet, dry_days=dry)])

    assert found == pytest.approx(tuple(np.interp([0.1, 0.9], reached, days)), rel=0.01)


def test_dry_on_a_late_day_says_almost_nothing_and_never_stands_for_the_drying_time() -> None:
    """Burnt umber, 1 to 3 d, asked on day 21."""
    found = learned_range(DaysRange(1, 3), [DryAnswer(mixture="umber", wet_days=0, dry_days=21)])

    assert found == pytest.approx((1, 3), rel=0.01)
    assert learned_range(DaysRange(5, 5), [DryAnswer(mixture="", wet_days=9, dry_days=None)]) == (5, 5)
