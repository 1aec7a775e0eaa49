"""The word by which a command names its plan."""

import argparse
from pathlib import Path
from typing import Final

PLAN_ENDINGS: Final = (".yaml", ".yml")
"""What the name of a plan's file ends in, the ending that the coach itself writes first."""


def add_plan(parser: argparse.ArgumentParser, what: str, *, is_optional: bool = False) -> None:
    """Let a command take a plan, by its file or by its name without ending; `what` is said of it in the help."""
    parser.add_argument("plan", metavar="PLAN", type=plan_path, nargs="?" if is_optional else None, help=what)


def plan_path(word: str) -> Path:
    """Return the file that a word names: itself, or with the ending of a plan, here or in the folder plans."""
    path = Path(word)
    named = [path, *(folder / f"{word}{ending}" for folder in (Path(), Path("plans")) for ending in PLAN_ENDINGS)]
    return next((found for found in named if found.is_file()), path)
