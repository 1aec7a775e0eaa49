"""Which passage the coach asks about: is it dry to touch?"""

from typing import Final

from coach.journal.reading import Reading, local_day
from coach.plan.commission import Passage, Plan
from coach.session.journal_state import JournalState, Shape, TurnRecord

ASK_WITHIN_MS: Final = 30 * 60 * 1000
"""The question stands before the first work of a day and through so much of it."""


def asked_dry(plan: Plan, seen: JournalState, now: Reading) -> TurnRecord | None:
    """Return the oldest turn of an earlier day whose mixture nobody has felt dry yet; None asks nothing.

    One mixture is measured once, and what was still wet today is not asked about again before tomorrow.
    """
    if seen.hours.day_ms > ASK_WITHIN_MS:
        return None
    today = local_day(now)
    measured: set[str] | None = None
    for record in seen.records.values():
        if record.is_skipped or local_day(record.ended) >= today:
            continue
        if measured is None:
            measured = {name for shape in seen.found_dry if (name := _mixture(plan, shape))}
        shape = (record.turn.pass_name, record.turn.passages[-1], record.turn.canvas)
        felt = seen.found_wet.get(shape)
        name = _mixture(plan, shape)
        if name and name not in measured and (felt is None or local_day(felt) < today):
            return record
    return None


def _mixture(plan: Plan, shape: Shape) -> str | None:
    passage = passage_named(plan, shape[0], shape[1])
    return passage.mixture if passage else None


def passage_named(plan: Plan, pass_name: str, name: str) -> Passage | None:
    """Return a passage of the plan, or None where the plan has none of that name."""
    passages = next((one.passages for one in plan.passes if one.name == pass_name), ())
    return next((passage for passage in passages if passage.name == name), None)
