"""The figures of a comparison against other libraries and worked examples."""

import numpy as np
import pytest
from scipy.spatial import procrustes
from skimage.transform import SimilarityTransform

from coach.compare.against_photo import off_values
from coach.compare.differences import exchange_of
from coach.compare.drawing import laid_over
from coach.compare.words import words_for


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
