"""Whether the values of a canvas keep the order and the steps of the photo; no absolute colour is claimed."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Values = NDArray[np.float64]

HALF_STEP: Final = 0.5
"""A value this far from where its neighbours in value put it is named."""

_LEAST: Final = 5
"""Of fewer passages no order can be told."""


def off_values(wanted: Sequence[float], read: Sequence[float]) -> "Values":
    """Return how far a value lies from where the others put it, in steps of value; 0 where that is under half a step.

    Each is held against the fit that rises with the photo's values through all the others; it may lie anywhere
    between its two neighbours in that fit. The worst is named first, and the others are judged without it.

    Args:
        wanted: Values of the photo as paint is to reach them, 0 to 10.
        read: Values of the canvas, in the same order.

    Source:
        Isotonic regression (Barlow et al. 1972, from memory), by scipy.
    """
    wants, reads = np.asarray(wanted, dtype=float), np.asarray(read, dtype=float)
    found = np.zeros(len(wants))
    left = np.argsort(wants, kind="stable")
    while len(left) >= _LEAST:
        off = _off_each(reads[left])
        worst = int(np.abs(off).argmax())
        if abs(off[worst]) < HALF_STEP:
            break
        found[left[worst]] = off[worst]
        left = np.delete(left, worst)
    return found


def _off_each(reads: "Values") -> "Values":
    """Return how far each of the values, which should rise, lies from where all the others put it."""
    from scipy.optimize import isotonic_regression  # noqa: PLC0415  loaded when photos are compared

    off = np.zeros(len(reads))
    for place, value in enumerate(reads.tolist()):
        fitted = isotonic_regression(np.delete(reads, place)).x
        low = fitted[place - 1] if place > 0 else -np.inf
        high = fitted[place] if place < len(fitted) else np.inf
        off[place] = min(value - low, 0.0) + max(value - high, 0.0)
    return off
