"""Superpixels merged by least loss, so that any number of shapes is a cut of one order of merging."""

import heapq
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class MergeOrder:
    """The order in which regions were merged.

    Attributes:
        merged: Pairs of regions, the first taken up into the second, in order.
        losses: What each merging lost: the rise of the weighted sum of squares.
        region_count: How many regions there were before.
    """

    merged: tuple[tuple[int, int], ...]
    losses: tuple[float, ...]
    region_count: int

    def cut(self, count: int) -> "Labels":
        """Return a label from 0 for each of the first regions, so that `count` are left, or the fewest there can be."""
        parents = np.arange(self.region_count)
        for taken, into in self.merged[: max(0, self.region_count - count)]:
            parents[taken] = into
        while not np.array_equal(parents, parents[parents]):
            parents = parents[parents]
        return np.unique(parents, return_inverse=True)[1].astype(np.int32)


def neighbour_pairs(labels: "Labels") -> "NDArray[np.int64]":
    """Return the pairs of labels that touch along a side, the smaller first, each once, in order; shape (m, 2)."""
    count = int(labels.max()) + 1
    found = [
        np.minimum(one, other)[one != other].astype(np.int64) * count + np.maximum(one, other)[one != other]
        for one, other in ((labels[:, :-1], labels[:, 1:]), (labels[:-1], labels[1:]))
    ]
    return np.stack(np.divmod(np.unique(np.concatenate(found)), count), axis=1)


def merge_order(sums: "Pixels", weights: "Pixels", pairs: "NDArray[np.int64]") -> MergeOrder:
    """Return the order that merges neighbours, always those whose merging loses least.

    Args:
        sums: Weighted sums of the channels of each region, shape (n, channels).
        weights: Weight of each region, greater than 0, shape (n,).
        pairs: Regions that may be merged where they touch, shape (m, 2).

    Source:
        J. H. Ward, JASA 58 (1963) 236-244: the loss is |difference of the means|^2 x n1 n2 / (n1 + n2).
    """
    means = [tuple(row) for row in (sums / weights[:, None]).tolist()]
    masses = weights.tolist()
    neighbours: list[set[int]] = [set() for _ in masses]
    for one, other in pairs.tolist():
        neighbours[one].add(other)
        neighbours[other].add(one)
    heap = [(_loss(means, masses, one, other), one, other, 0, 0) for one, other in pairs.tolist()]
    heapq.heapify(heap)
    ages = [0] * len(masses)
    merged, losses = [], []
    while heap:
        loss, one, other, one_age, other_age = heapq.heappop(heap)
        if ages[one] != one_age or ages[other] != other_age:
            continue
        total = masses[one] + masses[other]
        means[other] = tuple(
            (a * masses[one] + b * masses[other]) / total for a, b in zip(means[one], means[other], strict=True)
        )
        masses[other] = total
        ages[one], ages[other] = -1, ages[other] + 1
        merged.append((one, other))
        losses.append(loss)
        for near in sorted((neighbours[one] | neighbours[other]) - {one, other}):
            neighbours[near].discard(one)
            neighbours[near].add(other)
            neighbours[other].add(near)
            low, high = min(near, other), max(near, other)
            heapq.heappush(heap, (_loss(means, masses, low, high), low, high, ages[low], ages[high]))
        neighbours[other] -= {one, other}
        neighbours[one] = set()
    return MergeOrder(merged=tuple(merged), losses=tuple(losses), region_count=len(masses))


def _loss(means: list[tuple[float, ...]], masses: list[float], one: int, other: int) -> float:
    apart = sum((a - b) ** 2 for a, b in zip(means[one], means[other], strict=True))
    return apart * masses[one] * masses[other] / (masses[one] + masses[other])
