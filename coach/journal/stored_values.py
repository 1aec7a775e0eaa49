"""Values as they lie in a journal, checked as they are read; what is none of them raises a ValueError."""

import math
import re

from coach.text import sanitized


def safe_text(value: object) -> str:
    """Return a text that steers no terminal; a ValueError for what is no text."""
    if type(value) is not str:
        raise ValueError("not a text")
    return value if value.isprintable() else sanitized(value)


def formed(form: re.Pattern[str], value: object) -> str:
    """Return a text of a form; a ValueError for all else."""
    if type(value) is not str or not form.fullmatch(value):
        raise ValueError("not of its form")
    return value


def whole(value: object, least: int, most: int) -> int:
    """Return a whole number within bounds; a ValueError for all else."""
    if type(value) is not int or not least <= value <= most:
        raise ValueError("not such a number")
    return value


def figure(value: object) -> float:
    """Return a finite number; a ValueError for all else."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError("not a figure")
    return float(value)


def truth(value: object) -> bool:
    """Return whether something is so; a ValueError for what is neither true nor false."""
    if type(value) is not bool:
        raise ValueError("neither true nor false")
    return value
