"""What is compared: photos of two canvases, and the passages on them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from coach.compare.canvas_view import CanvasView, Corners, scaled

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Labels = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Photographed:
    """A photo of two canvases.

    Attributes:
        name: Its name.
        coded: Its picture in 8-bit sRGB, shape (rows, columns, 3).
        views: Where the canvases lie in it.
        cards: Where a card lies beside a canvas, by the canvas; the same card, or one of the same sheet.
    """

    name: str
    coded: "Coded"
    views: tuple[CanvasView, CanvasView]
    cards: Mapping[str, Corners] = field(default_factory=dict)

    @property
    def canvases(self) -> tuple[str, str]:
        """The names of both canvases."""
        return self.views[0].canvas, self.views[1].canvas

    def view_of(self, canvas: str) -> CanvasView:
        """Return where a canvas lies in it."""
        return next(view for view in self.views if view.canvas == canvas)

    @property
    def left(self) -> str:
        """The canvas on the left."""
        return min(self.views, key=lambda view: view.middle_px[0]).canvas

    def at(self, scale: float) -> "Photographed":
        """Return it with corners as in the photo at another scale, at which its picture was read."""
        one, other = (view.scaled(scale) for view in self.views)
        cards = {canvas: scaled(corners, scale) for canvas, corners in self.cards.items()}
        return replace(self, views=(one, other), cards=cards)


@dataclass(frozen=True, slots=True, kw_only=True)
class Painted:
    """A passage as the plan has it.

    Attributes:
        pass_: Its pass.
        passage: Its name.
        light: Mean linear light of it in the photo it is painted from, each channel 0 to 1.
        why_not: Why it is not compared; empty where it is.
    """

    pass_: str
    passage: str
    light: tuple[float, float, float]
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeaturePlace:
    """Where a small feature lies, that is looked for where it may have moved: its name, and its dots as outlined."""

    name: str
    inside: "Flags"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlines:
    """Which dots of a canvas belong to which passage.

    Attributes:
        labels: The number of the passage of each dot, shape (rows, columns); where the canvas stays bare, a margin,
            the number after the last one.
        dots_per_mm: Dots for a millimetre on the canvas.
        features: The small features: each eye, each ear, nose and mouth.
    """

    labels: "Labels"
    dots_per_mm: float
    features: tuple[FeaturePlace, ...] = ()


def reading_scale(views: Sequence[CanvasView], dots_per_mm: float) -> float:
    """Return at what part of its size a photo shows each canvas finely enough, at most 1."""
    return min(1.0, max(dots_per_mm / view.px_per_mm for view in views))
