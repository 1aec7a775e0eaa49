"""What a painter takes away in files: the days as a calendar, the transfer grid over the photo and for the canvas.

A file of that name is never written over, and the photo is only read.
"""

import datetime as dt
import io
import uuid
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PIL import Image, ImageDraw, ImageFont

from coach.composition.photo_boxes import CompositionError
from coach.composition.transfer_grid import TransferGrid, canvas_svg, label
from coach.errors import CoachError
from coach.forecast.calendar_entries import CalendarEntry, EntryKind
from coach.store.photo import PhotoFileError, read_photo
from coach.store.safe_files import write_new
from coach.text import sanitized

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT: Final = "-//portrait-coach//portrait-coach//EN"
"""Names what wrote the file. Source for its form: RFC 5545, 3.7.3 (a formal public identifier)."""

_NAMESPACE: Final = uuid.UUID("6f1d1f0a-52c3-4c43-9a1e-0d7c5d0b7a31")
"""Keeps the identifiers of our entries apart from all others; drawn once."""

_LINE_DIVISOR: Final = 1500
_LETTER_FRAC: Final = 0.16
_LEAST_LETTER_PX: Final = 8
_DARK: Final = (0, 0, 0)
_LIGHT: Final = (255, 255, 255)


class CalendarFileError(CoachError):
    """The calendar cannot be written."""


def write_calendar(
    target: Path, entries: Sequence[CalendarEntry], *, name: str, stamp: dt.datetime, sequence: int = 0
) -> None:
    """Write entries as an iCalendar file, whole or not at all.

    An entry of the same commission and kind has the same identifier in every file, so that a calendar that reads a
    later file moves it; a day of painting is told apart by its day.

    Args:
        target: File to write; there is none of that name yet.
        entries: The entries, one or more.
        name: Name of the commission, which becomes the name of the calendar; may be empty.
        stamp: When it is written; aware.
        sequence: How often the plan was saved and the work went on since the first file: it rises from file to file.

    Raises:
        CalendarFileError: There is nothing to write, there is such a file already, or it cannot be written.
    """
    if not entries:
        what = "there is nothing to write: no day of painting and no due day"
        raise CalendarFileError(what, where=sanitized(str(target)))
    write_new(target, calendar_bytes(entries, name=name, stamp=stamp, sequence=sequence), error=CalendarFileError)


def calendar_bytes(entries: Sequence[CalendarEntry], *, name: str, stamp: dt.datetime, sequence: int = 0) -> bytes:
    """Return entries as an iCalendar stream in UTF-8; arguments as for `write_calendar`.

    Source:
        RFC 5545: 3.6 (components), 3.6.1 (whole days), 3.8.2.2 (the end is not included). RFC 7986, 5.1 (NAME).
        3.8.7.4 (SEQUENCE). No METHOD: it is a calendar to keep, not an invitation (RFC 5545, 3.7.2).
    """
    from icalendar import Calendar, vText  # noqa: PLC0415  loaded where a calendar is written

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    if name:
        calendar.add("name", vText(sanitized(name)))  # said to be text: the library takes NAME for something unknown
    for entry in entries:
        calendar.add_component(_event(entry, sanitized(name), stamp.astimezone(dt.UTC), sequence))
    content: bytes = calendar.to_ical()
    return content


def _event(entry: CalendarEntry, name: str, stamp_utc: dt.datetime, sequence: int) -> "Event":
    from icalendar import Event  # noqa: PLC0415  loaded where a calendar is written

    event = Event()
    day = entry.first_day.isoformat() if entry.kind is EntryKind.SESSION else ""
    event.add("uid", str(uuid.uuid5(_NAMESPACE, f"{name}\n{entry.kind.value}\n{day}")))
    event.add("sequence", sequence)
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


def write_photo_grid(grid: TransferGrid, photo: Path, target: Path) -> None:
    """Write the part of the photo that the canvas shows, with the grid drawn over it, as PNG.

    Args:
        grid: The grid; its crop lies within the photo.
        photo: The photo's file, which is only read.
        target: File to write; there is none of that name yet.

    Raises:
        PhotoFileError: The photo cannot be read, or the target cannot be written.
        CompositionError: The crop does not lie within the photo.
    """
    picture = read_photo(photo)
    crop = grid.crop
    if crop.right_px > picture.width or crop.bottom_px > picture.height:
        raise CompositionError(f"the crop does not lie within the photo of {picture.width} x {picture.height} px")
    copy = picture.crop((crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    _draw(copy, grid)
    content = io.BytesIO()
    copy.save(content, "PNG")
    write_new(target, content.getvalue(), error=PhotoFileError)


def write_canvas_grid(grid: TransferGrid, title: str, target: Path) -> None:
    """Write the grid for the canvas as SVG at true size; arguments and errors as for `write_photo_grid`."""
    write_new(target, canvas_svg(grid, title).encode(), error=PhotoFileError)


def _draw(picture: Image.Image, grid: TransferGrid) -> None:
    """Draw lines and names: dark beside light, so that they are seen on any colour."""
    draw = ImageDraw.Draw(picture)
    across, down = grid.crop_lines_px()
    width = max(1, max(picture.size) // _LINE_DIVISOR)
    font = ImageFont.load_default(max(_LEAST_LETTER_PX, grid.square_px * _LETTER_FRAC))
    for shift, colour in ((0, _DARK), (width, _LIGHT)):
        for left in _inside(across, picture.width, 2 * width):
            draw.rectangle((left + shift, 0, left + shift + width - 1, picture.height), fill=colour)
        for top in _inside(down, picture.height, 2 * width):
            draw.rectangle((0, top + shift, picture.width, top + shift + width - 1), fill=colour)
    for row, y in enumerate(down[:-1]):
        for column, x in enumerate(across[:-1]):
            at = (round(x) + 3 * width, round(y) + 2 * width)
            draw.text(at, label(column, row), fill=_DARK, font=font, stroke_width=width, stroke_fill=_LIGHT)


def _inside(lines: Sequence[float], side_px: int, width_px: int) -> list[int]:
    """Return where lines begin, the last one moved in from the edge so that it is seen."""
    return [min(round(line), side_px - width_px) for line in lines]
