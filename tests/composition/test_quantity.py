"""Paint from area and film, against trade-checks.md 70 to 79 and hand-worked plans."""

from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.areas import areas_of, heads_on_canvases
from coach.composition.photo_boxes import CompositionError, PhotoSize
from coach.composition.piles import least_ml
from coach.composition.quantity import quantities_of, rounded, tubes_for, volume_ml
from coach.errors import UsageError
from coach.plan.commission import Paint, Plan
from coach.plan.reading import read_plan

SQUARE_INCH_CM2: Final = 2.54**2
SQUARE_FOOT_CM2: Final = 30.48**2
GALLON_ML: Final = 231 * 2.54**3
FLUID_OUNCE_ML: Final = GALLON_ML / 128


TWO_CANVASES = "[{name: Hall, size: 16 x 20 in}, {name: School, size: 16 x 20 in}]"
HEADS_200 = [{"Anna": 200.0}, {"Anna": 200.0}]
"""The head on each of two canvases."""
RECIPES = "mixtures: [{name: flesh, parts: {white: 3, ochre: 1}}, {name: dark, parts: {umber: 1}}]\n"


def plan(passes: str, *, canvases: str = TWO_CANVASES, recipes: str = RECIPES) -> Plan:
    text = f"canvases: {canvases}\npalette: [white, ochre, umber]\n{recipes}passes: {passes}\n"
    return read_plan(text, "plan.yaml")


@pytest.mark.parametrize(
    ("cm2", "film_um", "ml"),
    [
        (100, 100, 1),  # 70
        (10_000, 1000, 1000),  # 71, printed by a coatings supplier
        (2064.51, 100, 20.65),  # 72
        (1604.17 * SQUARE_FOOT_CM2, 25.4, GALLON_ML),  # 76, printed on two coatings pages: 1 gallon at 1 mil
        (52_000, 125 / 0.65, 1000),  # 77, printed 5.2 m2 to the litre, 65 % solids, 125 um dry
        (155_560, 18 / 0.28, 1000),  # 78, printed 15.55 (cut off), 28 % solids, 18 um dry
        (25 * SQUARE_INCH_CM2, 1834, FLUID_OUNCE_ML),  # 79, a claim that is not to be used: nearly 2 mm
    ],
)
def test_a_volume_is_area_times_film(cm2: float, film_um: float, ml: float) -> None:
    assert volume_ml(cm2, film_um) == pytest.approx(ml, rel=5e-4)


def test_three_layers_on_two_canvases_with_waste() -> None:
    """trade-checks.md 73: 154.8 mL, 5 tubes of 37 mL."""
    whole = plan("[{name: ground, passages: [{name: all, area: 320 in2, mixture: dark}]}]")
    found = quantities_of(whole, layers=3)

    assert found.mixtures[0].ml == pytest.approx(154.8, abs=0.05)
    assert (found.paints[0].paint, found.paints[0].tubes) == ("umber", 5)
    assert not found.paints[0].estimate


def test_the_cost_is_that_of_what_is_used_and_that_of_whole_tubes() -> None:
    """trade.md D11 on check 73: 154.84 mL of 37 at 7.50 are 31.39, five tubes 37.50; a paint without price has none."""
    whole = plan("[{name: ground, passages: [{name: all, area: 320 in2, mixture: dark}]}]")
    priced = whole._replace(palette=(Paint(name="umber", price=7.5), Paint(name="white", price=9.0)))
    found = rounded(quantities_of(priced, layers=3))
    unpriced = quantities_of(whole, layers=3)

    assert (found.used_cost, found.tubes_cost) == (31.39, 37.5)
    assert [(one.used_cost, one.tubes_cost) for one in found.paints] == [(31.39, 37.5)]
    assert (unpriced.used_cost, unpriced.tubes_cost, unpriced.paints[0].tubes_cost) == (None, None, None)


def test_tubes_are_rounded_up_and_a_full_one_is_one() -> None:
    assert [tubes_for(ml) for ml in (0.1, 37.0, 37.1, 74.0)] == [1, 1, 2, 2]
    assert tubes_for(1.1 * 3, 3.3) == 1  # 1.1 * 3 is a little more than 3.3 in binary


