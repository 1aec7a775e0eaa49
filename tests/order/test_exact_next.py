"""The exact next order against every order there is."""

from itertools import pairwise, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.exact_next import exact_next_order
from coach.order.ledger import SHARE, Ledger
from coach.order.request import Order


def load(ledger: Ledger, order: Order, weight: int, *, begun: bool) -> int:
    """Return what places and neighbours of this order carry already, plus the walk to its first canvas."""
    places = sum(ledger.place[canvas][place] for place, canvas in enumerate(order))
    pairs = sum(ledger.follow[a][b] for a, b in pairwise(order))
    walks = not begun and ledger.at is not None and ledger.at != order[0]
    return places + pairs + (weight * SHARE if walks else 0)


@given(canvases=st.integers(2, 6), data=st.data())
@settings(max_examples=120, deadline=None)
def test_the_exact_next_order_is_the_first_of_the_least_loaded(canvases: int, data: st.DataObject) -> None:
    ledger = Ledger(canvases)
    some = st.permutations(range(canvases)).flatmap(
        lambda order: st.integers(1, canvases).map(lambda count: tuple(order[:count]))
    )
    for order in data.draw(st.lists(some, max_size=6)):
        ledger.add(order, data.draw(st.integers(1, 90)))
    present = tuple(sorted(data.draw(some)))
    prefix = tuple(data.draw(st.permutations(present))[: data.draw(st.integers(0, len(present)))])
    weight = data.draw(st.integers(1, 90))

    found = exact_next_order(ledger, present, weight, prefix)

    orders = [order for order in permutations(present) if order[: len(prefix)] == prefix]
    least = min(load(ledger, order, weight, begun=bool(prefix)) for order in orders)
    best = [order for order in orders if load(ledger, order, weight, begun=bool(prefix)) == least]
    assert found == best[0]


def test_a_canvas_that_joins_late_owes_and_is_owed_nothing() -> None:
    ledger = Ledger(3)
    for order in ((0, 1), (1, 0), (0, 1), (1, 0)):
        ledger.add(order, 30)

    assert ledger.place == [[0, 0, 0]] * 3
    assert ledger.follow == [[0, 0, 0]] * 3
