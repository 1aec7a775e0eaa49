"""`coach new [FILE]`: a new commission, from the first question to the easel."""

import argparse
import sys
from collections.abc import Mapping
from itertools import chain, count
from pathlib import Path

from coach.commands.new_plan_file import is_taken, named_new, write_new
from coach.commands.painting import add_looks, paint
from coach.commands.plan_argument import PLAN_ENDINGS
from coach.composition.proposal.answers import file_stem
from coach.composition.proposal.questions import answers_of
from coach.errors import UsageError
from coach.plan.commission import Plan
from coach.screens.commission.screen import NewCommissionApp
from coach.screens.terminal import run_app
from coach.store.drafts import answers_file
from coach.store.system_clock import SystemClock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", type=Path, nargs="?", help="the plan's file to be; else named after the commission")
    add_looks(parser)


def run(asked: argparse.Namespace) -> int:
    """Ask about a new commission, write its plan and open the easel with it."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("a new commission needs a terminal, for it asks questions")
    path = new_plan(None if asked.file is None else named_new(asked.file), light=asked.light)
    return 0 if path is None else paint(path, light=asked.light, rings=asked.bell)


def new_plan(named: Path | None, *, light: bool) -> Path | None:
    """Ask about a new commission and return where its plan was written; None where the painter has left.

    Args:
        named: File for the plan, which is not there yet; None for one in this folder, named after the commission.
        light: Whether the ground is light.
    """
    desk = CommissionDesk(Path() if named is None else named.parent, None if named is None else named.name)
    return run_app(NewCommissionApp(desk, answers_of(desk.kept.load(), SystemClock().today()), light=light))


class CommissionDesk:
    """A folder for a new plan and for what was said about it.

    Attributes:
        kept: The answers kept in this folder.
    """

    def __init__(self, folder: Path, named: str | None = None) -> None:
        """Work in a folder; `named` is the name of the plan's file where the painter has given one."""
        self.kept = answers_file(folder)
        self._folder = folder
        self._named = named

    def keep(self, plain: Mapping[str, str]) -> None:
        """Keep what was said."""
        self.kept.save(plain)

    def proposed_name(self, commission: str) -> str:
        """Return a free name after the commission, or the one that was given while it is free."""
        return self.free_name(self._named or commission.lower())

    def free_name(self, typed: str) -> str:
        """Return the typed name if it is safe and free, else the next that is; it is never a path."""
        if typed == self._named and self._is_free(typed):
            return typed
        stem = file_stem(typed.strip().removesuffix(PLAN_ENDINGS[0]))
        names = chain([stem], (f"{stem}-{number}" for number in count(2)))
        return next(name for stem in names if self._is_free(name := f"{stem}{PLAN_ENDINGS[0]}"))

    def write(self, name: str, plan: Plan) -> Path:
        """Write a plan that `coach check` finds sound; what was kept about it is deleted then."""
        written = write_new(self._folder / name, plan, None)
        self.kept.delete()
        return written

    def _is_free(self, name: str) -> bool:
        return not is_taken(self._folder / name)