def test_one_pile_of_a_mixture_before_each_pass_serves_all_canvases() -> None:
    whole = plan(
        "[{name: nose, passages: [{name: a, area: 100 cm2, mixture: flesh}, {name: b, area: 300 cm2, mixture: flesh},"
        " {name: c, area: 50 cm2, mixture: dark}]},"
        " {name: mouth, passages: [{name: d, area: 200 cm2, mixture: flesh}]}]"
    )
    found = quantities_of(whole, waste_frac=0)

    # 100 um: 1 ml covers 100 cm2; two canvases.
    assert {(p.before, p.mixture): p.ml for p in found.piles} == pytest.approx(
        {("nose", "flesh"): 8, ("nose", "dark"): 1, ("mouth", "flesh"): 4}
    )
    assert found.mixtures[0].paints_ml == pytest.approx({"white": 9, "ochre": 3})
    assert {p.paint: p.ml for p in found.paints} == pytest.approx({"white": 9, "ochre": 3, "umber": 1})
    assert [p.tubes for p in found.paints] == [1, 1, 1]


@pytest.mark.parametrize(
    ("parts", "ml"),
    [
        ("{white: 1}", 1),
        ("{white: 3, ochre: 1}", 1),
        ("{white: 8, ochre: 1}", 2.25),
        ("{white: 24, ochre: 2, umber: 1}", 6.75),
    ],
)
def test_no_pile_is_under_1_ml_and_no_part_of_it_under_a_quarter(parts: str, ml: float) -> None:
    """0.25 ml of the smallest part: 9 parts are 2.25 ml, 27 are 6.75 ml."""
    whole = plan(
        "[{name: eyes, passages: [{name: a, area: 1 cm2, mixture: m}]}]",
        recipes=f"mixtures: [{{name: m, parts: {parts}}}]\n",
    )
    (pile,) = quantities_of(whole).piles

    assert (pile.ml, least_ml(whole, "m")) == pytest.approx((ml, ml))
    assert pile.needed_ml == pytest.approx(0.025)
    assert min(pile.paints_ml.values()) >= 0.25
    assert sum(pile.paints_ml.values()) == pytest.approx(ml)


SMALL_ONES = """
mixtures:
  - {name: shadow, parts: {umber: 2, ochre: 1}}
  - {name: middle, parts: {white: 2, ochre: 1, umber: 1}}
  - {name: light, parts: {white: 4, ochre: 1}}
  - {name: glint, parts: {white: 6, ochre: 1}}
  - {name: blue, parts: {blue: 1, white: 1}}
"""


WITHOUT_BLUE = SMALL_ONES[: SMALL_ONES.index("  - {name: blue")]


def joined(passages: str) -> tuple[dict[str | None, tuple[str, ...]], tuple[str, ...]]:
    """Return each pile of a pass with the mixtures it serves besides its own, and what is said."""
    head = f"canvases: [Hall]\npalette: [white, ochre, umber, blue]\n{SMALL_ONES}"
    text = f"{head}passes: [{{name: nose, passages: [{passages}]}}]"
    found = quantities_of(read_plan(text, "plan.yaml"), waste_frac=0)
    assert sum(pile.cm2 for pile in found.piles) == pytest.approx(sum(need.cm2 for need in found.mixtures))
    return {pile.mixture: pile.also_for for pile in found.piles}, found.remarks


def test_a_small_pile_is_painted_from_the_nearest_in_value_and_that_is_said() -> None:
    piles, said = joined(
        "{name: a, area: 20 cm2, value: 6, mixture: middle}, {name: b, area: 300 cm2, value: 7, mixture: light},"
        "{name: c, area: 90 cm2, value: 5, mixture: middle}, {name: d, area: 2 cm2, value: 8, mixture: glint}"
    )

    assert piles == {"middle": (), "light": ("glint",)}
    assert said == ("nose: too little to mix: glint from light, made lighter",)


def test_small_piles_of_near_values_make_one() -> None:
    piles, said = joined(
        "{name: a, area: 30 cm2, value: 6, mixture: middle}, {name: b, area: 40 cm2, value: 7, mixture: light}"
    )

    assert piles == {"light": ("middle",)}
    assert said == ("nose: too little to mix: middle from light, made darker",)


def test_every_value_that_a_pile_serves_is_near_it() -> None:
    """Middle (6) alone would join light (7); shadow (5.2), which it serves, is too far off that, and so it stays."""
    piles, _ = joined(
        "{name: a, area: 10 cm2, value: 5.2, mixture: shadow}, {name: b, area: 20 cm2, value: 6, mixture: middle},"
        "{name: c, area: 300 cm2, value: 7, mixture: light}"
    )

    assert piles == {"middle": ("shadow",), "light": ()}


