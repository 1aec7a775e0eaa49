"""The journals that go with a plan: its own, and those of earlier commissions from which it learns."""

import os
from pathlib import Path

from coach.errors import CoachError
from coach.journal.events import Event, JournalError
from coach.plan.commission import Plan
from coach.store.journal_access import journal_path, open_to_read


def events_of(plan_path: Path) -> list[Event]:
    """Return every event of the journal beside a plan; none where nothing is painted yet.

    Raises:
        JournalError: The journal cannot be read to its end.
    """
    journal = open_to_read(plan_path)
    events = list(journal.after(0))
    journal.close()
    if journal.damage:
        raise JournalError(journal.damage)
    return events


def earlier_events(plan_path: Path, plan: Plan) -> dict[str, list[Event]]:
    """Return the events of the journals that the plan learns from, by their names.

    Raises:
        CoachError: A journal is not there, or cannot be read.
    """
    found = {}
    for name in plan.learn_from:
        other = (plan_path.parent / name).with_suffix(".yaml")
        if not os.path.lexists(journal_path(other)):
            raise CoachError(f"there is no journal {name} beside the plan", where="learn-from")
        found[name] = events_of(other)
    return found
