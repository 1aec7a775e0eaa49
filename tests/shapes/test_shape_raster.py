"""Which shape lies at each pixel and each dot, kept up as shapes are edited."""

from dataclasses import replace

import numpy as np

from coach.shapes.features import Feature
from coach.shapes.photo_window import whole
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.shape_raster import NO_SHAPE, dots_of, middle_of, raster, raster_after

PICTURE = Picture(linear=np.zeros((20, 30, 3)), left_px=100, top_px=50, scale=0.5)
"""The part of a photo from 100, 50 to 160, 90, at half its size."""


def box(left: float, top: float, right: float, bottom: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    return (((left, top), (right, top), (right, bottom), (left, bottom)),)


def shape(number: int, outline: tuple[tuple[tuple[float, float], ...], ...]) -> OutlinedShape:
    return OutlinedShape(id=f"k{number}", name=f"shape {number}", feature=Feature.FACE, outline=outline)


LEFT, RIGHT = shape(3, box(100, 50, 120, 90)), shape(7, box(120, 50, 160, 90))
MAP = ShapeMap(
    photo_width_px=400, photo_height_px=300, photo_sha256="", next_number=8, borders={}, shapes=(LEFT, RIGHT)
)


def test_each_pixel_has_the_number_of_its_shape() -> None:
    labels = raster(MAP, PICTURE)
    assert (labels[:, :10] == 3).all()
    assert (labels[:, 10:] == 7).all()


def test_after_an_edit_it_is_as_if_it_were_made_anew() -> None:
    labels = raster(MAP, PICTURE)
    cut = replace(MAP, shapes=(LEFT, shape(7, box(120, 50, 140, 90)), shape(8, box(140, 50, 160, 90))))
    joined = replace(MAP, shapes=(shape(3, box(100, 50, 160, 90)),))
    for after in (cut, joined, MAP):
        assert np.array_equal(raster_after(labels, MAP, after, PICTURE), raster(after, PICTURE))
    assert np.array_equal(raster_after(raster(cut, PICTURE), cut, joined, PICTURE), raster(joined, PICTURE))
    assert (labels[:, :10] == 3).all()


def test_what_an_edit_leaves_bare_has_no_shape() -> None:
    narrower = replace(MAP, shapes=(LEFT, shape(7, box(130, 50, 160, 90))))
    labels = raster_after(raster(MAP, PICTURE), MAP, narrower, PICTURE)
    assert (labels[:, 10:15] == NO_SHAPE).all()


def test_enlarged_the_dots_follow_the_outlines_themselves() -> None:
    dots = dots_of(MAP.shapes, whole((118.0, 60.0, 122.0, 64.0), 8, 4))
    assert (dots[:, :4] == 3).all()
    assert (dots[:, 4:] == 7).all()
    beyond = dots_of(MAP.shapes, whole((96.0, 60.0, 104.0, 64.0), 8, 2))
    assert (beyond[:, :4] == NO_SHAPE).all()


def test_the_middle_of_a_shape_lies_in_pixels_of_the_photo() -> None:
    labels = raster(MAP, PICTURE)
    assert middle_of(labels, LEFT, PICTURE) == (110, 70)
    assert middle_of(labels, RIGHT, PICTURE) == (140, 70)
    assert middle_of(labels, shape(9, box(0, 0, 5, 5)), PICTURE) is None
