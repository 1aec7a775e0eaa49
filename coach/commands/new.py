"""`coach new [FILE]`: a new commission, from the first question to the easel."""

import argparse
import os
import sys
from collections.abc import Mapping
from itertools import chain, count
from pathlib import Path
from typing import Final

from coach.commands.painting import add_looks, paint
from coach.commands.plan_argument import PLAN_ENDINGS
from coach.composition.proposal.answers import file_stem
from coach.composition.proposal.questions import answers_of
from coach.errors import UsageError
from coach.plan.problems import PlanError
from coach.plan.reading import problems_on, read_plan
from coach.screens.commission.screen import NewCommissionApp
from coach.screens.terminal import run_app
from coach.store.drafts import answers_file
from coach.store.plan_file import save_plan
from coach.store.system_clock import SystemClock
from coach.text import sanitized

_TAKEN_BY: Final = (*PLAN_ENDINGS, ".journal")
"""A plan must not come upon the journal of another."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", type=Path, nargs="?", help="the plan's file to be; else named after the commission")
    add_looks(parser)


def run(asked: argparse.Namespace) -> int:
    """Ask about a new commission, write its plan and open the easel with it."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("a new commission needs a terminal, for it asks questions")
    path = new_plan(None if asked.file is None else _named(asked.file), light=asked.light)
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

    def write(self, name: str, text: str) -> Path:
        """Write a plan that `coach check` finds sound; what was kept about it is deleted then."""
        path = self._folder / name
        problems = problems_on(read_plan(text, sanitized(name)), SystemClock().today())
        if problems:
            raise PlanError(problems, where=sanitized(name))
        saved = save_plan(path, text, read_text=None)
        self.kept.delete()
        return saved.kept_beside or saved.path

    def _is_free(self, name: str) -> bool:
        return not _is_taken(self._folder / name)


def _named(path: Path) -> Path:
    """Return the file for the plan, with its ending, or refuse one that cannot be a new plan."""
    if path.is_dir():
        raise UsageError("this is a folder; name a file to write", where=sanitized(str(path)))
    named = path if path.suffix else path.with_suffix(PLAN_ENDINGS[0])
    where = sanitized(str(named))
    if named.suffix not in PLAN_ENDINGS:
        raise UsageError("a plan is a YAML file; name one that ends in .yaml", where=where)
    if not named.parent.is_dir():
        raise UsageError("there is no such folder to write it in", where=where)
    if _is_taken(named):
        raise UsageError("there is a plan or a journal of that name already; name another", where=where)
    return named


def _is_taken(path: Path) -> bool:
    return any(os.path.lexists(path.with_suffix(ending)) for ending in _TAKEN_BY)
