"""Lists in brackets in a painter's text, on one line or on several with comments at their ends."""

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from yaml.nodes import SequenceNode

from coach.plan.writing_splices import Splice, end_of, start_of

_COMMA: Final = re.compile(r"\s*,")


def flow_splice(text: str, node: SequenceNode, entries: Sequence[tuple[int | None, str]]) -> Splice:
    """Return what gives a list in brackets these entries.

    Args:
        text: The text it stands in.
        node: The list.
        entries: Each as its number, from 0, in the list as it is, or None where it is new, and its text.
    """
    spans = [(start_of(item), end_of(text, item)) for item in node.value]
    gaps = [text[left[1] : right[0]] for left, right in pairwise(spans)]
    end = end_of(text, node) - 1
    last = text[spans[-1][1] : end]
    if "#" in last or any("#" in gap for gap in gaps):
        return Splice(spans[0][0], end, _with_comments([*gaps, last], entries))
    between = [*gaps, *[", "] * (len(entries) - 1 - len(gaps))]
    written = "".join(
        part for pair in zip(["", *between], (entry[1] for entry in entries), strict=False) for part in pair
    )
    return Splice(spans[0][0], spans[-1][1], written)


def _with_comments(tails: list[str], entries: Sequence[tuple[int | None, str]]) -> str:
    """Return the entries, each with the comment at its end, up to the closing bracket.

    Args:
        tails: What stands behind each entry, up to the next one or the bracket.
        entries: As above.
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
