"""Canvases with their crops, and the paint of a plan, as rows and sentences for printing."""

from collections.abc import Sequence
from typing import Final

from coach.composition.choices import Choice, rule_of
from coach.composition.life_size import life_percent, yardstick_lines
from coach.composition.placed_heads import EDGES, PlacedHead
from coach.composition.quantity import Quantities

CHOICE_COLUMNS: Final = ("canvas", "head_cm", "life_%", "lost", "px/cm", "crop")
"""Columns of the table of canvases.

Heads are parted by "/"; per cent of life is of a man's and of a woman's mean head; lost is the share of the photo cut
away; the crop is left,top and width x height in pixels of the photo.
"""

MIXTURE_COLUMNS: Final = ("before", "mixture", "cm2", "ml", "area")
"""Columns of the table of what to mix before which pass."""

PAINT_COLUMNS: Final = ("paint", "ml", "tubes", "area")
"""Columns of the table of paints."""

TOLD: Final = 3
"""For so many canvases, the best ones, the room about the heads and the warnings are printed."""


def choice_rows(choices: Sequence[Choice]) -> list[tuple[str, ...]]:
    """Return one row of texts under `CHOICE_COLUMNS` for each choice."""
    return [
        (
            _name(choice),
            "/".join(f"{head.height_mm / 10:.1f}" for head in choice.heads),
            "/".join(_percent(head.height_mm) for head in choice.heads),
            f"{100 * choice.photo_lost_frac:.0f} %",
            f"{choice.scale_px_per_cm:.1f}",
            f"{choice.crop.left_px},{choice.crop.top_px} {choice.crop.width_px}x{choice.crop.height_px}",
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
        for sentence in (*map(_placing, choice.heads), *choice.warnings)
    ]
    return [*remarks, *told, rule_of(life_frac), *yardstick_lines()]


def mixture_rows(found: Quantities) -> list[tuple[str, ...]]:
    """Return one row of texts under `MIXTURE_COLUMNS` for each pile, which serves all canvases."""
    return [
        (pile.pass_name, pile.mixture or "none named", f"{pile.cm2:.0f}", _ml(pile.ml), _how(pile.is_estimate))
        for pile in found.piles
    ]


def paint_rows(found: Quantities) -> list[tuple[str, ...]]:
    """Return one row of texts under `PAINT_COLUMNS` for each paint."""
    return [(paint.paint, _ml(paint.ml), str(paint.tubes), _how(paint.is_estimate)) for paint in found.paints]


def quantity_lines(found: Quantities) -> list[str]:
    """Return what the figures leave out, in sentences."""
    unknown = [f"{pass_name}: {passage}" for pass_name, passage in found.uncounted]
    left_out = [f"not counted, for no area and no size of a canvas is stated: {', '.join(unknown)}"] if unknown else []
    unsplit = [need.mixture for need in found.mixtures if need.mixture is not None and not need.paints_ml]
    no_recipe = [f"without a recipe, so not split into paints: {', '.join(unsplit)}"] if unsplit else []
    return [*left_out, *no_recipe, f"a tube holds {found.tube_ml:g} ml; one pile of each mixture serves all canvases"]


def _name(choice: Choice) -> str:
    return f"{choice.canvas.name}, {choice.direction}"


def _placing(head: PlacedHead) -> str:
    room = ", ".join(f"{edge} {room / 10:.1f}" for edge, room in zip(EDGES, head.margins_mm, strict=True))
    return f"{head.name}'s eyes {head.eye_line_mm / 10:.1f} cm below the top edge; room to the edges: {room} cm"


def _percent(head_mm: float) -> str:
    percent = life_percent(head_mm)
    return f"{percent.man:.0f}-{percent.woman:.0f}"


def _ml(ml: float) -> str:
    return f"{ml:.1f}" if ml >= 0.1 else "under 0.1"  # noqa: PLR2004 - the last figure that is printed


def _how(is_estimate: bool) -> str:
    return "estimate" if is_estimate else "stated"
