"""The figures of a comparison against other libraries and worked examples."""

import csv
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.spatial import procrustes
from skimage.transform import SimilarityTransform

from coach.colour.light import linear_of, srgb_of
from coach.compare.against_photo import HALF_STEP, off_values
from coach.compare.differences import exchange_of
from coach.compare.drawing import laid_over
from coach.compare.tone_curve import tone_curve, undone
from coach.compare.words import words_for
from tests.compare.scenes import CURVES

if TYPE_CHECKING:
    from numpy.typing import NDArray

PEAK_FLOW = Path(__file__).parent.parent / "cases" / "crossover_peak_flow.csv"


def test_landmarks_are_laid_as_scikit_image_and_scipy_lay_them() -> None:
    chance = np.random.default_rng(3)
    points = chance.uniform(0, 400, (11, 2))
    onto = SimilarityTransform(scale=1.03, rotation=0.05, translation=(7, -4))(points) + chance.normal(0, 2, (11, 2))
    found, other = laid_over(points, onto), SimilarityTransform.from_estimate(points, onto)
    _, _, disparity = procrustes(onto, points)

    assert (found.scale, np.radians(found.turn_deg)) == pytest.approx((other.scale, other.rotation))
    assert found.shift == pytest.approx(other.translation)
    assert found.off == pytest.approx(other(points) - onto)
    assert found.laid(onto) == pytest.approx(other(onto))
    assert (found.off**2).sum() / ((onto - onto.mean(axis=0)) ** 2).sum() == pytest.approx(disparity)


def test_the_light_of_the_places_cancels_as_periods_do() -> None:
    """The estimate of a crossover trial: half the mean difference of the sequences (Jones and Kenward, from memory)."""
    chance = np.random.default_rng(5)
    hall, school = chance.normal(-1, 0.5, (12, 3)), chance.normal(-1, 0.5, (12, 3))
    left, right = np.log(1.0), np.log(0.6)
    brighter = np.log(1.3)  # the second photo is exposed longer
    found = exchange_of(
        (hall + left, school + right),
        (hall + right + brighter, school + left + brighter),
        np.full((12, 3), 0.01),
        chance.uniform(0, 400, (12, 2)),
    )

    assert found.differs == pytest.approx(hall - school)
    assert found.light_ratio == pytest.approx(0.6)
    assert found.rough == pytest.approx(np.zeros((12, 3)), abs=1e-9)


def test_the_estimate_is_that_of_a_published_crossover_trial_by_statsmodels() -> None:
    """Treatment, period and subject by least squares (Jones and Kenward, example 2.1) against two photos of means."""
    with PEAK_FLOW.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    order = np.array([row["sequence"] == "AB" for row in rows])
    flow = np.array([[float(row["first_period"]), float(row["second_period"])] for row in rows])
    subjects = np.repeat(np.eye(len(rows)), 2, axis=0)
    period = np.tile((0.0, 1.0), len(rows))
    is_a = (np.repeat(order, 2) == (period == 0)).astype(float)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # statsmodels warns of its own future
        import statsmodels.api as sm  # noqa: PLC0415

    other = sm.OLS(flow.ravel(), np.column_stack([is_a, period, subjects])).fit()
    (a_first, b_second), (b_first, a_second) = flow[order].mean(axis=0), flow[~order].mean(axis=0)
    one = np.ones((6, 3))
    found = exchange_of(
        (a_first * one, b_second * one),
        (a_second * one, b_first * one),
        one,
        np.arange(12.0).reshape(6, 2),
    )

    assert found.differs == pytest.approx(other.params[0] * one)
    assert found.places == pytest.approx(-other.params[1] * one)


def test_a_camera_that_bends_its_values_is_found_and_undone() -> None:
    """Light in one ratio at all tones shows the curve: what is left of it is a small part of what it bent."""
    chance = np.random.default_rng(7)
    paint = np.log(chance.uniform(0.05, 0.75, (24, 3)))
    at = chance.uniform(0, 400, (24, 2))
    places = np.log(np.array([[1, 0.65], [0.65, 1]]))
    light = np.exp(paint[None, None] + places[..., None, None])
    for curve in CURVES:
        bent = np.log(linear_of(curve(srgb_of(light), 0.25)))
        straight, _ = undone(bent, tone_curve(bent, paint, at))
        ratios = [own[:, 0] - own[:, 1] for own in (bent, straight)]

        assert ratios[1].std(axis=1).mean() < 0.35 * ratios[0].std(axis=1).mean()


def test_values_are_fitted_as_the_published_formula_of_isotonic_regression_has_them() -> None:
    """The greatest of the least means (Robertson, Wright, Dykstra 1988, theorem 1.4.4, from memory), one left out."""
    chance = np.random.default_rng(4)
    for _ in range(20):
        reads = np.sort(chance.uniform(1, 9, 9)) + chance.normal(0, 1.2, 9)
        off = off_values(range(9), reads.tolist())
        first = [_beyond_neighbours(reads, no) for no in range(9)]
        worst = int(np.abs(first).argmax())
        assert off[worst] == pytest.approx(first[worst] if abs(first[worst]) >= HALF_STEP else 0)


def _beyond_neighbours(reads: "NDArray[np.float64]", no: int) -> float:
    left = np.delete(reads, no)
    fitted = [
        max(min(left[start : end + 1].mean() for end in range(at, len(left))) for start in range(at + 1))
        for at in range(len(left))
    ]
    low, high = ([-np.inf, *fitted][no], [*fitted, np.inf][no])
    return float(min(reads[no] - low, 0) + max(reads[no] - high, 0))


def test_values_in_order_are_in_order_whatever_their_steps() -> None:
    assert off_values([2, 3, 4, 5, 6, 7], [1.0, 1.1, 4.0, 4.1, 8.0, 8.2]) == pytest.approx(np.zeros(6))


def test_a_value_that_breaks_the_order_is_told_with_its_steps() -> None:
    off = off_values([2, 3, 4, 5, 6, 7], [2, 3, 6.5, 5, 6, 7])

    assert off == pytest.approx([0, 0, 1.5, 0, 0, 0])  # it lies anywhere between 3 and 5 without a word


def test_of_too_few_values_nothing_is_told() -> None:
    assert off_values([2, 3, 4], [4, 3, 2]) == pytest.approx(np.zeros(3))


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ((60, 15, 18), (55, 15, 18), "lighter"),
        ((50, 15, 18), (60, 15, 18), "much darker"),
        ((60, 15, 18), (60, 8, 10), "much warmer"),
        ((60, 2, 2), (60, -1, -3), "warmer"),
        ((60, 20, 18), (60, 15, 18), "redder"),
        ((50.9, 0, 0), (50, 0, 0), "a touch lighter"),
    ],
)
def test_a_difference_is_said_in_words(
    one: tuple[float, float, float], other: tuple[float, float, float], said: str
) -> None:
    assert said in words_for(one, other)


def test_words_of_two_colours_exchanged_never_agree() -> None:
    chance = np.random.default_rng(9)
    for lab in chance.uniform((20, -20, -20), (90, 40, 40), (500, 3)).tolist():
        other = (np.array(lab) + chance.normal(0, 4, 3)).tolist()
        there, back = words_for(tuple(lab), tuple(other)), words_for(tuple(other), tuple(lab))
        said = {word for word in there.split() if word not in ("a", "touch", "much", "and")}
        assert not said & set(back.split())
