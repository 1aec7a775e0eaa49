"""The journals that go with a plan: its own, and those of earlier commissions from which it learns."""

import os
from pathlib import Path

from coach.errors import CoachError
from coach.journal.events import JournalError
from coach.plan.commission import Plan
from coach.session.journal_state import JournalState, state_of
from coach.store.journal_access import journal_path, open_to_read


def journal_state(plan_path: Path) -> JournalState:
    """Return what the journal beside a plan adds up to; nothing where nothing is painted yet.

    Raises:
        JournalError: The journal cannot be read to its end.
    """
    journal = open_to_read(plan_path)
    events = list(journal.after(0))
    journal.close()
    if journal.damage:
        raise JournalError(journal.damage)
    return state_of(events)


def earlier_states(plan_path: Path, plan: Plan) -> dict[str, JournalState]:
    """Return what the journals add up to that the plan learns from, by their names.

    Raises:
        CoachError: A journal is not there, or cannot be read.
    """
    found = {}
    for name in plan.learn_from:
        other = (plan_path.parent / name).with_suffix(".yaml")
        if not os.path.lexists(journal_path(other)):
            raise CoachError(f"there is no journal {name} beside the plan", where="learn-from")
        found[name] = journal_state(other)
    return found
