"""Boxes in the photo, and spans of its values, out of the text of a plan."""

from dataclasses import dataclass
from typing import Any, Final

from yaml.nodes import Node, SequenceNode

from coach.plan.commission import MOST_MARKED, MarkedBox
from coach.plan.key_table import SIDE_PX, VALUE
from coach.plan.node_reading import NodeReader, kind_of
from coach.plan.value_types import ValueType


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A list of a fixed number of figures.

    Attributes:
        what: What it is, with its article.
        names: What its figures are called, in order.
        noun: What they are together.
        takes: What each takes.
        example: How it is written.
        rising: Places of figures of which the second is greater than the first.
    """

    what: str
    names: tuple[str, ...]
    noun: str
    takes: ValueType[Any]
    example: str
    rising: tuple[tuple[int, int], ...]


_BOX: Final = _Row(
    what="a box",
    names=("left", "top", "right", "bottom"),
    noun="sides",
    takes=SIDE_PX,
    example="[left, top, right, bottom] in whole pixels, such as [1500, 1200, 2200, 2100]",
    rising=((0, 2), (1, 3)),
)
_SPAN: Final = _Row(
    what="a span of values",
    names=("darkest", "lightest"),
    noun="ends",
    takes=VALUE,
    example="[darkest, lightest] as values, such as [2, 9.5]",
    rising=((0, 1),),
)


class PhotoReader:
    """Reads rows of figures."""

    def __init__(self, nodes: NodeReader) -> None:
        """Note faults where `nodes` notes them."""
        self._nodes = nodes

    def boxes(self, node: Node, where: str) -> tuple[MarkedBox, ...]:
        """Return the boxes of a list."""
        items = enumerate(self._nodes.items(node, where, most=MOST_MARKED), start=1)
        boxes = (self.box(item, f"{where}[{number}]") for number, item in items)
        return tuple(box for box in boxes if box is not None)

    def box(self, node: Node, where: str) -> MarkedBox | None:
        """Return a box, or None where there is a fault in it."""
        sides = self._row(_BOX, node, where)
        return None if sides is None else MarkedBox(*sides)

    def span(self, node: Node, where: str) -> tuple[float, ...] | None:
        """Return a darkest and a lightest value, or None where there is a fault in them."""
        return self._row(_SPAN, node, where)

    def _row(self, row: _Row, node: Node, where: str) -> tuple[Any, ...] | None:
        """Return the figures of a row, or None where there is a fault in it."""
        note = self._nodes.problems.note
        if not self._nodes.is_first_visit(node, where):
            return None
        if not isinstance(node, SequenceNode):
            note(node, where, f"{kind_of(node)} stands where {row.what} belongs", f"write {row.example}")
            return None
        if len(node.value) != len(row.names):
            what = f"{row.what} has {len(row.names)} {row.noun}, not {len(node.value)}"
            note(node, where, what, f"write {row.example}")
            return None
        figures: list[Any] = [self._nodes.value(item, where, row.takes.read) for item in node.value]
        if None in figures:
            return None
        for less, more in row.rising:
            if figures[more] <= figures[less]:
                (low, least), (high, most) = ((row.names[at], row.takes.write(figures[at])) for at in (less, more))
                what = f"{high}, {most}, is not greater than {low}, {least}"
                note(node, where, what, f"write [{', '.join(row.names)}]")
                return None
        return tuple(figures)
