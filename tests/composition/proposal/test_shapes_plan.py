"""The plan that is proposed from the shapes of a photo."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.composition.proposal.mixtures import PileMaker, clusters, differences, painted_lab
from coach.composition.proposal.palette_table import PALETTE_NAMED, palette_holding
from coach.composition.proposal.parts import LEAST_MIN, MOST_RUN_MIN, Part, Zone
from coach.composition.proposal.shape_parts import OnCanvas, parts_of, place_of
from coach.composition.proposal.shapes_plan import USUAL_VALUES, ShapesPlan, plan_from_shapes
from coach.composition.proposal.stages import BLOCK_IN, FEATURES, LAST, TRANSFER
from coach.plan.commission import CanvasSize, Passage, Plan
from coach.plan.reading import problems_on, read_plan
from coach.plan.writing import plan_text
from coach.shapes.features import Feature
from coach.shapes.shape import Shape
from tests.composition.proposal.made_shapes import LAYOUT, made_frame, made_on_canvas, made_shapes

TODAY = dt.date(2026, 11, 25)
EARTHS = PALETTE_NAMED["earths"]


def proposed(seed: int = 1, sitters: int = 1, size: CanvasSize = CanvasSize(400, 450)) -> ShapesPlan:  # noqa: B008
    frame = made_frame(sitters, size)
    return plan_from_shapes(frame, made_shapes(seed, sitters), made_on_canvas(frame, sitters), EARTHS)


def passages(plan: Plan, *names: str) -> list[Passage]:
    return [one for own in plan.passes if own.name in names for one in own.passages if one.check is None]


def finish(plan: Plan) -> list[Passage]:
    return [one for own in plan.passes[2:-1] for one in own.passages if one.check is None]


def adjacent(shapes: tuple[Shape, ...], one: Passage, other: Passage) -> bool:
    near = {shape.id: {own.id for own in shape.neighbours} for shape in shapes}
    return any(own in near[shape] or own == shape for shape in one.shapes for own in other.shapes)


@settings(max_examples=30)
@given(st.integers(0, 10_000), st.integers(1, 3), st.floats(60, 1500))
def test_any_shapes_give_a_plan_without_faults(seed: int, sitters: int, width_mm: float) -> None:
    plan = proposed(seed, sitters, CanvasSize(round(width_mm, 1), 450)).plan

    assert read_plan(plan_text(plan), "plan.yaml") == plan
    assert problems_on(plan, TODAY) == ()


def test_the_same_shapes_give_the_same_plan() -> None:
    assert proposed() == proposed()


def test_the_minutes_of_a_shape_by_hand() -> None:
    """A neck of 100 cm2 with 40 cm of edge: 1.5 x 100^0.6 = 23.8, and 10 for the edge, 1.25 times that for a neck."""
    on_canvas = OnCanvas(mm_per_px=5.0)
    shape = replace(made_shapes(1)[0], feature=Feature.NECK)
    edge = shape.neighbours[0]
    alone = replace(shape, neighbours=(edge, edge, edge, edge))

    assert on_canvas.area_cm2(alone.area_px) == 100
    assert on_canvas.shape_minutes(alone) == pytest.approx(1.25 * (23.77 + 10), abs=0.01)
    slow = OnCanvas(mm_per_px=5.0, pace_frac={"neck": 2.0})
    assert slow.shape_minutes(alone) == 2 * on_canvas.shape_minutes(alone)


def test_every_shape_stands_in_one_passage_of_the_features_and_the_areas_cover_the_canvas() -> None:
    plan = proposed().plan
    painted = [shape for one in finish(plan) for shape in one.shapes if not one.name.startswith("ground at the hair")]

    assert sorted(painted) == sorted(shape.id for shape in made_shapes(1))
    assert sum(one.area_cm2 or 0 for one in finish(plan)) == pytest.approx(40 * 45, rel=0.01)
    assert sum(one.area_cm2 or 0 for one in passages(plan, BLOCK_IN)) == pytest.approx(40 * 45, rel=0.01)


def test_the_stages_follow_each_other_as_painters_work() -> None:
    plan = proposed().plan
    names = [one.name for one in plan.passes]

    assert names == [TRANSFER, BLOCK_IN, *(one for one in FEATURES if one != "object"), LAST]
    laid_in = {one.name: set(one.shapes) for one in passages(plan, BLOCK_IN)}
    for one in finish(plan):
        below = one.over or next(own.over for own in finish(plan) if one.into and own.name == one.into[1])
        assert below is not None
        assert below[0] == BLOCK_IN
        if one.over:
            assert set(one.shapes) <= laid_in[below[1]]
    assert all(one.over and one.over[0] in FEATURES for one in passages(plan, LAST))
    oil = {mixture.name: mixture.oil for mixture in plan.mixtures}
    assert {oil[one.mixture or ""] for one in passages(plan, BLOCK_IN)} == {"lean"}
    assert {oil[one.mixture or ""] for one in finish(plan)} == {"middle"}


def test_an_object_has_a_pass_before_the_ground() -> None:
    frame, shapes = made_frame(), list(made_shapes(1))
    shapes[0] = replace(shapes[0], feature=Feature.OBJECT)
    plan = plan_from_shapes(frame, shapes, made_on_canvas(frame), EARTHS).plan

    assert [one.name for one in plan.passes][-3:] == ["object", "ground", LAST]


def test_each_sitter_has_passes_of_the_head_and_clothing_and_ground_are_for_all() -> None:
    names = [one.name for one in proposed(sitters=3).plan.passes]

    assert names[2:6] == ["elder eyes", "younger eyes", "youngest eyes", "elder nose"]
    assert names[-3:] == ["clothing", "ground", LAST]


@pytest.mark.parametrize("seed", range(5))
def test_hair_meets_the_ground_wet(seed: int) -> None:
    hair = passages(proposed(seed).plan, "hair")
    strips = [one for one in hair if one.name.startswith("ground at the hair")]
    runs = next(own for own in proposed(seed).plan.passes if own.name == "hair").runs

    assert strips
    for strip in strips:
        run = next(own for own in runs if strip.name in own.passage_names)
        assert strip.into or any(name.startswith("hair") for name in run.passage_names)


@pytest.mark.parametrize("seed", range(5))
def test_a_run_is_a_chain_of_neighbours_from_dark_to_light_and_no_longer_than_one_takes(seed: int) -> None:
    shapes, plan = made_shapes(seed), proposed(seed, size=CanvasSize(240, 270)).plan
    runs = [run for own in plan.passes[1:-1] for run in own.runs]

    assert max(run.planned_s for run in runs) <= 60 * MOST_RUN_MIN
    assert any(len(run.passages) > 2 for run in runs)
    for run in runs:
        assert all(adjacent(shapes, one, other) for one, other in pairwise(run.passages))
        assert (run.passages[0].value or 0) <= (run.passages[-1].value or 0)


def test_soft_edges_are_kept_in_a_run_before_hard_ones() -> None:
    """With a hard edge inside a run, both its ends were short; a soft one between short runs would have gone first."""
    shapes = made_shapes(3)
    soft = tuple(replace(own, edge=type(own.edge)("hard")) for own in shapes[0].neighbours)
    hard = [replace(one, neighbours=tuple(replace(own, edge=soft[0].edge) for own in one.neighbours)) for one in shapes]
    frame = made_frame()
    kept = [len(run.passages) for run in proposed(3).plan.runs]
    without = [len(run.passages) for run in plan_from_shapes(frame, hard, made_on_canvas(frame), EARTHS).plan.runs]

    assert sum(kept) / len(kept) > sum(without) / len(without)


def test_small_and_thin_shapes_join_a_neighbour_of_like_value_and_eyes_stay() -> None:
    """On a canvas of 8 x 9 cm a shape is 1 cm2: all but the eyes and the mouth join until they take three minutes."""
    frame = made_frame(size=CanvasSize(80, 90))
    parts, _ = parts_of(made_shapes(1), frame.heads, made_on_canvas(frame))
    eyes = [part for part in parts if part.feature == "eyes"]

    assert len(parts) < sum(map(len, LAYOUT)) / 2
    assert all(part.minutes >= LEAST_MIN for part in parts)
    assert all((part.brush_mm or 0) >= 5 or part.feature in ("eyes", "mouth") for part in parts)
    assert len(eyes) == 2


def test_a_study_is_one_layer_from_the_ground_to_the_eyes() -> None:
    plan = proposed(size=CanvasSize(40, 45)).plan

    assert [one.name for one in plan.passes][:2] == [TRANSFER, "ground"]
    assert plan.passes[-1].name == "eyes"
    assert not any(one.over for own in plan.passes for one in own.passages)


def test_values_are_fitted_into_what_paint_reaches_and_keep_their_order() -> None:
    plan = proposed().plan
    own = {shape.id: shape.value for shape in made_shapes(1)}
    single = [one for one in finish(plan) if len(one.shapes) == 1]

    assert all(2 <= (one.value or 0) <= 9.5 for one in finish(plan))
    assert len(single) > 10
    for one in single:
        assert one.value == pytest.approx(2 + 7.5 * own[one.shapes[0]] / 10, abs=0.051)


def test_a_brush_fits_its_passage_and_is_one_of_those_there_are() -> None:
    """Squares of 3 cm: a brush of half of that, the next smaller one there is."""
    plan = proposed(size=CanvasSize(240, 270)).plan

    assert {one.brush_mm for one in finish(plan)} <= set(plan.brushes_mm)
    assert all(one.brush_mm == 12 for one in finish(plan) if len(one.shapes) == 1)


def test_the_canvases_are_looked_at_without_paint_on_the_way() -> None:
    checks = [(own.name, one.check) for own in proposed().plan.passes for one in own.passages if one.check]

    assert checks == [
        (TRANSFER, "upside down"),
        (BLOCK_IN, "step back"),
        ("face", "mirror"),
        ("hair", "upside down"),
        ("ground", "colour"),
        (LAST, "fresh eye"),
        (LAST, "step back"),
    ]


@pytest.mark.parametrize("seed", range(3))
def test_eight_to_fourteen_piles_each_with_the_spread_that_an_independent_library_finds(seed: int) -> None:
    found = proposed(seed)
    parts, _ = parts_of(made_shapes(seed), made_frame().heads, made_on_canvas(made_frame()))

    assert 8 <= len(found.piles) <= 14
    assert {pile.mixture for pile in found.piles} == set(found.plan.mixtures)
    colours = {part.shapes: painted_lab(part.lab or (0, 0, 0), part.photo_value, USUAL_VALUES) for part in parts}
    for pile in found.piles:
        if pile.mixture.oil == "lean":
            continue
        own = [one.shapes for one in finish(found.plan) if one.mixture == pile.mixture.name and one.shapes in colours]
        apart = [
            Color("lab-d65", pile.lab).delta_e(Color("lab-d65", colours[shapes]), method="2000")
            for shapes in dict.fromkeys(own)
        ]
        assert len(apart) == pile.passages
        assert pile.spread_worst == pytest.approx(max(apart), abs=0.051)
        assert pile.spread_mean == pytest.approx(sum(apart) / len(apart), abs=0.051)


def test_three_colours_far_apart_make_three_clusters() -> None:
    labs = [(20.0, 0.0, 0.0), (21.0, 0.0, 0.0), (60.0, 40.0, 40.0), (61.0, 40.0, 41.0), (90.0, 0.0, 5.0)]
    found = clusters(labs, 3, 5)

    assert found[0] == found[1] != found[2] == found[3] != found[4]
    assert differences(labs[0], labs[:1]) == [0]


def part(feature: str, lab: tuple[float, float, float]) -> Part:
    zone = {"face": Zone.FLESH, "clothing": Zone.CLOTHING}[feature]
    return Part(group=0, feature=feature, zone=zone, place=feature, photo_value=lab[0] / 10, minutes=5, lab=lab)


@pytest.mark.parametrize(
    ("feature", "lab", "has_recipe"),
    [
        ("face", (75.0, 12.0, 20.0), True),
        ("face", (75.0, -20.0, 20.0), False),
        ("clothing", (40.0, 2.0, -3.0), True),
        ("clothing", (40.0, 40.0, 30.0), False),
    ],
)
def test_a_recipe_is_claimed_only_for_the_colours_it_is_for(
    feature: str, lab: tuple[float, float, float], has_recipe: bool
) -> None:
    maker = PileMaker(USUAL_VALUES, EARTHS)
    maker.finish([part(feature, lab)])

    assert bool(maker.piles[0].mixture.parts) is has_recipe
    assert {paint for paint, _ in maker.piles[0].mixture.parts} <= {paint.name for paint in EARTHS.paints}


@pytest.mark.parametrize(
    ("name", "place"),
    [
        ("cheek left, half-light", "cheek left"),
        ("the collar of the long winter coat, dark", "the collar of the long"),
        ("Überwinterungsquartiere", "Überwinterungsquar"),
        ("", ""),
    ],
)
def test_a_place_has_eighteen_letters_at_most(name: str, place: str) -> None:
    assert place_of(name) == place


@pytest.mark.parametrize(("other_value", "count"), [(3.4, 1), (8.0, 2)])
def test_small_shapes_of_an_eye_are_one_passage_where_their_values_are_alike(other_value: float, count: int) -> None:
    """On a canvas of 2.4 x 2.7 cm each takes under three minutes."""
    shapes = list(made_shapes(1))
    eyes = [number for number, shape in enumerate(shapes) if shape.feature is Feature.EYES]
    for number, value in zip(eyes, (3.0, other_value), strict=True):
        shapes[number] = replace(shapes[number], name="eye left, dark", value=value)
    frame = made_frame(size=CanvasSize(24, 27))
    parts, _ = parts_of(shapes, frame.heads, made_on_canvas(frame))

    assert len([part for part in parts if part.feature == "eyes"]) == count


def test_a_photo_of_one_shape_has_a_plan() -> None:
    frame, shape = made_frame(), replace(made_shapes(1)[0], neighbours=())
    plan = plan_from_shapes(frame, [shape], made_on_canvas(frame), EARTHS).plan

    assert [own.shapes for one in plan.passes for own in one.passages if own.shapes] == [(shape.id,)]
    assert problems_on(plan, TODAY) == ()


def test_a_painter_s_own_palette_has_the_recipes_that_its_paints_make() -> None:
    all_names = {recipe.name for recipe in EARTHS.recipes}

    assert {recipe.name for recipe in palette_holding(EARTHS.paints).recipes} == all_names
    white_and_black = [paint for paint in EARTHS.paints if paint.name in ("titanium white", "ivory black")]
    assert {recipe.name for recipe in palette_holding(white_and_black).recipes} == {
        "cloth dark",
        "cloth middle",
        "cloth light",
    }
