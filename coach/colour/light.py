"""Colour as light and as Lab: sRGB, linear light, CIE XYZ, CIELAB under D65, and the painter's value.

Arrays hold the channels last; linear light and sRGB lie in 0.0 to 1.0.
"""

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Pixels = NDArray[np.float64]

_XYZ_FROM_RGB: Final = np.array(
    [
        [0.4123907993, 0.3575843394, 0.1804807884],
        [0.2126390059, 0.7151686788, 0.0721923154],
        [0.0193308187, 0.1191947798, 0.9505321522],
    ]
)
"""Source: the primaries of ITU-R BT.709 and white D65 (x 0.3127, y 0.3290), to ten places."""

WHITE_XYZ: Final = _XYZ_FROM_RGB.sum(axis=1)
"""D65 as the sum of the three primaries, Y = 1."""

_KNEE, _SLOPE = (6 / 29) ** 3, (29 / 6) ** 2 / 3
"""The straight part of the CIELAB curve. Source: CIE 15."""

_CODED_KNEE, _LINEAR_KNEE = 0.04045, 0.0031308
"""Where the straight part of the sRGB curve ends. Source: IEC 61966-2-1:1999 (from memory)."""

_VALUE_COEFFICIENTS: Final = (0.00081939, -0.020484, 0.23352, -0.22533, 1.1914, 0.0)
"""Luminance factor in per cent from value, highest power first. Source: ASTM D1535-08, equation 2."""


def linear_of(srgb: "ArrayLike") -> "Pixels":
    """Return linear light of colours as displayed. Source: IEC 61966-2-1:1999 (from memory)."""
    coded = np.asarray(srgb, dtype=float)
    return np.where(coded <= _CODED_KNEE, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def srgb_of(linear: "ArrayLike") -> "Pixels":
    """Return colours as displayed of linear light, cut to what a display reaches."""
    light = np.clip(np.asarray(linear, dtype=float), 0, 1)
    return np.where(light <= _LINEAR_KNEE, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def lab_of(linear: "ArrayLike") -> "Pixels":
    """Return CIELAB (D65, 2 degrees) of linear light. Source: CIE 15."""
    xyz = np.asarray(linear, dtype=float) @ _XYZ_FROM_RGB.T / WHITE_XYZ
    x, y, z = np.moveaxis(np.where(xyz > _KNEE, np.cbrt(xyz), _SLOPE * xyz + 4 / 29), -1, 0)
    return np.stack((116 * y - 16, 500 * (x - y), 200 * (y - z)), axis=-1)


def value_of(luminance_frac: "ArrayLike") -> "Pixels":
    """Return the value, 0 black to 10 white, of luminance against the perfect white, 0 to 1.

    Source:
        ASTM D1535-08, equation 2, solved by Newton's method.
    """
    percent = 100 * np.clip(np.asarray(luminance_frac, dtype=float), 0, 1)
    value = 10 * np.cbrt(percent / 100)
    slope = np.polyder(_VALUE_COEFFICIENTS)
    for _ in range(8):
        value = value - (np.polyval(_VALUE_COEFFICIENTS, value) - percent) / np.polyval(slope, value)
    return np.clip(value, 0, 10)


def luminance_at(value: "ArrayLike") -> "Pixels":
    """Return the luminance, 0 to 1, of a value. Source: ASTM D1535-08, equation 2."""
    return np.polyval(_VALUE_COEFFICIENTS, np.asarray(value, dtype=float)) / 100


def lightness_of(luminance_frac: "ArrayLike") -> "Pixels":
    """Return L* of luminance against the perfect white, 0 to 1. Source: CIE 15."""
    y = np.asarray(luminance_frac, dtype=float)
    return 116 * np.where(y > _KNEE, np.cbrt(y), _SLOPE * y + 4 / 29) - 16


def luminance_of(linear: "ArrayLike") -> "Pixels":
    """Return relative luminance, 0 to 1, of linear light."""
    return np.asarray(linear, dtype=float) @ _XYZ_FROM_RGB[1]
