"""An edit of a plan as splices in the painter's own text."""

from collections.abc import Mapping, Sequence
from typing import Final

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.commission import Plan
from coach.plan.limit_reading import LIMIT_KEYS
from coach.plan.node_reading import text_of
from coach.plan.writing_lists import list_splices, named_entries
from coach.plan.writing_parts import canvas_fields, head_fields, mixture_fields, paint_fields
from coach.plan.writing_sections import GROUPS, Section, sections
from coach.plan.writing_splices import CannotSpliceError, Splice, mapping_splices, values_of
from coach.plan.writing_values import list_text, mapping_text
from coach.plan.writing_work import work_splices

_KEYS: Final = (*(key for group in GROUPS for key in group), "passes")
_LONGEST_LIST: Final = 80
"""Characters of a list that is added on one line; a longer one has a line for each entry."""

_KEYS_INSIDE: Final = {
    "limits": tuple(LIMIT_KEYS),
    "after": ("drying", "framing", "transport"),
    "forecast": ("spread", "seed", "room", "medium", "film"),
}
_KEYS_OF_ENTRIES: Final = {
    "canvases": ("name", "place", "size"),
    "heads": ("name", "box"),
    "palette": ("name", "pigment", "dries"),
    "mixtures": ("name", "parts", "oil"),
}


def edit_splices(text: str, root: Node, before: Plan, after: Plan) -> list[Splice]:
    """Return what turns the text of one plan into that of another.

    Args:
        text: The text that reads as `before`.
        root: Its root node.
        before: The plan it is.
        after: The plan it shall be.

    Raises:
        CannotSpliceError: The layout does not allow it.
        WritingError: A passage of `after` cannot name what it lies over.
    """
    values = values_of(root) if isinstance(root, MappingNode) else {}
    passes = values.get("passes")
    if not isinstance(root, MappingNode) or not isinstance(passes, SequenceNode):
        raise CannotSpliceError
    old, new = sections(before), sections(after)
    splices: list[Splice] = []
    changes: dict[str, str | None] = {}
    for key in _KEYS[:-1]:
        node, was, shall = values.get(key), old.get(key), new.get(key)
        if was == shall and key not in _KEYS_INSIDE:
            continue
        inner = _inner_splices(text, key, node, (before, after), (was, shall))
        if inner is not None:
            splices += inner
        else:
            changes[key] = None if shall is None else _laid_out(shall, root, node)
    splices += mapping_splices(text, root, changes, _KEYS) if changes else []
    return splices + work_splices(text, passes, before.passes, after.passes)


def _inner_splices(
    text: str, key: str, node: Node | None, plans: tuple[Plan, Plan], written: tuple[Section | None, Section | None]
) -> list[Splice] | None:
    """Return what changes inside the value of a key, or None where the value as a whole must be set, added or gone."""
    was, shall = written
    if key in _KEYS_INSIDE and isinstance(node, MappingNode):
        old = was if isinstance(was, dict) else {}
        new = shall if isinstance(shall, dict) else {}
        return _figure_splices(text, node, old, new, _KEYS_INSIDE[key])
    if key in _KEYS_OF_ENTRIES and isinstance(node, SequenceNode) and shall:
        before, after = (_fields_of(key, plan) for plan in plans)
        order = _KEYS_OF_ENTRIES[key]
        return list_splices(text, node, named_entries(text, node.value, before, after, order))
    return [] if was == shall else None


def _figure_splices(
    text: str, node: MappingNode, old: Mapping[str, str], new: Mapping[str, str], order: Sequence[str]
) -> list[Splice] | None:
    stated = [text_of(key) for key, _ in node.value]
    changes = {
        key: new.get(key)
        for key in order
        if (old.get(key) != new.get(key) and (key in new or key in stated)) or (key in new and key not in stated)
    }
    if not changes:
        return []
    left = [key for key in stated if changes.get(key, "") is not None]
    return mapping_splices(text, node, changes, order) if left else None


def _fields_of(key: str, plan: Plan) -> list[dict[str, str]]:
    if key == "canvases":
        return [canvas_fields(canvas) for canvas in plan.canvases]
    if key == "heads":
        return [head_fields(head) for head in plan.heads]
    if key == "palette":
        return [paint_fields(paint) for paint in plan.palette]
    return [mixture_fields(mixture) for mixture in plan.mixtures]


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
