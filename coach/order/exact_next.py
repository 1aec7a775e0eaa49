"""The one order for the next run that evens out places and neighbours most."""

from coach.order.ledger import SHARE, Ledger
from coach.order.request import Order


def exact_next_order(ledger: Ledger, present: Order, weight: int, prefix: Order = ()) -> Order:
    """Return the best order of the canvases present: least load on its places and neighbours so far.

    The sum over the places k of P[c_k, k], over neighbours of N[c_k, c_k+1], plus the weight if the palette
    has to walk first, is the linear part of the growth of the squared imbalances. Ties: first in canvas
    order.

    Args:
        ledger: What was painted and planned before.
        present: Canvases to be painted, ascending.
        weight: Weight of the batch, in weighted minutes.
        prefix: Canvases with which the order must begin.

    Returns:
        An order of the canvases present; O(2^n n^2) time for n canvases after the prefix.

    Source:
        Dynamic programming over subsets: Held and Karp, J. SIAM 10 (1962) 196-210 (from memory).
    """
    if prefix:
        rest = tuple(c for c in present if c not in prefix)
        return prefix + _best_tail(ledger, rest, len(prefix), {c: ledger.follow[prefix[-1]][c] for c in rest})
    walk = weight * SHARE
    entry = {c: 0 if ledger.at in {None, c} else walk for c in present}
    return _best_tail(ledger, present, 0, entry)


def _best_tail(ledger: Ledger, canvases: Order, first_place: int, entry: dict[int, int]) -> Order:
    count = len(canvases)
    if count == 0:
        return ()
    place = [ledger.place[c][first_place:] for c in canvases]
    follow = [[ledger.follow[a][b] for b in canvases] for a in canvases]
    full = (1 << count) - 1
    to_go = _costs_to_go(place, follow)
    start = [entry[canvases[i]] + place[i][0] + to_go[1 << i][i] for i in range(count)]
    last = start.index(min(start))
    used = 1 << last
    chosen = [last]
    while used != full:
        k = len(chosen)
        options = [
            (follow[last][i] + place[i][k] + to_go[used | 1 << i][i], i) for i in range(count) if not used >> i & 1
        ]
        last = min(options)[1]
        used |= 1 << last
        chosen.append(last)
    return tuple(canvases[i] for i in chosen)


def _costs_to_go(place: list[list[int]], follow: list[list[int]]) -> list[list[int]]:
    """Return [set painted][last canvas]: least cost of the canvases not yet painted."""
    count = len(place)
    full = (1 << count) - 1
    to_go = [[0] * count for _ in range(full + 1)]
    for used in range(full - 1, 0, -1):
        k = used.bit_count()
        after = [(i, place[i][k] + to_go[used | 1 << i][i]) for i in range(count) if not used >> i & 1]
        row = to_go[used]
        for last in range(count):
            if used >> last & 1:
                pairs = follow[last]
                row[last] = min([cost + pairs[i] for i, cost in after])
    return to_go
