"""The plan's photo as the screens show it: the part that is painted, scaled to a moderate size, with its shapes."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from coach.composition.crop import painted_crop
from coach.errors import CoachError
from coach.plan.commission import MarkedHead, Plan
from coach.shapes.features import HeadBox
from coach.shapes.outlines import Ring
from coach.store.photo import photo_size, read_linear_light

if TYPE_CHECKING:
    from coach.shapes.reference import Reference


def load_reference(plan_path: Path, plan: Plan) -> "Reference | None":
    """Return the plan's photo ready to be shown; None where the plan names no photo. It takes time: ask in a thread.

    Shapes that cannot be read are left out: the whole photo is shown then.

    Args:
        plan_path: The plan's file; photo and shapes lie beside it.
        plan: What it says.

    Raises:
        PhotoFileError: The photo cannot be read; the sentence says why.
    """
    from coach.shapes.photo_light import moderate_scale  # noqa: PLC0415  loaded with the first picture
    from coach.shapes.reference import Reference  # noqa: PLC0415  the same
    from coach.shapes.shape import Picture  # noqa: PLC0415  the same

    if plan.photo is None:
        return None
    path = plan_path.with_name(plan.photo)
    crop = painted_crop(plan, photo_size(path))
    box = (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px)
    scale = moderate_scale(crop.width_px * crop.height_px)
    linear = read_linear_light(path, box, scale, is_shown=True)
    picture = Picture(linear=linear, left_px=crop.left_px, top_px=crop.top_px, scale=scale)
    return Reference(picture, _outlines(plan_path, plan), head_boxes(plan.heads))


def head_boxes(heads: Iterable[MarkedHead]) -> list[HeadBox]:
    """Return heads that are marked in a photo as the shapes know them."""
    return [
        HeadBox(
            name=head.name,
            left=head.box.left_px,
            top=head.box.top_px,
            right=head.box.right_px,
            bottom=head.box.bottom_px,
        )
        for head in heads
    ]


def _outlines(plan_path: Path, plan: Plan) -> Mapping[str, tuple[Ring, ...]]:
    from coach.store.shape_file import load_shapes  # noqa: PLC0415  loaded with the first picture

    if plan.shapes is not None:
        with suppress(CoachError):
            shape_map = load_shapes(plan_path, plan.shapes, None).shape_map
            return {shape.id: shape.outline for shape in shape_map.shapes}
    return {}
