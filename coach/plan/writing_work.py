"""Passes and passages edited in the painter's own text: which entry is which, and what changes in it."""

from collections.abc import Sequence
from typing import Final, NamedTuple, TypeVar

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.commission import Pass, Passage
from coach.plan.node_reading import text_of
from coach.plan.writing_layers import LayerNames, layer_text
from coach.plan.writing_lists import Entries, Kept, New, entry_lines, entry_splices, list_splices
from coach.plan.writing_parts import PASSAGE_KEYS, entry_text, passage_fields
from coach.plan.writing_passes import pass_lines, pass_on_one_line
from coach.plan.writing_splices import CannotSpliceError, Splice, mapping_splices, values_of
from coach.plan.writing_values import scalar_text

_NamedT = TypeVar("_NamedT", Pass, Passage)
_GAP: Final = "\n"
"""Between two passes stands an empty line, where the text itself shows no other custom."""


class _Origin(NamedTuple):
    """Where a passage stands in the text as it is: numbers, from 0, of its pass and of itself in it."""

    pass_no: int
    passage_no: int


class _Work:
    """The text's passes as they are and as they shall be."""

    def __init__(self, text: str, node: SequenceNode, before: Sequence[Pass], after: Sequence[Pass]) -> None:
        self._text = text
        self._before, self._after = before, after
        self.pass_of = _paired(before, after)
        self._lists = [_passages_node(item) for item in node.value]
        self._origins = _origins(before, after, self.pass_of)
        self._above = LayerNames(after)

    def entries(self, nodes: Sequence[Node]) -> Entries:
        """Return the entries of the list of passes; asked once, for it walks down the plan."""
        return [self._pass_entry(nodes, number, one_pass) for number, one_pass in enumerate(self._after)]

    def _pass_entry(self, nodes: Sequence[Node], number: int, one_pass: Pass) -> Kept | New:
        source = self.pass_of.get(number)
        if source is None:
            return self._new_pass(one_pass)
        entries = [self._passage_entry(number, place) for place in range(len(one_pass.passages))]
        splices = list_splices(self._text, self._lists[source], entries)
        node = nodes[source]
        if one_pass.name != self._before[source].name and isinstance(node, MappingNode):
            splices += mapping_splices(self._text, node, {"name": scalar_text(one_pass.name)}, ("name",))
        return Kept(source, tuple(splices))

    def _new_pass(self, one_pass: Pass) -> New:
        layers: dict[tuple[str, str], str] = {}
        for passage in one_pass.passages:
            here = (one_pass.name, passage.name)
            layer = passage.over or passage.into
            if layer:
                layers[here] = layer_text(self._above, layer, here)
            self._above.add(here)
        return New(pass_lines(one_pass, layers), pass_on_one_line(one_pass, layers))

    def _passage_entry(self, number: int, place: int) -> Kept | New:
        one_pass = self._after[number]
        passage = one_pass.passages[place]
        origin = self._origins.get((number, place))
        layer = self._layer(one_pass.name, passage, origin)
        self._above.add((one_pass.name, passage.name))
        if origin is None:
            line = entry_text(passage_fields(passage, layer))
            return New((f"- {line}",), line)
        kept = Kept(origin.passage_no, self._passage_splices(origin, passage, layer))
        if origin.pass_no == self.pass_of[number]:
            return kept
        lines = entry_lines(self._text, self._lists[origin.pass_no], kept)
        return New(lines, entry_text(passage_fields(passage, layer)))

    def _layer(self, pass_name: str, passage: Passage, origin: _Origin | None) -> str | None:
        """Return the text by which a passage names its layer; the painter's own where that still means it."""
        layer = passage.over or passage.into
        if layer is None:
            return None
        written = None if origin is None else self._stated_layer(origin)
        if written and self._above.meant(written, pass_name) == layer:
            return written
        return layer_text(self._above, layer, (pass_name, passage.name))

    def _passage_splices(self, origin: _Origin, passage: Passage, layer: str | None) -> tuple[Splice, ...]:
        old = self._before[origin.pass_no].passages[origin.passage_no]
        if old == passage and layer in (None, self._stated_layer(origin)):
            return ()
        node = self._node(origin)
        was, shall = passage_fields(old, None), passage_fields(passage, layer)
        stated = values_of(node) if isinstance(node, MappingNode) else {}
        was |= {key: scalar_text(text_of(stated[key])) for key in ("over", "into") if key in stated}
        changes = {key: shall.get(key) for key in PASSAGE_KEYS if was.get(key) != shall.get(key)}
        return tuple(entry_splices(self._text, node, changes, shall, PASSAGE_KEYS))

    def _stated_layer(self, origin: _Origin) -> str | None:
        node = self._node(origin)
        values = values_of(node) if isinstance(node, MappingNode) else {}
        stated = values.get("over") or values.get("into")
        return None if stated is None else text_of(stated)

    def _node(self, origin: _Origin) -> Node:
        node: Node = self._lists[origin.pass_no].value[origin.passage_no]
        return node


def work_splices(text: str, node: SequenceNode, before: Sequence[Pass], after: Sequence[Pass]) -> list[Splice]:
    """Return what turns the passes of a text into others.

    A passage or pass is known by its name; failing that, a passage of the same name that left another pass has come
    from there, and one of another name at the same place has been renamed.

    Args:
        text: The text.
        node: The list under `passes`.
        before: The passes it holds.
        after: The passes it shall hold.

    Raises:
        CannotSpliceError: The layout does not allow it.
        WritingError: A passage cannot name what it lies over.
    """
    if before == after:
        return []
    return list_splices(text, node, _Work(text, node, before, after).entries(node.value), gap=_GAP)


def _passages_node(item: Node) -> SequenceNode:
    passages = values_of(item).get("passages") if isinstance(item, MappingNode) else None
    if not isinstance(passages, SequenceNode):
        raise CannotSpliceError
    return passages


def _paired(old: Sequence[_NamedT], new: Sequence[_NamedT]) -> dict[int, int]:
    """Return for the number of a new entry that of the old one it is: of the same name, or else at the same place."""
    pairs = _namesakes(old, new)
    taken = set(pairs.values())
    for number in range(min(len(old), len(new))):
        if number not in pairs and number not in taken:
            pairs[number] = number
    return pairs


def _namesakes(old: Sequence[_NamedT], new: Sequence[_NamedT]) -> dict[int, int]:
    numbers = {entry.name: number for number, entry in enumerate(old)}
    return {number: numbers[entry.name] for number, entry in enumerate(new) if entry.name in numbers}


def _origins(before: Sequence[Pass], after: Sequence[Pass], pass_of: dict[int, int]) -> dict[tuple[int, int], _Origin]:
    """Return for each passage that stands in the text already where it stands; by numbers of its new pass and place."""
    origins: dict[tuple[int, int], _Origin] = {}
    for number, source in pass_of.items():
        pairs = _namesakes(before[source].passages, after[number].passages)
        origins |= {(number, place): _Origin(source, old) for place, old in pairs.items()}
    used = set(origins.values())
    left = {
        passage.name: _Origin(pass_no, place)
        for pass_no, one_pass in enumerate(before)
        for place, passage in enumerate(one_pass.passages)
        if _Origin(pass_no, place) not in used
    }
    for number, source in pass_of.items():
        for place, passage in enumerate(after[number].passages):
            if (number, place) in origins:
                continue
            same_place = _Origin(source, place)
            came = left.pop(passage.name, None)
            if came is None and place < len(before[source].passages) and same_place not in used:
                came = same_place
            if came is not None and came not in used:
                origins[number, place] = came
                used.add(came)
    return origins
