"""What the Compare screen asks of the disk, and what it is told."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol

from coach.compare.canvas_view import CanvasView, Corners
from coach.compare.findings import Comparison, Moved
from coach.compare.pictures import CanvasPictures
from coach.journal.compared import KeptPhoto
from coach.plan.commission import Address, Canvas
from coach.shapes.photo_window import Box, Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]


class OfferedPhoto(NamedTuple):
    """A photo of the folder.

    Attributes:
        name: Its name, as it can be shown.
        taken: When it was taken, in words.
        problem: Why it cannot be compared; empty where it can.
        cautions: What speaks against it, a sentence each.
    """

    name: str
    taken: str
    problem: str = ""
    cautions: tuple[str, ...] = ()


class PhotoOfCanvases(NamedTuple):
    """A photo in which canvases are to be found.

    Attributes:
        name: The name it is asked for by.
        sha256: What its file is, in hexadecimal digits.
        width_px: Its width as it is looked at.
        height_px: Its height as it is looked at.
        linear: Its linear light at a moderate size, shape (rows, columns, 3).
        proposed: The corners of canvases that were found in it, from left to right.
    """

    name: str
    sha256: str
    width_px: int
    height_px: int
    linear: "Pixels"
    proposed: tuple[Corners, ...] = ()


class Landmarks(NamedTuple):
    """Points of the drawing in a photo of both canvases.

    Attributes:
        names: What they are.
        points: Where they lie, in pixels of the photo: all on the left canvas, then all on the right one.
        dots_px: How large a dot each was set to, in pixels of the photo; 0 while it is only proposed.
    """

    names: tuple[str, ...]
    points: tuple[Point, ...]
    dots_px: tuple[float, ...]


class DrawnFeature(NamedTuple):
    """A feature that landmarks find elsewhere.

    Attributes:
        moved: What is found.
        at_mm: Where the photo has it, in millimetres on the canvas.
        passage: The passage that lies there; None where it is not known.
    """

    moved: Moved
    at_mm: Point
    passage: Address | None = None


class FramedPhoto(NamedTuple):
    """A photo with the two canvases in it, the left one first, and with the cards beside them by their names."""

    photo: PhotoOfCanvases
    views: tuple[CanvasView, CanvasView]
    cards: Mapping[str, Corners] = {}


class ComparedCanvases(NamedTuple):
    """What two photos tell.

    Attributes:
        comparison: What is found.
        pictures: The canvases from the front; None where only the journal tells of it.
        photos: The photos they were made from.
        meant: What the painter wants to differ: pass and passage, or no pass and a feature of the drawing.
        drawn: What landmarks find elsewhere.
    """

    comparison: Comparison
    pictures: CanvasPictures | None
    photos: tuple[KeptPhoto, ...] = ()
    meant: frozenset[Address] = frozenset()
    drawn: tuple[DrawnFeature, ...] = ()

    def with_drawn(self, drawn: Sequence[DrawnFeature]) -> "ComparedCanvases":
        """Return it with what landmarks find elsewhere, each with the passage that lies there."""
        pictures = self.pictures
        if pictures is not None:
            drawn = [one._replace(passage=pictures.passage_at(one.at_mm)) for one in drawn]
        return self._replace(drawn=tuple(drawn))


class OpenedCanvases(NamedTuple):
    """What can be compared, and what was.

    Attributes:
        canvases: The canvases of the plan, those that stand further left first.
        offered: The photos of the folder, the newest first.
        problem: What is missing before anything can be compared, in a sentence; empty for nothing.
        last: The last comparison that the journal holds; None for none.
        history: What became of the findings so far, a sentence each.
    """

    canvases: tuple[Canvas, ...]
    offered: tuple[OfferedPhoto, ...] = ()
    problem: str = ""
    last: ComparedCanvases | None = None
    history: tuple[str, ...] = ()


class CompareRepository(Protocol):
    """Where the screen finds photos, and where it leaves what comes of them; photos are only read."""

    def opened(self) -> OpenedCanvases:
        """Return what can be compared; called from a thread.

        Raises:
            CoachError: The plan or the folder cannot be read.
        """

    def photo(self, name: str) -> PhotoOfCanvases:
        """Return a photo of the folder, or any other by its path; called from a thread.

        Raises:
            CoachError: It cannot be read.
        """

    def part(self, name: str, box: Box) -> "Pixels":
        """Return a part of a photo pixel by pixel, in linear light; called from a thread.

        Raises:
            CoachError: It cannot be read.
        """

    def compared(self, photos: Sequence[FramedPhoto]) -> ComparedCanvases:
        """Return what photos tell of the canvases; called from a thread.

        Raises:
            CoachError: They cannot be compared.
        """

    def landmarks(self, photo: FramedPhoto) -> Landmarks:
        """Return landmarks of the drawing where they should lie in a photo; called from a thread.

        Raises:
            CoachError: There are none.
        """

    def drawn(self, photo: FramedPhoto, landmarks: Landmarks) -> tuple[DrawnFeature, ...]:
        """Return what lies elsewhere by the landmarks that are set; called from a thread.

        Raises:
            CoachError: The plan cannot be read, or too few are set on both canvases.
        """

    def record(self, found: ComparedCanvases) -> tuple[str, ...]:
        """Keep what was found in the journal; return what became of earlier findings, a sentence each.

        Raises:
            CoachError: It cannot be kept.
        """

    def mean_it(self, meant: Address, canvases: tuple[str, str]) -> tuple[str, ...]:
        """Keep that a passage, or a feature where there is no pass, differs because the painter wants it so.

        What became of all findings is returned, a sentence each; what is meant so is not counted among them.

        Raises:
            CoachError: It cannot be kept.
        """

    def mark_for_return(self, address: Address, canvas: str) -> None:
        """Mark a passage on a canvas, so that it is looked at again.

        Raises:
            CoachError: It cannot be kept.
        """
