"""What a new commission asks of the disk, and what it is told."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Protocol

from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import Answers
from coach.plan.commission import MarkedBox, Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.shape_map import ShapeMap

    Dots = NDArray[np.uint8]


class ShownPhoto(NamedTuple):
    """A photo as it is shown.

    Attributes:
        dots: sRGB of its dots, shape (2 x rows, columns, 3).
        size: Its size.
        heads: Boxes of the heads that a detector finds, from left to right, one for each sitter; empty where it finds
            fewer.
    """

    dots: "Dots"
    size: PhotoSize
    heads: tuple[MarkedBox, ...]


class MadePlan(NamedTuple):
    """A plan ready to be written.

    Attributes:
        plan: The plan.
        shape_map: The shapes of its photo; None where it is not made from them.
        holds: Whether its day holds, in a sentence.
    """

    plan: Plan
    shape_map: "ShapeMap | None"
    holds: str


class CommissionRepository(Protocol):
    """Where answers are kept, photos are seen and plans are written; all but the names is asked from threads."""

    def keep(self, plain: Mapping[str, str]) -> None:
        """Keep what was said; it is on the disk when this returns.

        Raises:
            CoachError: It cannot be kept.
        """

    def proposed_name(self, commission: str) -> str:
        """Return a name for the file of a commission."""

    def free_name(self, typed: str) -> str:
        """Return the typed name if a new file can have it, else the next that one can have."""

    def photo(self, name: str, sitters: int, columns: int, rows: int) -> ShownPhoto:
        """Return a photo in so many cells, and the heads found in it.

        Raises:
            CoachError: It cannot be read.
        """

    def made(self, answers: Answers, columns: int, rows: int) -> "Iterator[Dots | MadePlan]":
        """Yield the photo with its shapes as they come, where there is one to be seen, and at last the plan.

        Raises:
            CoachError: The photo cannot be read, or a head cannot be in it.
        """

    def write(self, name: str, made: MadePlan) -> Path:
        """Write a plan in a new file, with its shapes, and return where.

        Raises:
            CoachError: It cannot be written, or is no sound plan today.
        """
