"""What is shown of a comparison: both canvases from the front, and what differs as flat colours on their ground."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, linear_of, luminance_at, luminance_of, value_of
from coach.compare.canvas_view import front_view
from coach.compare.subject import Outlines, Painted, Photographed
from coach.plan.commission import Address

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]
    Flags = NDArray[np.bool_]
    Light = NDArray[np.float64]

_AROUND_MM: Final = 12.0
"""So far around a passage its ground reaches: what the eye judges it against; ours."""

_LEAST_LIGHT: Final = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasPictures:
    """Two canvases as both photos together show them.

    Attributes:
        canvases: Their names.
        fronts: Linear light of each from the front, as bright as the photo they are painted from, (rows, columns, 3).
        labels: The number of the passage of each dot, (rows, columns).
        passages: Pass and name of each passage by its number; what no passage names is left out.
        dots_per_mm: Dots for a millimetre on the canvas.
    """

    canvases: tuple[str, str]
    fronts: tuple["Light", "Light"]
    labels: "Labels"
    passages: tuple[Address, ...]
    dots_per_mm: float

    def inside(self, address: Address) -> "Flags":
        """Return the dots of a passage, or, where there is no pass, of all of them; none where it has none."""
        if not address[0]:
            return self.labels < len(self.passages)
        return self.labels == (self.passages.index(address) if address in self.passages else -1)

    def passage_at(self, at_mm: tuple[float, float]) -> Address | None:
        """Return the passage at a point of the canvas, in millimetres from its upper left corner; None for none."""
        rows, columns = self.labels.shape
        column, row = (round(side * self.dots_per_mm) for side in at_mm)
        number = int(self.labels[min(max(row, 0), rows - 1), min(max(column, 0), columns - 1)])
        return self.passages[number] if number < len(self.passages) else None


def pictures_of(photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines) -> CanvasPictures:
    """Return both canvases as the photos show them, the light of the places taken out.

    Args:
        photos: Photos of the same two canvases.
        painted: The passages, by the numbers of the labels.
        outlines: Where they lie on either canvas.
    """
    canvases = photos[0].views[0].canvas, photos[0].views[1].canvas
    rows, columns = outlines.labels.shape
    coded_light = np.log(np.maximum(linear_of(np.arange(256) / 255), _LEAST_LIGHT))
    logs = [
        np.mean([coded_light[front_view(one.coded, one.view_of(name), columns, rows)] for one in photos], axis=0)
        for name in canvases
    ]
    is_painted = outlines.labels < len(painted)
    expected = np.log(np.maximum([one.light for one in painted], _LEAST_LIGHT))[outlines.labels[is_painted]]
    shift = np.median(expected - (logs[0] + logs[1])[is_painted] / 2, axis=0)
    one, other = (np.exp(log + shift).clip(0, 1) for log in logs)
    return CanvasPictures(
        canvases=canvases,
        fronts=(one, other),
        labels=outlines.labels,
        passages=tuple((one.pass_, one.passage) for one in painted if one.passage),
        dots_per_mm=outlines.dots_per_mm,
    )


def colours_apart(
    pictures: CanvasPictures, address: Address, lab_difference: Sequence[float]
) -> tuple["Light", "Light", "Light"]:
    """Return a passage's colour on either canvas, so far apart as was found, and the ground about it, as linear light.

    Args:
        pictures: The canvases.
        address: The passage; it has dots.
        lab_difference: The first canvas against the second.
    """
    from skimage.color import lab2rgb  # noqa: PLC0415  loaded when photos are compared

    middle, ground = _middle_and_ground(pictures, address)
    half = np.array(lab_difference) / 2
    one, other = lab2rgb(lab_of(middle) + np.stack((half, -half)))
    return linear_of(one), linear_of(other), ground


def value_apart(
    pictures: CanvasPictures, address: Address, canvas: str, steps: float
) -> tuple["Light", "Light", "Light"]:
    """Return a passage's colour on a canvas, what it would be without so many steps of value, and the ground about it.

    Args:
        pictures: The canvases.
        address: The passage; it has dots.
        canvas: The canvas.
        steps: Steps too light, or too dark where negative.
    """
    inside = pictures.inside(address)
    own = np.median(pictures.fronts[pictures.canvases.index(canvas)][inside], axis=0)
    luminance = max(float(luminance_of(own)), _LEAST_LIGHT)
    wanted = float(luminance_at(np.clip(value_of(luminance) - steps, 0, 10)))
    return own, (own * wanted / luminance).clip(0, 1), _middle_and_ground(pictures, address)[1]


def _middle_and_ground(pictures: CanvasPictures, address: Address) -> tuple["Light", "Light"]:
    """Return the mean of both canvases in a passage, and in a band about it."""
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when photos are compared

    inside = pictures.inside(address)
    far = distance_transform_edt(~inside)
    around = (far > 0) & (far <= _AROUND_MM * pictures.dots_per_mm)
    mean = (pictures.fronts[0] + pictures.fronts[1]) / 2
    middle = np.median(mean[inside], axis=0)
    return middle, np.median(mean[around], axis=0) if around.any() else middle
