"""Edits of a text at the places of its YAML nodes: keys and the entries of lists; every other character stays as it is.

Entries of lists are kept, moved, added and taken out, each with the comments right above it.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from yaml.nodes import CollectionNode, MappingNode, Node, SequenceNode

from coach.plan.node_reading import text_of
from coach.plan.yaml_text import entry_text

_COMMENT: Final = "#"
_COMMA: Final = re.compile(r"\s*,")


class TextEdit(NamedTuple):
    """A text that takes the place of the characters from `start` up to `end`, which may be the same."""

    start: int
    end: int
    text: str


class LayoutError(Exception):
    """The text is laid out in a way that a change cannot be set into; never leaves this room."""


def with_edits(text: str, edits: Iterable[TextEdit], start: int = 0, end: int | None = None) -> str:
    """Return `text` from `start` to `end` with its edits, which must not overlap.

    Raises:
        LayoutError: They do overlap, or one lies outside.
    """
    last = len(text) if end is None else end
    ordered = sorted(edits, key=lambda edit: edit[:2])
    edges = [start, *(edge for edit in ordered for edge in edit[:2]), last]
    if any(left > right for left, right in pairwise(edges)):
        raise LayoutError
    kept = [text[left:right] for left, right in zip(edges[::2], edges[1::2], strict=True)]
    pieces = [piece for edit, before in zip(ordered, kept, strict=False) for piece in (before, edit.text)]
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


def mapping_edits(
    text: str, node: MappingNode, changes: Mapping[str, str | None], order: Sequence[str]
) -> list[TextEdit]:
    """Return what sets, adds and removes keys of a mapping.

    Args:
        text: The text it stands in.
        node: The mapping, in braces or in a block.
        changes: Keys with their new values, each on one line, or in a block that begins with a line break; None removes
            a key. At least one key stays.
        order: Keys in their usual order, which says where a new one goes.

    Raises:
        LayoutError: The layout does not allow it.
    """
    pairs = {text_of(key): (number, key, value) for number, (key, value) in enumerate(node.value)}
    gone = {key for key, value in changes.items() if value is None and key in pairs}
    leading = next(number for number, key in enumerate(pairs) if key not in gone) if node.flow_style else 0
    edits = [TextEdit(start_of(node.value[0][0]), start_of(node.value[leading][0]), "")] if leading else []
    for key, written in changes.items():
        if key in gone and pairs[key][0] >= leading:
            edits.append(_removal(text, node, pairs[key][0]))
        elif key in pairs and written is not None:
            edits.append(_replacement(text, *pairs[key][1:], written))
    for key in order:
        written = changes.get(key)
        if written is not None and key not in pairs:
            earlier = [other for other in order[: order.index(key)] if other in pairs and other not in gone]
            anchor = pairs[earlier[-1]][2] if earlier else None
            edits.append(_addition(text, node, anchor, f"{key}{_behind_colon(written)}"))
    return edits


def _replacement(text: str, key: Node, value: Node, written: str) -> TextEdit:
    is_beside_its_key = line_start(text, start_of(key)) == line_start(text, start_of(value))
    if is_beside_its_key:
        return TextEdit(start_of(value), end_of(text, value), written)
    return TextEdit(end_of(text, key), end_of(text, value), _behind_colon(written))


def _behind_colon(written: str) -> str:
    return f":{written}" if written.startswith("\n") else f": {written}"


def _removal(text: str, node: MappingNode, number: int) -> TextEdit:
    key, value = node.value[number]
    start, end = start_of(key), end_of(text, value)
    if not node.flow_style:
        first = line_start(text, start)
        if text[first:start].strip():
            raise LayoutError
        return TextEdit(first, min(line_end(text, end) + 1, len(text)), "")
    before = end_of(text, node.value[number - 1][1])
    if _COMMENT not in text[before:start]:
        return TextEdit(before, end, "")
    comma = _COMMA.match(text, end)
    return TextEdit(start, comma.end() if comma else end, "")


def _addition(text: str, node: MappingNode, anchor: Node | None, written: str) -> TextEdit:
    """Return what adds a written key behind the value `anchor`, or before all keys where that is None."""
    first = start_of(node.value[0][0])
    at = first if anchor is None else end_of(text, anchor)
    if node.flow_style:
        return TextEdit(at, at, f"{written}, " if anchor is None else f", {written}")
    indent = " " * node.value[0][0].start_mark.column
    if anchor is None:
        begin = line_start(text, first)
        is_alone = not text[begin:first].strip()
        return TextEdit(begin, begin, f"{indent}{written}\n") if is_alone else TextEdit(at, at, f"{written}\n{indent}")
    end = line_end(text, at)
    is_last = end == len(text)
    return TextEdit(end, end, f"\n{indent}{written}") if is_last else TextEdit(end + 1, end + 1, f"{indent}{written}\n")


_DASH: Final = re.compile(r" *- +")


class Kept(NamedTuple):
    """An entry that the list has: its number, from 0, and what changes in it."""

    number: int
    edits: tuple[TextEdit, ...] = ()


class New(NamedTuple):
    """An entry that the list has not: as lines without an indent, the first after a dash, or on one line."""

    lines: tuple[str, ...]
    on_one_line: str


Entries = Sequence[Kept | New]


class _Body(NamedTuple):
    """Where an entry of a block stands: whole lines, from the comments right above it."""

    start: int
    end: int
    indent: str


def list_edits(text: str, node: SequenceNode, entries: Entries, *, gap: str = "") -> list[TextEdit]:
    """Return what turns a list into one with these entries.

    Args:
        text: The text it stands in.
        node: The list, in brackets or in a block.
        entries: Its entries as they shall be, one or more.
        gap: What stands between two entries of a block where the list itself does not show it.

    Raises:
        LayoutError: The layout does not allow it.
    """
    stays = [entry for entry in entries if isinstance(entry, Kept)]
    if len(stays) == len(entries) and [entry.number for entry in stays] == list(range(len(node.value))):
        return [edit for entry in stays for edit in entry.edits]
    return [_flow_edit(text, node, entries) if node.flow_style else _block_edit(text, node, entries, gap)]


def entry_lines(text: str, node: SequenceNode, entry: Kept) -> tuple[str, ...]:
    """Return an entry with its changes as lines without an indent, to stand in the block of another list.

    Raises:
        LayoutError: The layout does not allow it.
    """
    item = node.value[entry.number]
    if node.flow_style:
        return tuple(f"- {with_edits(text, entry.edits, start_of(item), end_of(text, item))}".splitlines())
    body = _body(text, item)
    lines = with_edits(text, entry.edits, body.start, body.end).splitlines()
    return tuple(line.removeprefix(body.indent) for line in lines)


def named_entries(
    text: str,
    nodes: Sequence[Node],
    old: Sequence[Mapping[str, str]],
    new: Sequence[Mapping[str, str]],
    order: Sequence[str],
) -> Entries:
    """Return the entries of a list of things with names, from what was and what shall be written of each."""
    numbers = {fields["name"]: number for number, fields in enumerate(old)}
    entries: list[Kept | New] = []
    for fields in new:
        number = numbers.get(fields["name"])
        if number is None:
            line = entry_text(fields)
            entries.append(New((f"- {line}",), line))
        else:
            keys = (key for key in order if old[number].get(key) != fields.get(key))
            changes = {key: fields.get(key) for key in keys}
            entries.append(Kept(number, tuple(entry_edits(text, nodes[number], changes, fields, order))))
    return entries


def entry_edits(
    text: str, node: Node, changes: Mapping[str, str | None], fields: Mapping[str, str], order: Sequence[str]
) -> list[TextEdit]:
    """Return what changes keys of an entry; written anew on one line where its layout does not allow it.

    Args:
        text: The text it stands in.
        node: The entry, a mapping or just a name.
        changes: Keys with their new values; None removes a key.
        fields: All that shall be written of it.
        order: Keys in their usual order.
    """
    if not changes:
        return []
    if isinstance(node, MappingNode):
        try:
            return mapping_edits(text, node, changes, order)
        except LayoutError:
            pass
    return [TextEdit(start_of(node), end_of(text, node), entry_text(fields))]


def _block_edit(text: str, node: SequenceNode, entries: Entries, gap: str) -> TextEdit:
    bodies = [_body(text, item) for item in node.value]
    above = ["", *(text[left.end : right.start] for left, right in pairwise(bodies))]
    blank = Counter(lead_in for lead_in in above[1:] if not lead_in.strip())
    gap = blank.most_common(1)[0][0] if blank else gap
    above, tail = _with_comments_of_the_gone(above, {entry.number for entry in entries if isinstance(entry, Kept)})
    opening = entries[0]
    dropped = above[opening.number] if isinstance(opening, Kept) and not above[opening.number].strip() else ""
    pieces: list[str] = []
    for place, entry in enumerate(entries):
        if isinstance(entry, New):
            lead_in, body = gap, "".join(f"{bodies[0].indent}{line}\n" for line in entry.lines)
        else:
            old = bodies[entry.number]
            lead_in, body = above[entry.number], with_edits(text, entry.edits, old.start, old.end)
            lead_in = lead_in or (gap or dropped if entry.number == 0 else "")
            body = body if body.endswith("\n") else body + "\n"
        pieces += ["" if place == 0 and not lead_in.strip() else lead_in, body]
    written = "".join((*pieces, tail))
    start, end = bodies[0].start, bodies[-1].end
    return TextEdit(start, end, written if text[end - 1] == "\n" else written.removesuffix("\n"))


def _with_comments_of_the_gone(above: list[str], kept: set[int]) -> tuple[list[str], str]:
    """Return what stands above each entry, and at the end, with comments that stood apart from entries now gone."""
    found, waiting = list(above), ""
    for number, lead_in in enumerate(above):
        if number in kept:
            found[number], waiting = waiting + lead_in, ""
        elif lead_in.strip():
            waiting += lead_in
    return found, waiting


def _body(text: str, item: Node) -> _Body:
    start = line_start(text, start_of(item))
    before = text[start : start_of(item)]
    if not _DASH.fullmatch(before):
        raise LayoutError
    while text[line_start(text, start - 1) : start].lstrip().startswith("#"):
        start = line_start(text, start - 1)
    end = min(line_end(text, end_of(text, item)) + 1, len(text))
    return _Body(start, end, before[: before.index("-")])


def _flow_edit(text: str, node: SequenceNode, entries: Entries) -> TextEdit:
    spans = [(start_of(item), end_of(text, item)) for item in node.value]
    written = [
        (None, entry.on_one_line)
        if isinstance(entry, New)
        else (entry.number, with_edits(text, entry.edits, *spans[entry.number]))
        for entry in entries
    ]
    gaps = [text[left[1] : right[0]] for left, right in pairwise(spans)]
    end = end_of(text, node) - 1
    last = text[spans[-1][1] : end]
    if "#" in last or any("#" in gap for gap in gaps):
        return TextEdit(spans[0][0], end, _with_comments([*gaps, last], written))
    between = ["", *gaps, *[", "] * (len(entries) - 1 - len(gaps))]
    pieces = (f"{gap}{entry}" for gap, (_, entry) in zip(between, written, strict=False))
    return TextEdit(spans[0][0], spans[-1][1], "".join(pieces))


def _with_comments(tails: list[str], entries: Sequence[tuple[int | None, str]]) -> str:
    """Return the entries, each with the comment at its end, up to the closing bracket.

    Args:
        tails: What stands behind each entry, up to the next one or the bracket.
        entries: Each as its number, from 0, in the list as it is, or None where it is new, and its text.
    """
    indent = next((tail.rpartition("\n")[2] for tail in tails[:-1] if "\n" in tail), " ")
    written = ""
    for place, (number, entry) in enumerate(entries, start=1):
        tail = ",\n" if number is None else tails[number]
        tail = tail if place == len(entries) or _COMMA.match(tail) else f",{tail}"
        line, line_break, _ = tail.rpartition("\n")
        begun = indent if written.endswith("\n") else ""
        written += f"{begun}{entry}{line}{line_break}" if line_break else f"{begun}{entry}{tail.rstrip()} "
    closing = tails[-1].rpartition("\n")[2] if "\n" in tails[-1] else ""
    return f"{written}{closing}" if written.endswith("\n") else f"{written.rstrip().removesuffix(',')}{closing}"
