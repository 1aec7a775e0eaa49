"""Stock canvases: stretched sizes in inches, the figure, paysage and marine series, ISO A and B."""

from typing import Final

INCH_SIZES_IN: Final = (
    (8, 10),
    (9, 12),
    (11, 14),
    (12, 16),
    (14, 18),
    (16, 20),
    (18, 24),
    (20, 24),
    (22, 28),
    (24, 30),
    (24, 36),
    (30, 36),
    (30, 40),
    (36, 48),
)
"""Short and long side, in inches.

Source: general trade lists of stretched canvas; 14 x 18, 22 x 28 and 30 x 36 are common practice, no source.
"""

SERIES: Final = ("figure", "paysage", "marine")
"""Names of the French series, in the order of the short sides in `SERIES_CM`."""

SERIES_CM: Final = {
    0: (18, 14, 12, 10),
    1: (22, 16, 14, 12),
    2: (24, 19, 16, 14),
    3: (27, 22, 19, 16),
    4: (33, 24, 22, 19),
    5: (35, 27, 24, 22),
    6: (41, 33, 27, 24),
    8: (46, 38, 33, 27),
    10: (55, 46, 38, 33),
    12: (61, 50, 46, 38),
    15: (65, 54, 50, 46),
    20: (73, 60, 54, 50),
    25: (81, 65, 60, 54),
    30: (92, 73, 65, 60),
    40: (100, 81, 73, 65),
    50: (116, 89, 81, 73),
    60: (130, 97, 89, 81),
    80: (146, 114, 97, 89),
    100: (162, 130, 114, 97),
    120: (195, 130, 114, 97),
}
"""Number to long side and the short sides of figure, paysage and marine, in centimetres.

Source: table of the French standard series, two copies of an encyclopaedia's table read.
"""

ISO_MM: Final = {
    "A0": (841, 1189),
    "A1": (594, 841),
    "A2": (420, 594),
    "A3": (297, 420),
    "A4": (210, 297),
    "A5": (148, 210),
    "B1": (707, 1000),
    "B2": (500, 707),
    "B3": (353, 500),
}
"""Short and long side, in millimetres. Source: ISO 216 tables (read)."""
