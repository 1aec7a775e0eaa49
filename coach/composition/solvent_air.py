"""Solvent evaporated into the air of a closed room."""

from typing import Final

WHITE_SPIRIT_LIMIT_MG_M3: Final = 350.0
"""Recommended mean over a working day. Source: NIOSH REL for Stoddard solvent, OSHA chemical page (read)."""

WHITE_SPIRIT_G_ML: Final = 0.78
"""Density of white spirit, in grams per millilitre. Source: from memory."""


def volume_to_ml(limit_mg_m3: float, density_g_ml: float, room_m3: float) -> float:
    """Return the volume of solvent that, wholly evaporated, reaches a limit in a closed room. Source: identity."""
    return limit_mg_m3 * room_m3 / (1000 * density_g_ml)
