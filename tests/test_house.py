"""The shape of the house, as the house style has it: what a reader may rely on without looking."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

COACH: Final = Path(__file__).parents[1] / "coach"
PURE: Final = (
    "plan",
    "journal",
    "order",
    "colour",
    "shapes",
    "composition",
    "drawing",
    "limits",
    "forecast",
    "session",
    "review",
)
MOST_LINES, MOST_FUNCTION_LINES = 400, 40
MODULES: Final = sorted(COACH.rglob("*.py"))


def functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return (node for node in ast.walk(tree) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)))


def code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return the lines of a function without its docstring, which may be as long as its subject needs."""
    first = node.body[0]
    has_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    said = (first.end_lineno or 0) - first.lineno + 1 if has_docstring else 0
    return (node.end_lineno or 0) - node.lineno + 1 - said


def test_no_file_is_longer_than_a_reader_takes_in() -> None:
    lines = {str(path.relative_to(COACH)): len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert {name: count for name, count in lines.items() if count > MOST_LINES and not name.endswith("_table.py")} == {}


def test_no_function_is_longer_than_a_screen() -> None:
    found = {f"{path.relative_to(COACH)}:{node.name}": code_lines(node) for path in MODULES for node in functions(path)}
    assert {name: count for name, count in found.items() if count > MOST_FUNCTION_LINES} == {}


def test_a_file_is_named_for_its_subject() -> None:
    shapeless = {"utils", "helpers", "common", "misc", "types", "manager"}
    assert [path for path in MODULES if path.stem in shapeless] == []


@pytest.mark.parametrize("path", sorted(COACH.rglob("__init__.py")), ids=lambda path: path.parent.name)
def test_a_package_holds_only_its_docstring(path: Path) -> None:
    assert [type(node) for node in ast.parse(path.read_text(encoding="utf-8")).body] == [ast.Expr]


def test_the_pure_rooms_load_without_the_screen_library() -> None:
    """The static graph cannot see imports inside functions; a clean interpreter can."""
    names = [
        ".".join(path.relative_to(COACH.parent).with_suffix("").parts)
        for room in PURE
        for path in sorted((COACH / room).rglob("*.py"))
        if path.stem != "__init__"
    ]
    code = f"import sys, importlib\nfor name in {names}: importlib.import_module(name)\nprint(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "coach.plan.reading" in loaded
    assert not {"textual", "sqlite3"} & set(loaded)


@pytest.mark.parametrize("path", sorted(COACH.rglob("*.tcss")), ids=lambda path: path.parent.name + "/" + path.name)
def test_a_stylesheet_is_one_block_so_that_its_rules_end_with_its_screen(path: Path) -> None:
    text = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.DOTALL).strip()
    depth, ends = 0, []
    for at, sign in enumerate(text):
        depth += (sign == "{") - (sign == "}")
        if sign == "}" and depth == 0:
            ends.append(at)
    assert re.match(r"[A-Z]\w+ \{", text)
    assert ends == [len(text) - 1]
