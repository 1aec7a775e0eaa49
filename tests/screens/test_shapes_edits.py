"""What the keys of the Shapes screen do to a shape, what is said of it, and what becomes of the passages."""

from dataclasses import replace

import pytest
from shapely import Polygon

from coach.screens.shapes import edits
from coach.screens.shapes.state import ShapesState, begun, choosing
from coach.shapes.edges import EdgeKind
from coach.shapes.features import FEATURES, Feature
from coach.shapes.shape import Neighbour
from coach.shapes.shape_map import ShapeMap
from tests.screens.made_shapes import MAP, PHOTO, SHAPES, VERSION, box, shape, without

START = begun(VERSION)


def area(shape_map: ShapeMap) -> float:
    """Return the area of all shapes together, by another library."""
    return float(sum(Polygon(outer, holes).area for outer, *holes in (one.outline for one in shape_map.shapes)))


def names(state: ShapesState) -> list[str]:
    return [one.name for one in state.shape_map.shapes]


def test_a_shape_is_cut_where_its_light_differs_and_both_parts_stay_in_the_passage() -> None:
    state = edits.applied(START, edits.cut, PHOTO)
    assert len(state.shape_map.shapes) == 5
    assert state.said.startswith("Cut: ")
    assert state.said.endswith(" is new.")
    assert state.plan.passes[0].passages[0].shapes == ("k1", "k5")
    assert area(state.shape_map) == pytest.approx(80 * 100)


def test_a_shape_is_cut_along_a_line() -> None:
    state = edits.applied(choosing(START, "k2"), edits.cut_along((39, 30), (61, 30)), PHOTO)
    cut = [one for one in state.shape_map.shapes if one.id in ("k2", "k5")]
    assert sorted(abs(Polygon(one.outline[0]).area) for one in cut) == pytest.approx([400, 600])
    assert state.plan.passes[0].passages[1].shapes == ("k2", "k5")


def test_a_line_beside_the_shape_cuts_nothing_and_that_is_said() -> None:
    state = edits.applied(choosing(START, "k2"), edits.cut_along((1, 1), (5, 1)), PHOTO)
    assert state.version == VERSION
    assert state.said == "This line does not cut cheek right, dark in two."


def test_a_shape_is_joined_to_one_that_it_touches() -> None:
    near = (Neighbour(id="k2", edge=EdgeKind.HARD, width_frac=0.0, length_px=50),)
    offers = edits.joins_of(MAP, ["k2", "k3", "k9"], near)
    assert [(one.asks, one.now) for one in offers] == [("cheek right, dark", "hard"), ("ground, middle", "")]
    assert offers[0].edit is not None
    state = edits.applied(START, offers[0].edit, PHOTO)
    assert len(state.shape_map.shapes) == 3
    assert state.said == "Joined to cheek left, light: cheek right, dark."
    assert [passage.shapes for passage in state.plan.passes[0].passages] == [("k1",), (), ()]
    apart = edits.applied(START, edits.joined_to("k4"), PHOTO)
    assert "do not touch" in apart.said


def test_a_shape_goes_to_another_feature_and_gets_another_name() -> None:
    offers = edits.features_for(SHAPES[0])
    assert [one.asks for one in offers] == [feature.value for feature in FEATURES]
    assert [one.asks for one in offers if one.now] == ["face"]
    state = edits.applied(START, edits.given_to(Feature.HAIR), PHOTO)
    assert state.said == "cheek left, light belongs to the hair now."
    state = edits.applied(START, edits.renamed("  the   lit cheek "), PHOTO)
    assert names(state)[0] == "the lit cheek"
    assert state.said == "cheek left, light is called the lit cheek now."
    assert edits.applied(START, edits.renamed("coat, dark"), PHOTO).version == VERSION


def test_a_corner_is_moved_in_all_shapes_that_have_it() -> None:
    state = edits.applied(START, edits.with_corner((40, 60), (38, 58)), PHOTO)
    assert state.said == "The outline of cheek left, light is changed."
    assert [any((38, 58) in ring for ring in one.outline) for one in state.shape_map.shapes] == [
        True,
        True,
        True,
        False,
    ]
    assert area(state.shape_map) == pytest.approx(80 * 100)


@pytest.mark.parametrize("place", [2, 5, 6])
def test_what_is_offered_can_be_done(place: int) -> None:
    """A smoother outline, more shapes, fewer shapes."""
    offer = edits.changes_of(SHAPES[0])[place]
    assert offer.edit is not None
    state = edits.applied(START, offer.edit, PHOTO)
    assert state.said
    assert area(state.shape_map) == pytest.approx(80 * 100, rel=0.01)
    assert {5: 5, 6: 3}.get(place, 4) == len(state.shape_map.shapes)


def test_what_is_not_edited_at_once_is_asked_for() -> None:
    asked = [one.action for one in edits.changes_of(SHAPES[0]) if one.edit is None]
    assert asked == ["ask('name')", "choose('feature')", "toggle_arrows", "take_border"]


def test_without_a_shape_nothing_is_edited() -> None:
    assert edits.applied(START._replace(chosen=""), edits.cut, PHOTO).said == "Choose a shape first."


@pytest.mark.parametrize(
    ("after", "heirs"),
    [
        (MAP, {}),
        (without("k2"), {}),
        (replace(MAP, shapes=(shape(1, "face", Feature.FACE, box(20, 10, 60, 60)), *SHAPES[2:])), {"k2": ("k1",)}),
        (
            replace(
                MAP,
                shapes=(
                    shape(1, "cheek", Feature.FACE, box(20, 10, 40, 40)),
                    shape(5, "jaw", Feature.FACE, box(20, 40, 40, 60)),
                    *SHAPES[1:],
                ),
            ),
            {"k1": ("k1", "k5")},
        ),
    ],
)
def test_heirs_lie_where_those_lay_whose_place_they_take(after: ShapeMap, heirs: dict[str, tuple[str, ...]]) -> None:
    assert edits.heirs_of(MAP, after) == heirs


def test_what_was_done_is_told_in_a_sentence() -> None:
    def told(after: ShapeMap) -> str:
        return edits.told(MAP, after, SHAPES[0])

    assert told(MAP) == "Nothing is changed."
    two = replace(MAP, shapes=(*SHAPES, *(shape(no, f"new {no}", Feature.FACE, box(0, 0, 1, 1)) for no in (5, 6))))
    assert told(two) == "Cut: new 5 and new 6 are new."
    assert told(without("k2")) == "Joined to cheek left, light: cheek right, dark."
    assert told(without("k1")) == "Joined to cheek left, light: cheek left, light."
