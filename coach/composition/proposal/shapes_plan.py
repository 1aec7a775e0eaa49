"""The plan proposed from the shapes of a photo."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.areas import canvas_cm2
from coach.composition.proposal.block_in import BlockIn
from coach.composition.proposal.mixtures import PileMaker, ProposedPile
from coach.composition.proposal.palette_table import LimitedPalette
from coach.composition.proposal.shape_parts import OnCanvas, parts_of
from coach.composition.proposal.stages import Studio, is_study, staged
from coach.plan.commission import Plan
from coach.plan.value_range import PAINT_REACH, ValueRange
from coach.shapes.shape import Shape

USUAL_VALUES: Final = ValueRange(photo=(0.0, 10.0), paint=PAINT_REACH)
"""All values of a photo fitted into those that paint reaches."""

USUAL_BRUSHES_MM: Final = (3.0, 6.0, 12.0, 25.0)
"""The widths of brush that are proposed. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapesPlan:
    """What is proposed from shapes: the plan, and how narrow its piles are, those of the block-in first."""

    plan: Plan
    piles: tuple[ProposedPile, ...]


def plan_from_shapes(
    frame: Plan,
    shapes: Sequence[Shape],
    on_canvas: OnCanvas,
    palette: LimitedPalette,
) -> ShapesPlan:
    """Return the plan proposed from shapes. Deterministic.

    Two layers, a lean block-in and the finish over it; one layer in a study.

    Args:
        frame: What is agreed: canvases, photo, heads (one at least), values and brushes where they are stated; its
            passes and mixtures do not count. Where no canvas has a size, no area or brush is stated.
        shapes: The shapes of the photo, one at least.
        on_canvas: How the photo comes out on the largest canvas.
        palette: The paints, with recipes for some colours.
    """
    values, brushes_mm = frame.values or USUAL_VALUES, frame.brushes_mm or USUAL_BRUSHES_MM
    largest_cm2 = max((canvas_cm2(canvas.size) for canvas in frame.canvases if canvas.size is not None), default=None)
    finish, meetings = parts_of(shapes, frame.heads, on_canvas)
    maker, block_in = PileMaker(values, palette), None
    if not is_study(finish):
        block_in = BlockIn(finish, meetings)
        block_in.parts = maker.block_in(block_in.parts)
    finish = maker.finish(finish)
    tone = min(maker.piles, key=lambda pile: abs(pile.lab[0] - _MIDDLE_L) + 100 * (pile.mixture.oil != "lean"))
    studio = Studio(
        values=values,
        brushes_mm=tuple(sorted(brushes_mm)) if largest_cm2 else (),
        canvas_cm2=largest_cm2,
        line_cm=sum(edge.cm for touched in meetings.values() for edge in touched.values()) / 2,
        tone=tone.mixture.name,
    )
    plan = frame._replace(
        passes=staged(finish, meetings, block_in, studio),
        mixtures=tuple(pile.mixture for pile in maker.piles),
        palette=palette.paints,
        values=values,
        brushes_mm=brushes_mm,
    )
    return ShapesPlan(plan=plan, piles=tuple(maker.piles))


_MIDDLE_L: Final = 50.0
