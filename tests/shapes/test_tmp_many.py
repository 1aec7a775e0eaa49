"""Edits of a map of shapes: shapes that tile the photo tile it after any sequence of edits."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.shapes.features import FEATURES, Feature, HeadBox
from coach.shapes.map_editing import fewer_here, given_to, merged, more_here, renamed, split, split_along
from coach.shapes.outline_editing import border_moved, nearest_point, point_moved, smoothed
from coach.shapes.outlines import Ring, area_of
from coach.shapes.polygons import joined, polygon_of
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap, ShapeMapError, labels_in, paint
from coach.shapes.svg import read_svg, write_svg
from tests.shapes.test_shape_map import picture, shape_map, square
from tests.shapes.test_shapes import drawn, in_photo

HEADS = [in_photo(drawn("frontal").head)]


def two_tone() -> Picture:
    """Return a picture of 100 x 80 pixels, dark to the left of column 60 and light to the right of it."""
    linear = np.full((80, 100, 3), 0.05)
    linear[:, 60:] = 0.6
    return Picture(linear=linear, left_px=0, top_px=0, scale=1)


def tile(left: float, top: float, right: float, bottom: float) -> Ring:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def tiled() -> ShapeMap:
    """Return three tiles of that picture: one above, two below."""
    rings = (tile(0, 0, 100, 40), tile(0, 40, 50, 80), tile(50, 40, 100, 80))
    names = ("wall", "coat left", "coat right")
    above = (*rings[0][:3], (50, 40), rings[0][3])
    shapes = tuple(
        OutlinedShape(id=f"k{no}", name=name, feature=feature, outline=(ring,))
        for no, (name, feature, ring) in enumerate(
            zip(names, (Feature.GROUND, Feature.CLOTHING, Feature.CLOTHING), (above, *rings[1:]), strict=True), start=1
        )
    )
    borders = {feature: joined(one.outline for one in shapes if one.feature is feature) for feature in FEATURES[:3]}
    return ShapeMap(
        photo_width_px=100,
        photo_height_px=80,
        photo_sha256="",
        next_number=4,
        borders={feature: rings for feature, rings in borders.items() if rings},
        shapes=shapes,
    )


BOX = [HeadBox(name="keeper", left=20, top=10, right=80, bottom=70)]


def areas(found: ShapeMap) -> dict[str, float]:
    return {one.id: area_of(list(one.outline)) for one in found.shapes}


def check_tiles(found: ShapeMap, whole_px: float) -> None:
    """Check that shapes and borders tile: by a general library's rule for coverages, and by their areas."""
    polygons = [polygon_of(one.outline) for one in found.shapes]
    assert shapely.coverage_is_valid(polygons)
    assert sum(area_of(list(one.outline)) for one in found.shapes) == pytest.approx(whole_px)
    assert len({one.id for one in found.shapes}) == len({one.name for one in found.shapes}) == len(found.shapes)
    assert all(int(one.id[1:]) < found.next_number for one in found.shapes)
    features = [one.feature for one in found.shapes]
    assert sum(before is not after for before, after in pairwise(features)) == len(set(features)) - 1
    assert set(found.borders) == set(features)
    for feature, rings in found.borders.items():
        own = shapely.union_all([polygons[no] for no, one in enumerate(found.shapes) if one.feature is feature])
        assert own.symmetric_difference(polygon_of(rings)).area < 0.1


def test_a_shape_is_split_where_its_two_most_different_parts_meet() -> None:
    found = split(tiled(), "k1", two_tone(), BOX)
    assert areas(found) == pytest.approx({"k1": 2400, "k4": 1600, "k2": 2000, "k3": 2000}, abs=15)
    large, small = found.shapes[:2]
    assert (large.id, large.name, small.id, small.feature) == ("k1", "wall", "k4", Feature.GROUND)
    assert small.name.endswith(", light")
    assert abs(min(x for x, _ in small.outline[0]) - 60) <= 0.5
    assert found.next_number == 5
    check_tiles(found, 8000)


def test_what_is_too_even_or_too_small_is_not_split() -> None:
    small = replace(tiled(), shapes=(replace(tiled().shapes[0], outline=(square(58, 2, 5),)),))
    for found, id_ in ((tiled(), "k2"), (small, "k1")):
        with pytest.raises(ShapeMapError, match="is too small or too even to be split"):
            split(found, id_, two_tone(), BOX)


def test_a_shape_is_split_along_a_line_and_its_neighbours_get_the_corner() -> None:
    found = split_along(tiled(), "k1", ((30, 3), (30, 35)), two_tone(), BOX)
    assert areas(found) == {"k1": 2800, "k4": 1200, "k2": 2000, "k3": 2000}
    assert (30, 40) in found.shapes[2].outline[0]
    check_tiles(found, 8000)
    slanted = split_along(tiled(), "k2", ((0, 61), (50, 47.3)), two_tone(), BOX)
    check_tiles(slanted, 8000)
    with pytest.raises(ShapeMapError, match="this line does not cut coat left in two"):
        split_along(tiled(), "k2", ((70, 50), (90, 50)), two_tone(), BOX)


