"""What is compared: photos of two canvases, and the passages on them."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.compare.canvas_view import CanvasView

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Labels = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Photographed:
    """A photo of two canvases: its name, its picture in 8-bit sRGB, shape (rows, columns, 3), and where they lie."""

    name: str
    coded: "Coded"
    views: tuple[CanvasView, CanvasView]

    def view_of(self, canvas: str) -> CanvasView:
        """Return where a canvas lies in it."""
        return next(view for view in self.views if view.canvas == canvas)

    @property
    def left(self) -> str:
        """The canvas on the left."""
        return min(self.views, key=lambda view: view.middle_px[0]).canvas


@dataclass(frozen=True, slots=True, kw_only=True)
class Painted:
    """A passage as the plan has it.

    Attributes:
        pass_: Its pass.
        passage: Its name.
        feature: The small feature it is part of, which is looked for where it may have moved; empty for a mass.
        light: Mean linear light of it in the photo it is painted from, each channel 0 to 1.
        why_not: Why it is not compared; empty where it is.
    """

    pass_: str
    passage: str
    feature: str
    light: tuple[float, float, float]
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlines:
    """Which dots of a canvas belong to which passage.

    Attributes:
        labels: The number of the passage of each dot, shape (rows, columns).
        dots_per_mm: Dots for a millimetre on the canvas.
    """

    labels: "Labels"
    dots_per_mm: float
