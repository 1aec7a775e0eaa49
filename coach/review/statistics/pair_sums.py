"""Order statistics of all sums of two numbers, found without listing the sums.

Ten thousand differences have fifty million sums; counting how many lie below a limit needs one look-up a row.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, nextafter

RELATIVE_WIDTH = 1e-15
"""A few units in a float's last place: the width, against the largest sum, at which the search stops."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSums:
    """The sums start + steps[j], for every row (start, first j) and every j from there on.

    Attributes:
        rows: Pairs (start, first index into steps); at least one row, each with at least one sum.
        steps: Numbers in rising order.
    """

    rows: Sequence[tuple[float, int]]
    steps: Sequence[float]

    def size(self) -> int:
        """Return the number of sums."""
        return sum(len(self.steps) - first for _, first in self.rows)

    def kth(self, k: int) -> float:
        """Return the k-th smallest sum, k from 1 to `size()`."""
        low = min(start + self.steps[first] for start, first in self.rows)
        high = max(start + self.steps[-1] for start, _ in self.rows)
        if low == high:
            return low
        width = RELATIVE_WIDTH * max(abs(low), abs(high))
        # The search takes the starts off again, and rounds by the size of what is added, not of its sum.
        largest = max(abs(low), abs(high), abs(self.steps[0]), abs(self.steps[-1]))
        low = nextafter(low - RELATIVE_WIDTH * largest, -inf)
        while high - low > width:
            middle = low + (high - low) / 2
            if middle in (low, high):
                break
            if self._count_at_most(middle) >= k:
                high = middle
            else:
                low = middle
        return self._smallest_above(low)

    def median(self) -> float:
        """Return the median of the sums."""
        size = self.size()
        if size % 2:
            return self.kth(size // 2 + 1)
        return (self.kth(size // 2) + self.kth(size // 2 + 1)) / 2

    def ends(self, k: int) -> tuple[float, float]:
        """Return the k-th smallest and the k-th largest sum, k from 1."""
        return self.kth(k), self.kth(self.size() + 1 - k)

    def _count_at_most(self, limit: float) -> int:
        steps = self.steps
        return sum(max(0, bisect_right(steps, limit - start) - first) for start, first in self.rows)

    def _smallest_above(self, limit: float) -> float:
        # The same comparison as in the count: rounding must not let a sum fall between the two.
        found = ((start, max(first, bisect_right(self.steps, limit - start))) for start, first in self.rows)
        return min(start + self.steps[j] for start, j in found if j < len(self.steps))
