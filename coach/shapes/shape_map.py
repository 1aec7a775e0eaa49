"""The shapes as the painter keeps them: outlines in pixels of the photo, each with an id and a name."""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.shapes.features import Feature
from coach.shapes.outlines import Ring


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlinedShape:
    """A shape as it stands in the file.

    Attributes:
        id: k and a number, never used again for another one.
        name: Place and value in a painter's words, or what the painter calls it; unique in the map.
        feature: Where it belongs.
        outline: Rings of column and row in pixels of the photo, outer ones and holes, even-odd.
    """

    id: str
    name: str
    feature: Feature
    outline: tuple[Ring, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeMap:
    """The shapes of one photo.

    Attributes:
        photo_width_px: Width of the photo as it is looked at.
        photo_height_px: Its height.
        photo_sha256: What the photo's file was when it was taken apart, in hexadecimal digits.
        next_number: The number of the next new shape.
        borders: The border of each feature, rings as those of a shape.
        shapes: The shapes, in the order in which they stand in the file.
    """

    photo_width_px: int
    photo_height_px: int
    photo_sha256: str
    next_number: int
    borders: Mapping[Feature, tuple[Ring, ...]]
    shapes: tuple[OutlinedShape, ...]