def test_a_line_cuts_only_the_arm_of_a_bend_on_which_it_was_drawn() -> None:
    bend = ((0, 0), (100, 0), (100, 80), (70, 80), (70, 30), (30, 30), (30, 80), (0, 80))
    found = replace(tiled(), shapes=(replace(tiled().shapes[0], outline=(bend,)),))
    cut = split_along(found, "k1", ((2, 60), (25, 60)), two_tone(), BOX)
    assert areas(cut) == {"k1": 5400, "k4": 600}


def test_two_shapes_that_touch_are_merged_and_the_larger_one_stays() -> None:
    found = merged(tiled(), "k2", "k1")
    assert areas(found) == {"k1": 6000, "k3": 2000}
    assert found.shapes[0].name == "wall"
    check_tiles(found, 8000)
    with pytest.raises(ShapeMapError, match="wall and wall do not touch"):
        merged(tiled(), "k1", "k1")
    with pytest.raises(ShapeMapError, match="there is no shape k9"):
        merged(tiled(), "k1", "k9")


def test_a_shape_is_given_to_another_feature_and_the_borders_follow() -> None:
    found = given_to(tiled(), {"k2": Feature.OBJECT})
    assert [(one.id, one.feature) for one in found.shapes] == [
        ("k1", Feature.GROUND),
        ("k3", Feature.CLOTHING),
        ("k2", Feature.OBJECT),
    ]
    check_tiles(found, 8000)
    assert given_to(found, {"k2": Feature.CLOTHING}).borders == tiled().borders
    assert read_svg(write_svg(found)) == (found, ())


def test_names_are_safe_and_unique() -> None:
    found = renamed(tiled(), "k1", "  the \x1b wall\n")
    assert found.shapes[0].name == "the \N{REPLACEMENT CHARACTER} wall"
    for name, said in (("", "a shape needs a name"), ("coat left", "k2 is called coat left already")):
        with pytest.raises(ShapeMapError, match=said):
            renamed(tiled(), "k1", name)


def test_there_are_more_shapes_where_one_colour_tells_least_and_fewer_where_merging_loses_least() -> None:
    more = more_here(tiled(), Feature.CLOTHING, two_tone(), BOX)
    assert areas(more) == pytest.approx({"k1": 4000, "k2": 2000, "k3": 1600, "k4": 400}, abs=15)
    check_tiles(more, 8000)
    fewer = fewer_here(more, Feature.CLOTHING, two_tone())
    assert areas(fewer) == pytest.approx({"k1": 4000, "k2": 2400, "k3": 1600}, abs=15)  # the dark ones
    check_tiles(fewer, 8000)
    with pytest.raises(ShapeMapError, match="no two shapes of the ground touch"):
        fewer_here(tiled(), Feature.GROUND, two_tone())
    with pytest.raises(ShapeMapError, match="no shape of the mouth can be split"):
        more_here(tiled(), Feature.MOUTH, two_tone(), BOX)


def test_the_nearest_point_is_a_corner_or_lies_on_an_outline() -> None:
    assert nearest_point(tiled(), (51, 42), 3) == (50, 40)
    assert nearest_point(tiled(), (30, 42), 3) == (30, 40)
    assert nearest_point(tiled(), (30, 60), 3) is None


def test_a_point_that_is_moved_is_moved_for_both_sides_of_its_border() -> None:
    found = point_moved(tiled(), (50, 40), (40, 50))
    assert areas(found) == {"k1": 4500, "k2": 1550, "k3": 1950}
    check_tiles(found, 8000)
    bent = point_moved(tiled(), (50, 60), (55, 60))  # no corner yet
    assert areas(bent) == {"k1": 4000, "k2": 2100, "k3": 1900}
    check_tiles(bent, 8000)
    slid = point_moved(tiled(), (0, 40), (0, 50))
    assert areas(slid) == {"k1": 4250, "k2": 1750, "k3": 2000}
    check_tiles(slid, 8000)


@pytest.mark.parametrize(
    ("point", "to"), [((0, 40), (5, 40)), ((50, 40), (50, 90)), ((0, 0), (3, 3)), ((50, 80), (50, 20))]
)
def test_a_point_that_would_open_a_gap_or_cross_an_outline_stays(
    point: tuple[float, float], to: tuple[float, float]
) -> None:
    with pytest.raises(ShapeMapError, match="there an outline would cross another one, or leave a gap"):
        point_moved(tiled(), point, to)


