"""What no choice of leads can even out any more."""

from collections.abc import Iterable, Sequence

LIGHT_RUNS = 64
"""So many of the lightest runs are tried in every way first; the heavier ones are dealt out greedily."""

MOST_BITS = 1 << 20
"""Up to this total weight every sum of weights is looked at."""

MOST_SUMS = 1024
"""Beyond MOST_BITS so many sums are kept; a smaller imbalance than the one found might then exist."""


def least_imbalance(settled: int, free: Iterable[int]) -> int:
    """Return the least |settled +- w_1 +- w_2 ...| over all signs.

    Args:
        settled: Imbalance that is settled: what was painted, and leads that are wished for.
        free: Weights of the runs whose lead may be chosen, each 1 or more.

    Returns:
        The least imbalance at the end. Exact where the weights add up to at most MOST_BITS, where there are
        at most 10 of them, or where it is 0 or 1; otherwise it can be reached, but a smaller one might exist.

    Source:
        Number partitioning: Karp (1972), Horowitz and Sahni (1974); greedy dealing, heaviest first: R. L.
        Graham, SIAM J. Appl. Math. 17 (1969) 416-429 (from memory).
    """
    weights = sorted(free, reverse=True)
    light_from = max(0, len(weights) - LIGHT_RUNS)
    dealt = abs(settled)
    for weight in weights[:light_from]:
        dealt = abs(dealt - weight)
    light = weights[light_from:]
    if sum(light) > MOST_BITS:
        return _over_kept_sums(dealt, light)
    least = _over_all_sums(dealt, light)
    if least <= 1 or light_from == 0 or sum(weights) > MOST_BITS:
        return least
    return _over_all_sums(settled, weights)


def _over_all_sums(settled: int, weights: Sequence[int]) -> int:
    """Return the least |settled - total + 2 s| over all sums s of some of the weights, held as bits."""
    sums = 1
    for weight in weights:
        sums |= sums << weight
    total = sum(weights)
    aim = max(0, min(total, (total - settled) // 2))
    below = (sums & ((1 << (aim + 1)) - 1)).bit_length() - 1
    above = sums >> aim + 1
    after = aim + (above & -above).bit_length() if above else below
    return min(abs(settled - total + 2 * s) for s in (below, after))


def _over_kept_sums(settled: int, weights: Sequence[int]) -> int:
    sums = {abs(settled)}
    for weight in weights:
        sums = {abs(s - weight) for s in sums} | {s + weight for s in sums}
        if len(sums) > MOST_SUMS:
            sums = set(sorted(sums)[:MOST_SUMS])
    return min(sums)