def test_without_values_the_neighbour_s_pile_serves_and_a_far_value_never_does() -> None:
    beside, _ = joined("{name: a, area: 300 cm2, mixture: light}, {name: b, area: 5 cm2, mixture: middle, beside: a}")
    apart, _ = joined("{name: a, area: 300 cm2, mixture: light}, {name: b, area: 5 cm2, mixture: middle}")
    far, _ = joined(
        "{name: a, area: 300 cm2, value: 5, mixture: middle},"
        " {name: b, area: 5 cm2, value: 9, mixture: glint, beside: a}"
    )

    assert beside == {"light": ("middle",)}
    assert apart == {"light": (), "middle": ()}
    assert far == {"middle": (), "glint": ()}


def test_paint_of_another_hue_is_mixed_however_little_it_is() -> None:
    """Blue and white has half of its paint in common with light, a third at most with shadow."""
    piles, _ = joined(
        "{name: a, area: 300 cm2, value: 3, mixture: shadow},"
        " {name: b, area: 5 cm2, value: 3, mixture: blue, beside: a}"
    )

    assert piles == {"shadow": (), "blue": ()}


def test_what_the_plan_leaves_out_of_a_pass_is_estimated_and_marked() -> None:
    """A nose is a tenth of a head of 200 cm2: 20 cm2, of which 8 are stated; two passages share the other 12."""
    whole = plan(
        "[{name: nose, passages: [{name: a, area: 8 cm2, mixture: dark}, {name: b, mixture: flesh},"
        " {name: c, mixture: flesh}]}]"
    )
    areas = areas_of(whole, HEADS_200)
    found = rounded(quantities_of(whole, heads=HEADS_200, layers=10))

    assert [(area.cm2, area.is_estimate) for area in areas] == [(16, False), (12, True), (12, True)]
    assert [(one.paint, one.ml, one.estimate) for one in found.paints] == [
        ("white", 2.2, True),
        ("ochre", 0.8, True),
        ("umber", 2.0, False),
    ]


def test_a_pass_that_is_full_gives_its_other_passages_the_least_that_is_stated() -> None:
    whole = plan("[{name: nose, passages: [{name: a, area: 30 cm2}, {name: b, area: 10 cm2}, c]}]")

    assert areas_of(whole, HEADS_200)[2].cm2 == 2 * 10


def test_each_feature_of_a_pass_has_its_own_share() -> None:
    """Of 500 cm2 a collar is 0.03 and the ground 0.45, neither of them a third; hair is 0.35 of a head of 50 cm2."""
    canvas = "[{name: Panel, size: 20 x 25 cm}]"
    stated = "[{name: hair and ground, passages: [{name: hair, area: 20 cm2}, {name: ground, area: 300 cm2}, collar]}]"
    open_ones = "[{name: hair and ground, passages: [hair, ground, collar]}]"

    assert [one.cm2 for one in areas_of(plan(stated, canvases=canvas))] == pytest.approx([20, 300, 15])
    assert [one.cm2 for one in areas_of(plan(open_ones, canvases=canvas))] == pytest.approx([17.5, 225, 15])


MARKED = "{name: elder, box: [1500, 1200, 2200, 2100]}, {name: younger, box: [2500, 1200, 3200, 1650]}"


def test_the_heads_that_the_plan_marks_are_measured_on_each_canvas() -> None:
    """trade-checks.md 57: 98.4 px to the centimetre; 700 x 900 px are 7.11 x 9.14 cm, 700 x 450 half of that."""
    passes = "[{name: younger nose, passages: [a]}, {name: nose, passages: [b]}]"
    text = f"canvases: {TWO_CANVASES}\nphoto: p.png\nheads: [{MARKED}]\npasses: {passes}"
    whole = read_plan(text, "plan.yaml")
    heads = heads_on_canvases(whole, PhotoSize(width_px=4000, height_px=6000))

    assert heads == [pytest.approx({"elder": 65.03, "younger": 32.52}, abs=0.01)] * 2
    assert [one.cm2 for one in areas_of(whole, heads)] == pytest.approx([2 * 3.25, 2 * 9.75], abs=0.01)
    with pytest.raises(CompositionError, match="lies outside the photo"):
        heads_on_canvases(whole, PhotoSize(width_px=400, height_px=600))


def test_large_heads_leave_less_room_for_the_ground() -> None:
    """Of 2064.5 cm2 a tenth is the usual head; a head of half the canvas leaves 0.5 where 0.9 would be."""
    whole = plan("[{name: ground, passages: [a]}]", canvases="[{name: Hall, size: 16 x 20 in}]")

    assert areas_of(whole, [{"Anna": 1032.26}])[0].cm2 == pytest.approx(2064.51 * 0.45 * 0.5 / 0.9, abs=0.05)


