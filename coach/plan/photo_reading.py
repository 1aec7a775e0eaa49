"""The photo of a commission: its file beside the plan, and the boxes marked in it."""

from typing import Final

from yaml.nodes import Node, SequenceNode

from coach.plan.commission import MOST_MARKED, MarkedBox, MarkedHead
from coach.plan.node_reading import Asker, kind_of
from coach.plan.part_reading import named_fields, optional, read_named
from coach.plan.photo_names import MOST_PHOTO_NAME, is_plain_name
from coach.plan.problems import quoted
from coach.plan.value_reading import read_whole_number

MOST_PX: Final = 1_000_000
"""How far from the top left corner of a photo a box may reach, in pixels."""

_SIDES: Final = ("left", "top", "right", "bottom")
_EXAMPLE: Final = "[left, top, right, bottom] in whole pixels, such as [1500, 1200, 2200, 2100]"


def read_photo(ask: Asker, node: Node, where: str) -> str | None:
    """Return the name of a photo's file, which lies beside the plan."""
    name = ask.text(node, where, most=MOST_PHOTO_NAME)
    if name is None:
        return None
    if not is_plain_name(name):
        what = f"{quoted(name)} is not the plain name of a file beside the plan"
        ask.faults.note(node, where, what, "put the photo beside the plan and write sitter.jpg")
        return None
    return name


def read_heads(ask: Asker, node: Node, where: str) -> tuple[MarkedHead, ...]:
    """Return the heads that are marked in the photo."""
    return read_named(ask, node, where, _read_head, most=MOST_MARKED)


def read_keeps(ask: Asker, node: Node, where: str) -> tuple[MarkedBox, ...]:
    """Return the boxes that must stay in the picture."""
    items = ask.items(node, where, most=MOST_MARKED)
    boxes = (read_box(ask, item, f"{where}[{number}]") for number, item in enumerate(items, start=1))
    return tuple(box for box in boxes if box is not None)


def read_box(ask: Asker, node: Node, where: str) -> MarkedBox | None:
    """Return a box written `[left, top, right, bottom]`, in pixels of the photo."""
    if not ask.is_first_visit(node, where):
        return None
    if not isinstance(node, SequenceNode):
        ask.faults.note(node, where, f"{kind_of(node)} stands where a box belongs", f"write {_EXAMPLE}")
        return None
    if len(node.value) != len(_SIDES):
        ask.faults.note(node, where, f"a box has 4 sides, not {len(node.value)}", f"write {_EXAMPLE}")
        return None
    sides = [read_whole_number(ask, item, where, least=0, most=MOST_PX) for item in node.value]
    known = [side for side in sides if side is not None]
    if len(known) < len(_SIDES):
        return None
    box = MarkedBox(*known)
    if box.right_px <= box.left_px or box.bottom_px <= box.top_px:
        is_flat = box.right_px <= box.left_px
        less, more = ("left", "right") if is_flat else ("top", "bottom")
        at_less, at_more = (box.left_px, box.right_px) if is_flat else (box.top_px, box.bottom_px)
        ask.faults.note(
            node, where, f"{more}, {at_more}, is not greater than {less}, {at_less}", "write [left, top, right, bottom]"
        )
        return None
    return box


def _read_head(ask: Asker, node: Node, where: str) -> MarkedHead | None:
    named = named_fields(ask, node, where, (), {"box": "box: [left, top, right, bottom]"})
    if named is None:
        return None
    name, fields = named
    box = optional(ask, fields, where, "box", read_box)
    return None if box is None else MarkedHead(name=name, box=box)
