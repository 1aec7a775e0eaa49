"""Large shapes cut into pieces, each of which is painted in one go."""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.composition.proposal.parts import MOST_RUN_MIN
from coach.composition.proposal.shape_parts import OnCanvas
from coach.shapes.features import HeadBox
from coach.shapes.seeing import see, shape_labels
from coach.shapes.shape import Apart, Picture, measured

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]

_PIECE_MIN: Final = 30
"""A large shape is cut into pieces of about so much: the new edges take time too. Source: ours, no other."""

_COARSE: Final = (8, 20)
"""So many shapes of a head are shown first; ours."""

_ROUNDS: Final = 4
"""So often pieces that still take too long are cut again, each time into one piece more."""

_LEAST_PIECE_FRAC: Final = 0.25
"""Of two pieces none is smaller than this part of a half; ours."""


def stages_to_paint(
    picture: Picture, heads: Sequence[HeadBox], count: int, on_canvas: OnCanvas
) -> "Iterator[tuple[Labels, Apart | None]]":
    """Yield a picture as it is taken apart: large shapes, finer ones, and at last those that are painted, measured.

    Shapes that take longer than `MOST_RUN_MIN` are cut into pieces.

    Args:
        picture: What is taken apart.
        heads: The heads in pixels of the photo, one at least.
        count: How many shapes, before large ones are cut.
        on_canvas: How the photo comes out on the canvas.
    """
    boxes = [picture.head(head) for head in heads]
    seen = see(picture.linear, boxes)
    for each_head in _COARSE:
        if each_head * len(boxes) < count:
            yield shape_labels(seen, each_head * len(boxes)), None
    labels = shape_labels(seen, count)
    yield labels, None
    apart = measured(picture, seen, labels, boxes)
    for more in range(_ROUNDS):
        minutes = [on_canvas.shape_minutes(shape) for shape in apart.shapes]
        if max(minutes) <= MOST_RUN_MIN:
            break
        pieces = [ceil(own / _PIECE_MIN) + more if own > MOST_RUN_MIN else 1 for own in minutes]
        apart = measured(picture, seen, _cut(apart.labels, pieces), boxes)
    yield apart.labels, apart


def _cut(labels: "Labels", pieces: Sequence[int]) -> "Labels":
    """Return labels in which each shape stands in about so many pieces of one size, each of one piece."""
    from scipy.ndimage import find_objects  # noqa: PLC0415  loaded when a photo is taken apart
    from skimage.segmentation import slic  # noqa: PLC0415

    found, last = labels.copy(), len(pieces) - 1
    for label, window in enumerate(find_objects(labels + 1)):
        if pieces[label] > 1:
            mask = labels[window] == label
            own = slic(
                np.zeros(mask.shape),
                n_segments=pieces[label],
                compactness=1,
                mask=mask,
                start_label=1,
                channel_axis=None,
                min_size_factor=_LEAST_PIECE_FRAC,
            )
            found[window][own > 1] = last + own[own > 1] - 1
            last = int(found.max())
    return found
