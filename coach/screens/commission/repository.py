"""What a new commission asks of the disk, and what it is told."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Protocol

from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import Answers
from coach.plan.commission import Plan
from coach.shapes.photo_window import Box

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.shape_map import ShapeMap

    Dots = NDArray[np.uint8]
    Pixels = NDArray[np.float64]


class MadePlan(NamedTuple):
    """A plan ready to be written.

    Attributes:
        plan: The plan.
        shape_map: The shapes of its photo; None where it is not made from them.
        word: Whether its day holds, in a word or two.
        holds: The same in a sentence of at most 14 words.
        headline: The same with its figures.
    """

    plan: Plan
    shape_map: "ShapeMap | None"
    word: str
    holds: str
    headline: str


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

    def photo_size(self, name: str) -> PhotoSize:
        """Return the size of a photo.

        Raises:
            CoachError: It cannot be read.
        """

    def light(self, name: str, box: Box, scale: float) -> "Pixels":
        """Return the linear light of a part of a photo, with so many pixels for one of the photo.

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
