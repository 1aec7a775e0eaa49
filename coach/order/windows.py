"""How far the running imbalance may go: within the band, or as far as history and wishes force it."""

from collections.abc import Sequence

from coach.order.stages import LONGEST_STREAK, Stage, Start, Window


def band_windows(stages: Sequence[Stage], start: Start, totals: Sequence[int], band: int) -> tuple[Window, ...]:
    """Return the windows that keep |D| within the band after every stage."""
    first = Window(low=start.led, size=1)
    return (first, *(_window(-band, band, total) for total in totals[1 : len(stages) + 1]))


def wide_windows(stages: Sequence[Stage], start: Start, totals: Sequence[int], band: int) -> tuple[Window, ...]:
    """Return windows that also hold the greedy leads, where these leave the band.

    Where the greedy imbalance is outside the band, the window reaches from there three bands towards level;
    the plan never strays farther from level than the greedy leads would.
    """
    windows = [Window(low=start.led, size=1)]
    greedy = _greedy_imbalances(stages, start)
    for imbalance, total in zip(greedy, totals[1:], strict=True):
        low, high = -band, band
        if imbalance > band:
            low, high = max(-band, imbalance - 3 * band), imbalance
        elif imbalance < -band:
            low, high = imbalance, min(band, imbalance + 3 * band)
        windows.append(_window(low, high, total))
    return tuple(windows)


def _window(low: int, high: int, total: int) -> Window:
    """Return the whole numbers `led` with low <= 2 * led - total <= high."""
    first = -((-low - total) // 2)
    return Window(low=first, size=max(0, (high + total) // 2 - first + 1))


def _greedy_imbalances(stages: Sequence[Stage], start: Start) -> list[int]:
    """Return D after each stage if the lighter canvas leads, but none more often in a row than is allowed."""
    imbalance = 2 * start.led - start.total
    lead, streak = start.lead, start.streak
    found = []
    for stage in stages:
        if stage.leads:
            now = 1 if imbalance > 0 else 0
            if now == lead and streak >= LONGEST_STREAK:
                now = 1 - now
            if len(stage.leads) == 1:
                now = stage.leads[0]
            streak = streak + 1 if now == lead else 1
            lead = now
            imbalance += stage.weight if lead == 0 else -stage.weight
        found.append(imbalance)
    return found
