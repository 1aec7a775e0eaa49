"""The tired hours as a table and as sentences, for the Log; canvas names are plain text, taken as they are."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from coach.limits.tired_hours import Share, late_apart_frac

_MIN_MS: Final = 60 * 1000


def tired_table(shares: Sequence[Share]) -> tuple[tuple[str, ...], ...]:
    """Return the minutes of each canvas by hour of work of a day and by half of a block; the first row is the head."""
    if not shares:
        return ()
    hours = range(1, len(shares[0].by_hour_ms) + 1)
    head = ("canvas", *(f"hour {hour}" for hour in hours), "first half of a block", "second half")
    return (head, *map(_row, shares))


def tired_sentences(shares: Sequence[Share]) -> tuple[str, ...]:
    """Return how evenly the tired hours are shared; one sentence where nothing is painted yet."""
    if not shares:
        return ("Nothing is painted yet, so no canvas had the tired hours.",)
    said = ", ".join(f"{share.canvas} {float(share.mean_worked_min):.1f} min" for share in shares)
    return (_late(shares), f"Unbroken work behind the painter, on average over the minutes of a canvas: {said}.")


def _late(shares: Sequence[Share]) -> str:
    if not any(share.late_frac for share in shares):
        return "No canvas was worked on after the fourth hour of a day."
    said = ", ".join(f"{share.canvas} {_percent(share.late_frac)}" for share in shares)
    apart = f"; {float(100 * late_apart_frac(shares)):.0f} points apart" if len(shares) > 1 else ""
    return f"Part of the work that came after the fourth hour of a day: {said}{apart}."


def _row(share: Share) -> tuple[str, ...]:
    halves = (share.first_half_ms, share.second_half_ms)
    return (share.canvas, *(f"{ms / _MIN_MS:.0f}" for ms in (*share.by_hour_ms, *halves)))


def _percent(share_frac: Fraction) -> str:
    return f"{float(100 * share_frac):.0f} %"
