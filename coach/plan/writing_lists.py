"""Lists in a painter's text: entries kept, moved, added and taken out, each with the comments right above it."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.writing_flow_lists import flow_splice
from coach.plan.writing_parts import entry_text
from coach.plan.writing_splices import (
    CannotSpliceError,
    Splice,
    end_of,
    line_end,
    line_start,
    mapping_splices,
    spliced,
    start_of,
)

_DASH: Final = re.compile(r" *- +")


class Kept(NamedTuple):
    """An entry that the list has: its number, from 0, and what changes in it."""

    number: int
    splices: tuple[Splice, ...] = ()


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


def list_splices(text: str, node: SequenceNode, entries: Entries, *, gap: str = "") -> list[Splice]:
    """Return what turns a list into one with these entries.

    Args:
        text: The text it stands in.
        node: The list, in brackets or in a block.
        entries: Its entries as they shall be, one or more.
        gap: What stands between two entries of a block where the list itself does not show it.

    Raises:
        CannotSpliceError: The layout does not allow it.
    """
    stays = [entry for entry in entries if isinstance(entry, Kept)]
    if len(stays) == len(entries) and [entry.number for entry in stays] == list(range(len(node.value))):
        return [splice for entry in stays for splice in entry.splices]
    return [_flow_splice(text, node, entries) if node.flow_style else _block_splice(text, node, entries, gap)]


def entry_lines(text: str, node: SequenceNode, entry: Kept) -> tuple[str, ...]:
    """Return an entry with its changes as lines without an indent, to stand in the block of another list.

    Raises:
        CannotSpliceError: The layout does not allow it.
    """
    item = node.value[entry.number]
    if node.flow_style:
        return tuple(f"- {spliced(text, entry.splices, start_of(item), end_of(text, item))}".splitlines())
    body = _body(text, item)
    lines = spliced(text, entry.splices, body.start, body.end).splitlines()
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
            entries.append(Kept(number, tuple(entry_splices(text, nodes[number], changes, fields, order))))
    return entries


def entry_splices(
    text: str, node: Node, changes: Mapping[str, str | None], fields: Mapping[str, str], order: Sequence[str]
) -> list[Splice]:
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
            return mapping_splices(text, node, changes, order)
        except CannotSpliceError:
            pass
    return [Splice(start_of(node), end_of(text, node), entry_text(fields))]


def _flow_splice(text: str, node: SequenceNode, entries: Entries) -> Splice:
    written: list[tuple[int | None, str]] = []
    for entry in entries:
        if isinstance(entry, New):
            written.append((None, entry.on_one_line))
        else:
            item = node.value[entry.number]
            written.append((entry.number, spliced(text, entry.splices, start_of(item), end_of(text, item))))
    return flow_splice(text, node, written)


def _block_splice(text: str, node: SequenceNode, entries: Entries, gap: str) -> Splice:
    bodies = [_body(text, item) for item in node.value]
    above = ["", *(text[left.end : right.start] for left, right in pairwise(bodies))]
    blank = Counter(lead_in for lead_in in above[1:] if not lead_in.strip())
    gap = blank.most_common(1)[0][0] if blank else gap
    above, tail = _with_comments_of_the_gone(above, {entry.number for entry in entries if isinstance(entry, Kept)})
    pieces: list[str] = []
    for place, entry in enumerate(entries):
        if isinstance(entry, New):
            lead_in, body = gap, "".join(f"{bodies[0].indent}{line}\n" for line in entry.lines)
        else:
            old = bodies[entry.number]
            lead_in, body = above[entry.number], spliced(text, entry.splices, old.start, old.end)
            lead_in = lead_in or (gap if entry.number == 0 else "")
            body = body if body.endswith("\n") else body + "\n"
        pieces += ["" if place == 0 and not lead_in.strip() else lead_in, body]
    written = "".join((*pieces, tail))
    start, end = bodies[0].start, bodies[-1].end
    return Splice(start, end, written if text[end - 1] == "\n" else written.removesuffix("\n"))


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
        raise CannotSpliceError
    while text[line_start(text, start - 1) : start].lstrip().startswith("#"):
        start = line_start(text, start - 1)
    end = min(line_end(text, end_of(text, item)) + 1, len(text))
    return _Body(start, end, before[: before.index("-")])
