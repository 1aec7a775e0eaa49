"""Runs for the tests and the bench of the fairness report: a few by hand, and a simulated painter's of known gains."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from math import exp, log2
from random import Random

from coach.review.fairness.run_times import RunTimes

TWO = ("Hall", "School")
THREE = ("North", "Harbour", "Mill")


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """What is true of a simulated painter.

    Attributes:
        canvases: The canvases.
        runs: Runs painted.
        passes: Passes, the runs shared out alike.
        follow_frac: Minutes of a following turn against a leading one.
        slower: Minutes on a canvas against the others.
        rate_frac: Minutes after each doubling of the runs against those before.
        noise: Standard deviation of the log minutes of a turn.
        run_noise: The same of the estimates of the runs.
        pass_noise: The same of an error that all estimates of a pass share.
        later_frac: Share of the following turns that wait for another day.
        marked_frac: Share of the turns marked for return where the canvas led, and where it followed.
        lead: Which canvas leads run 0, 1 ...; None: by turns on two canvases, by lot on more.
    """

    canvases: tuple[str, ...] = TWO
    runs: int = 20
    passes: int = 2
    follow_frac: float = 1.0
    slower: Mapping[str, float] = field(default_factory=dict)
    rate_frac: float = 1.0
    noise: float = 0.1
    run_noise: float = 0.15
    pass_noise: float = 0.0
    later_frac: float = 0.0
    marked_frac: tuple[float, float] = (0.0, 0.0)
    lead: Callable[[int], int] | None = None

    def painted(self, seed: int) -> tuple[RunTimes, ...]:
        """Return the runs as this painter painted them."""
        chance = Random(seed)  # noqa: S311  repeatable data, no secret
        levels = [chance.gauss(0, self.pass_noise) for _ in range(self.passes)]
        return tuple(self._run(no, levels, chance) for no in range(self.runs))

    def _run(self, no: int, levels: list[float], chance: Random) -> RunTimes:
        pass_no = no * self.passes // self.runs
        order = list(self.canvases)
        if self.lead is not None or len(order) <= 2:
            turn = (self.lead(no) if self.lead else no) % len(order)
            order = order[turn:] + order[:turn]
        else:
            chance.shuffle(order)
        planned = chance.uniform(5, 40)
        level = planned * exp(levels[pass_no] + chance.gauss(0, self.run_noise)) * (no + 1) ** log2(self.rate_frac)
        return RunTimes(
            pass_name=f"pass {pass_no + 1}",
            run_no=no + 1,
            order=tuple(order),
            minutes=tuple(
                level
                * (self.follow_frac if place else 1.0)
                * self.slower.get(canvas, 1.0)
                * exp(chance.gauss(0, self.noise))
                for place, canvas in enumerate(order)
            ),
            planned_min=planned,
            later=frozenset(name for name in order[1:] if self.later_frac and chance.random() < self.later_frac),
            marked=frozenset(
                canvas for place, canvas in enumerate(order) if chance.random() < self.marked_frac[min(place, 1)]
            ),
        )


def one_run(
    order: tuple[str, ...] = TWO, minutes: tuple[float, ...] = (10.0, 9.0), pass_name: str = "eyes"
) -> RunTimes:
    return RunTimes(pass_name=pass_name, run_no=1, order=order, minutes=minutes, planned_min=10)


def led(weights: dict[str, list[float]]) -> list[RunTimes]:
    """Return runs of these minutes, led by the canvas named."""
    return [
        one_run((name, *(c for c in weights if c != name)), (m,) * len(weights))
        for name in weights
        for m in weights[name]
    ]
