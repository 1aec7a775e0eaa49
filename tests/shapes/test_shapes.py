"""A photo taken apart: drawn heads of which everything is known, blurs of known width, figures of known area."""

from functools import cache

import numpy as np
import pytest
import shapely
from scipy.cluster.hierarchy import fcluster, linkage
from scipy.ndimage import gaussian_filter1d

from coach.colour.light import lab_of, luminance_of
from coach.shapes.edges import RISE, EdgeKind, edge_widths, kind_of
from coach.shapes.features import Feature, HeadBox
from coach.shapes.merging import merge_order, neighbour_pairs
from coach.shapes.naming import names_of
from coach.shapes.outlines import area_of, borders_of, rings_of
from coach.shapes.polygons import polygon_of
from coach.shapes.seeing import see, shape_labels
from coach.shapes.shape import Apart, Picture, take_apart
from coach.shapes.words import value_word
from tests.shapes.drawn_heads import Drawn, drawn_head

COUNT = 30


@cache
def drawn(layout: str) -> Drawn:
    return drawn_head(layout, seed=100, head_rows=180)


@cache
def apart(layout: str) -> Apart:
    found = drawn(layout)
    return take_apart(Picture(linear=found.linear, left_px=10, top_px=20, scale=0.5), [in_photo(found.head)], COUNT)


def in_photo(head: HeadBox) -> HeadBox:
    left, top, right, bottom = head.left, head.top, head.right, head.bottom
    return HeadBox(name=head.name, left=2 * left + 10, top=2 * top + 20, right=2 * right + 10, bottom=2 * bottom + 20)


@pytest.mark.parametrize("layout", ["frontal", "turned"])
def test_the_shapes_of_a_drawn_head_are_found_again(layout: str) -> None:
    """Achievable segmentation accuracy, as in Stutz, Hermans and Leibe, CVIU 166 (2018) 1-27."""
    found = drawn(layout)
    labels = shape_labels(see(found.linear, [found.head]), COUNT)
    overlap = np.zeros((int(labels.max()) + 1, len(found.names)))
    np.add.at(overlap, (labels.ravel(), found.truth.ravel()), 1)
    own = overlap.argmax(axis=1)
    lost = [
        name
        for number, name in enumerate(found.names)
        if overlap[own == number, number].sum() < 0.7 * overlap[:, number].sum()
    ]
    assert COUNT - 2 <= len(overlap) <= COUNT
    assert overlap.max(axis=1).sum() / labels.size >= 0.985
    assert len(lost) <= 1


def test_the_colour_of_a_shape_is_that_of_its_paint_and_not_of_its_border() -> None:
    found = drawn("frontal")
    shapes = apart("frontal").shapes
    coat = max((one for one in shapes if one.feature is Feature.CLOTHING), key=lambda one: one.area_px)
    true = lab_of(found.linear[found.truth == found.names.index("coat")].mean(axis=0))
    assert coat.lab[0] == pytest.approx(true[0], abs=1.0)


def test_the_shade_of_a_face_ends_where_the_face_does() -> None:
    found = drawn("frontal")
    shade, hair, face = (found.names.index(name) for name in ("shadow side", "hair", "face"))
    assert found.blur_px(shade, hair) == found.sigmas_px[face] < found.blur_px(shade, face)


def test_outlines_enclose_the_area_that_the_pixels_count() -> None:
    """By the shoelace formula; an outline is simplified to a pixel, so that a small shape may gain or lose a rim."""
    for one in apart("turned").shapes:
        rim_px = 0.5 * sum(near.length_px for near in one.neighbours)
        assert area_of(list(one.outline)) == pytest.approx(one.area_px, abs=max(0.03 * one.area_px, rim_px))
    assert sum(area_of(list(one.outline)) for one in apart("turned").shapes) == pytest.approx(
        4 * drawn("turned").truth.size
    )


def test_shapes_tile_the_picture_and_touch_each_other_both_ways() -> None:
    found, shapes = drawn("frontal"), apart("frontal").shapes
    assert sum(one.area_px for one in shapes) == pytest.approx(4 * found.truth.size)
    by_id = {one.id: one for one in shapes}
    assert len(by_id) == len({one.name for one in shapes}) == len(shapes)
    for one in shapes:
        for near in one.neighbours:
            back = next(other for other in by_id[near.id].neighbours if other.id == one.id)
            assert (back.edge, back.length_px) == (near.edge, near.length_px)


def test_the_same_picture_gives_the_same_shapes() -> None:
    found = drawn("turned")
    again = take_apart(Picture(linear=found.linear, left_px=10, top_px=20, scale=0.5), [in_photo(found.head)], COUNT)
    assert again == apart("turned")


def test_features_lie_where_heads_have_them() -> None:
    features = {one.feature for one in apart("frontal").shapes}
    assert {Feature.EYES, Feature.MOUTH, Feature.HAIR, Feature.CLOTHING, Feature.GROUND} <= features


