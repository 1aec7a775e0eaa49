"""Changes to a text at the places of its YAML nodes; every other character stays as it is."""

import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from yaml.nodes import CollectionNode, MappingNode, Node

from coach.plan.node_reading import text_of

_COMMENT: Final = "#"
_COMMA: Final = re.compile(r"\s*,")


class Splice(NamedTuple):
    """A text that takes the place of the characters from `start` up to `end`, which may be the same."""

    start: int
    end: int
    text: str


class CannotSpliceError(Exception):
    """The text is laid out in a way that a change cannot be set into; never leaves this room."""


def spliced(text: str, splices: Iterable[Splice], start: int = 0, end: int | None = None) -> str:
    """Return `text` from `start` to `end` with its splices, which must not overlap.

    Raises:
        CannotSpliceError: They do overlap, or one lies outside.
    """
    last = len(text) if end is None else end
    ordered = sorted(splices, key=lambda splice: splice[:2])
    edges = [start, *(edge for splice in ordered for edge in splice[:2]), last]
    if any(left > right for left, right in pairwise(edges)):
        raise CannotSpliceError
    kept = [text[left:right] for left, right in zip(edges[::2], edges[1::2], strict=True)]
    pieces = [piece for splice, before in zip(ordered, kept, strict=False) for piece in (before, splice.text)]
    return "".join((*pieces, kept[-1]))


def start_of(node: Node) -> int:
    """Return where a node begins in its text."""
    index: int = node.start_mark.index
    return index


def end_of(text: str, node: Node) -> int:
    """Return where the last character of a node ends; YAML's own mark of a block lies behind the comments after it."""
    if not isinstance(node, CollectionNode) or node.flow_style:
        start, end = start_of(node), int(node.end_mark.index)
        return start + len(text[start:end].rstrip())
    last = node.value[-1]
    return end_of(text, last[1] if isinstance(last, tuple) else last)


def line_start(text: str, index: int) -> int:
    """Return where the line of a character begins."""
    return text.rfind("\n", 0, index) + 1


def line_end(text: str, index: int) -> int:
    """Return where the line of a character ends, before its line break."""
    found = text.find("\n", index)
    return len(text) if found < 0 else found


def values_of(node: MappingNode) -> dict[str, Node]:
    """Return the values of a mapping by key."""
    return {text_of(key): value for key, value in node.value}


def mapping_splices(
    text: str, node: MappingNode, changes: Mapping[str, str | None], order: Sequence[str]
) -> list[Splice]:
    """Return what sets, adds and removes keys of a mapping.

    Args:
        text: The text it stands in.
        node: The mapping, in braces or in a block.
        changes: Keys with their new values, each on one line, or in a block that begins with a line break; None removes
            a key. At least one key stays.
        order: Keys in their usual order, which says where a new one goes.

    Raises:
        CannotSpliceError: The layout does not allow it.
    """
    pairs = {text_of(key): (number, key, value) for number, (key, value) in enumerate(node.value)}
    gone = {key for key, value in changes.items() if value is None and key in pairs}
    leading = next(number for number, key in enumerate(pairs) if key not in gone) if node.flow_style else 0
    splices = [Splice(start_of(node.value[0][0]), start_of(node.value[leading][0]), "")] if leading else []
    for key, written in changes.items():
        if key in gone and pairs[key][0] >= leading:
            splices.append(_removal(text, node, pairs[key][0]))
        elif key in pairs and written is not None:
            splices.append(_replacement(text, *pairs[key][1:], written))
    for key in order:
        written = changes.get(key)
        if written is not None and key not in pairs:
            earlier = [other for other in order[: order.index(key)] if other in pairs and other not in gone]
            anchor = pairs[earlier[-1]][2] if earlier else None
            splices.append(_addition(text, node, anchor, f"{key}{_behind_colon(written)}"))
    return splices


def _replacement(text: str, key: Node, value: Node, written: str) -> Splice:
    is_beside_its_key = line_start(text, start_of(key)) == line_start(text, start_of(value))
    if is_beside_its_key:
        return Splice(start_of(value), end_of(text, value), written)
    return Splice(end_of(text, key), end_of(text, value), _behind_colon(written))


def _behind_colon(written: str) -> str:
    return f":{written}" if written.startswith("\n") else f": {written}"


def _removal(text: str, node: MappingNode, number: int) -> Splice:
    key, value = node.value[number]
    start, end = start_of(key), end_of(text, value)
    if not node.flow_style:
        first = line_start(text, start)
        if text[first:start].strip():
            raise CannotSpliceError
        return Splice(first, min(line_end(text, end) + 1, len(text)), "")
    before = end_of(text, node.value[number - 1][1])
    if _COMMENT not in text[before:start]:
        return Splice(before, end, "")
    comma = _COMMA.match(text, end)
    return Splice(start, comma.end() if comma else end, "")


def _addition(text: str, node: MappingNode, anchor: Node | None, written: str) -> Splice:
    """Return what adds a written key behind the value `anchor`, or before all keys where that is None."""
    first = start_of(node.value[0][0])
    at = first if anchor is None else end_of(text, anchor)
    if node.flow_style:
        return Splice(at, at, f"{written}, " if anchor is None else f", {written}")
    indent = " " * node.value[0][0].start_mark.column
    if anchor is None:
        begin = line_start(text, first)
        is_alone = not text[begin:first].strip()
        return Splice(begin, begin, f"{indent}{written}\n") if is_alone else Splice(at, at, f"{written}\n{indent}")
    end = line_end(text, at)
    is_last = end == len(text)
    return Splice(end, end, f"\n{indent}{written}") if is_last else Splice(end + 1, end + 1, f"{indent}{written}\n")
