"""`coach new [FILE]`: a new commission, from the first question to the easel."""

import argparse
import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress
from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING

from coach.commands.log_of_plan import journal_state
from coach.commands.new_plan_file import is_taken, named_new, write_new
from coach.commands.painting import add_looks, paint
from coach.commands.plan_argument import PLAN_ENDINGS
from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import Answers, file_stem
from coach.composition.proposal.proposal import agreed, proposed_plan
from coach.composition.proposal.questions import answers_of
from coach.errors import CoachError, UsageError
from coach.plan.commission import Plan
from coach.screens.commission.repository import MadePlan
from coach.screens.commission.screen import NewCommissionApp
from coach.screens.terminal import run_app
from coach.session.journal_state import JournalState, state_of
from coach.shapes.photo_window import Box
from coach.store.drafts import answers_file
from coach.store.system_clock import SystemClock

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.shape_map import ShapeMap

    Dots = NDArray[np.uint8]
    Pixels = NDArray[np.float64]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", type=Path, nargs="?", help="the plan's file to be; else named after the commission")
    add_looks(parser)


def run(asked: argparse.Namespace) -> int:
    """Ask about a new commission, write its plan and open the easel with it."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("a new commission needs a terminal, for it asks questions")
    path = new_plan(None if asked.file is None else named_new(asked.file), light=asked.light)
    if path is None:
        return 0
    return paint(path, light=asked.light, rings=asked.bell, words_only=asked.words_only, is_new=True)


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

    def photo_size(self, name: str) -> PhotoSize:
        """Return the size of a photo in this folder."""
        from coach.store.photo import photo_size  # noqa: PLC0415  loaded where there is a photo

        return photo_size(self._folder / name)

    def light(self, name: str, box: Box, scale: float) -> "Pixels":
        """Return the linear light of a part of a photo in this folder, scaled."""
        from coach.store.photo import read_linear_light  # noqa: PLC0415  as above

        return read_linear_light(self._folder / name, box, scale, is_shown=True)

    def made(self, answers: Answers, columns: int, rows: int) -> "Iterator[Dots | MadePlan]":
        """Yield the photo with its shapes as they come, and at last the plan."""
        if not answers.is_seen:
            yield self._made(proposed_plan(answers), None)
            return
        from coach.commands.photo_plan import EACH_HEAD, PhotoPlan, shown, stages_of_photo  # noqa: PLC0415  as above
        from coach.review.own_pace import own_pace  # noqa: PLC0415

        count = EACH_HEAD[answers.fineness] * len(answers.heads)
        photo = self._folder / (answers.photo or "")
        for found in stages_of_photo(photo, agreed(answers), count, own_pace(self._journals())):
            if isinstance(found, PhotoPlan):
                yield self._made(found.plan, found.shape_map)
            else:
                yield shown(found, columns, rows)

    def write(self, name: str, made: MadePlan) -> Path:
        """Write a plan that `coach check` finds sound; what was kept about it is deleted then."""
        written = write_new(self._folder / name, made.plan, made.shape_map)
        self.kept.delete()
        return written

    def _journals(self) -> Iterator[JournalState]:
        """Yield what the journals in the folder add up to; one that cannot be read tells nothing here."""
        for path in sorted(self._folder.glob("*.journal")):
            with suppress(CoachError):
                yield journal_state(path.with_suffix(PLAN_ENDINGS[0]))

    def _made(self, plan: Plan, shape_map: "ShapeMap | None") -> MadePlan:
        """Return a plan with what is foretold of its day."""
        from coach.forecast.answer import forecast_of  # noqa: PLC0415  loaded once a plan is made
        from coach.review.forecast_input import forecast_input  # noqa: PLC0415
        from coach.screens.deadline.answer_page import answer_sentence, answer_word  # noqa: PLC0415

        about = forecast_input(plan, state_of([]), SystemClock().today(), {})
        answer = forecast_of(plan, about.outlook)
        return MadePlan(
            plan=plan,
            shape_map=shape_map,
            word=answer_word(plan, answer),
            holds=answer_sentence(plan, answer),
            headline=answer.headline,
        )

    def _is_free(self, name: str) -> bool:
        return not is_taken(self._folder / name)
