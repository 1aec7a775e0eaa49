"""The tables of features and palettes, held against each other and against sources outside them."""

from collections.abc import Sequence

import pytest

from coach.composition.areas import HEAD_WIDTH_FRAC, estimated_head_mm, head_box_cm2
from coach.composition.life_size import HEAD_MAN_MM, HEAD_WOMAN_MM
from coach.composition.proposal.feature_table import FEATURE_NAMED, FEATURES, FINENESSES, USUAL_FEATURES, Feature, Shape
from coach.composition.proposal.palette_table import PALETTES, LimitedPalette
from coach.composition.proposal.parts import LEAST_MIN, MOST_RUN_MIN
from coach.composition.proposal.proposal import scaled_min
from coach.composition.setup_cautions import cautions_of
from coach.forecast.drying_table import PIGMENTS
from coach.plan.commission import Canvas, CanvasSize, Mixture, Passage, Plan, runs_of

SETS = [(feature, fineness) for feature in FEATURES for fineness in FINENESSES]
FLESH = ["deep flesh", "shadow flesh", "half-tone flesh", "rose flesh", "light flesh", "pale flesh", "highlight"]
OTHERS = (["hair dark", "hair middle", "hair light"], ["cloth dark", "cloth middle", "cloth light", "linen"])
GROUND = ["ground dark", "ground middle", "ground light"]


def runs(shapes: Sequence[Shape]) -> list[list[float]]:
    passages = tuple(Passage(name=one.name, value=one.value, beside=one.beside) for one in shapes)
    return [[passage.value or 0 for passage in run.passages] for run in runs_of("any", passages)]


def values_of(mixture: str) -> list[float]:
    return [one.value for feature, how in SETS for one in feature.shapes(how) if one.mixture == mixture]


def white_frac(mixture: Mixture) -> float:
    return dict(mixture.parts).get("titanium white", 0) / sum(count for _, count in mixture.parts)


@pytest.mark.parametrize(("feature", "fineness"), SETS, ids=lambda one: getattr(one, "name", one))
def test_runs_go_from_dark_to_light_and_so_do_the_passages_of_a_run(feature: Feature, fineness: str) -> None:
    values = runs(feature.shapes(fineness))

    assert all(run == sorted(run) for run in values)
    assert [run[0] for run in values] == sorted(run[0] for run in values)


@pytest.mark.parametrize(("feature", "fineness"), SETS, ids=lambda one: getattr(one, "name", one))
def test_a_run_stands_in_one_piece_and_names_differ(feature: Feature, fineness: str) -> None:
    shapes = feature.shapes(fineness)
    passages = tuple(Passage(name=one.name, beside=one.beside) for one in shapes)

    assert [passage for run in runs_of("any", passages) for passage in run.passages] == list(passages)
    assert len({one.name.casefold() for one in shapes}) == len(shapes)


@pytest.mark.parametrize("feature", FEATURES, ids=lambda one: one.name)
def test_a_finer_set_has_more_passages_and_takes_longer(feature: Feature) -> None:
    counts = [len(feature.shapes(fineness)) for fineness in FINENESSES]
    minutes = [sum(one.reference_min for one in feature.shapes(fineness)) for fineness in FINENESSES]

    assert counts == sorted(set(counts))
    assert minutes == sorted(set(minutes))


@pytest.mark.parametrize("palette", PALETTES, ids=lambda one: one.name)
def test_every_mixture_of_the_features_has_a_recipe_of_paints_on_the_palette(palette: LimitedPalette) -> None:
    named = {one.mixture for feature, how in SETS for one in feature.shapes(how)}
    paints = {paint.name for paint in palette.paints}

    assert named == {mixture.name for mixture in palette.recipes}
    assert {paint for mixture in palette.recipes for paint, _ in mixture.parts} == paints
    assert all(count >= 1 for mixture in palette.recipes for _, count in mixture.parts)
    assert len({frozenset(mixture.parts) for mixture in palette.recipes}) == len(palette.recipes)


@pytest.mark.parametrize("palette", PALETTES, ids=lambda one: one.name)
def test_lighter_mixtures_of_one_kind_hold_more_white(palette: LimitedPalette) -> None:
    recipe = {mixture.name: mixture for mixture in palette.recipes}
    for kind in (FLESH, GROUND, *OTHERS):
        values = [sum(values_of(name)) / len(values_of(name)) for name in kind]
        whites = [white_frac(recipe[name]) for name in kind]

        assert values == sorted(values)
        assert whites == sorted(whites)


def test_one_pile_is_not_used_for_values_far_apart() -> None:
    for mixture in PALETTES[0].recipes:
        values = values_of(mixture.name)
        assert max(values) - min(values) <= 2


@pytest.mark.parametrize("palette", PALETTES, ids=lambda one: one.name)
def test_no_palette_holds_lead_cadmium_or_cobalt_and_every_paint_has_a_known_drying_time(
    palette: LimitedPalette,
) -> None:
    known = {index for row in PIGMENTS for index in row.indexes}
    plan = Plan(canvases=(Canvas(name="Hall"),), passes=(), palette=palette.paints)

    assert not [one for one in cautions_of(plan) if one.about.startswith(("lead", "cadmium", "cobalt"))]
    assert {paint.pigment for paint in palette.paints} <= known


def test_a_hand_is_nearly_half_of_a_head_s_box() -> None:
    """ANSUR II means (trade facts C2.4, C2.9, C2.11, C2.14): two hands, partly covered, are taken as half a box."""
    man = 193.3 * 88.3 / (HEAD_MAN_MM * 154.3)
    woman = 181.1 * 78.2 / (HEAD_WOMAN_MM * 147.8)

    assert max(man, woman) < FEATURE_NAMED["hands"].area_frac < man + woman


def test_the_estimated_head_on_a_usual_canvas_is_that_of_a_formal_portrait() -> None:
    """Trade facts C3.5: three quarters of life are 177 mm for a man and 167 mm for a woman."""
    assert 167 <= estimated_head_mm(CanvasSize(400, 500), 1) <= 177


def test_a_head_s_box_is_about_two_thirds_as_broad_as_high() -> None:
    """ANSUR II: head breadth 154.3 and 147.8 mm (C2.4) under heads of 236.4 and 222.0 mm (C2.14)."""
    assert pytest.approx(0.659, abs=0.001) == HEAD_WIDTH_FRAC
    assert head_box_cm2(100) == pytest.approx(65.9, abs=0.1)


def test_no_estimated_head_is_above_life_size_or_half_the_canvas() -> None:
    """Trade facts C3.1: no head above life size."""
    assert estimated_head_mm(CanvasSize(5000, 5000), 1) <= 236.4
    assert estimated_head_mm(CanvasSize(5000, 100), 1) == 50
    assert estimated_head_mm(CanvasSize(20, 20), 8) >= 1


def test_four_times_the_area_takes_twice_the_minutes_within_bounds() -> None:
    assert (scaled_min(4, 1), scaled_min(4, 4), scaled_min(8, 0.25)) == (11, 22, 11)
    assert (scaled_min(10, 0.0), scaled_min(10, 1e6)) == (LEAST_MIN, MOST_RUN_MIN)


def test_flesh_hair_clothing_and_ground_cover_a_usual_canvas_about_once() -> None:
    """A single head of a tenth of the canvas: no more than all of it, no less than nine tenths."""
    shares = [(FEATURE_NAMED[name], FEATURE_NAMED[name].area_frac) for name in USUAL_FEATURES]
    covered = sum(share * (0.1 if feature.is_on_head else 1) for feature, share in shares)

    assert 0.9 <= covered <= 1.0
