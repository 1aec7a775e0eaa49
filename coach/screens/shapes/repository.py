"""What the Shapes screen asks of the disk, and what it is told."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, NamedTuple, Protocol

from coach.composition.crop import Crop
from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import Plan
from coach.screens.plan.repository import SaveResult
from coach.shapes.features import HeadBox
from coach.shapes.photo_window import Box, finest_px
from coach.shapes.shape import Picture
from coach.shapes.shape_map import ShapeMap

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]


_USUAL_FRAC: Final = 0.45
"""A head has this share of the height of what is painted, where none is marked; only to begin with. Source: ours."""


class Version(NamedTuple):
    """The shapes and the plan whose passages hold them, as they are meant at one time."""

    plan: Plan
    shape_map: ShapeMap


class OpenedPhoto(NamedTuple):
    """The plan's photo as it was found.

    Attributes:
        size: Its size as it is looked at.
        sha256: What its file is, in hexadecimal digits.
        crop: The part that is painted.
        picture: That part, scaled as shapes are seen in it.
        heads: The heads that the plan marks.
        mm_per_px: Millimetres for a pixel of the photo on each canvas of the crop's ratio, by its name.
    """

    size: PhotoSize
    sha256: str
    crop: Crop
    picture: Picture
    heads: tuple[HeadBox, ...] = ()
    mm_per_px: Mapping[str, float] = {}

    @property
    def bounds(self) -> Box:
        """The part that is painted, in pixels of the photo."""
        return (self.crop.left_px, self.crop.top_px, self.crop.right_px, self.crop.bottom_px)

    @property
    def finest_px(self) -> float:
        """The side of the smallest dot, in pixels of the photo."""
        first = next(iter(self.mm_per_px.values()), None)
        return finest_px(None if first is None else 1 / first)

    @property
    def sizing_heads(self) -> tuple[HeadBox, ...]:
        """The heads; where none is marked, one as large as heads mostly are, for what is measured by their size."""
        left, top = self.bounds[:2]
        height = self.crop.height_px * _USUAL_FRAC
        return self.heads or (HeadBox(name="", left=left, top=top, right=left + height, bottom=top + height),)


class OpenedShapes(NamedTuple):
    """A plan with its photo and its shapes as they lie on the disk.

    Attributes:
        text: The text of the plan's file.
        plan: What it reads as.
        shapes_name: Name of the file of shapes, as it is or would be called.
        svg: What it holds; None where there is none.
        photo: The photo; None where there is none to be seen.
        shape_map: The shapes; None where there are none yet.
        problems: What is wrong with photo and shapes, a sentence each.
    """

    text: str
    plan: Plan
    shapes_name: str
    svg: bytes | None = None
    photo: OpenedPhoto | None = None
    shape_map: ShapeMap | None = None
    problems: tuple[str, ...] = ()

    def is_same(self, other: "OpenedShapes") -> bool:
        """Return whether the files hold what they held."""
        hashes = [None if one.photo is None else one.photo.sha256 for one in (self, other)]
        return (self.text, self.svg, self.problems, hashes[0]) == (other.text, other.svg, other.problems, hashes[1])


class ShapesRepository(Protocol):
    """Where the screen finds photo and shapes, and where it leaves them; it is asked from threads."""

    def opened(self) -> OpenedShapes:
        """Return the plan with its photo and its shapes as they lie on the disk.

        Raises:
            CoachError: The plan cannot be read.
        """

    def photo(self, plan: Plan) -> OpenedPhoto | None:
        """Return the photo of a plan, with its heads; None where it names none.

        Raises:
            CoachError: It cannot be read.
        """

    def part(self, photo: str, box: Box) -> "Pixels":
        """Return a part of a photo pixel by pixel, in linear light; `box` is in whole pixels of the photo.

        Raises:
            CoachError: It cannot be read.
        """

    def save(self, opened: OpenedShapes, version: Version) -> SaveResult:
        """Save plan and shapes, that were made of `opened`, as one.

        Raises:
            CoachError: They cannot be saved.
        """
