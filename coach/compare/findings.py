"""What a comparison of two canvases finds, as it is printed; figures are rounded."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A passage on both canvases; `lab_difference` is that of the first canvas against the second."""

    pass_: str
    passage: str
    difference: float
    interval: tuple[float, float]
    lab_difference: tuple[float, float, float]
    called: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AllOver:
    """What all passages of a canvas have in common; called where cards or margins tell it from light that changed."""

    difference: float
    lab_difference: tuple[float, float, float]
    called: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasReading:
    """What a photo reads of a passage on one canvas, where no verdict can be given."""

    pass_: str
    passage: str
    canvas: str
    lab: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotCompared:
    """A passage that is not compared, and why."""

    pass_: str
    passage: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A feature that lies elsewhere on one canvas: so many millimetres right and down of where the other has it.

    Pass and passage are those that most of it belongs to, `at_mm` is the middle of where it should lie, from the upper
    left corner of the canvas; empty and None where they are not known.
    """

    feature: str
    canvas: str
    right_mm: float
    down_mm: float
    words: str
    pass_: str = ""
    passage: str = ""
    at_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OffValue:
    """A passage of a canvas that stands out of the order of values: steps too light, or too dark where negative."""

    canvas: str
    pass_: str
    passage: str
    steps: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCanvas:
    """Where a canvas lies in a photo: pixels, columns and rows from upper left, clockwise; proposed, or set by hand."""

    photo: str
    canvas: str
    corners: tuple[int, ...]
    proposed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What two photos tell of two canvases; the gravest comes first in every list."""

    canvases: tuple[str, str]
    photos: tuple[str, ...]
    exchanged: bool
    shapes: tuple[Compared, ...]
    moved: tuple[Moved, ...]
    off_values: tuple[OffValue, ...]
    readings: tuple[CanvasReading, ...]
    not_compared: tuple[NotCompared, ...]
    light_ratio: float | None
    remarks: tuple[str, ...]
    all_over: AllOver | None = None
    corners: tuple[PlacedCanvas, ...] = ()