def test_smoothing_takes_the_teeth_from_a_border_and_keeps_its_ends() -> None:
    teeth = [(2.0 * no, 40 + 2 * (no % 2)) for no in range(1, 25)]
    above, below, right = tiled().shapes
    shapes = (
        replace(above, outline=(((0, 0), (100, 0), (100, 40), (50, 40), *teeth[::-1], (0, 40)),)),
        replace(below, outline=(((0, 40), *teeth, (50, 40), (50, 80), (0, 80)),)),
        right,
    )
    found = smoothed(replace(tiled(), shapes=shapes, borders={}), "k2", two_tone())
    ring = found.shapes[1].outline[0]
    assert len(ring) < 12
    assert {(0, 40), (50, 40), (50, 80), (0, 80)} <= set(ring)
    assert shapely.coverage_is_valid([polygon_of(one.outline) for one in found.shapes])
    with pytest.raises(ShapeMapError, match="the outline of coat right cannot be smoothed any further"):
        smoothed(found, "k3", two_tone())


def test_a_border_that_is_moved_cuts_the_shapes_it_crosses() -> None:
    found = border_moved(tiled(), Feature.CLOTHING, (tile(0, 30, 100, 80),), two_tone(), BOX)
    assert areas(found) == {"k1": 3000, "k4": 1000, "k2": 2000, "k3": 2000}
    assert [one.feature for one in found.shapes].count(Feature.CLOTHING) == 3
    assert area_of(list(found.borders[Feature.CLOTHING])) == 5000
    check_tiles(found, 8000)
    back = border_moved(found, Feature.CLOTHING, (tile(0, 40, 100, 80),), two_tone(), BOX)
    assert area_of(list(back.borders[Feature.GROUND])) == 4000
    with pytest.raises(ShapeMapError, match="this border encloses nothing"):
        border_moved(tiled(), Feature.CLOTHING, (), two_tone(), BOX)


Edit = Callable[[ShapeMap, st.DataObject], ShapeMap]


def _any_shape(found: ShapeMap, data: st.DataObject) -> OutlinedShape:
    return data.draw(st.sampled_from(found.shapes))


def _moved(found: ShapeMap, data: st.DataObject) -> ShapeMap:
    x, y = data.draw(st.sampled_from(_any_shape(found, data).outline[0]))
    dx, dy = data.draw(st.tuples(*[st.integers(-80, 80)] * 2))
    return point_moved(found, (x, y), (x + dx / 10, y + dy / 10))


def _cut_along(found: ShapeMap, data: st.DataObject) -> ShapeMap:
    shape = _any_shape(found, data)
    ends = data.draw(st.lists(st.sampled_from(shape.outline[0]), min_size=2, max_size=2, unique=True))
    return split_along(found, shape.id, (ends[0], ends[1]), picture(), HEADS)


def _merged(found: ShapeMap, data: st.DataObject) -> ShapeMap:
    one = _any_shape(found, data)
    near = [other for other in found.shapes if polygon_of(other.outline).distance(polygon_of(one.outline)) < 0.1]
    return merged(found, one.id, data.draw(st.sampled_from(near)).id)


def _border(found: ShapeMap, data: st.DataObject) -> ShapeMap:
    feature = data.draw(st.sampled_from(sorted(found.borders)))
    dx, dy = data.draw(st.tuples(*[st.integers(-20, 20)] * 2))
    moved = tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in found.borders[feature])
    return border_moved(found, feature, moved, picture(), HEADS)


EDITS: tuple[Edit, ...] = (
    lambda found, data: split(found, _any_shape(found, data).id, picture(), HEADS),
    lambda found, data: smoothed(found, _any_shape(found, data).id, picture()),
    lambda found, data: given_to(found, {_any_shape(found, data).id: data.draw(st.sampled_from(FEATURES))}),
    lambda found, data: more_here(found, _any_shape(found, data).feature, picture(), HEADS),
    lambda found, data: fewer_here(found, _any_shape(found, data).feature, picture()),
    _moved,
    _moved,
    _cut_along,
    _merged,
    _border,
)


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_tiles_stay_tiles_after_any_edits_and_are_read_back_as_they_were_written(data: st.DataObject) -> None:
    found = shape_map()
    whole_px = sum(areas(found).values())
    content = write_svg(found)
    for edit in data.draw(st.lists(st.sampled_from(EDITS), min_size=1, max_size=8)):
        try:
            found = edit(found, data)
        except ShapeMapError:
            continue
        check_tiles(found, whole_px)
    covered = np.zeros(picture().linear.shape[:2], dtype=int)
    for shape in found.shapes:
        own = np.zeros(covered.shape, dtype=np.int32)
        paint(own, shape.outline, 1, picture())
        covered += own
    assert covered.min() == covered.max() == 1
    assert labels_in(found, picture()).max() < len(found.shapes)
    read, problems = read_svg(write_svg(found, content))
    assert (problems, set(read.shapes), read.borders) == ((), set(found.shapes), found.borders)
