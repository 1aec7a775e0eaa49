"""The shapes as the painter keeps them: they tile the picture they are drawn in, and are measured again as they are."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.ndimage import gaussian_filter
from skimage.measure import label

from coach.shapes.features import Feature
from coach.shapes.outlines import Ring, area_of, borders_of, rings_of
from coach.shapes.polygons import inside_mask, joined, polygon_of
from coach.shapes.shape import Apart, Picture
from coach.shapes.shape_map import (
    OutlinedShape,
    ShapeMap,
    ShapeMapError,
    crop_remarks,
    labels_in,
    map_of,
    measured_map,
    paint,
)
from tests.shapes.test_shapes import apart as apart_of
from tests.shapes.test_shapes import drawn, in_photo

COORDINATES = st.integers(0, 400).map(lambda tenths: tenths / 10)


@cache
def picture() -> Picture:
    return Picture(linear=drawn("frontal").linear, left_px=10, top_px=20, scale=0.5)


def apart() -> Apart:
    return apart_of("frontal")


@cache
def shape_map() -> ShapeMap:
    rows, columns, _ = picture().linear.shape
    return map_of(apart(), photo_width_px=2 * columns + 30, photo_height_px=2 * rows + 50, photo_sha256="ab" * 32)


def square(left: float, top: float, side: float) -> Ring:
    return ((left, top), (left + side, top), (left + side, top + side), (left, top + side))


def of_rings(*outlines: tuple[Ring, ...]) -> ShapeMap:
    shapes = tuple(
        OutlinedShape(id=f"k{no}", name=f"patch {no}", feature=Feature.FACE, outline=outline)
        for no, outline in enumerate(outlines, start=1)
    )
    return replace(shape_map(), shapes=shapes, next_number=len(shapes) + 1)


def test_outlines_drawn_back_are_the_shapes_to_the_pixel_they_were_simplified_to() -> None:
    labels = labels_in(shape_map(), picture())
    assert np.mean(labels == apart().labels) > 0.98
    assert [one.id for one in shape_map().shapes] == [one.id for one in apart().shapes]


def test_every_pixel_of_the_crop_is_covered_once_by_shapes_that_share_borders() -> None:
    covered = np.zeros(picture().linear.shape[:2], dtype=int)
    for one in shape_map().shapes:
        labels = np.zeros_like(covered, dtype=np.int32)
        paint(labels, one.outline, 1, picture())
        covered += labels
    assert covered.min() == covered.max() == 1


@given(st.lists(st.lists(st.tuples(COORDINATES, COORDINATES), min_size=3, max_size=7), min_size=1, max_size=3))
def test_a_pixel_is_inside_where_a_general_library_says_so(rings: list[list[tuple[float, float]]]) -> None:
    """Middles of pixels that lie on a line are left to either."""
    window = (3, 2, 33, 22)
    mask = inside_mask([np.array(ring) for ring in rings], window)
    rows, columns = np.indices(mask.shape)
    x, y = columns.ravel() + 3.5, rows.ravel() + 2.5
    lines = shapely.union_all([shapely.LinearRing(ring) for ring in rings])
    is_clear = shapely.distance(lines, shapely.points(x, y)) > 1e-6
    assert np.array_equal(shapely.contains_xy(polygon_of(map(tuple, rings)), x, y)[is_clear], mask.ravel()[is_clear])


def test_what_no_shape_covers_goes_to_the_nearest_and_the_later_of_two_counts() -> None:
    found = labels_in(of_rings((square(12, 22, 40),), (square(40, 22, 60),)), picture())
    assert set(np.unique(found)) == {0, 1}
    assert found[2, 2] == found[22, 0] == 0
    assert found[2, 17] == found[-1, -1] == 1


def test_shapes_that_have_no_pixel_in_the_picture_are_not_measured() -> None:
    beyond = of_rings((square(12, 22, 200),), (square(9000, 9000, 50),), (square(30.1, 30.1, 0.5),))
    found = measured_map(beyond, picture(), [in_photo(drawn("frontal").head)])
    assert [one.id for one in found.shapes] == ["k1"]
    with pytest.raises(ShapeMapError, match="no shape lies in what is painted of the photo"):
        labels_in(of_rings((square(9000, 9000, 50),)), picture())


def test_shapes_are_measured_again_as_they_are_called_and_outlined() -> None:
    first, *others = shape_map().shapes
    called = replace(shape_map(), shapes=(*others, replace(first, name="under the brow", id="k77")))
    found = measured_map(called, picture(), [in_photo(drawn("frontal").head)])
    assert [one.id for one in found.shapes] == [*(one.id for one in others), "k77"]
    again, before = found.shapes[-1], apart().shapes[0]
    assert (again.name, again.outline, again.feature) == ("under the brow", before.outline, before.feature)
    assert again.area_px == pytest.approx(before.area_px, rel=0.05)
    assert again.value == pytest.approx(before.value, abs=0.2)
    assert {near.id for near in again.neighbours} == {near.id for near in before.neighbours}
    assert found.flat_difference_mean == pytest.approx(apart().flat_difference_mean, abs=0.1)


def test_outlines_of_a_picture_that_is_rounded_up_end_with_the_photo() -> None:
    rows, columns, _ = picture().linear.shape
    found = map_of(apart(), photo_width_px=2 * columns + 9, photo_height_px=2 * rows + 20, photo_sha256="")
    points = np.array([point for one in found.shapes for ring in one.outline for point in ring])
    assert points.min(axis=0).tolist() == [10, 20]
    assert points.max(axis=0).tolist() == [2 * columns + 9, 2 * rows + 20]
    assert shapely.coverage_is_valid([polygon_of(one.outline) for one in found.shapes])


def test_the_border_of_a_feature_runs_around_its_shapes() -> None:
    """Areas by the shoelace formula; the borders tile the picture as the shapes do."""
    rows, columns, _ = picture().linear.shape
    assert sum(area_of(list(rings)) for rings in shape_map().borders.values()) == pytest.approx(4 * rows * columns)
    for feature, rings in shape_map().borders.items():
        own = [area_of(list(one.outline)) for one in shape_map().shapes if one.feature is feature]
        assert area_of(list(rings)) == pytest.approx(sum(own))
    (both,) = joined([(square(0, 0, 2),), (square(2, 0, 2),)])
    assert set(both) == {(0, 0), (0, 2), (2, 2), (4, 2), (4, 0), (2, 0)}


def test_the_shapes_that_a_crop_cuts_or_leaves_out_are_said() -> None:
    shapes = of_rings(*((square(100 * no, 0, 50),) for no in range(9)))
    assert crop_remarks(shapes, (0, 0, 850, 50)) == crop_remarks(shapes, (1, 1, 849, 49)) == []
    assert crop_remarks(shapes, (25, 0, 650, 50)) == ["the crop cuts k1", "the crop leaves out k8 and k9"]
    assert crop_remarks(shapes, (60, 0, 70, 50)) == [
        "the crop leaves out k1, k2, k3, k4, k5, k6 and 3 more shapes",
    ]


@given(st.integers(0, 10_000), st.sampled_from([0.7, 1.0, 1.5, 3.0]), st.sampled_from([0.26, 1.0, 1.7]))
def test_outlines_of_any_shapes_tile_though_they_are_smoothed_and_rounded(seed: int, size: float, scale: float) -> None:
    """By a general library's rule for coverages: no two overlap, none leaves a gap, every corner is shared."""
    fields = np.random.default_rng(seed).normal(size=(5, 40, 30))
    labels = label(np.argmax(gaussian_filter(fields, (0, size, size)), axis=0), connectivity=1, background=-1) - 1
    rings = rings_of(borders_of(labels.astype(np.int32)), lambda points: np.round(points / scale + (3, 4), 1))
    polygons = [polygon_of(one) for one in rings.values()]
    assert shapely.coverage_is_valid(polygons)
    assert sum(one.area for one in polygons) == pytest.approx(40 * 30 / scale**2, rel=0.02)
