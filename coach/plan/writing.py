"""A plan back into text: a new text as a person would write it, or the painter's own text with an edit done in it."""

from typing import Final

from coach.plan.commission import Plan
from coach.plan.key_table import KEYS_INSIDE
from coach.plan.layers import layer_texts
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.text_edits import LayoutError, with_edits
from coach.plan.writing_in_place import edits_between
from coach.plan.written_parts import Section, pass_lines, sections
from coach.plan.yaml_text import mapping_text, tree_of

_BYTE_ORDER_MARK: Final = "\ufeff"


def plan_text(plan: Plan) -> str:
    """Return a new text of a plan, as a person would write it; the reader makes the same plan of it.

    Lists of things with names have a line for each, and so has each passage; what is as usual is left out.

    Args:
        plan: A plan that was read, or edited by `coach.plan.editing`.

    Raises:
        WritingError: A passage cannot name what it lies over, because its namesakes read alike.
    """
    written = sections(plan)
    groups: list[str] = [""]
    for key in KEYS_INSIDE[""].values():
        if key.opens_group and groups[-1]:
            groups.append("")
        if key.name in written:
            groups[-1] += _section_text(key.name, written[key.name])
    layers = layer_texts(plan)
    passes = ["".join(f"  {line}\n" for line in pass_lines(one_pass, layers)) for one_pass in plan.passes]
    return "\n".join((*filter(None, groups), "passes:\n" + "\n".join(passes)))


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
    before, after = _as_stated(before), _as_stated(after)
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


def _as_stated(plan: Plan) -> Plan:
    """Return a plan without what no text states: the drying of mixtures, which the log tells."""
    if all(mixture.dries_days is None for mixture in plan.mixtures):
        return plan
    return plan._replace(mixtures=tuple(mixture._replace(dries_days=None) for mixture in plan.mixtures))


def _written_anew(text: str, plan: Plan) -> str:
    comments = [line.strip() for line in text.split("\n") if line.lstrip().startswith("#")]
    return "".join(f"{line}\n" for line in comments) + plan_text(plan)


def _section_text(key: str, section: Section) -> str:
    if isinstance(section, tuple):
        return f"{key}:\n" + "".join(f"  - {entry}\n" for entry in section)
    return f"{key}: {section if isinstance(section, str) else mapping_text(section)}\n"
