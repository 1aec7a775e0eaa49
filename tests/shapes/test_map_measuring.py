"""Edited shapes measured again: what has changed is measured as all of them would be."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.ndimage import binary_dilation

from coach.shapes.features import Feature
from coach.shapes.map_editing import given_to, merged, renamed, split
from coach.shapes.map_measuring import measured_after
from coach.shapes.outline_editing import point_moved
from coach.shapes.shape import Apart
from coach.shapes.shape_map import ShapeMap, ShapeMapError, measured_map
from tests.shapes.test_map_editing import EDITS, HEADS
from tests.shapes.test_shape_map import of_rings, picture, shape_map, square


@cache
def before() -> Apart:
    return measured_map(shape_map(), picture(), HEADS)


def check_same(found: Apart, edited: ShapeMap) -> None:
    """Check that it is what measuring all of them gives: a pixel on a new corner may go to either side of it.

    What touches such a pixel is not compared; a border that a third shape does not break any more may be read in
    other stretches.
    """
    whole = measured_map(edited, picture(), HEADS)
    assert np.mean(found.labels != whole.labels) < 1e-4
    assert [one.id for one in found.shapes] == [one.id for one in whole.shapes]
    beside = binary_dilation(found.labels != whole.labels, np.ones((3, 3)))
    either = {found.shapes[place].id for place in np.unique([found.labels[beside], whole.labels[beside]])}
    read_otherwise = 0
    for one, other in zip(found.shapes, whole.shapes, strict=True):
        assert (one.name, one.feature, one.outline) == (other.name, other.feature, other.outline)
        assert one.area_px == pytest.approx(other.area_px, abs=20)
        if one.id in either:
            continue
        assert one.value == pytest.approx(other.value, abs=0.1)
        edges = {near.id: near for near in other.neighbours}
        assert {near.id for near in one.neighbours} == edges.keys()
        for near in one.neighbours:
            assert near.length_px == pytest.approx(edges[near.id].length_px, abs=20)
            read_otherwise += near.width_frac != pytest.approx(edges[near.id].width_frac, abs=0.01)
    assert read_otherwise <= 4  # two edges, told from both sides
    assert found.flat_difference_mean == pytest.approx(whole.flat_difference_mean, abs=0.02)


def test_a_split_a_merging_and_a_moved_point_are_measured_as_all_would_be() -> None:
    parted = split(shape_map(), "k20", picture(), HEADS)
    after = measured_after(before(), parted, picture(), HEADS)
    check_same(after, parted)
    together = merged(parted, "k20", f"k{shape_map().next_number}")
    check_same(measured_after(after, together, picture(), HEADS), together)
    x, y = shape_map().shapes[0].outline[0][0]
    moved = point_moved(shape_map(), (x, y), (x + 2, y + 1))
    check_same(measured_after(before(), moved, picture(), HEADS), moved)


def test_names_and_features_are_taken_over_without_looking_at_the_picture() -> None:
    edited = given_to(renamed(shape_map(), "k1", "under the brow"), {"k3": Feature.OBJECT})
    found = measured_after(before(), edited, replace(picture(), linear=picture().linear * np.nan), HEADS)
    assert [(one.id, one.name, one.feature) for one in found.shapes] == [
        (one.id, one.name, one.feature) for one in edited.shapes
    ]
    assert found.flat_difference_mean == before().flat_difference_mean


def test_what_is_gone_goes_to_the_nearest_and_what_lies_beyond_has_no_pixel() -> None:
    gone = replace(shape_map(), shapes=shape_map().shapes[1:])
    found = measured_after(before(), gone, picture(), HEADS)
    assert [one.id for one in found.shapes] == [one.id for one in gone.shapes]
    assert found.labels.min() == 0
    beyond = replace(gone.shapes[0], outline=(square(9000, 9000, 9),))
    found = measured_after(before(), replace(gone, shapes=(beyond, *gone.shapes[1:])), picture(), HEADS)
    assert [one.id for one in found.shapes] == [one.id for one in gone.shapes[1:]]
    assert sum(one.area_px for one in found.shapes) == pytest.approx(4 * picture().linear[..., 0].size, rel=0.01)
    with pytest.raises(ShapeMapError):
        measured_after(before(), of_rings((square(9000, 9000, 9),)), picture(), HEADS)


@settings(max_examples=10, deadline=None)
@given(st.data())
def test_any_edits_are_measured_as_all_would_be(data: st.DataObject) -> None:
    edited, apart = shape_map(), before()
    for edit in data.draw(st.lists(st.sampled_from(EDITS), min_size=1, max_size=4)):
        try:
            edited = edit(edited, data)
        except ShapeMapError:
            continue
        apart = measured_after(apart, edited, picture(), HEADS)
    check_same(apart, edited)
