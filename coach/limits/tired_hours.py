"""How the tired hours were shared among the canvases: by hour into the day, by half of a block, by exposure."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, NamedTuple

from coach.text import percent

HOUR_MS: Final = 3600 * 1000
_MIN_MS: Final = 60 * 1000

LATE_FROM_MS: Final = 4 * HOUR_MS
"""Work of a day from which its minutes count as late: after the fourth hour on duty.

Source: our choice; the risk by hour on duty is only a little raised up to the fifth hour (Folkard & Tucker 2003,
Occup. Med. 53:95, secondary).
"""


class Stint(NamedTuple):
    """Unbroken work on one canvas; times in milliseconds.

    Attributes:
        canvas: Name of the canvas.
        day_ms: Work of the day before it began, 0 or more.
        block_ms: Unbroken work before it began, 0 or more.
        worked_ms: Its length; one of no length counts for nothing.
    """

    canvas: str
    day_ms: int
    block_ms: int
    worked_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one canvas had of the painter's hours; its fields are keys of JSON.

    Attributes:
        canvas: Name of the canvas.
        minutes_by_hour: Work in the first, second, ... hour of work of a day; as many figures for every canvas.
        first_half_minutes: Work in the first half of a block.
        second_half_minutes: Work in the second half of a block, and beyond its end.
        late_frac: The part of its work that lies after the fourth hour, 0 to 1.
        exposure_min2: Sum over its stints of length times unbroken work at their middle, in square minutes.
        mean_worked_minutes: The same by the minute painted: unbroken work so far, on average.
    """

    canvas: str
    minutes_by_hour: tuple[float, ...]
    first_half_minutes: float
    second_half_minutes: float
    late_frac: Fraction
    exposure_min2: Fraction
    mean_worked_minutes: Fraction


def tired_hours(stints: Iterable[Stint], *, block_ms: int) -> tuple[Share, ...]:
    """Return the share of every canvas that was worked on, in order of first appearance.

    Args:
        stints: Unbroken work; a turn with a rest in it is as many stints.
        block_ms: The plan's block, greater than 0.

    Source:
        Exposure: facts of the order, part 2 section H2, E = sum of length * (worked + length / 2). It is a mean of
        minutes worked and says nothing about how a body tires.
    """
    worked = [stint for stint in stints if stint.worked_ms > 0]
    hours = -(-max((stint.day_ms + stint.worked_ms for stint in worked), default=0) // HOUR_MS)
    names = dict.fromkeys(stint.canvas for stint in worked)
    return tuple(_share([stint for stint in worked if stint.canvas == name], hours, block_ms) for name in names)


def late_apart_frac(shares: Sequence[Share]) -> Fraction:
    """Return how unevenly the late hours are shared: the largest less the smallest `late_frac`, 0 (even) to 1."""
    late = [share.late_frac for share in shares]
    return max(late) - min(late) if late else Fraction(0)


def _share(stints: Sequence[Stint], hours: int, block_ms: int) -> Share:
    by_hour_ms = [0] * hours
    for hour, ms in (piece for stint in stints for piece in _by_hour(stint)):
        by_hour_ms[hour] += ms
    total_ms = sum(by_hour_ms)
    first_half_ms = sum(_within(stint.block_ms, stint.worked_ms, block_ms // 2) for stint in stints)
    late_ms = total_ms - sum(_within(stint.day_ms, stint.worked_ms, LATE_FROM_MS) for stint in stints)
    exposure_min2 = Fraction(sum(s.worked_ms * (2 * s.block_ms + s.worked_ms) for s in stints), 2 * _MIN_MS**2)
    return Share(
        canvas=stints[0].canvas,
        minutes_by_hour=tuple(map(_minutes, by_hour_ms)),
        first_half_minutes=_minutes(first_half_ms),
        second_half_minutes=_minutes(total_ms - first_half_ms),
        late_frac=Fraction(late_ms, total_ms),
        exposure_min2=exposure_min2,
        mean_worked_minutes=exposure_min2 * _MIN_MS / total_ms,
    )


def _within(begin_ms: int, worked_ms: int, until_ms: int) -> int:
    """Return how much of a stint that begins at `begin_ms` lies before `until_ms`."""
    return min(max(0, until_ms - begin_ms), worked_ms)


def _by_hour(stint: Stint) -> Iterator[tuple[int, int]]:
    at_ms, end_ms = stint.day_ms, stint.day_ms + stint.worked_ms
    while at_ms < end_ms:
        hour = at_ms // HOUR_MS
        until_ms = min(end_ms, (hour + 1) * HOUR_MS)
        yield hour, until_ms - at_ms
        at_ms = until_ms


def tired_table(shares: Sequence[Share]) -> tuple[tuple[str, ...], ...]:
    """Return the minutes of each canvas by hour of work of a day and by half of a block; the first row is the head."""
    if not shares:
        return ()
    hours = range(1, len(shares[0].minutes_by_hour) + 1)
    head = ("canvas", *(f"hour {hour}" for hour in hours), "first half of a block", "second half")
    return (head, *map(_row, shares))


def tired_sentences(shares: Sequence[Share]) -> tuple[str, ...]:
    """Return how evenly the tired hours are shared; one sentence where nothing is painted yet."""
    if not shares:
        return ("Nothing is painted yet, so no canvas had the tired hours.",)
    said = ", ".join(f"{share.canvas} {float(share.mean_worked_minutes):.1f} min" for share in shares)
    return (_late(shares), f"Work since the last rest, on average while a canvas was painted: {said}.")


def _late(shares: Sequence[Share]) -> str:
    if not any(share.late_frac for share in shares):
        return "No canvas was worked on after the fourth hour of a day."
    said = ", ".join(f"{share.canvas} {percent(float(share.late_frac))}" for share in shares)
    return f"Painted after the fourth hour of a day: {said} of a canvas's time."


def _row(share: Share) -> tuple[str, ...]:
    figures = (*share.minutes_by_hour, share.first_half_minutes, share.second_half_minutes)
    return (share.canvas, *(f"{minutes:.0f}" for minutes in figures))


def _minutes(ms: int) -> float:
    return round(ms / _MIN_MS, 2)
