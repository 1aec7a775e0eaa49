"""Pigments that hold cadmium, lead or cobalt, by colour index name."""

from typing import Final

METAL_PIGMENTS: Final = {
    "cadmium": frozenset({"PY35", "PY37", "PO20", "PO23", "PR108", "PR113"}),
    "lead": frozenset({"PW1", "PW2", "PY34", "PY41", "PY46", "PO21", "PR103", "PR104", "PR105"}),
    "cobalt": frozenset({"PB28", "PB35", "PB36", "PB72", "PB74", "PG14", "PG19", "PG26", "PG50", "PV14", "PV47",
                         "PV48", "PV49", "PY40", "PBk27"}),
}  # fmt: skip
"""Metal to the colour index names of its pigments. Source: Colour Index generic names, from memory."""

METAL_WORDS: Final = {
    "cadmium": frozenset({"cadmium"}),
    "lead": frozenset({"lead", "flake", "minium"}),
    "cobalt": frozenset({"cobalt", "cerulean", "aureolin", "smalt"}),
}
"""Metal to words in the name of a paint whose pigment the plan does not state. Source: common practice, no source."""

NO_METAL_WORD: Final = "hue"
"""Word by which a paint says that it imitates a colour without its pigment. Source: common practice, no source."""
