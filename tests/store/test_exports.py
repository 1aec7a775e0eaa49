"""What a painter takes away: the calendar and the transfer grid.

The calendar is read back by the library and by the line rules of RFC 5545 (read again from memory).
"""

import datetime as dt
import os
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from dateutil.parser import isoparse
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar
from PIL import Image

from coach.composition.crop import Crop
from coach.composition.photo_boxes import CompositionError
from coach.composition.transfer_grid import TransferGrid, grid_of
from coach.forecast.answer import forecast_of
from coach.forecast.calendar import promised_days
from coach.forecast.calendar_entries import CalendarEntry, EntryKind, calendar_entries
from coach.plan.commission import CanvasSize
from coach.store.exports import CalendarFileError, calendar_bytes, write_calendar, write_canvas_grid, write_photo_grid
from coach.store.photo import PhotoFileError
from tests.forecast.made import orchard, orchard_at_40_percent

GREY = (120, 120, 120)
STAMP = dt.datetime(2026, 11, 25, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=1)))
DAY = dt.date(2026, 12, 31)
HOSTILE = [
    "Hall, School; Mill: a \\ b \\n c",
    "two\r\nlines\nEND:VEVENT\rBEGIN:VALARM",
    "\N{ARTIST PALETTE}\N{ZERO WIDTH JOINER}\N{MAN}" * 40,
    "bell \x07 escape \x1b[31m nul \x00 delete \x7f next line \x85 separator \u2028",
    'quoted "name" ^n %0A &amp; <b>',
    "é" * 200,
    "a lone \ud83d surrogate",
]


def entry(
    title: str = "Paint 5 h", *, note: str = "", first: dt.date = DAY, last: dt.date | None = None
) -> CalendarEntry:
    """Return a session."""
    return CalendarEntry(kind=EntryKind.SESSION, title=title, first_day=first, last_day=last or first, note=note)


def content_lines(data: bytes) -> list[tuple[str, str]]:
    """Return names with parameters, and values, by RFC 5545, 3.1, after checking its rules for lines."""
    assert data.endswith(b"\r\n")
    lines = data.removesuffix(b"\r\n").split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert not re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", data)
    assert b"\r" not in data.replace(b"\r\n", b"")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert all(line.decode() for line in lines)  # no letter is torn apart where a line is folded
    unfolded = data.replace(b"\r\n ", b"").decode().removesuffix("\r\n").split("\r\n")
    return [(name, value) for name, _, value in (line.partition(":") for line in unfolded)]


def text_of(value: str) -> str:
    """Return the text of a value by RFC 5545, 3.3.11."""
    assert not re.search(r"(?<!\\)(?:\\\\)*[,;]", value)
    return re.sub(r"\\(.)", lambda found: {"n": "\n", "N": "\n"}.get(found[1], found[1]), value)


