"""What is shown of a comparison: patches as far apart as was found, and values as far off."""

import numpy as np
import pytest
from skimage.color import rgb2lab

from coach.colour.light import lab_of, luminance_of, srgb_of, value_of
from coach.compare.pictures import CanvasPictures, colours_apart, pictures_of, value_apart
from tests.compare.scenes import NAMES, Canvas, Room, outlines, painted, photographed

FACE = ("all", "face, half-light")


@pytest.fixture(scope="module")
def pictures() -> CanvasPictures:
    one, other = Canvas().sheet, Canvas(colours={"face, half-light": (180, 140, 120)}).sheet
    shots = (
        photographed(one, other, NAMES, Room()),
        photographed(other, one, NAMES[::-1], Room(), is_second=True),
    )
    return pictures_of(shots, painted(), outlines())


def test_the_canvases_are_shown_without_the_light_of_their_places(pictures: CanvasPictures) -> None:
    wall = pictures.inside(("all", "ground upper, half-dark"))
    one, other = (np.median(front[wall], axis=0) for front in pictures.fronts)
    assert one == pytest.approx(other, rel=0.03)
    face = pictures.inside(FACE)
    hall, school = (luminance_of(np.median(front[face], axis=0)) for front in pictures.fronts)
    assert hall > 1.05 * school


def test_patches_lie_as_far_apart_as_was_found_on_the_ground_that_is_there(pictures: CanvasPictures) -> None:
    """Lab by scikit-image (CIE 15 under D65)."""
    one, other, ground = colours_apart(pictures, FACE, (4.0, -2.0, 3.0))
    labs = [rgb2lab(srgb_of(colour)[None, None])[0, 0] for colour in (one, other)]
    assert labs[0] - labs[1] == pytest.approx([4.0, -2.0, 3.0], abs=0.1)
    assert lab_of(ground)[0] < lab_of(one)[0]  # hair and wall are darker than the face


def test_a_value_is_shown_beside_what_the_photo_has(pictures: CanvasPictures) -> None:
    own, wanted, _ = value_apart(pictures, FACE, "Hall", 0.8)
    assert value_of(luminance_of(own)) - value_of(luminance_of(wanted)) == pytest.approx(0.8, abs=0.01)


def test_what_is_no_passage_has_no_dots_and_no_pass_means_all(pictures: CanvasPictures) -> None:
    assert not pictures.inside(("all", "gone")).any()
    assert pictures.inside(("", "all over")).all()
