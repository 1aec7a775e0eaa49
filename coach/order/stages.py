"""The data of the exact planner for two canvases: stages, where the work stands, windows and prices.

The balance is carried as `led`, the weight led by canvas 0; with `total`, the weight of all runs that had a
lead, the running imbalance is D = 2 * led - total.
"""

from collections.abc import Sequence
from typing import NamedTuple

LONGEST_STREAK = 3
"""One canvas may lead so many batches in a row; a wish or history may force more."""

COST_LIMIT = 1 << 61
"""While every possible cost is less than this, the sum of it and another cost fits 64 bits."""


class Stage(NamedTuple):
    """One batch on two canvases, or on one of them.

    Attributes:
        weight: Its weight; 0 if it is on one canvas, for then nobody leads.
        leads: Leads allowed: (0, 1), one of them, or () if nobody leads.
        walks: walks[last lead][lead], 1 if the palette must walk to begin, else 0.
        strays: strays[lead], number of its runs that were announced under the other lead.
        tolerance: Imbalance that is free at its end, if it ends a pass; else None.
    """

    weight: int
    leads: tuple[int, ...]
    walks: tuple[tuple[int, int], tuple[int, int]]
    strays: tuple[int, int]
    tolerance: int | None = None


class Start(NamedTuple):
    """Where the work stands before the first stage.

    Attributes:
        led: Weight led by canvas 0.
        total: Weight of all runs that had a lead.
        lead: The last lead, None if there was none.
        streak: How many batches in a row it has led.
    """

    led: int = 0
    total: int = 0
    lead: int | None = None
    streak: int = 0


class Window(NamedTuple):
    """The values of `led` looked at after a stage: low, low + 1, ..., low + size - 1."""

    low: int
    size: int


class Prices(NamedTuple):
    """Weights that pack the cost tuple into one whole number without mixing its members.

    Attributes:
        stray: Cost of one lead that differs from the announced one.
        walk: Cost of one repeat.
        excess: Cost of one weighted minute over a tolerance.
        infeasible: Cost of what is not allowed; every cost that can arise is less.
    """

    stray: int
    walk: int
    excess: int
    infeasible: int

    @classmethod
    def of(cls, stages: Sequence[Stage], windows: Sequence[Window], totals: Sequence[int]) -> "Prices":
        """Return the prices for these stages; windows and totals have one entry more, for the start."""
        peaks = [
            max(abs(2 * w.low - t), abs(2 * (w.low + w.size) - t)) for w, t in zip(windows[1:], totals[1:], strict=True)
        ]
        stray = max(peaks) + 1
        walk = stray * (sum(max(stage.strays) for stage in stages) + 1)
        excess = walk * (len(stages) + 1)
        ends = sum(peak for peak, stage in zip(peaks, stages, strict=True) if stage.tolerance is not None)
        infeasible = max(COST_LIMIT, excess * (ends + 1))
        return cls(stray=stray, walk=walk, excess=excess, infeasible=infeasible)

    @property
    def fits_64_bits(self) -> bool:
        """Whether costs can be added up in 64 bits."""
        return self.infeasible == COST_LIMIT

    def of_step(self, stage: Stage, last: int, lead: int) -> int:
        """Return the cost of giving this lead after that one; without a lead, `lead` is 0."""
        strays = stage.strays[lead] if stage.leads else 0
        return self.walk * stage.walks[last][lead] + self.stray * strays

    def of_imbalance(self, stage: Stage, imbalance: int) -> int:
        """Return the cost of this running imbalance at the end of the stage."""
        if stage.tolerance is None:
            return 0
        return self.excess * max(0, abs(imbalance) - stage.tolerance)


class Task(NamedTuple):
    """What a sweep works on.

    Attributes:
        stages: What remains, the first stage with a choice or a forced lead.
        windows: Values of `led` after 0, 1, ... stages.
        totals: Weight of all runs with a lead after 0, 1, ... stages.
        prices: The packing of costs.
        opens: The lead taken where costs are equal.
        limit: Largest final imbalance allowed; None for no limit.
    """

    stages: tuple[Stage, ...]
    windows: tuple[Window, ...]
    totals: tuple[int, ...]
    prices: Prices
    opens: int
    limit: int | None
