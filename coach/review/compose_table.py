"""Canvases with their crops, and the paint of a plan, as rows and sentences for printing."""

from collections.abc import Sequence
from typing import Final

from coach.composition.choices import Choice, rule_of
from coach.composition.crop import EDGES, PlacedHead
from coach.composition.life_size import HEAD_MAN_MM, HEAD_WOMAN_MM, yardstick_lines
from coach.composition.piles import LEAST_PART_ML, LEAST_PILE_ML, MixtureNeed
from coach.composition.quantity import Quantities
from coach.composition.setup_cautions import STANDING, Caution
from coach.text import counted

CHOICE_COLUMNS: Final = ("canvas", "head_cm", "man_%", "woman_%", "lost", "px/cm")
"""Columns of the table of canvases; what they mean is said under it."""

_MEANT: Final = (
    "Head: chin to crown on the canvas, and in per cent of a man's and of a woman's mean head. Lost: the part of the "
    "photo that is cut away. Crop: left,top and width x height in pixels of the photo."
)

MIXTURE_COLUMNS: Final = ("mixture", "cm2", "ml", "paints_in_ml", "area")
"""Columns of the table of what the whole work takes of each mixture."""

PILE_COLUMNS: Final = ("before", "mixture", "takes", "mix_ml", "parts_in_ml", "area")
"""Columns of the table of what to mix before which pass."""

PAINT_COLUMNS: Final = ("paint", "ml", "tubes", "area")
"""Columns of the table of paints."""

COST_COLUMNS: Final = ("used_cost", "tubes_cost")
"""Further columns of it where the palette has prices."""

_APART: Final = 2
"""So many heads are told apart in a cell; of more, the smallest and the largest are told."""

TOLD: Final = 3
"""For so many canvases, the best ones, the room about the heads and the warnings are printed."""


def choice_rows(choices: Sequence[Choice]) -> list[tuple[str, ...]]:
    """Return one row of texts under `CHOICE_COLUMNS` for each choice."""
    return [
        (
            _name(choice),
            _heights(choice.heads, 10, digits=1),
            _heights(choice.heads, HEAD_MAN_MM / 100, digits=0),
            _heights(choice.heads, HEAD_WOMAN_MM / 100, digits=0),
            f"{100 * choice.photo_lost_frac:.0f} %",
            f"{choice.scale_px_per_cm:.1f}",
        )
        for choice in choices
    ]


def choice_lines(
    choices: Sequence[Choice], *, life_frac: float | None = None, remarks: Sequence[str] = ()
) -> list[str]:
    """Return the remarks, what is to be known of the best choices, the rule and the yardstick, in sentences."""
    told = [
        f"{_name(choice)}: {sentence}"
        for choice in choices[:TOLD]
        for sentence in (*_placings(choice), *choice.warnings)
    ]
    return [*remarks, *told, _MEANT, rule_of(life_frac), *yardstick_lines()]


def mixture_rows(found: Quantities) -> list[tuple[str, ...]]:
    """Return one row of texts under `MIXTURE_COLUMNS` for each mixture."""
    return [
        (need.mixture or "none named", _area(need.cm2), _ml(need.ml), _split(need), _how(need.estimate))
        for need in found.mixtures
    ]


def pile_rows(found: Quantities) -> list[tuple[str, ...]]:
    """Return one row of texts under `PILE_COLUMNS` for each pile, which serves all canvases."""
    return [
        (
            pile.before,
            pile.mixture or "none named",
            _ml(pile.needed_ml),
            _ml(pile.ml),
            _split(pile),
            _how(pile.estimate),
        )
        for pile in found.piles
    ]


def paint_rows(found: Quantities) -> list[tuple[str, ...]]:
    """Return one row of texts under `PAINT_COLUMNS`, and `COST_COLUMNS` where there are prices, for each paint."""
    costs = [(paint.used_cost, paint.tubes_cost) if found.tubes_cost is not None else () for paint in found.paints]
    return [
        (paint.paint, _ml(paint.ml), str(paint.tubes), _how(paint.estimate), *map(_money, cost))
        for paint, cost in zip(found.paints, costs, strict=True)
    ]


