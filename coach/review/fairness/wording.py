"""Ratios and lists put into a painter's words."""

from coach.review.statistics.ratio import RatioEnds

TWICE = 2.0
"""From here up a ratio is given in times, not in percent more."""

SMALLEST_FRAC = 0.005
"""A change below half a percent is not given a number."""


def percent(frac: float) -> str:
    """Return a known fraction in whole percent: "5 %"."""
    return f"{abs(frac) * 100:.0f} %"


def about(frac: float) -> str:
    """Return an estimated fraction in whole percent: "about 12 %"; what is only near 0 or 100 says so."""
    size = abs(frac)
    if size < SMALLEST_FRAC:
        return "less than 1 %"
    return "more than 99 %" if 1 - SMALLEST_FRAC <= size < 1 else f"about {percent(frac)}"


def change(ratio_frac: float) -> str:
    """Return an estimated ratio of times: "about 12 % less time", "about 3.2 times the time"."""
    if ratio_frac >= TWICE:
        return f"about {ratio_frac:.3g} times the time"
    return f"{about(ratio_frac - 1)} {'less' if ratio_frac < 1 else 'more'} time"


def change_against(ratio_frac: float, other: str) -> str:
    """Return a ratio against something named: "about 4 % more time than Hall"."""
    return f"{change(ratio_frac)} {'of' if ratio_frac >= TWICE else 'than'} {other}"


def interval(ends: RatioEnds) -> str:
    """Return the interval of a ratio: "6 to 18 %", "1.5 to 3 times", "from 9 % less to 5 % more time"."""
    low, high = abs(ends.low_frac - 1) * 100, abs(ends.high_frac - 1) * 100
    if ends.low_frac <= 1 <= ends.high_frac:
        is_twice = ends.high_frac >= TWICE
        more = f"{ends.high_frac:.3g} times the time" if is_twice else f"{high:.0f} % more time"
        return f"from {low:.0f} % less to {more}"
    if ends.high_frac >= TWICE:
        return f"{ends.low_frac:.3g} to {ends.high_frac:.3g} times"
    return f"{min(low, high):.0f} to {max(low, high):.0f} %"
