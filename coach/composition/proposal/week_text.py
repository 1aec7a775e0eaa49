"""The hours of a week as a painter would type them."""

from itertools import groupby
from typing import Final

from coach.plan.writing_values import duration_text

_DAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def week_text(week_s: tuple[int, ...]) -> str:
    """Return the hours of a week, such as `mon-fri: 5 h, sat: 3 h`; days without work are left out."""
    runs = [list(run) for _, run in groupby(range(len(_DAYS)), key=week_s.__getitem__)]
    return ", ".join(f"{_span(run)}: {duration_text(week_s[run[0]])}" for run in runs if week_s[run[0]])


def _span(days: list[int]) -> str:
    first, last = _DAYS[days[0]], _DAYS[days[-1]]
    return first if first == last else f"{first}-{last}"
