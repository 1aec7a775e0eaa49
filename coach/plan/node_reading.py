"""YAML text as a tree of nodes that know their place, and questions to ask of them.

Questions never raise: a wrong answer is noted in `Faults` and None comes back, so that one reading finds every
fault. Values are read from a node's own text, because YAML 1.1 turns `no` into False and `1:30` into 90.
"""

from collections.abc import Iterable, Mapping

from typing import Final

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from coach.plan.cleaning import harmless
from coach.plan.problems import PlanError, Problem, did_you_mean, quoted

MOST_PROBLEMS: Final = 200
"""Faults after which reading stops: nobody mends more at once, and a hostile text must not cost hours."""

_CORE_TAGS: Final = frozenset(
    f"tag:yaml.org,2002:{name}"
    for name in ("str", "int", "float", "bool", "null", "timestamp", "merge", "value", "seq", "map")
)
"""Tags that plain text gets by itself in YAML 1.1; any other was written by hand."""


class Faults:
    """Collects every fault of one reading."""

    def __init__(self) -> None:
        """Start with none."""
        self.problems: list[Problem] = []

    def note(self, node: Node, where: str, what: str, suggestion: str = "") -> None:
        """Note a fault at the place where `node` begins."""
        mark = node.start_mark
        self.problems.append(
            Problem(line=mark.line + 1, column=mark.column + 1, where=where, what=what, suggestion=suggestion)
        )


def kind_of(node: Node) -> str:
    """Return what a node is in words: "a list", "a mapping", or its text in quotes."""
    if isinstance(node, SequenceNode):
        return "a list"
    if isinstance(node, MappingNode):
        return "a mapping"
    return quoted(harmless(node.value)) if node.value else "nothing"


def is_absent(node: Node) -> bool:
    """Return whether a key stands there without a value."""
    return isinstance(node, ScalarNode) and node.style is None and node.value == ""


class Asker:
    """Asks nodes for values; each node is answered once, so that aliases cannot multiply a plan."""

    def __init__(self, faults: Faults) -> None:
        """Note faults in `faults`."""
        self.faults = faults
        self._seen: set[int] = set()

    def is_first_visit(self, node: Node, where: str) -> bool:
        """Return whether `node` is met for the first time and carries no tag of its own; note it if not."""
        if not node.tag.startswith(_PLAIN_TAGS):
            self.faults.note(
                node, where, f"the tag {quoted(harmless(node.tag))} has no place in a plan", "delete it"
            )
            return False
        if id(node) in self._seen:
            self.faults.note(node, where, "aliases (*name) are not used in a plan", "write the value out")
            return False
        self._seen.add(id(node))
        return True

    def text(self, node: Node, where: str, *, most: int = 300) -> str | None:
        """Return a node's text, harmless and trimmed, of 1 to `most` characters; else note and return None."""
        if not self.is_first_visit(node, where):
            return None
        if not isinstance(node, ScalarNode):
            self.faults.note(node, where, f"{kind_of(node)} stands where a text belongs", "write one text")
            return None
        value = harmless(node.value).strip()
        if not value:
            self.faults.note(node, where, "nothing is written here", "write a text or delete the key")
            return None
        if len(value) > most:
            self.faults.note(
                node, where, f"{quoted(value)} has {len(value)} characters", f"use at most {most}"
            )
            return None
        return value

    def items(self, node: Node, where: str) -> list[Node]:
        """Return the nodes of a list, or note that it is none and return []."""
        if not self.is_first_visit(node, where):
            return []
        if isinstance(node, SequenceNode):
            return list(node.value)
        self.faults.note(
            node, where, f"{kind_of(node)} stands where a list belongs", "begin each entry with `- `"
        )
        return []

    def pairs(self, node: Node, where: str) -> list[tuple[Node, str, Node]]:
        """Return key node, key and value node of a mapping with distinct keys, noting what is wrong."""
        if not self.is_first_visit(node, where):
            return []
        if not isinstance(node, MappingNode):
            self.faults.note(node, where, f"{kind_of(node)} stands where `key: value` belongs")
            return []
        found: list[tuple[Node, str, Node]] = []
        keys: set[str] = set()
        for key_node, value_node in node.value:
            key = self.text(key_node, where)
            if key is None:
                continue
            if key in keys:
                self.faults.note(key_node, where, f"the key {quoted(key)} stands twice", "keep one of them")
                continue
            keys.add(key)
            found.append((key_node, key, value_node))
        return found

    def fields(self, node: Node, where: str, known: Iterable[str]) -> Mapping[str, Node]:
        """Return the values of a mapping by key, noting unknown keys and keys without a value."""
        names = tuple(known)
        found: dict[str, Node] = {}
        for key_node, key, value_node in self.pairs(node, where):
            if key not in names:
                self.faults.note(
                    key_node, where, f"the key {quoted(key)} is not known", did_you_mean(key, names)
                )
            elif is_absent(value_node):
                self.faults.note(
                    key_node, inside(where, key), "nothing is written here", "write a value or delete the key"
                )
            else:
                found[key] = value_node
        return found


def inside(where: str, key: str) -> str:
    """Return the dotted place of `key` inside `where`."""
    return f"{where}.{key}" if where else key
