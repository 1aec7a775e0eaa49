"""Where a canvas lies in a photo: what its corners may be, and the way onto it."""

from collections.abc import Sequence
from typing import cast

import numpy as np
import pytest
from skimage.transform import ProjectiveTransform

from coach.compare.canvas_view import CanvasView, ComparisonError, Corners, checked_view, front_view
from coach.plan.commission import CanvasSize

STRAIGHT: Corners = ((100, 100), (500, 100), (500, 600), (100, 600))
OBLIQUE: Corners = ((100, 120), (480, 90), (505, 640), (90, 590))


def view(corners: Sequence[tuple[float, float]] = STRAIGHT) -> CanvasView:
    return CanvasView(canvas="Hall", corners=cast("Corners", tuple(corners)), size=CanvasSize(400, 500))


def test_the_way_onto_the_canvas_is_that_of_scikit_image() -> None:
    canvas_mm = np.array([(0, 0), (400, 0), (400, 500), (0, 500)], dtype=float)
    other = ProjectiveTransform.from_estimate(canvas_mm, np.array(OBLIQUE, dtype=float))
    found = view(OBLIQUE).homography()

    assert found / found[2, 2] == pytest.approx(other.params / other.params[2, 2], abs=1e-9)


def test_a_canvas_is_seen_from_the_front() -> None:
    photo = np.zeros((700, 600, 3), dtype=np.uint8)
    photo[100:600, 100:300] = 200  # its left half is light

    front = front_view(photo, view(), 40, 50)

    assert front.shape == (50, 40, 3)
    assert (front[1:-1, 1:18] == 200).all()
    assert (front[1:-1, 22:-1] == 0).all()


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ([STRAIGHT[0], STRAIGHT[2], STRAIGHT[1], STRAIGHT[3]], "cross or lie in a line"),
        ([STRAIGHT[1], STRAIGHT[0], STRAIGHT[3], STRAIGHT[2]], "wrong way round"),
        ([*STRAIGHT[2:], *STRAIGHT[:2]], "upside down"),
        ([*STRAIGHT[1:], STRAIGHT[0]], "on its side"),
        ([(-5, 100), *STRAIGHT[1:]], "outside the photo of 600 x 700 pixels"),
        ([(100, 100), (500, 100), (500, 300), (100, 300)], "do not have the shape of a canvas of 40 x 50 cm"),
        ([(100, 250), (500, 100), (500, 600), (100, 450)], "too much from the side"),
        ([(100, 100), (180, 100), (180, 200), (100, 200)], "only 80 pixels wide"),
    ],
)
def test_corners_that_cannot_be_those_of_the_canvas_are_refused(corners: list[tuple[float, float]], said: str) -> None:
    with pytest.raises(ComparisonError, match=said):
        checked_view(view(corners), 600, 700, "photo1.jpg")


def test_corners_that_can_be_are_taken() -> None:
    assert checked_view(view(OBLIQUE), 600, 700, "photo1.jpg") == view(OBLIQUE)
