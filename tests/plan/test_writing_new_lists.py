"""A list that comes into the painter's own text is laid out as a person would: short on one line, long in a block."""

import difflib

import pytest

from coach.plan.commission import MarkedBox, MarkedHead, Plan
from coach.plan.reading import read_plan
from coach.plan.writing_in_place import edited_text


def _plan(text: str) -> Plan:
    return read_plan(text, "plan.yaml")


def _edited(text: str, plan: Plan) -> list[str]:
    edited = edited_text(text, _plan(text), plan)
    assert _plan(edited) == plan
    return [line for line in difflib.ndiff(text.splitlines(), edited.splitlines()) if line[0] in "+-"]


@pytest.mark.parametrize("indent", ["", "  "])
def test_a_long_list_that_is_new_has_a_line_for_each_entry_and_a_short_one_stays_on_one(indent: str) -> None:
    text = f"{indent}canvases: [Hall]\n{indent}passes: [{{name: eyes, passages: [iris]}}]   # the first\n"
    heads = (MarkedHead("elder", MarkedBox(1, 2, 3000, 4000)), MarkedHead("younger", MarkedBox(5, 6, 7000, 8000)))
    keeps = (MarkedBox(0, 0, 9, 9), MarkedBox(1, 1, 9, 9))
    added = [
        f"+ {indent}photo: sitter.jpg",
        f"+ {indent}heads:",
        f"+ {indent}  - {{name: elder, box: [1, 2, 3000, 4000]}}",
        f"+ {indent}  - {{name: younger, box: [5, 6, 7000, 8000]}}",
        f"+ {indent}keep: [[0, 0, 9, 9], [1, 1, 9, 9]]",
    ]
    marked = _plan(text)._replace(photo="sitter.jpg", heads=heads, keeps=keeps)
    assert _edited(text, marked) == added
    written = edited_text(text, _plan(text), marked)
    assert edited_text(written, marked, _plan(text)) == text
    moved = marked._replace(keeps=(MarkedBox(0, 0, 99, 99),))
    assert _edited(written, moved) == [f"- {added[-1][2:]}", f"+ {indent}keep: [[0, 0, 99, 99]]"]


def test_a_list_in_a_block_stays_in_one_while_it_is_long() -> None:
    text = "canvases: [Hall]\nkeep:\n  - [0, 0, 9, 9]   # her hand\npasses: [{name: eyes, passages: [iris]}]\n"
    keeps = tuple(MarkedBox(n, 1000, 9000, 9000) for n in range(1000, 1005))
    lines = _edited(text, _plan(text)._replace(keeps=keeps))
    assert lines[0] == "-   - [0, 0, 9, 9]   # her hand"
    assert [line.removesuffix("   # her hand") for line in lines[1:]] == [
        f"+   - [{n}, 1000, 9000, 9000]" for n in range(1000, 1005)
    ]
