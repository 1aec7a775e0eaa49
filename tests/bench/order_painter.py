"""A painter who errs, on the ordering engine alone: how far apart, in minutes painted, the leads of a work end.

A tenth of the runs is begun on the wrong canvas, a twentieth loses one of its turns, a tenth of the runs is marked
for return (half of them on one canvas only); one canvas is away for an eighth of the work and catches up alone; the
plan is edited twice. After each deviation the rest is mended near what was announced; at the end of each session it is
planned from the minutes painted. Habits are made up; the shares are those of issue 12.
"""

from random import Random
from typing import Final

from coach.order.measures import measure
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder

SLIP: Final = 0.1
SKIP: Final = 0.05
RETURN: Final = 0.1
SESSION_RUNS: Final = 4


class _Painter:
    """One work in progress: what is to come, what was painted, what is announced."""

    def __init__(self, canvases: int, count: int, sd: float, chance: Random) -> None:
        self.canvases, self.sd, self.chance = canvases, sd, chance
        self.to_come = [RunToOrder(no // 5, chance.randint(240, 3600)) for no in range(count)]
        self.returns: list[RunToOrder] = []
        self.late: list[int] = []
        self.away: int | None = None
        self.history: list[PaintedRun] = []
        self.plan(())

    def plan(self, earlier: tuple[Order, ...]) -> None:
        """Plan the rest, near what was announced."""
        runs = (*self.to_come, *self.returns)
        if self.away is not None:
            runs = tuple(run._replace(away=run.away | {self.away}) for run in runs)
        self.announced = plan_orders(
            OrderRequest(
                canvas_count=self.canvases,
                runs=runs,
                history=tuple(self.history),
                earlier=earlier[: len(runs)],
            )
        ).orders

    def paint(self) -> bool:
        """Paint the next run and return whether the plan was left."""
        run = self.to_come.pop(0) if self.to_come else self.returns.pop(0)
        order, self.announced = self.announced[0], self.announced[1:]
        weight = max(1, round(run.weight * self.chance.lognormvariate(0, self.sd)))
        if self.away is not None and self.away not in order:
            self.late.append(weight)
        slipped = len(order) > 1 and self.chance.random() < SLIP
        if slipped:
            order = (order[1], order[0], *order[2:])
        skipped = self.chance.choice(order) if order and self.chance.random() < SKIP else None
        kept = tuple(canvas for canvas in order if canvas != skipped)
        if kept:
            self.history.append(PaintedRun(run.pass_no, weight, kept))
        marked = bool(self.to_come) and self.chance.random() < RETURN
        if marked:
            others = frozenset({self.chance.randrange(self.canvases)}) if self.chance.random() < 0.5 else frozenset()
            self.returns.append(RunToOrder(10**6, run.weight // 2 + 1, away=others))
            self.announced = (*self.announced, ())
        return slipped or kept != order or marked

    def catch_up(self) -> None:
        """Let the canvas that was away paint alone what it missed; nobody leads."""
        if self.away is not None:
            self.history += [PaintedRun(0, weight, (self.away,)) for weight in self.late]
        self.away, self.late = None, []

    def edit(self) -> None:
        """Take a run out of the plan, put two in, and guess a third anew."""
        at = self.chance.randrange(len(self.to_come) // 2, len(self.to_come))
        run = self.to_come[at]
        more = [run._replace(weight=self.chance.randint(240, 3600)) for _ in range(2)]
        self.to_come[at : at + 1] = more
        self.to_come[-1] = self.to_come[-1]._replace(weight=self.chance.randint(240, 3600))
        self.announced = (*self.announced[:at], (), (), *self.announced[at + 1 :])


def end_apart_frac(canvases: int, count: int, sd: float, seed: int) -> float:
    """Return how far apart the leads end, as a part of the minutes painted on a canvas.

    Args:
        canvases: Number of canvases.
        count: Runs of the plan.
        sd: By how much the logarithm of the minutes of a run differs from the plan (standard deviation).
        seed: Of the chances.
    """
    painter = _Painter(canvases, count, sd, Random(seed))  # noqa: S311 - a simulation, not secrecy
    leaves, returns_at = count // 3, count // 3 + max(2, count // 8)
    edits = {count // 4, count // 2}
    done = 0
    while painter.to_come or painter.returns:
        left = painter.paint()
        done += 1
        if done in (leaves, returns_at):
            painter.catch_up()
            painter.away = 0 if done == leaves else None
            left = True
        if done in edits and len(painter.to_come) > 1:
            painter.edit()
            left = True
        if left or done % SESSION_RUNS == 0:
            painter.plan(painter.announced)
    minutes = sum(run.weight * len(run.order) for run in painter.history) / canvases
    return float(measure(canvases, painter.history).imbalance) / minutes
