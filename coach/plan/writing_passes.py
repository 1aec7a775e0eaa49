"""A pass and its passages, written on lines of their own or on one."""

from collections.abc import Mapping

from coach.plan.commission import Pass, Passage
from coach.plan.layer_reading import Address
from coach.plan.writing_parts import entry_text, passage_fields
from coach.plan.writing_values import list_text, mapping_text, scalar_text


def pass_lines(one_pass: Pass, layers: Mapping[Address, str]) -> tuple[str, ...]:
    """Return a pass as the lines of an entry of a list, without an indent.

    Args:
        one_pass: The pass.
        layers: For each passage with a layer the text by which it names it.
    """
    entries = (f"    - {text}" for text in _passage_texts(one_pass, layers))
    return (f"- name: {scalar_text(one_pass.name)}", "  passages:", *entries)


def pass_on_one_line(one_pass: Pass, layers: Mapping[Address, str]) -> str:
    """Return a pass as one line."""
    return mapping_text({"name": scalar_text(one_pass.name), "passages": list_text(_passage_texts(one_pass, layers))})


def passage_text(pass_name: str, passage: Passage, layers: Mapping[Address, str]) -> str:
    """Return a passage as one line."""
    return entry_text(passage_fields(passage, layers.get((pass_name, passage.name))))


def _passage_texts(one_pass: Pass, layers: Mapping[Address, str]) -> list[str]:
    return [passage_text(one_pass.name, passage, layers) for passage in one_pass.passages]
