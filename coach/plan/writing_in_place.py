"""An edit of a plan set into the painter's own text: which entry is which, and what changes in it."""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple, TypeVar

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.commission import Address, Pass, Passage, Plan
from coach.plan.key_table import KEYS_INSIDE, Figures, PlanKey, Records
from coach.plan.layers import EarlierPassages
from coach.plan.node_reading import text_of
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.text_edits import (
    Entries,
    Kept,
    LayoutError,
    New,
    TextEdit,
    entry_edits,
    entry_lines,
    list_edits,
    mapping_edits,
    named_entries,
    values_of,
    with_edits,
)
from coach.plan.writing import (
    Section,
    pass_lines,
    pass_on_one_line,
    passage_fields,
    plan_text,
    record_fields,
    sections,
)
from coach.plan.yaml_text import entry_text, list_text, mapping_text, scalar_text, tree_of

_LONGEST_LIST: Final = 80
"""Characters of a list that is added on one line; a longer one has a line for each entry."""


_PASSAGE_KEYS: Final = tuple(KEYS_INSIDE["passages"])
_NamedT = TypeVar("_NamedT", Pass, Passage)
_GAP: Final = "\n"
"""Between two passes stands an empty line, where the text itself shows no other custom."""


_BYTE_ORDER_MARK: Final = "\ufeff"


def edited_text(text: str, before: Plan, after: Plan) -> str:
    """Return the painter's own text with an edit done in it.

    The text is edited at the places of PyYAML's nodes, so that every character that the edit does not touch stays:
    comments, quotes, order of keys, line breaks, alignment. (A round-trip emitter writes the whole file anew from a
    tree of its own: it rewraps and re-indents lists, and would be one more library.) The result is read again and
    compared; a layout that takes no edit is written anew, with its lines of comment gathered at the head.

    Args:
        text: A text that reads as `before`.
        before: The plan it is.
        after: The plan it shall be.

    Raises:
        PlanError: `text` is no plan.
        WritingError: A passage of `after` cannot name what it lies over, because its namesakes read alike.
    """
    if before == after:
        return text
    bare = text.removeprefix(_BYTE_ORDER_MARK)
    mark = text[: len(text) - len(bare)]
    root = tree_of(bare, "")
    try:
        edited = with_edits(bare, edits_between(bare, root, before, after))
        if read_plan(edited, "") == after:
            return mark + edited
    except (LayoutError, PlanError):
        pass
    return mark + _written_anew(bare, after)


def _written_anew(text: str, plan: Plan) -> str:
    comments = [line.strip() for line in text.split("\n") if line.lstrip().startswith("#")]
    return "".join(f"{line}\n" for line in comments) + plan_text(plan)


def edits_between(text: str, root: Node, before: Plan, after: Plan) -> list[TextEdit]:
    """Return what turns the text of one plan into that of another.

    Args:
        text: The text that reads as `before`.
        root: Its root node.
        before: The plan it is.
        after: The plan it shall be.

    Raises:
        LayoutError: The layout does not allow it.
        WritingError: A passage of `after` cannot name what it lies over.
    """
    values = values_of(root) if isinstance(root, MappingNode) else {}
    passes = values.get("passes")
    if not isinstance(root, MappingNode) or not isinstance(passes, SequenceNode):
        raise LayoutError
    old, new = sections(before), sections(after)
    edits: list[TextEdit] = []
    changes: dict[str, str | None] = {}
    for key in KEYS_INSIDE[""].values():
        if key.name == "passes":
            continue
        node, shall = values.get(key.name), new.get(key.name)
        inner = _inner_edits(text, key, node, (before, after))
        if inner is not None:
            edits += inner
        elif old.get(key.name) != shall:
            changes[key.name] = None if shall is None else _laid_out(shall, root, node)
    edits += mapping_edits(text, root, changes, tuple(KEYS_INSIDE[""])) if changes else []
    return edits + _work_edits(text, passes, before.passes, after.passes)


def _inner_edits(text: str, key: PlanKey, node: Node | None, plans: tuple[Plan, Plan]) -> list[TextEdit] | None:
    """Return what changes inside the value of a key, or None where the value as a whole must be set, added or gone."""
    before, after = (getattr(plan, key.data_field) for plan in plans)
    if isinstance(key.takes, Figures) and isinstance(node, MappingNode) and after is not None:
        old, new = (record_fields(key.name, record) for record in (before, after))
        return _figure_edits(text, node, old, new, tuple(KEYS_INSIDE[key.name]))
    if isinstance(key.takes, Records) and isinstance(node, SequenceNode) and after and before != after:
        were, shall = ([record_fields(key.name, record) for record in records] for records in (before, after))
        return list_edits(text, node, named_entries(text, node.value, were, shall, tuple(KEYS_INSIDE[key.name])))
    return None


