"""Corners of canvases proposed from photos of a rendered studio: right to 3 mm, or none."""

import numpy as np
import pytest

from coach.colour.light import srgb_of
from coach.compare.corner_finding import proposed_corners
from tests.compare.rooms import FurnishedRoom
from tests.compare.scenes import NAMES, SIZE, Canvas, Room, photographed

PAINTED = Canvas().sheet
RATIO = SIZE.width_mm / SIZE.height_mm


@pytest.mark.parametrize(("seed", "width_px"), [(1, 1000), (2, 800), (4, 1600)])
def test_canvases_on_their_easels_are_found_from_left_to_right(seed: int, width_px: int) -> None:
    photo = photographed(
        PAINTED, PAINTED, NAMES, Room(seed=seed, width_px=width_px, click_mm=0), studio=FurnishedRoom(seed)
    )
    found = proposed_corners(photo.coded, [RATIO])

    assert len(found) == len(photo.views)
    for corners, view in zip(found, photo.views, strict=True):
        off = np.hypot(*(np.array(corners) - np.array(view.corners)).T)
        assert off.max() / view.px_per_mm < 3


def test_a_canvas_alone_is_found_alone() -> None:
    photo = photographed(PAINTED, PAINTED, NAMES, Room(click_mm=0, seed=2, width_px=1000), studio=FurnishedRoom(2))
    right = min(x for x, _ in photo.views[1].corners)
    (corners,) = proposed_corners(photo.coded[:, : int(right) - 40], [RATIO])

    assert np.abs(np.array(corners) - np.array(photo.views[0].corners)).max() < 3 * photo.views[0].px_per_mm


@pytest.mark.parametrize("seed", [1, 2])
def test_nothing_is_proposed_in_a_room_without_canvases(seed: int) -> None:
    shown = srgb_of(np.clip(FurnishedRoom(seed).wall(1000, 750), 0, 1))

    assert proposed_corners((255 * shown).astype(np.uint8), [RATIO]) == ()


@pytest.mark.parametrize("size", [(1, 1), (3, 500), (300, 400)])
def test_nothing_is_proposed_where_nothing_is_seen(size: tuple[int, int]) -> None:
    noise = np.random.default_rng(4).integers(0, 255, (*size, 3)).astype(np.uint8)

    assert proposed_corners(noise, [RATIO, 1.0]) == ()
    assert proposed_corners(np.zeros((*size, 3), dtype=np.uint8), [RATIO]) == ()


def test_canvases_of_another_shape_are_not_proposed() -> None:
    photo = photographed(PAINTED, PAINTED, NAMES, Room(click_mm=0, seed=3, width_px=800), studio=FurnishedRoom(3))

    assert proposed_corners(photo.coded, [1.6]) == ()
