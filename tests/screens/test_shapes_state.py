"""The shapes in the painter's hands: chosen, found, marked for a passage, undone, looked at."""

from dataclasses import replace

import pytest

from coach.plan.commission import Passage
from coach.screens.shapes import state as states
from coach.screens.shapes.repository import Version
from coach.screens.shapes.state import Pointer, ShapesState, begun
from coach.shapes.features import Feature
from coach.shapes.photo_window import whole
from tests.screens.made_shapes import MAP, PLAN, SHAPES, VERSION, box, shape, without

START = begun(VERSION)
CENTRES = {"k1": (30.0, 35.0), "k2": (50.0, 35.0), "k3": (40.0, 62.0), "k4": (40.0, 85.0)}


def held(state: ShapesState, name: str) -> tuple[str, ...]:
    """Return the shapes of a passage."""
    found = next(passage for one in state.plan.passes for passage in one.passages if passage.name == name)
    return found.shapes


def test_the_first_shape_is_chosen_at_first_and_another_one_by_its_id() -> None:
    assert START.shape is SHAPES[0]
    assert states.choosing(START, "k4").shape is SHAPES[3]
    assert states.choosing(START, "k99").chosen == "k1"
    assert begun(Version(PLAN, without("k1", "k2", "k3", "k4"))).shape is None


@pytest.mark.parametrize(
    ("chosen", "across", "down", "found"),
    [
        ("k1", 1, 0, "k2"),
        ("k2", -1, 0, "k1"),
        ("k1", 0, 1, "k3"),
        ("k3", 0, 1, "k4"),
        ("k4", 0, -1, "k3"),
        ("k1", -1, 0, "k1"),
        ("k4", 0, 1, "k4"),
        ("gone", 0, 1, "k1"),
    ],
)
def test_arrows_go_to_the_nearest_shape_ahead(chosen: str, across: int, down: int, found: str) -> None:
    assert states.shape_towards(CENTRES, chosen, across, down) == found
    assert states.shape_towards({}, chosen, across, down) == chosen


def test_a_shape_is_found_by_part_of_its_name_the_next_one_each_time() -> None:
    found = states.shape_called(START, "CHEEK")
    assert found.chosen == "k2"
    assert states.shape_called(found, "cheek").chosen == "k1"
    assert states.shape_called(START, "[b]").said == 'No shape is called "[b]".'


def test_a_passage_is_taken_in_hand_with_its_shape_and_round_again() -> None:
    state = states.with_passage(START, 1)
    assert (state.passage, state.chosen) == (("face", "light side"), "k1")
    state = states.with_passage(state, 1)
    assert (state.passage, state.chosen) == (("face", "dark side"), "k2")
    assert states.with_passage(START, -1).passage == ("ground", "wall")
    assert states.with_passage(states.with_passage(START, -1), 1).passage == ("face", "light side")
    checks = PLAN._replace(passes=(PLAN.passes[0]._replace(passages=(Passage("look", check="mirror"),)),))
    assert states.with_passage(begun(Version(checks, MAP)), 1).said == "The plan has no passage."


def test_a_shape_is_put_into_the_passage_in_hand_and_taken_out_of_it() -> None:
    state = states.choosing(states.with_passage(START, 1), "k4")
    state = states.marked(state)
    assert held(state, "light side") == ("k1", "k4")
    assert state.said == 'coat, dark belongs to "light side".'
    state = states.marked(state)
    assert held(state, "light side") == ("k1",)
    assert state.said == 'coat, dark no longer belongs to "light side".'
    assert len(state.versions) == 3


def test_a_shape_stands_in_one_passage_of_a_pass_and_in_others_of_other_passes() -> None:
    state = states.marked(states.choosing(states.with_passage(START, 1), "k2"))
    assert held(state, "light side") == ("k1", "k2")
    assert held(state, "dark side") == ()
    assert state.said == 'cheek right, dark belongs to "light side", no longer to "dark side".'
    state = states.marked(states.choosing(states.with_passage(state, -1), "k2"))
    assert held(state, "wall") == ("k3", "k2")
    assert held(state, "light side") == ("k1", "k2")
    assert states.passages_of(state.plan, "k2") == (("face", "light side"), ("ground", "wall"))


def test_without_a_passage_or_a_shape_nothing_is_marked() -> None:
    assert states.marked(START).said == "Choose a passage first: ] takes the next one."
    nothing = states.with_passage(START, 1)._replace(chosen="")
    assert states.marked(nothing).said == "Choose a shape first."