def _figure_edits(
    text: str, node: MappingNode, old: Mapping[str, str], new: Mapping[str, str], order: Sequence[str]
) -> list[TextEdit] | None:
    stated = [text_of(key) for key, _ in node.value]
    changes = {
        key: new.get(key)
        for key in order
        if (old.get(key) != new.get(key) and (key in new or key in stated)) or (key in new and key not in stated)
    }
    if not changes:
        return []
    left = [key for key in stated if changes.get(key, "") is not None]
    return mapping_edits(text, node, changes, order) if left else None


def _laid_out(section: Section, root: MappingNode, node: Node | None) -> str:
    """Return a section on one line, or a long list as a block where it is new or stands in one already."""
    line = _on_one_line(section)
    in_brackets = root.flow_style or not (node is None or (isinstance(node, SequenceNode) and not node.flow_style))
    if in_brackets or not isinstance(section, tuple) or len(line) <= _LONGEST_LIST:
        return line
    indent = " " * (root.start_mark.column + 2)
    return "".join(f"\n{indent}- {entry}" for entry in section)


def _on_one_line(section: Section) -> str:
    if isinstance(section, str):
        return section
    return mapping_text(section) if isinstance(section, dict) else list_text(section)


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
        self._above = EarlierPassages()

    def entries(self, nodes: Sequence[Node]) -> Entries:
        """Return the entries of the list of passes; asked once, for it walks down the plan."""
        return [self._pass_entry(nodes, number, one_pass) for number, one_pass in enumerate(self._after)]

    def _pass_entry(self, nodes: Sequence[Node], number: int, one_pass: Pass) -> Kept | New:
        source = self.pass_of.get(number)
        if source is None:
            return self._new_pass(one_pass)
        entries = [self._passage_entry(number, place) for place in range(len(one_pass.passages))]
        edits = list_edits(self._text, self._lists[source], entries)
        node = nodes[source]
        if one_pass.name != self._before[source].name and isinstance(node, MappingNode):
            edits += mapping_edits(self._text, node, {"name": scalar_text(one_pass.name)}, ("name",))
        return Kept(source, tuple(edits))

    def _new_pass(self, one_pass: Pass) -> New:
        layers: dict[Address, str] = {}
        for passage in one_pass.passages:
            here = (one_pass.name, passage.name)
            layer = passage.over or passage.into
            if layer:
                layers[here] = self._above.text(layer, here)
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
        kept = Kept(origin.passage_no, self._passage_edits(origin, passage, layer))
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
        if written and self._above.means(written, layer, pass_name):
            return written
        return self._above.text(layer, (pass_name, passage.name))

    def _passage_edits(self, origin: _Origin, passage: Passage, layer: str | None) -> tuple[TextEdit, ...]:
        old = self._before[origin.pass_no].passages[origin.passage_no]
        if old == passage and layer in (None, self._stated_layer(origin)):
            return ()
        node = self._node(origin)
        was, shall = passage_fields(old, None), passage_fields(passage, layer)
        stated = values_of(node) if isinstance(node, MappingNode) else {}
        was |= {key: scalar_text(text_of(stated[key])) for key in ("over", "into") if key in stated}
        changes = {key: shall.get(key) for key in _PASSAGE_KEYS if was.get(key) != shall.get(key)}
        return tuple(entry_edits(self._text, node, changes, shall, _PASSAGE_KEYS))

    def _stated_layer(self, origin: _Origin) -> str | None:
        node = self._node(origin)
        values = values_of(node) if isinstance(node, MappingNode) else {}
        stated = values.get("over") or values.get("into")
        return None if stated is None else text_of(stated)

    def _node(self, origin: _Origin) -> Node:
        node: Node = self._lists[origin.pass_no].value[origin.passage_no]
        return node


def _work_edits(text: str, node: SequenceNode, before: Sequence[Pass], after: Sequence[Pass]) -> list[TextEdit]:
    """Return what turns the passes of a text into others.

    A passage or pass is known by its name; failing that, a passage of the same name that left another pass has come
    from there, and one of another name at the same place has been renamed.

    Args:
        text: The text.
        node: The list under `passes`.
        before: The passes it holds.
        after: The passes it shall hold.

    Raises:
        LayoutError: The layout does not allow it.
        WritingError: A passage cannot name what it lies over.
    """
    if before == after:
        return []
    return list_edits(text, node, _Work(text, node, before, after).entries(node.value), gap=_GAP)


def _passages_node(item: Node) -> SequenceNode:
    passages = values_of(item).get("passages") if isinstance(item, MappingNode) else None
    if not isinstance(passages, SequenceNode):
        raise LayoutError
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
