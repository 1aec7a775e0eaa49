"""Which parts of a pass are painted as one run, and in which order: soft edges together, dark to light otherwise."""

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from coach.composition.proposal.parts import MOST_RUN_MIN, Meeting, Meetings, Part, meeting

SHORT_RUN_MIN: Final = 10
"""A run under this is hardly worth the change of canvas: it takes in a neighbour with a hard edge too. Source: ours."""

SEEN_CM: Final = 1.0
"""So much soft edge is worth meeting wet. Source: ours, no other."""

Run = list[Part]


class _Edge(NamedTuple):
    """An edge between two parts, by their places in a list."""

    meets: Meeting
    one: int
    other: int


def runs_of_parts(parts: Sequence[Part], meetings: Meetings) -> list[Run]:
    """Return the parts of a pass in runs, in the order in which they are painted.

    Each run is a chain: every part touches the one before it. Chains grow along the softest edges first, to at most
    `MOST_RUN_MIN`; then short ones along any edge. A run goes from its darker end; the runs go from dark to light, but
    one with soft edges to the run before it comes while that is wet.
    """
    edges = [
        _Edge(meets, one, other)
        for one, first in enumerate(parts)
        for other in range(one + 1, len(parts))
        if (meets := meeting(first, parts[other], meetings)).cm
    ]
    chains = {number: [number] for number in range(len(parts))}
    of_part = list(range(len(parts)))
    _chain(parts, edges, chains, of_part, lambda edge, _: edge.meets.soft_cm >= SEEN_CM)
    _chain(parts, edges, chains, of_part, lambda _, shorter_min: shorter_min < SHORT_RUN_MIN)
    runs = [_from_dark([parts[number] for number in chain]) for chain in chains.values()]
    return _in_order(runs, meetings)


def _chain(
    parts: Sequence[Part],
    edges: Sequence[_Edge],
    chains: dict[int, list[int]],
    of_part: list[int],
    is_wanted: Callable[[_Edge, int], bool],
) -> None:
    """Join chains end to end along the edges that are wanted, the softest and longest first."""
    for edge in sorted(edges, key=lambda own: (-own.meets.soft_cm, -own.meets.cm, own.one, own.other)):
        first, second = of_part[edge.one], of_part[edge.other]
        if first == second or not (_is_end(chains[first], edge.one) and _is_end(chains[second], edge.other)):
            continue
        minutes = [sum(parts[number].minutes for number in chains[chain]) for chain in (first, second)]
        if sum(minutes) > MOST_RUN_MIN or not is_wanted(edge, min(minutes)):
            continue
        head, tail = chains[first], chains.pop(second)
        chains[first] = (head if head[-1] == edge.one else head[::-1]) + (tail if tail[0] == edge.other else tail[::-1])
        for number in tail:
            of_part[number] = first


def _is_end(chain: Sequence[int], number: int) -> bool:
    return number in (chain[0], chain[-1])


def _from_dark(run: Run) -> Run:
    return run[::-1] if run[-1].photo_value < run[0].photo_value else run


def _in_order(runs: list[Run], meetings: Meetings) -> list[Run]:
    left = sorted(runs, key=lambda run: (min(part.photo_value for part in run), run[0].group))
    ordered: list[Run] = []
    while left:
        soft = [_soft_cm(ordered[-1], run, meetings) if ordered else 0.0 for run in left]
        chosen = soft.index(max(soft)) if max(soft) >= SEEN_CM else 0
        ordered.append(left.pop(chosen))
    return ordered


def _soft_cm(one: Run, other: Run, meetings: Meetings) -> float:
    return sum(meeting(first, second, meetings).soft_cm for first in one for second in other)