def test_background_and_clothing_are_shares_of_each_canvas() -> None:
    whole = plan(
        "[{name: background, passages: [a]}, {name: clothing, passages: [b]}, {name: beard, passages: [c]}]",
        canvases="[{name: Hall, size: 40 x 50 cm}, {name: School, size: 20 x 30 cm}]",
    )

    assert [area.cm2 for area in areas_of(whole)] == pytest.approx([2600 * 0.45, 2600 * 0.35, 2600 * 0.1 * 0.12])


def test_a_pass_of_several_features_has_the_shares_of_all() -> None:
    """Nose and mouth: 0.10 and 0.06 of a head of 200 cm2; hair and ground: 0.35 of it and 0.45 of 2000 cm2.

    What is no known feature has a tenth of the head.
    """
    whole = plan(
        "[{name: elder nose and mouth, passages: [a]}, {name: hair and ground, passages: [b]},"
        " {name: eyebrows, passages: [c]}, {name: scarf, passages: [d]}]",
        canvases="[{name: Hall, size: 40 x 50 cm}]",
    )

    assert [area.cm2 for area in areas_of(whole, heads=HEADS_200)] == pytest.approx([32, 70 + 900, 6, 20])


def test_without_any_size_nothing_is_made_up() -> None:
    whole = plan("[{name: nose, passages: [{name: a, area: 10 cm2, mixture: dark}, b]}]", canvases="[Hall]")
    found = quantities_of(whole)

    assert [(one.pass_, one.passage) for one in found.uncounted] == [("nose", "b")]
    assert [need.mixture for need in found.mixtures] == ["dark"]


def test_a_paint_used_by_itself_and_a_mixture_without_recipe() -> None:
    passages = "[{name: a, area: 100 cm2, mixture: white}, {name: b, area: 1 cm2}, {name: c, area: 1 cm2, mixture: x}]"
    found = quantities_of(plan(f"[{{name: nose, passages: {passages}}}]", recipes=""), waste_frac=0)

    assert {need.mixture: need.paints_ml for need in found.mixtures} == {"white": {"white": 2}, None: {}, "x": {}}
    assert [paint.paint for paint in found.paints] == ["white"]


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ({"layers": 0}, "in 1 to 100 layers"),
        ({"layers": 10**400}, "in 1 to 100 layers"),
        ({"waste_frac": -0.1}, "waste is 0 to 500 %"),
        ({"waste_frac": float("nan")}, "waste is 0 to 500 %"),
        ({"waste_frac": float("inf")}, "waste is 0 to 500 %"),
        ({"tube_ml": 0.0}, "a tube holds 1 to 1000 ml"),
        ({"tube_ml": float("inf")}, "a tube holds 1 to 1000 ml"),
    ],
)
def test_figures_that_cannot_be_are_refused(bad: dict[str, float], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        quantities_of(plan("[{name: nose, passages: [a]}]"), **bad)  # type: ignore[arg-type]


@given(
    st.lists(
        st.tuples(st.integers(1, 400), st.integers(0, 10), st.sampled_from(["shadow", "middle", "light"])),
        min_size=1,
        max_size=6,
    )
)
def test_what_is_mixed_covers_what_is_laid_on_and_the_sums_agree(passages: list[tuple[int, int, str]]) -> None:
    listed = (f"{{name: p{n}, area: {cm2} cm2, value: {v}, mixture: {m}}}" for n, (cm2, v, m) in enumerate(passages))
    whole = plan(f"[{{name: nose, passages: [{', '.join(listed)}]}}]", recipes=WITHOUT_BLUE)
    found = quantities_of(whole)
    laid_ml = sum(cm2 for cm2, _, _ in passages) * 2 / 100

    assert sum(pile.needed_ml for pile in found.piles) == pytest.approx(laid_ml * 1.25)
    assert all(pile.ml >= max(pile.needed_ml, least_ml(whole, pile.mixture)) for pile in found.piles)
    assert sum(pile.ml for pile in found.piles) == pytest.approx(sum(need.ml for need in found.mixtures))
    assert sum(paint.ml for paint in found.paints) == pytest.approx(sum(sum(p.paints_ml.values()) for p in found.piles))
    served = [name for pile in found.piles for name in (pile.mixture, *pile.also_for)]
    assert sorted(map(str, served)) == sorted({mixture for *_, mixture in passages})
