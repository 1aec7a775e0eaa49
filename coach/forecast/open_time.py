"""How long a neighbour can still be met wet."""

import enum
from typing import Final

SETS_SOON_S: Final = 8 * 3600
"""Oil stays workable for the rest of the day, taken as so long. Source: trade facts B5.4, common practice."""

SET_S: Final = 24 * 3600
"""Often it stays so into the next day, taken as no longer than this. Source: trade facts B5.4, common practice."""

ALKYD_SETS_SOON_S: Final = 4 * 3600
"""Paint with an alkyd medium is workable at least so long. Source: trade facts B2.11, second-hand."""

ALKYD_SET_S: Final = 8 * 3600
"""Paint with an alkyd medium is workable at most so long. Source: trade facts B2.11, second-hand."""


class Openness(enum.Enum):
    """Whether a passage can still be met wet; the values are the words of the screen."""

    WET = "wet"
    SETS_SOON = "sets soon"
    SET = "set"


def open_time(since_s: float, medium: str = "oil") -> Openness:
    """Return whether a neighbour can still be met wet.

    Args:
        since_s: Elapsed time since its last stroke on the same canvas, in seconds; a time below 0, as from a
            clock put back, counts as 0.
        medium: "oil" or "alkyd".
    """
    soon_s, set_s = (ALKYD_SETS_SOON_S, ALKYD_SET_S) if medium == "alkyd" else (SETS_SOON_S, SET_S)
    if since_s < soon_s:
        return Openness.WET
    return Openness.SETS_SOON if since_s < set_s else Openness.SET
