"""What the ordering of the work is asked, and what it answers: the seam to every strategy."""

Order = tuple[int, ...]
"""Numbers of canvases (0-based, in the plan's order) in the order they are painted."""


from typing import NamedTuple


class RunToOrder(NamedTuple):
    """A run still to come.

    Attributes:
        pass_no: Number of its pass, from 0.
        weight: Its whole weighted minutes, 1 or more.
    """

    pass_no: int
    weight: int


class PaintedRun(NamedTuple):
    """A run really painted; `order` holds the canvases by first touch and may lack some."""

    pass_no: int
    weight: int
    order: Order


class OrderRequest(NamedTuple):
    """Everything an order depends on; the same request always has the same answer.

    Attributes:
        canvas_count: 1 to 12.
        runs: The runs still to come, in the order of the plan.
        history: The runs already painted, in the order painted.
        strategy: Name of the strategy; None for the default.
    """

    canvas_count: int
    runs: tuple[RunToOrder, ...]
    history: tuple[PaintedRun, ...] = ()
    strategy: str | None = None


class OrderPlan(NamedTuple):
    """The answer: one order for every run of the request, in the same sequence."""

    orders: tuple[Order, ...]
