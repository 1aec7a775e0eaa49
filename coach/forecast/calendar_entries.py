"""What goes into the painter's own calendar: the days of painting, and what follows the last stroke."""

import datetime as dt
import enum
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from coach.forecast.answer import ForecastAnswer
from coach.forecast.calendar import (
    VARNISH_MONTHS,
    day_after,
    promised_days,
    varnish_day,
    working_days_after,
    working_days_before,
)
from coach.forecast.sentences import LIKELY, PACKING
from coach.plan.commission import Plan
from coach.text import span


class EntryKind(enum.Enum):
    """What an entry stands for; with the commission, and for a session its day, it tells one entry from another."""

    SESSION = "session"
    LAST_STROKE = "last stroke"
    TOUCH_DRY = "touch dry"
    TO_FRAMER = "to the framer"
    FRAMED = "framed"
    DELIVERED = "delivered"
    DUE = "due"
    VARNISH = "varnish"


_PACKED: Final = (EntryKind.TO_FRAMER, EntryKind.DELIVERED)
"""For these it is packed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarEntry:
    """One entry of a calendar; it takes whole days, since a plan knows hours but no time of day.

    Attributes:
        kind: What it stands for.
        title: What is read in the calendar, with the hours of a session; plain text.
        first_day: Its first day.
        last_day: Its last day, included; not before the first.
        note: A sentence on how sure it is; plain text, may be empty.
    """

    kind: EntryKind
    title: str
    first_day: dt.date
    last_day: dt.date
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse days the wrong way round."""
        if self.last_day < self.first_day:
            raise ValueError(f"an entry from {self.first_day} to {self.last_day}")


def calendar_entries(plan: Plan, answer: ForecastAnswer, today: dt.date) -> tuple[CalendarEntry, ...]:
    """Return the entries from today on: a session on each promised day, then what follows, each on its day.

    Args:
        plan: The plan; its week promises the sessions.
        answer: The forecast made from it. What it foretells stands on the day of its 80 % chance.
        today: The first day; its session shows the hours of the whole day, painted already or not.

    Returns:
        Sessions up to the last stroke, or up to the due day where the last stroke lies too far ahead; none where
        nothing is left to paint. What the forecast does not know, the framer where the plan states no days for
        framing, and the due day where there is none, are left out.
    """
    return (*_sessions(plan, answer, today), *_milestones(plan, answer))


def _sessions(plan: Plan, answer: ForecastAnswer, today: dt.date) -> Iterator[CalendarEntry]:
    last = answer.last_stroke.p80 or plan.due
    if last is None or answer.needed_hours <= 0:
        return
    for number, promised_s in enumerate(promised_days(plan, today, last)):
        if promised_s > 0:
            day, title = day_after(today, number), _titled(f"Paint {span(promised_s * 1000)}", plan)
            yield CalendarEntry(kind=EntryKind.SESSION, title=title, first_day=day, last_day=day)


def _milestones(plan: Plan, answer: ForecastAnswer) -> Iterator[CalendarEntry]:
    sure = f"{LIKELY} on this day or earlier." if plan.forecast.is_spread else "If all goes by the plan."
    dry = answer.touch_dry.p80
    is_framed = dry is not None and bool(plan.after.framing_working_days)
    foretold = (
        (EntryKind.LAST_STROKE, "Last stroke", answer.last_stroke.p80 if answer.needed_hours > 0 else None),
        (EntryKind.TOUCH_DRY, "Dry to touch", dry),
        (EntryKind.TO_FRAMER, "To the framer", _framer_day_from(plan, dry) if dry and is_framed else None),
        (EntryKind.FRAMED, "Framed", answer.framed.p80 if is_framed else None),
        (EntryKind.DELIVERED, "Delivered", answer.delivered.p80),
    )
    for kind, words, day in foretold:
        if day is not None:
            note = " ".join((sure, *((PACKING,) if kind in _PACKED else ())))
            yield CalendarEntry(kind=kind, title=_titled(words, plan), first_day=day, last_day=day, note=note)
    if plan.due is not None:
        title = _titled("Due", plan)
        yield CalendarEntry(kind=EntryKind.DUE, title=title, first_day=plan.due, last_day=plan.due)
    yield from _varnish(plan, answer)


def _varnish(plan: Plan, answer: ForecastAnswer) -> Iterator[CalendarEntry]:
    last = answer.last_stroke.p80
    if last is not None:
        day, note = varnish_day(last), f"{VARNISH_MONTHS} months after the last stroke; test first."
        yield CalendarEntry(
            kind=EntryKind.VARNISH, title=_titled("Varnish from", plan), first_day=day, last_day=day, note=note
        )


def _framer_day_from(plan: Plan, dry: dt.date) -> dt.date:
    """Return the first working day of the framer on which what is dry since a day has dried as long as is asked."""
    day, closed = day_after(dry, plan.framer.after_touch_dry_days), plan.framer.off
    return max(day, working_days_before(plan, working_days_after(plan, day, 1, closed), 1, closed))


def _titled(words: str, plan: Plan) -> str:
    return f"{words}: {plan.commission}" if plan.commission else words