def test_borders_that_were_moved_decide_the_features() -> None:
    """The eyes are moved down by a fifth of the head."""
    found, head = drawn("frontal"), in_photo(drawn("frontal").head)
    picture = Picture(linear=found.linear, left_px=10, top_px=20, scale=0.5)
    down = 0.2 * (head.bottom - head.top)
    sides = [(head.left + x * (head.right - head.left), head.top + 0.4 * (head.bottom - head.top)) for x in (0.1, 0.9)]
    (left, top), (right, _) = sides
    eyes = ((left, top + down), (right, top + down), (right, top + 1.6 * down), (left, top + 1.6 * down))
    again = take_apart(picture, [head], COUNT, {Feature.EYES: (eyes,)})
    own = shapely.union_all([polygon_of(one.outline) for one in again.shapes if one.feature is Feature.EYES])
    wanted = shapely.Polygon(eyes)
    assert own.symmetric_difference(wanted).area < 0.12 * wanted.area
    assert {one.feature for one in again.shapes} >= {Feature.MOUTH, Feature.HAIR, Feature.GROUND}


def test_merging_is_ward_s() -> None:
    """On points that all touch, the cut is that of a general library's Ward clustering."""
    points = np.random.default_rng(3).normal(size=(40, 3))
    pairs = np.array([(one, other) for one in range(40) for other in range(one + 1, 40)])
    for count in (2, 5, 11):
        ours = merge_order(points, np.ones(40), pairs).cut(count)
        theirs = fcluster(linkage(points, "ward"), count, "maxclust")
        assert len(set(zip(ours.tolist(), theirs.tolist(), strict=True))) == count


def test_outlines_enclose_what_the_pixels_count_holes_taken_off() -> None:
    """But for the corners, which are rounded with the steps of the pixels."""
    labels = np.zeros((40, 60), dtype=np.int32)
    labels[5:35, 10:50] = 1
    labels[12:20, 20:40] = 2
    rings = rings_of(borders_of(labels))
    assert {shape: area_of(found) for shape, found in rings.items()} == pytest.approx(
        {0: 1200, 1: 1040, 2: 160}, rel=0.05
    )
    assert {shape: len(found) for shape, found in rings.items()} == {0: 2, 1: 2, 2: 1}
    assert neighbour_pairs(labels).tolist() == [[0, 1], [1, 2]]


@pytest.mark.parametrize("sigma_px", [2.0, 4.0, 8.0])
def test_the_width_of_an_edge_is_that_of_its_blur(sigma_px: float) -> None:
    """The 10 to 90 % rise of a Gaussian blur is 2.563 of its standard deviations."""
    rows, columns, head_rows = 120, 160, 400.0
    step = gaussian_filter1d(np.where(np.arange(columns) < 80, 0.2, 0.5), sigma_px)
    sharp = np.where(np.arange(columns) < 40, 0.8, 0.2)
    light = np.tile(np.where(np.arange(columns) < 60, sharp, step), (rows, 1))
    labels = np.tile(np.digitize(np.arange(columns), [40, 80]), (rows, 1)).astype(np.int32)
    widths, _ = edge_widths(light, borders_of(labels), head_rows)
    assert widths[1, 2] == pytest.approx(RISE * sigma_px / head_rows, rel=0.12)
    assert widths[0, 1] < 0.004


@pytest.mark.parametrize(
    ("width_frac", "contrast", "kind"),
    [(0.002, 20, "hard"), (0.01, 20, "firm"), (0.03, 20, "soft"), (0.05, 20, "lost"), (0.002, 2, "lost")],
)
def test_an_edge_is_named_by_its_width_and_its_contrast(width_frac: float, contrast: float, kind: str) -> None:
    assert kind_of(width_frac, contrast) is EdgeKind(kind)


def test_names_are_places_and_values_and_told_apart_only_where_they_must_be() -> None:
    head = HeadBox(name="keeper", left=0, top=0, right=100, bottom=140)
    skin = (60.0, 15.0, 20.0)
    shapes = [
        (Feature.FACE, skin, 7.0, 15.0, 80.0),
        (Feature.FACE, skin, 4.0, 85.0, 80.0),
        (Feature.FACE, skin, 4.1, 86.0, 82.0),
        (Feature.HAIR, (20.0, 2.0, 3.0), 1.0, 50.0, 5.0),
    ]
    assert names_of(shapes, [head]) == [
        "cheek left, half-light",
        "cheek right, half-dark orange",
        "cheek right, half-dark orange, second",
        "crown, darkest",
    ]
    assert [value_word(value) for value in (0, 2, 4, 5.5, 7, 8, 9.5)] == [
        "darkest",
        "dark",
        "half-dark",
        "middle",
        "half-light",
        "light",
        "lightest",
    ]


def test_light_falls_as_luminance() -> None:
    assert luminance_of(np.ones(3)) == pytest.approx(1.0)