def harmless_by_rule(text: str) -> str:
    """Return what is to be read back: line ends as spaces, whatever steers a terminal as U+FFFD."""
    return re.sub(
        r"[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]", "\ufffd", re.sub(r"[\t\r\n]", " ", text)
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_read_back_as_text_by_two_readers(text: str) -> None:
    data = calendar_bytes([entry(text, note=text)], name=text, stamp=STAMP)
    found = dict(content_lines(data))
    wanted = harmless_by_rule(text)

    assert [text_of(found[key]) for key in ("NAME", "SUMMARY", "DESCRIPTION")] == [wanted] * 3
    calendar = Calendar.from_ical(data)
    (event,) = calendar.walk("VEVENT")
    assert [str(event["SUMMARY"]), str(event["DESCRIPTION"])] == [wanted] * 2  # it knows no NAME, which is newer
    assert not calendar.walk("VALARM")


@given(st.text(max_size=200), st.text(max_size=200))
def test_any_text_keeps_the_line_rules_and_comes_back(title: str, name: str) -> None:
    data = calendar_bytes([entry(title)], name=name, stamp=STAMP)

    assert text_of(dict(content_lines(data))["SUMMARY"]) == harmless_by_rule(title)


def test_an_entry_takes_whole_days_and_its_end_is_not_included() -> None:
    """RFC 5545, 3.6.1 and 3.8.2.2: DATE values, and the day after the last."""
    first, last = dt.date(2028, 2, 28), dt.date(2028, 2, 29)
    lines = content_lines(calendar_bytes([entry(first=first, last=last)], name="", stamp=STAMP))
    found = dict(lines)

    assert found["DTSTART;VALUE=DATE"] == "20280228"
    assert isoparse(found["DTEND;VALUE=DATE"]).date() == dt.date(2028, 3, 1)
    assert found["DTSTAMP"] == "20261125T083000Z"
    assert found["VERSION"] == "2.0"
    assert [value for name, value in lines if name == "PRODID"] == ["-//portrait-coach//portrait-coach//EN"]
    assert "METHOD" not in found
    assert [f"{name}:{value}" for name, value in (lines[0], lines[-1])] == ["BEGIN:VCALENDAR", "END:VCALENDAR"]


def test_the_last_day_a_calendar_can_count_has_no_end() -> None:
    found = dict(content_lines(calendar_bytes([entry(first=dt.date.max)], name="", stamp=STAMP)))

    assert found["DTSTART;VALUE=DATE"] == "99991231"
    assert "DTEND;VALUE=DATE" not in found


def test_the_demo_has_a_session_for_every_promised_day(tmp_path: Path) -> None:
    today = dt.date(2027, 3, 1)
    plan = orchard()
    answer = forecast_of(plan, orchard_at_40_percent(today))
    target = tmp_path / "orchard.ics"
    write_calendar(target, calendar_entries(plan, answer, today), name=plan.commission, stamp=STAMP)
    events = Calendar.from_ical(target.read_bytes()).walk("VEVENT")
    sessions = [event for event in events if b"CATEGORIES:session\r\n" in event.to_ical()]
    last = answer.last_stroke.p80

    assert last is not None
    assert len(sessions) == sum(promised_s > 0 for promised_s in promised_days(plan, today, last)) > 2
    assert len({str(event["UID"]) for event in events}) == len(events) == len(sessions) + 7
    assert all(event.decoded("DTEND") - event.decoded("DTSTART") == dt.timedelta(days=1) for event in events)
    content_lines(target.read_bytes())


def test_a_milestone_keeps_its_identifier_when_it_moves_and_a_session_is_told_by_its_day() -> None:
    def uid(name: str, kind: EntryKind, day: dt.date) -> str:
        (one,) = [replace(entry(), kind=kind, first_day=day, last_day=day)]
        return dict(content_lines(calendar_bytes([one], name=name, stamp=STAMP)))["UID"]

    days = (dt.date(2027, 1, 1), dt.date(2027, 1, 2))
    dry = {uid("Evening study", EntryKind.TOUCH_DRY, day) for day in days}
    sessions = {uid("Evening study", EntryKind.SESSION, day) for day in days}
    assert (len(dry), len(sessions), len(dry | sessions | {uid("Other", EntryKind.TOUCH_DRY, days[0])})) == (1, 2, 4)


def test_a_later_file_has_the_greater_sequence() -> None:
    """RFC 5545, 3.8.7.4."""
    (event,) = Calendar.from_ical(calendar_bytes([entry()], name="", stamp=STAMP, sequence=7)).walk("VEVENT")
    assert event.decoded("SEQUENCE") == 7


def test_what_cannot_be_written_is_said_as_an_error_of_the_calendar(tmp_path: Path) -> None:
    target = tmp_path / "study.ics"
    with pytest.raises(CalendarFileError, match=r"study\.ics: there is nothing to write"):
        write_calendar(target, [], name="", stamp=STAMP)
    assert not target.exists()
    target.write_text("mine")
    with pytest.raises(CalendarFileError, match=r"study\.ics: there is such a file already; name another"):
        write_calendar(target, [entry()], name="", stamp=STAMP)
    assert target.read_text() == "mine"


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """A grey photo of 400 x 600 px."""
    path = tmp_path / "photo.png"
    Image.new("RGB", (400, 600), GREY).save(path)
    return path


@pytest.fixture
def grid() -> TransferGrid:
    """Squares of 50 px: 8 x 10 of them."""
    return grid_of(CanvasSize(406.4, 508), Crop(left_px=0, top_px=60, width_px=400, height_px=500), 50.8)


def test_lines_stand_on_every_square_of_the_copy(tmp_path: Path, photo: Path, grid: TransferGrid) -> None:
    """trade-checks.md 67, a tenth of its size: 8 x 10 squares, 50 px each."""
    before = photo.read_bytes()
    write_photo_grid(grid, photo, tmp_path / "grid.png")

    with Image.open(tmp_path / "grid.png") as drawn:
        assert (drawn.format, drawn.size) == ("PNG", (400, 500))
        # Far from the names, which stand at the top left of each square.
        assert [x for x in range(400) if drawn.getpixel((x, 45)) == (0, 0, 0)] == [*range(0, 400, 50), 398]
        assert [y for y in range(500) if drawn.getpixel((45, y)) == (0, 0, 0)] == [*range(0, 500, 50), 498]
        assert drawn.getpixel((45, 45)) == GREY
        named = [drawn.crop((x + 3, 3, x + 25, 20)).getcolors() for x in range(0, 400, 50)]
        assert all(len(colours or []) > 1 for colours in named)
    assert photo.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["grid.png", "photo.png"]


def test_the_photo_is_never_the_target(tmp_path: Path, photo: Path, grid: TransferGrid) -> None:
    before = photo.read_bytes()
    (tmp_path / "link.png").symlink_to(photo)
    os.link(photo, tmp_path / "twin.png")

    for name in ("photo.png", "link.png", "twin.png"):
        with pytest.raises(PhotoFileError, match="there is such a file already; name another"):
            write_photo_grid(grid, photo, tmp_path / name)
    assert photo.read_bytes() == before


def test_a_crop_beyond_the_photo_is_refused(tmp_path: Path, photo: Path) -> None:
    beyond = grid_of(CanvasSize(400, 500), Crop(left_px=0, top_px=200, width_px=400, height_px=500))

    with pytest.raises(CompositionError, match="within the photo of 400 x 600 px"):
        write_photo_grid(beyond, photo, tmp_path / "grid.png")
    assert not (tmp_path / "grid.png").exists()


def test_the_svg_is_written_whole_with_its_title_as_text(tmp_path: Path, grid: TransferGrid) -> None:
    write_canvas_grid(grid, "North & <Harbour> \x1b", tmp_path / "north.svg")
    root = ET.parse(tmp_path / "north.svg").getroot()  # noqa: S314 - our own file

    assert root.get("width") == "406.4mm"
    assert root.findtext("{http://www.w3.org/2000/svg}title") == "North & <Harbour> "


def test_what_cannot_be_written_is_said_as_an_error_of_the_file(tmp_path: Path, grid: TransferGrid) -> None:
    with pytest.raises(PhotoFileError, match="this is a folder"):
        write_canvas_grid(grid, "North", tmp_path)
    assert list(tmp_path.iterdir()) == []
