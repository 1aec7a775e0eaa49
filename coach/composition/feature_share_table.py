"""How much of a head, or of the canvas, a feature covers: first guesses for passages whose area the plan leaves out."""

from typing import Final

SHARE_OF_HEAD_FRAC: Final = {
    "brow": 0.03,
    "eye": 0.10,
    "nose": 0.10,
    "mouth": 0.06,
    "lip": 0.04,
    "ear": 0.05,
    "cheek": 0.20,
    "chin": 0.08,
    "forehead": 0.15,
    "face": 0.60,
    "flesh": 0.60,
    "skin": 0.60,
    "hair": 0.35,
    "beard": 0.12,
    "neck": 0.20,
}
"""Word in the name of a pass to its share of the head's box. Source: ours, no other; the painter may state areas."""

SHARE_OF_CANVAS_FRAC: Final = {
    "cloth": 0.35,
    "coat": 0.35,
    "dress": 0.35,
    "hand": 0.05,
    "ground": 0.45,
}
"""Word in the name of a pass to its share of the canvas. Source: ours, no other; the painter may state areas."""

OTHER_SHARE_OF_HEAD_FRAC: Final = 0.10
"""Share of the head's box for a pass with no known word. Source: ours, no other."""

HEAD_SHARE_OF_CANVAS_FRAC: Final = 0.10
"""Share of the canvas for the heads' boxes together, where no photo tells. Source: ours: a three-quarter life head
(17 x 11 cm) on 40 x 50 cm."""
