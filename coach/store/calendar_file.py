"""Entries for the painter's own calendar, as an iCalendar file that any calendar reads."""

import datetime as dt
import uuid
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from coach.errors import CoachError
from coach.forecast.calendar_entries import CalendarEntry
from coach.store.new_file import write_new
from coach.text import sanitized

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT: Final = "-//portrait-coach//portrait-coach//EN"
"""Names what wrote the file. Source for its form: RFC 5545, 3.7.3 (a formal public identifier)."""

_NAMESPACE: Final = uuid.UUID("6f1d1f0a-52c3-4c43-9a1e-0d7c5d0b7a31")
"""Keeps the identifiers of our entries apart from all others; drawn once."""


class CalendarFileError(CoachError):
    """The calendar cannot be written."""


def write_calendar(target: Path, entries: Sequence[CalendarEntry], *, name: str, stamp: dt.datetime) -> None:
    """Write entries as an iCalendar file, whole or not at all.

    An entry of the same commission, kind and day has the same identifier in every file, so that a calendar that
    reads a later file does not show it twice.

    Args:
        target: File to write; there is none of that name yet.
        entries: The entries, one or more.
        name: Name of the commission, which becomes the name of the calendar; may be empty.
        stamp: When it is written; aware.

    Raises:
        CalendarFileError: There is nothing to write, there is such a file already, or it cannot be written.
    """
    if not entries:
        what = "there is nothing to write: no day of painting and no due day"
        raise CalendarFileError(what, where=sanitized(str(target)))
    write_new(target, calendar_bytes(entries, name=name, stamp=stamp), error=CalendarFileError)


def calendar_bytes(entries: Sequence[CalendarEntry], *, name: str, stamp: dt.datetime) -> bytes:
    """Return entries as an iCalendar stream in UTF-8; arguments as for `write_calendar`.

    Source:
        RFC 5545: 3.6 (components), 3.6.1 (whole days), 3.8.2.2 (the end is not included). RFC 7986, 5.1 (NAME).
        No METHOD: it is a calendar to keep, not an invitation (RFC 5545, 3.7.2).
    """
    from icalendar import Calendar, vText  # noqa: PLC0415  loaded where a calendar is written

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    if name:
        calendar.add("name", vText(sanitized(name)))  # said to be text: the library takes NAME for something unknown
    for entry in entries:
        calendar.add_component(_event(entry, sanitized(name), stamp.astimezone(dt.UTC)))
    content: bytes = calendar.to_ical()
    return content


def _event(entry: CalendarEntry, name: str, stamp_utc: dt.datetime) -> "Event":
    from icalendar import Event  # noqa: PLC0415  loaded where a calendar is written

    event = Event()
    event.add("uid", str(uuid.uuid5(_NAMESPACE, f"{name}\n{entry.kind.value}\n{entry.first_day.isoformat()}")))
    event.add("dtstamp", stamp_utc)
    event.add("dtstart", entry.first_day)
    if entry.last_day < dt.date.max:  # without an end it lasts its one day
        event.add("dtend", entry.last_day + dt.timedelta(days=1))
    event.add("summary", sanitized(entry.title))
    if entry.note:
        event.add("description", sanitized(entry.note))
    event.add("categories", [entry.kind.value])
    event.add("transp", "TRANSPARENT")  # hours on some part of the day do not fill it
    return event
