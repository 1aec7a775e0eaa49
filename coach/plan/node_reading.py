"""Nodes of YAML that know their place, asked for values.

A wrong answer is noted in `ProblemList` and None comes back, so that one reading finds every fault. Values are read
from a node's own text, because YAML 1.1 turns `no` into False and `1:30` into 90.
"""

from collections.abc import Callable, Mapping
from typing import Final, TypeVar

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from coach.plan.key_table import PlanKey
from coach.plan.problems import PlanError, Problem, did_you_mean, quoted
from coach.plan.value_types import WrongValueError, checked_text, cleaned
from coach.text import sanitized

_T = TypeVar("_T")

MOST_PROBLEMS: Final = 200
"""Faults after which reading stops: nobody mends more at once, and a hostile text must not cost hours."""

_CORE_TAGS: Final = frozenset(
    f"tag:yaml.org,2002:{name}"
    for name in ("str", "int", "float", "bool", "null", "timestamp", "merge", "value", "seq", "map")
)
"""Tags that plain text gets by itself in YAML 1.1; any other was written by hand."""


class ProblemList:
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
    return cleaned(node.value) if isinstance(node, ScalarNode) else ""


class NodeReader:
    """Asks nodes for values; each node is answered once, so that aliases cannot multiply a plan."""

    def __init__(self, problems: ProblemList) -> None:
        """Note faults in `problems`."""
        self.problems = problems
        self._seen: set[int] = set()

    def is_first_visit(self, node: Node, where: str) -> bool:
        """Return whether `node` is met for the first time and carries no tag of its own; note it if not."""
        if node.tag not in _CORE_TAGS:
            tag = sanitized(node.tag.replace("tag:yaml.org,2002:", "!!"))
            self.problems.note(node, where, f"the tag {quoted(tag)} has no place in a plan", "delete it")
            return False
        if id(node) in self._seen:
            what = f"an alias (*name) repeats {kind_of(node)} from here"
            self.problems.note(node, where, what, "write it out in both places")
            return False
        self._seen.add(id(node))
        return True

    def value(self, node: Node, where: str, read: Callable[[str], _T], *, form: str = "one text") -> _T | None:
        """Return what `read` makes of a node's text, or note why it is refused: None."""
        text = self.text(node, where, form=form)
        return None if text is None else self.read(node, where, text, read)

    def text(self, node: Node, where: str, *, form: str = "one text") -> str | None:
        """Return a node's text on one line, neither empty nor too long; else note it, to be written as `form`: None."""
        if not self.is_first_visit(node, where):
            return None
        if not isinstance(node, ScalarNode):
            self.problems.note(node, where, f"{kind_of(node)} stands where a text belongs", f"write {form}")
            return None
        return self.read(node, where, text_of(node), checked_text)

    def read(self, node: Node, where: str, text: str, read: Callable[[str], _T]) -> _T | None:
        """Return what `read` makes of `text`, a part of what `node` holds, or note why it is refused: None."""
        try:
            return read(text)
        except WrongValueError as wrong:
            self.problems.note(node, where, wrong.what, wrong.suggestion)
            return None

    def items(self, node: Node, where: str, *, most: int | None = None) -> list[Node]:
        """Return the nodes of a list of 1 to `most`, or note what is wrong and return those there are."""
        if not self.is_first_visit(node, where):
            return []
        if not isinstance(node, SequenceNode):
            what = f"{kind_of(node)} stands where a list belongs"
            self.problems.note(node, where, what, "begin each entry with `- `")
            return []
        count = len(node.value)
        if count == 0:
            self.problems.note(node, where, "the list is empty", "name at least one")
        if most is not None and count > most:
            self.problems.note(node, where, f"the list has {count} entries", f"name at most {most}")
        return list(node.value)

    def pairs(self, node: Node, where: str, example: str) -> list[tuple[Node, str, Node]]:
        """Return key node, key and value node of a mapping with distinct keys, noting what is wrong."""
        if not self.is_first_visit(node, where):
            return []
        if not isinstance(node, MappingNode):
            what = f"{kind_of(node)} stands where `key: value` belongs"
            self.problems.note(node, where, what, f"write {example}")
            return []
        found: dict[str, tuple[Node, str, Node]] = {}
        for key_node, value_node in node.value:
            key = self.text(key_node, where)
            if key is None:
                continue
            if key in found:
                self.problems.note(key_node, where, f"the key {quoted(key)} stands twice", "keep one of them")
            else:
                found[key] = (key_node, key, value_node)
        return list(found.values())

    def fields(self, node: Node, where: str, keys: Mapping[str, PlanKey]) -> dict[str, Node]:
        """Return the values of a mapping by key, noting keys that are not in `keys` and those missing."""
        required = [key for key in keys.values() if key.is_required]
        pairs = self.pairs(node, where, (required or list(keys.values()))[0].example)
        found: dict[str, Node] = {}
        for key_node, key, value_node in pairs:
            if key not in keys:
                self.problems.note(key_node, where, f"the key {quoted(key)} is not known", did_you_mean(key, keys))
            else:
                found[key] = value_node
        if isinstance(node, MappingNode) and (pairs or not node.value):
            present = {key for _, key, _ in pairs}
            for missing in (key for key in required if key.name not in present):
                what = f"the key {quoted(missing.name)} is missing"
                self.problems.note(node, where, what, f"write {missing.example}")
        return found


def inside(where: str, key: str) -> str:
    """Return the dotted place of `key` inside `where`."""
    return f"{where}.{key}" if where else key
