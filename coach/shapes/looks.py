"""The photo with its shapes as it is looked at: flat, squinted, one feature alone, its shapes outlined."""

from collections.abc import Set as AbstractSet
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from coach.colour.light import luminance_at, luminance_of
from coach.shapes.dots import coded, dimmed, light_values, line_about

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]
    Mask = NDArray[np.bool_]
    Dots = NDArray[np.uint8]

SQUINTS: Final = (0, 5, 3, 2)
"""How many values are left at each press of the key, 0 for all of them: each squints harder; ours."""

_LEAST_DOTS: Final = 24
"""A shape of fewer dots has no line about it: the lines would cover what they are about. Enlarged it has; ours."""

_LIGHTENED, _DARKENED, _MIDDLE = 0.07, 0.5, 0.18
"""A thin line adds so much light where there is less than the middle, and leaves so much of it where there is more."""


class Look(NamedTuple):
    """How the photo is looked at.

    Attributes:
        values: So many values are left, as when one squints; 0 for all of them.
        value_range: The darkest and the lightest value of the photo, which those that are left share evenly.
        is_flat: Every shape in one colour.
        only: The shapes that are not dimmed; None for all.
        marked: Shapes with a white line about them.
        chosen: Shapes with a white line about them, and a black one about that.
    """

    values: int = 0
    value_range: tuple[float, float] = (0.0, 10.0)
    is_flat: bool = False
    only: AbstractSet[int] | None = None
    marked: AbstractSet[int] = frozenset()
    chosen: AbstractSet[int] = frozenset()


def looked_at(linear: "Pixels", labels: "Labels", look: Look, colours: "Pixels | None" = None) -> "Dots":
    """Return sRGB of the dots, shape (down, across, 3).

    Args:
        linear: Linear light of the dots, shape (down, across, 3).
        labels: The shape at each dot, 0 or more; -1 where there is none.
        look: How it is looked at.
        colours: Linear light of each shape, shape (n, 3), with NaN where it is not known; else the mean of its dots
            stands for it.
    """
    light = _flat(linear, labels, colours) if look.is_flat else linear
    if look.values:
        light = _squinted(light, look)
    if look.only is not None:
        light = np.where(np.isin(labels, list(look.only))[..., None], light, dimmed(light))
    light = light.copy() if look.values or look.is_flat else _with_thin_lines(light, labels)
    marked, chosen = (np.isin(labels, list(shapes)) for shapes in (look.marked, look.chosen))
    about = line_about(chosen)
    light[line_about(marked) & ~chosen] = 1.0
    light[line_about(chosen | about)] = 0.0
    light[about] = 1.0
    return coded(light)


def _flat(linear: "Pixels", labels: "Labels", colours: "Pixels | None") -> "Pixels":
    places = labels.ravel() + 1
    counts = np.bincount(places).clip(1)
    means = np.stack([np.bincount(places, linear[..., no].ravel()) for no in range(3)], axis=1) / counts[:, None]
    if colours is not None:
        known = min(len(colours), len(means) - 1)
        own = colours[:known]
        means[1 : known + 1] = np.where(np.isnan(own), means[1 : known + 1], own)
    return np.where(labels[..., None] < 0, linear, means[places].reshape(linear.shape))


def _squinted(linear: "Pixels", look: Look) -> "Pixels":
    """Return greys of a few values, each as many steps of value wide; unless it is flat, without detail too."""
    for _ in range(0 if look.is_flat else SQUINTS.index(look.values)):
        linear = _blurred(_blurred(linear).swapaxes(0, 1)).swapaxes(0, 1)
    low, high = look.value_range
    step = (high - low) / look.values or 1.0
    places = ((light_values(linear) - low) / step).astype(int).clip(0, look.values - 1)
    return np.repeat(luminance_at(low + (places + 0.5) * step)[..., None], 3, axis=2)


def _blurred(linear: "Pixels") -> "Pixels":
    padded = np.concatenate((linear[:1], linear, linear[-1:]))
    blurred: Pixels = (padded[:-2] + 2 * linear + padded[2:]) / 4
    return blurred


def _with_thin_lines(light: "Pixels", labels: "Labels") -> "Pixels":
    """Return light with a line where two shapes meet that are large enough for it, lighter in the dark, else darker."""
    sizes = np.bincount(labels.ravel() + 1)
    shown = np.where(sizes[labels + 1] >= _LEAST_DOTS, labels, -1)
    line = np.zeros(labels.shape, dtype=bool)
    line[:, :-1] |= (shown[:, :-1] != shown[:, 1:]) & (shown[:, :-1] >= 0) & (shown[:, 1:] >= 0)
    line[:-1] |= (shown[:-1] != shown[1:]) & (shown[:-1] >= 0) & (shown[1:] >= 0)
    is_dark = (luminance_of(light) < _MIDDLE)[..., None]
    lined = np.where(is_dark, 0.6 * light + _LIGHTENED, _DARKENED * light)
    return np.where(line[..., None], lined, light)
