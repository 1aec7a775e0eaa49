"""YAML text as a tree of nodes that know their place, and questions to ask of them.

A wrong answer is noted in `Faults` and None comes back, so that one reading finds every fault. Values are read
from a node's own text, because YAML 1.1 turns `no` into False and `1:30` into 90.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from coach.plan.problems import PlanError, Problem, did_you_mean, quoted
from coach.text import sanitized

MOST_PROBLEMS: Final = 200
"""Faults after which reading stops: nobody mends more at once, and a hostile text must not cost hours."""

_CORE_TAGS: Final = frozenset(
    f"tag:yaml.org,2002:{name}"
    for name in ("str", "int", "float", "bool", "null", "timestamp", "merge", "value", "seq", "map")
)
"""Tags that plain text gets by itself in YAML 1.1; any other was written by hand."""


class Faults:
    """Collects every fault of one reading."""

    def __init__(self, file_name: str) -> None:
        """Start with none, in the file of that name."""
        self.problems: list[Problem] = []
        self._file_name = file_name

    def note(self, node: Node, where: str, what: str, suggestion: str = "") -> None:
        """Note a fault at the place where `node` begins.

        Raises:
            PlanError: This is one fault more than `MOST_PROBLEMS`.
        """
        if len(self.problems) == MOST_PROBLEMS:
            what = f"there are more than {MOST_PROBLEMS} faults; these were found first"
            self.problems.append(Problem(line=0, column=0, where="", what=what, suggestion="mend them and check again"))
            raise self.error()
        mark = node.start_mark
        self.problems.append(
            Problem(line=mark.line + 1, column=mark.column + 1, where=where, what=what, suggestion=suggestion)
        )

    def error(self) -> PlanError:
        """Return the error that tells every fault noted so far."""
        return PlanError(self.problems, where=self._file_name)


def kind_of(node: Node) -> str:
    """Return what a node is in words: "a list", "`key: value`", or its text in quotes."""
    if isinstance(node, SequenceNode):
        return "a list"
    if isinstance(node, MappingNode):
        return "`key: value`"
    text = sanitized(node.value).strip()
    return quoted(text) if text else "nothing"


def text_of(node: Node) -> str:
    """Return a node's text, sanitized and on one line; empty where it is a list or a mapping."""
    return " ".join(sanitized(node.value).split()) if isinstance(node, ScalarNode) else ""


class Asker:
    """Asks nodes for values; each node is answered once, so that aliases cannot multiply a plan."""

    def __init__(self, faults: Faults) -> None:
        """Note faults in `faults`."""
        self.faults = faults
        self._seen: set[int] = set()

    def is_first_visit(self, node: Node, where: str) -> bool:
        """Return whether `node` is met for the first time and carries no tag of its own; note it if not."""
        if node.tag not in _CORE_TAGS:
            tag = sanitized(node.tag.replace("tag:yaml.org,2002:", "!!"))
            self.faults.note(node, where, f"the tag {quoted(tag)} has no place in a plan", "delete it")
            return False
        if id(node) in self._seen:
            what = f"an alias (*name) repeats {kind_of(node)} from here"
            self.faults.note(node, where, what, "write it out in both places")
            return False
        self._seen.add(id(node))
        return True

    def text(self, node: Node, where: str, *, most: int = 300) -> str | None:
        """Return a node's text, sanitized and on one line, of 1 to `most` characters; else note it: None.

        Every kind of space, and any number of them, counts as one space: what looks alike is alike.
        """
        if not self.is_first_visit(node, where):
            return None
        if not isinstance(node, ScalarNode):
            self.faults.note(node, where, f"{kind_of(node)} stands where a text belongs", "write one text")
            return None
        value = text_of(node)
        if not value:
            self.faults.note(node, where, "nothing is written here", "write a text or delete this entry")
            return None
        if len(value) > most:
            self.faults.note(node, where, f"{quoted(value)} has {len(value)} characters", f"use at most {most}")
            return None
        return value

    def items(self, node: Node, where: str, *, most: int | None = None) -> list[Node]:
        """Return the nodes of a list of 1 to `most`, or note what is wrong and return those there are."""
        if not self.is_first_visit(node, where):
            return []
        if not isinstance(node, SequenceNode):
            what = f"{kind_of(node)} stands where a list belongs"
            self.faults.note(node, where, what, "begin each entry with `- `")
            return []
        count = len(node.value)
        if count == 0:
            self.faults.note(node, where, "the list is empty", "name at least one")
        if most is not None and count > most:
            self.faults.note(node, where, f"the list has {count} entries", f"name at most {most}")
        return list(node.value)

    def pairs(self, node: Node, where: str, example: str) -> list[tuple[Node, str, Node]]:
        """Return key node, key and value node of a mapping with distinct keys, noting what is wrong."""
        if not self.is_first_visit(node, where):
            return []
        if not isinstance(node, MappingNode):
            what = f"{kind_of(node)} stands where `key: value` belongs"
            self.faults.note(node, where, what, f"write {example}")
            return []
        found: dict[str, tuple[Node, str, Node]] = {}
        for key_node, value_node in node.value:
            key = self.text(key_node, where)
            if key is None:
                continue
            if key in found:
                self.faults.note(key_node, where, f"the key {quoted(key)} stands twice", "keep one of them")
            else:
                found[key] = (key_node, key, value_node)
        return list(found.values())

    def fields(
        self, node: Node, where: str, required: Mapping[str, str], optional: Iterable[str]
    ) -> Mapping[str, Node]:
        """Return the values of a mapping by key, noting keys that are unknown or missing.

        Args:
            node: The mapping.
            where: Its dotted place.
            required: Keys that must stand there, each with an example of how it is written.
            optional: Keys that may stand there.
        """
        names = (*required, *optional)
        pairs = self.pairs(node, where, next(iter(required.values()), f"{names[0]}: ..."))
        found: dict[str, Node] = {}
        for key_node, key, value_node in pairs:
            if key not in names:
                self.faults.note(key_node, where, f"the key {quoted(key)} is not known", did_you_mean(key, names))
            else:
                found[key] = value_node
        if isinstance(node, MappingNode) and (pairs or not node.value):
            present = {key for _, key, _ in pairs}
            for key in (key for key in required if key not in present):
                self.faults.note(node, where, f"the key {quoted(key)} is missing", f"write {required[key]}")
        return found


def inside(where: str, key: str) -> str:
    """Return the dotted place of `key` inside `where`."""
    return f"{where}.{key}" if where else key
