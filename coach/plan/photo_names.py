"""Names of photos: a file beside the plan, and nothing else."""

from typing import Final

MOST_PHOTO_NAME: Final = 200
"""Characters of the longest name."""


def is_plain_name(name: str) -> bool:
    """Return whether a name is that of a file beside the plan: no folder, no drive, not hidden, not empty."""
    return bool(name) and not name.startswith(".") and not any(mark in name for mark in "/\\:")
