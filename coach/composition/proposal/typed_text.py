"""What is typed, read by the plan's own readers, so that an answer and a plan mean the same."""

from collections.abc import Callable, Iterable
from typing import Final, NamedTuple, TypeVar

from yaml.error import Mark
from yaml.nodes import MappingNode, Node, ScalarNode

from coach.plan.node_reading import Asker, Faults

_T = TypeVar("_T")
_STR, _MAP = "tag:yaml.org,2002:str", "tag:yaml.org,2002:map"
_START: Final = Mark("", 0, 0, 0, "", 0)


class AnswerFault(NamedTuple):
    """Why an answer cannot be taken, in one sentence with a way out."""

    sentence: str


def read_typed(read: Callable[[Asker, Node, str], _T | None], text: str) -> _T | AnswerFault:
    """Return what a reader of the plan makes of `text`, or its first fault."""
    return _read_node(read, _scalar(text))


def read_typed_pairs(
    read: Callable[[Asker, Node, str], _T | None], pairs: Iterable[tuple[str, str]]
) -> _T | AnswerFault:
    """Return what a reader of a mapping makes of keys with their values, or its first fault."""
    nodes: list[tuple[Node, Node]] = [(_scalar(key), _scalar(value)) for key, value in pairs]
    return _read_node(read, MappingNode(_MAP, nodes, _START, _START))


def cleaned(text: str, *, most: int) -> str | AnswerFault:
    """Return `text` harmless and on one line, of 1 to `most` characters."""

    def read(ask: Asker, node: Node, where: str) -> str | None:
        return ask.text(node, where, most=most)

    return read_typed(read, text)


def _scalar(text: str) -> ScalarNode:
    return ScalarNode(_STR, text, _START, _START)


def _read_node(read: Callable[[Asker, Node, str], _T | None], node: Node) -> _T | AnswerFault:
    faults = Faults("")
    found = read(Asker(faults), node, "")
    if faults.problems or found is None:
        first = faults.problems[0]
        return AnswerFault(f"{first.what}; {first.suggestion}" if first.suggestion else first.what)
    return found
