"""Opening a plan to paint: what must be asked before, and the session over whichever journal goes on."""

import sys
from pathlib import Path
from typing import NamedTuple

from coach.commands.named_plan import say_where_beyond_size
from coach.plan.reading import read_plan
from coach.session.session_service import SessionService
from coach.store.drawn_outlines import DrawnOutlines
from coach.store.journal_access import Access, open_to_work
from coach.store.plan_file import PlanFile, cut_saving, finish_saving
from coach.store.system_clock import SystemClock
from coach.text import sanitized


class Opened(NamedTuple):
    """A session that can be painted in, and the journal under it."""

    session: SessionService
    access: Access


def open_session(plan_path: Path, clock: SystemClock) -> Opened:
    """Open a plan and its journal.

    Where a saving of the plan was cut short, or the journal is damaged or gone, the painter is asked in the terminal
    whether to put it right; whoever answers anything but yes sees what is there.

    Raises:
        CoachError: The plan cannot be read, or the journal can neither be written nor read.
    """
    beside = cut_saving(plan_path)
    if beside is not None and _agrees(
        f"The last saving of {plan_path.name} was cut short; the whole text lies in {beside.name}.",
        "Put it in its place?",
    ):
        finish_saving(plan_path)
    file = PlanFile(plan_path)
    text = file.read()
    say_where_beyond_size(text)
    access = open_to_work(plan_path)
    try:
        session = session_over(file, text, access, clock)
        if access.can_go_on_beside and _agrees(
            f"{access.journal.damage}.",
            "Nothing more is written into it. Paint on in a new journal beside it, which begins with what is read?",
        ):
            access = access.go_on_beside()
            session = session_over(file, text, access, clock)
        session.open(text)
    except BaseException:
        access.close()
        raise
    return Opened(session, access)


def session_over(file: PlanFile, text: str, access: Access, clock: SystemClock) -> SessionService:
    """Return the session of a plan over a journal that is open; nothing is recorded yet.

    Raises:
        CoachError: The plan cannot be read.
    """
    session = SessionService(
        plan=read_plan(text, file.name),
        journal=access.journal,
        clock=clock,
        source=file,
        last_seen=access.last_seen,
        read_only=access.read_only,
        outlines=DrawnOutlines(file.path),
    )
    session.read_only = session.read_only or access.journal.damage
    session.stands_still = bool(access.journal.damage)
    return session


def _agrees(fact: str, question: str) -> bool:
    """Return whether the painter says yes to a question in the terminal."""
    sys.stdout.write(f"{sanitized(fact)}\n{question} [y/N] ")
    sys.stdout.flush()
    return sys.stdin.readline().strip().lower() in ("y", "yes")