def test_an_edit_keeps_what_belongs_together_in_the_passages() -> None:
    """A part that is cut off stays in the passage; where two become one, none stands twice in a pass."""
    cut = replace(MAP, shapes=(*SHAPES, shape(5, "cheek", Feature.FACE, box(20, 10, 30, 60))))
    state = states.edited(START, cut, {"k1": ("k1", "k5")}, "Cut.")
    assert held(state, "light side") == ("k1", "k5")
    assert (state.said, state.chosen) == ("Cut.", "k1")
    joined = states.edited(START, without("k2"), {"k2": ("k1",)}, "Joined.")
    assert held(joined, "light side") == ("k1",)
    assert held(joined, "dark side") == ()
    assert states.edited(states.choosing(START, "k2"), without("k2"), {"k2": ("k1",)}, "").chosen == "k1"
    assert states.edited(states.choosing(START, "k2"), without("k2"), {}, "").chosen == "k1"


def test_undo_goes_back_without_end_and_redo_on_again() -> None:
    state = START
    for number in range(1, 40):
        renamed = replace(MAP, shapes=(replace(SHAPES[0], name=f"cheek {number}"), *SHAPES[1:]))
        state = states.edited(state, renamed, {}, "Renamed.")
    assert not state.is_saved
    for _ in range(39):
        state = states.undone(state)
    assert state.version == VERSION
    assert state.is_saved
    assert states.undone(state).said == "Nothing is left to undo."
    state = states.redone(state)
    assert state.shape is not None
    assert state.shape.name == "cheek 1"
    last = states.edited(state, without("k1"), {}, "")
    assert states.redone(last).said == "Nothing is left to redo."
    assert states.undone(last).chosen == "k2"
    assert states.undone(states.edited(states.choosing(START, "k1"), without("k1"), {}, "")).shape is not None
    assert states.edited(START, MAP, {}, "Nothing is changed.").versions == (VERSION,)


def test_undo_chooses_a_shape_that_is_there_again_or_the_first() -> None:
    more = replace(MAP, shapes=(*SHAPES, shape(5, "new", Feature.HAIR, box(0, 0, 5, 5))))
    state = states.choosing(states.edited(START, more, {}, ""), "k5")
    assert states.undone(state).chosen == "k1"
    fewer = states.edited(states.choosing(START, "k4"), without("k4"), {"k4": ("k3",)}, "")
    assert (fewer.chosen, states.undone(fewer).chosen) == ("k3", "k3")


def test_one_key_squints_one_shows_flat_and_one_a_feature_alone() -> None:
    assert [states.squinted(START).squint, states.squinted(START._replace(squint=3)).squint] == [1, 0]
    assert states.flattened(START).is_flat
    assert not states.flattened(states.flattened(START)).is_flat
    alone = []
    state = states.choosing(START, "k4")
    for _ in range(4):
        state = states.with_next_feature(state)
        alone.append(state.feature)
    assert alone == [Feature.CLOTHING, Feature.FACE, Feature.GROUND, None]
    nothing = begun(Version(PLAN, without("k1", "k2", "k3", "k4")))
    assert states.with_next_feature(nothing).feature is None


def test_the_point_begins_on_the_nearest_corner_and_takes_corners_and_cuts() -> None:
    state = states.pointing(START, (38, 58))
    assert state.pointer == Pointer((40, 60))
    state = states.taking_corner(state._replace(pointer=Pointer((21, 12))))
    assert state.pointer == Pointer((20, 10), corner=(20, 10))
    assert states.beginning_cut(state).pointer == Pointer((20, 10), cut_from=(20, 10))
    assert states.choosing(state, "k2").pointer is None
    assert states.taking_corner(START) is START
    assert states.beginning_cut(START) is START
    nothing = START._replace(chosen="")
    assert states.pointing(nothing, (1, 2)).pointer == Pointer((1, 2))
    assert states.taking_corner(states.pointing(nothing, (1, 2))).said == "Choose a shape first."


def test_what_is_enlarged_is_the_point_else_the_shape_else_the_middle() -> None:
    window = whole((0, 0, 80, 100), 20, 20)
    assert states.aim_of(states.pointing(START, (38, 58)), CENTRES, window) == (40, 60)
    assert states.aim_of(START, CENTRES, window) == (30, 35)
    assert states.aim_of(START, {}, window) == (40, 50)
    assert states.aim_of(None, {}, None) == (0, 0)
