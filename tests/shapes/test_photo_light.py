"""The light of a photo: the whole at a moderate size, a part pixel by pixel where dots become that small."""

import numpy as np
import pytest

from coach.shapes.dots import coded
from coach.shapes.photo_light import PhotoLight, moderate_scale
from coach.shapes.photo_window import whole

ROOM = (20, 10)
BOUNDS = (10.0, 20.0, 90.0, 100.0)
PHOTO = np.random.default_rng(1).random((120, 100, 3))
"""The whole photo; its painted part is 80 x 80 px from 10, 20 on."""

PAINTED = PHOTO[20:100, 10:90]


def light() -> PhotoLight:
    """Return the painted part at a quarter of its size."""
    return PhotoLight(PAINTED.reshape(20, 4, 20, 4, 3).mean(axis=(1, 3)), BOUNDS)


def test_a_small_enlargement_is_shown_from_the_picture_at_its_moderate_size() -> None:
    window = whole(BOUNDS, *ROOM)
    assert light().missing(window) is None
    assert light().linear(window) == pytest.approx(PAINTED.reshape(20, 4, 20, 4, 3).mean(axis=(1, 3)))


def test_where_dots_become_pixels_the_part_about_them_is_missing_until_it_is_read() -> None:
    shown, point = light(), (50.0, 60.0)
    window = whole(BOUNDS, *ROOM)
    while window.dot_px > 1:
        window = window.enlarged(point)
    assert window.box == (40, 50, 60, 70)
    assert shown.missing(window) == (30, 40, 71, 81)

    shown.add(PHOTO[40:81, 30:71], (30, 40, 71, 81))
    assert shown.missing(window) is None
    assert shown.linear(window) == pytest.approx(PHOTO[50:70, 40:60])
    elsewhere = window._replace(box=(10, 20, 30, 40))
    assert shown.missing(elsewhere) == (10, 20, 41, 51)
    assert shown.linear(elsewhere)[0, 0] == pytest.approx(PAINTED[:4, :4].mean(axis=(0, 1)))
    assert shown.missing(whole(BOUNDS, *ROOM)) is None


def test_a_photo_that_is_shown_in_every_pixel_already_misses_nothing() -> None:
    shown = PhotoLight(PAINTED, BOUNDS)
    window = whole(BOUNDS, *ROOM)._replace(box=(40.0, 50.0, 50.0, 60.0))
    assert shown.missing(window) is None
    assert shown.linear(window)[0, 0] == pytest.approx(PHOTO[50, 40])


def test_all_of_it_is_coded_for_the_screen() -> None:
    assert light().whole(*ROOM).shape == (20, 20, 3)
    assert light().whole(*ROOM)[0, 0] == pytest.approx(coded(PAINTED[:4, :4].mean(axis=(0, 1))), abs=1)


def test_a_photo_is_kept_at_a_size_that_no_terminal_needs_more_of() -> None:
    assert moderate_scale(300 * 400) == 1
    assert (4000 * moderate_scale(4000 * 6000)) * (6000 * moderate_scale(4000 * 6000)) == pytest.approx(400_000)
