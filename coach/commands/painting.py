"""Opening the easel with a plan: the journal, the session, the app."""

import argparse
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from coach.commands.opening import open_session
from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.screens.terminal import run_app
from coach.session.session_service import SessionService
from coach.store.drafts import Draft, DraftError, draft_file
from coach.store.sound import Sound
from coach.store.system_clock import SystemClock

if TYPE_CHECKING:
    from coach.plan.commission import Plan
    from coach.screens.compare.repository import CompareRepository
    from coach.screens.composition.state import PhotoRepository
    from coach.screens.deadline.screen import ForecastSource
    from coach.screens.plan.repository import PlanRepository
    from coach.screens.shapes.repository import ShapesRepository
    from coach.session.journal_state import JournalState
    from coach.shapes.reference import Reference


def add_looks(parser: argparse.ArgumentParser) -> None:
    """Let a command that opens the easel take how it looks and sounds."""
    parser.add_argument("--light", action="store_true", help="dark ink on a light ground")
    parser.add_argument(
        "--words-only", action="store_true", help="show the photo only when + asks for it, such as on a slow line"
    )
    parser.add_argument(
        "--bell", action="store_true", help="sound when a turn is over time and a rest is due; h keeps it"
    )


def paint(plan_path: Path, *, light: bool, rings: bool, words_only: bool, is_new: bool = False) -> int:
    """Open the easel with a plan and return the exit status once the painter has left.

    Where the plan `is_new`, the page before the first stroke opens first.
    """
    clock = SystemClock()
    session, access = open_session(plan_path, clock)
    try:
        due = session.plan.due
        if due is not None and due < clock.today():
            day = f"{due:%a} {due.day} {due:%b %Y}"
            session.remark = session.remark or f"The due day, {day}, is past. You can paint on."

        def load_reference(plan: "Plan") -> "Reference | None":
            from coach.store.reference_photo import load_reference as load  # noqa: PLC0415  loaded when it is asked for

            return load(plan_path, plan)

        app = CoachApp(
            session,
            _screens(plan_path, session, clock),
            light=light,
            sounds=Sound(is_on=rings),
            drafts=PlanDrafts(plan_path, session),
            load_reference=load_reference,
            is_picture_asked=words_only,
            is_new=is_new,
        )
        try:
            run_app(app, keep_drafts=app.keep_drafts)
        finally:
            app.keep_drafts()  # what was saved or dropped since the last tick is offered no more
    finally:
        access.close()
    return 0


def _screens(plan_path: Path, session: SessionService, clock: SystemClock) -> ScreenFactory:
    """Return what makes the other screens; what they ask of the disk is loaded when it is asked for."""

    def forecast_source() -> "ForecastSource":
        from coach.commands.repositories import PlanForecastSource  # noqa: PLC0415

        return PlanForecastSource(plan_path, session, clock)

    def plan_repository() -> "PlanRepository":
        from coach.commands.repositories import PlanFileRepository  # noqa: PLC0415

        return PlanFileRepository(plan_path, session, clock)

    def photo_repository() -> "PhotoRepository":
        from coach.commands.repositories import PhotoFileRepository  # noqa: PLC0415

        return PhotoFileRepository(plan_path, session)

    def shapes_repository() -> "ShapesRepository":
        from coach.commands.shapes_repository import ShapesFileRepository  # noqa: PLC0415

        return ShapesFileRepository(plan_path, session)

    def compare_repository() -> "CompareRepository":
        from coach.commands.compare_repository import CompareFileRepository  # noqa: PLC0415

        return CompareFileRepository(plan_path, session)

    def painted() -> "JournalState":
        return session.state.copied()

    return ScreenFactory(
        painted,
        forecast_source=forecast_source,
        plan_repository=plan_repository,
        photo_repository=photo_repository,
        shapes_repository=shapes_repository,
        compare_repository=compare_repository,
    )


class PlanDrafts:
    """The work beside a plan that is not saved yet; a coach that only shows the plan leaves it alone."""

    def __init__(self, plan_path: Path, session: SessionService) -> None:
        """Name the plan; nothing is read yet."""
        self._file, self._session = draft_file(plan_path), session

    def load(self) -> dict[str, str]:
        """Return what is kept, by its kind."""
        return {} if self._session.read_only else self._file.load()

    def put(self, kind: str, text: str) -> None:
        """Keep a text of one kind, or drop it; a disk that takes none refuses the next move too, and says so."""
        if not self._session.read_only:
            with suppress(DraftError):
                self._file.put(Draft(kind), text)
