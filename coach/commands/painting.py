"""Opening the easel with a plan: the journal, the sitting, the app."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from coach.plan.reading import read_plan
from coach.screens.app import CoachApp
from coach.session.session_service import SessionService
from coach.store.journal_access import open_to_work
from coach.store.plan_file import PlanFile
from coach.store.system_clock import SystemClock

if TYPE_CHECKING:
    from coach.commands.foresight import Foresight
    from coach.commands.picture_desk import PictureDesk
    from coach.commands.plan_desk import PlanDesk
    from coach.review.painted import Painted


def add_looks(parser: argparse.ArgumentParser) -> None:
    """Let a command that opens the easel take how it looks and sounds."""
    parser.add_argument("--light", action="store_true", help="dark ink on a light ground")
    parser.add_argument("--bell", action="store_true", help="ring the terminal's bell when a limit is passed")


def paint(plan_path: Path, *, light: bool, rings: bool) -> int:
    """Open the easel with a plan and return the exit status once the painter has left."""
    file = PlanFile(plan_path)
    text = file.read()
    access, clock = open_to_work(plan_path), SystemClock()
    try:
        sitting = SessionService(
            plan=read_plan(text, file.name),
            journal=access.journal,
            clock=clock,
            source=file,
            last_seen=access.last_seen,
            read_only=access.read_only,
        )
        sitting.read_only = sitting.read_only or access.journal.damage
        sitting.stands_still = bool(access.journal.damage)
        sitting.open(text)
        due = sitting.plan.due
        if due is not None and due < clock.today():
            sitting.remark = sitting.remark or f"the due day {due.isoformat()} is past; painting can go on"

        def painted() -> "Painted":
            from coach.review.painted import painted_of  # noqa: PLC0415  reviews are loaded when asked for

            return painted_of(access.journal.after(0))

        def foresight() -> "Foresight":
            from coach.commands.foresight import Foresight  # noqa: PLC0415  the forecast is loaded when asked for

            return Foresight(plan_path, sitting, clock)

        def plan_desk() -> "PlanDesk":
            from coach.commands.plan_desk import PlanDesk  # noqa: PLC0415  editing is loaded when asked for

            return PlanDesk(plan_path, sitting, clock)

        def picture_desk() -> "PictureDesk":
            from coach.commands.picture_desk import PictureDesk  # noqa: PLC0415  photos are loaded when asked for

            return PictureDesk(plan_path, sitting)

        CoachApp(
            sitting,
            painted,
            light=light,
            rings=rings,
            foresight=foresight,
            plan_desk=plan_desk,
            picture_desk=picture_desk,
        ).run()
    finally:
        access.close()
    return 0