def quantity_lines(found: Quantities) -> list[str]:
    """Return what the piles serve, what the figures leave out and what they are reckoned with, in sentences."""
    unknown = [f"{one.pass_}: {one.passage}" for one in found.uncounted]
    left_out = (
        [f"Not counted, as the plan states neither area nor size of canvas: {', '.join(unknown)}."] if unknown else []
    )
    unsplit = [need.mixture for need in found.mixtures if need.mixture is not None and not need.paints_ml]
    no_recipe = [f"Without a recipe, so not split into paints: {', '.join(unsplit)}."] if unsplit else []
    guessed = ["Estimate: the plan states no area, so the usual share of the head or the canvas stands for it."]
    unpriced = [paint.paint for paint in found.paints if paint.tubes_cost is None]
    cost = [f"Cost: {_money(found.used_cost)} as used, {_money(found.tubes_cost)} in whole tubes."]
    cost = cost if found.tubes_cost is not None else []
    no_price = [f"Without a price: {', '.join(unpriced)}."] if cost and unpriced else []
    reckoned = (
        f"Reckoned with {counted(found.layers, 'layer')} of {found.film_um:g} µm, {found.waste_percent:g} % mixed on "
        f"top for brush and palette, and tubes of {found.tube_ml:g} ml. One pile of a mixture serves all canvases; "
        f"none is under {LEAST_PILE_ML:g} ml, and no paint in it under {LEAST_PART_ML:g} ml. What is left keeps until "
        "the next day under film in the cold."
    )
    return [
        *found.remarks,
        *left_out,
        *no_recipe,
        *cost,
        *no_price,
        *(guessed if any(pile.estimate for pile in found.piles) else []),
        reckoned,
    ]


def caution_lines(cautions: Sequence[Caution]) -> list[str]:
    """Return the cautions, each with its source, and the standing sentence."""
    return [*(f"{one.about}: {one.says} (Source: {one.source}.)" for one in cautions), STANDING]


def _name(choice: Choice) -> str:
    return f"{choice.canvas.name}, {choice.direction}"


def _heights(heads: Sequence[PlacedHead], unit_mm: float, *, digits: int) -> str:
    heights = [head.height_mm / unit_mm for head in heads]
    ends, between = ([min(heights), max(heights)], "–") if len(heights) > _APART else (heights, "/")
    return between.join(f"{height:.{digits}f}" for height in ends)


def _placings(choice: Choice) -> list[str]:
    """Return the crop and where the heads lie; of one that is cut, the warning says all there is to say."""
    whole = [head for head in choice.heads if min(head.margins_mm) >= 0]
    crop = choice.crop
    shown = f"crop {crop.left_px},{crop.top_px} {crop.width_px} x {crop.height_px} px"
    area = f"; the boxes of the heads cover {choice.heads_cm2:.0f} cm2" if choice.heads else ""
    return [f"{shown}{area}", *map(_placing, whole)]


def _placing(head: PlacedHead) -> str:
    room = ", ".join(f"{edge} {room / 10:.1f}" for edge, room in zip(EDGES, head.margins_mm, strict=True))
    return f"{head.name}'s eyes {head.eye_line_mm / 10:.1f} cm below the top edge; room to the edges: {room} cm"


def _split(need: MixtureNeed) -> str:
    return ", ".join(f"{paint} {_ml(ml)}" for paint, ml in need.paints_ml.items())


def _area(cm2: float) -> str:
    return f"{cm2:.0f}" if cm2 >= 10 else f"{cm2:.1f}"  # noqa: PLR2004 - two figures tell enough of an area


def _ml(ml: float) -> str:
    return f"{ml:.1f}" if ml >= 1 else f"{ml:.2f}"


def _money(amount: float | None) -> str:
    return "" if amount is None else f"{amount:.2f}"


def _how(is_estimate: bool) -> str:
    return "estimate" if is_estimate else "stated"
