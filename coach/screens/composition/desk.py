"""What the Composition screen asks of the disk."""

from typing import NamedTuple, Protocol

from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.screens.composition.marks import Cells


class Marked(NamedTuple):
    """What a plan says of its photo."""

    photo: str | None = None
    heads: tuple[MarkedHead, ...] = ()
    keeps: tuple[MarkedBox, ...] = ()


class Sitter(NamedTuple):
    """A plan's photo as it was found.

    Attributes:
        written: What the plan's file says of its photo.
        sizes: The sizes of the plan's canvases, each once.
        photo: Name of the photo that was looked for: the plan's, or another one that was asked for; None for none.
        size: Size of the photo; None where there is none, or it cannot be read.
        fault: Why it cannot be read; or empty.
    """

    written: Marked
    sizes: tuple[CanvasSize, ...]
    photo: str | None = None
    size: PhotoSize | None = None
    fault: str = ""


class PictureDesk(Protocol):
    """Where the screen finds the photo, and where marks are kept; it is asked from threads."""

    def sitter(self, photo: str | None) -> Sitter:
        """Return the plan's photo, or another one beside the plan, with what the plan marks.

        Raises:
            CoachError: The plan cannot be read.
        """

    def half_blocks(self, photo: str, columns: int, rows: int) -> Cells:
        """Return a photo in so many cells.

        Raises:
            CoachError: It cannot be read.
        """

    def write(self, before: Marked, after: Marked, size: CanvasSize | None) -> str:
        """Write marks, and a size for every canvas, into the plan and return in a sentence what was done.

        Raises:
            CoachError: The plan says something else of its photo than `before`, or cannot be written.
        """
