"""Rows of Latin squares: the cyclic rotation, and the Williams designs that balance direct neighbours too."""

from functools import cache

from coach.order.request import Order


@cache
def rotation_rows(canvas_count: int) -> tuple[Order, ...]:
    """Return the rows of the cyclic Latin square: once in each place, always the same neighbours."""
    return tuple(tuple((first + step) % canvas_count for step in range(canvas_count)) for first in range(canvas_count))


@cache
def williams_rows(canvas_count: int) -> tuple[Order, ...]:
    """Return the rows of a Williams design: n rows for an even number of canvases, 2n for an odd one.

    Each canvas stands equally often in each place, and each ordered pair of canvases equally often side by
    side. The rows are closed under mirroring: row r backwards is row r + n/2 for even n, row r + n for odd n.

    Source:
        E. J. Williams, Experimental designs balanced for the estimation of residual effects of treatments,
        Aust. J. Sci. Res. A 2 (1949) 149-168 (summary seen: n rows suffice for even n, 2n for odd n).
    """
    base = [(step + 1) // 2 if step % 2 else canvas_count - step // 2 for step in range(1, canvas_count)]
    base.insert(0, 0)
    rows = tuple(tuple((canvas + shift) % canvas_count for canvas in base) for shift in range(canvas_count))
    if canvas_count % 2 == 0 or canvas_count == 1:
        return rows
    return rows + tuple(row[::-1] for row in rows)


def rows_from(rows: tuple[Order, ...], first: int) -> tuple[Order, ...]:
    """Return the rows in turn, beginning with the given one."""
    return rows[first:] + rows[:first]
