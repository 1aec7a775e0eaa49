"""What is typed as an answer, read by the plan's own readers, so that an answer and a plan mean the same.

Each reader takes a text into the answers; one that cannot be taken raises `WrongValueError` or `UsageError`.
"""

import datetime as dt
import re
from collections.abc import Sequence
from typing import Final

from coach.composition.life_size import LIFE_MM
from coach.composition.photo_boxes import read_box
from coach.composition.proposal.answers import MOST_SITTERS, Answers, NamedPlace, so_many_canvases, usual_places
from coach.composition.proposal.feature_table import FEATURE_NAMED, FINENESSES, USUAL_FEATURES
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.sizes import CanvasFormat, canvas_named
from coach.plan import units
from coach.plan.commission import MOST_CANVASES, RETURN_TO, CanvasSize, MarkedHead
from coach.plan.problems import quoted
from coach.plan.time_types import HOURS_OF_DAY, weekdays
from coach.plan.value_types import (
    MOST_CHARACTERS,
    MOST_FILE_NAME,
    PLACE,
    WrongValueError,
    checked_text,
    cleaned,
    is_plain_name,
    one_of,
    whole_number,
)
from coach.text import counted, sanitized

MOST_NAME: Final = 40
"""Most characters of a name of a sitter or a canvas."""

MOST_LINE: Final = 1000
"""Most characters of a list of names."""

LEAST_HEAD_MM: Final = 10.0
"""Smallest head that can be stated."""

_MOST_YEARS: Final = 10
_MONTHS: Final = 12
_IN_FIGURES: Final = re.compile(r"(\d{1,2})\s*([./-])\s*(\d{1,2})\s*[./-]\s*(\d{4})", re.ASCII)
_WORKDAYS: Final = 5
_DAY_S: Final = 24 * 3600
_AND: Final = re.compile(r",|\band\b")
_COMMA: Final = re.compile(",")
_IN_BRACKETS: Final = re.compile(r"(.+?)\s*\(([^()]*)\)")
_SIDE: Final = re.compile(r"(.+?)\s+(left|right)", re.IGNORECASE)
_NUMBER: Final = re.compile(r"(.+?)\s+(\d{1,2})", re.ASCII)
_AHEAD: Final = re.compile(r"(?:in\s+)?(\d{1,3})\s*(day|week)s?", re.IGNORECASE | re.ASCII)
_HEAD: Final = re.compile(r"(\d{1,4}(?:[.,]\d{1,3})?)\s*(mm|cm|in|%)(?: of life)?", re.IGNORECASE | re.ASCII)
_ENTRIES: Final = re.compile(r",(?!\d)|;")
_DAY_HOURS: Final = re.compile(r"([^:]+?)\s*(?::|\s(?=\d))\s*(.+)")
_DIRECTED: Final = re.compile(r"(.+?),?\s+(upright|lying)", re.IGNORECASE)


def read_sitters(text: str, answers: Answers) -> Answers:
    """Take one sitter, or several parted by commas or "and"."""
    line = _line(text, MOST_LINE)
    names = _entries(line, _AND)
    if not names:
        raise WrongValueError("nobody is named; write a name or a word such as elder")
    if len(names) > MOST_SITTERS:
        raise WrongValueError(f"{len(names)} sitters are named; name at most {MOST_SITTERS}")
    _check_names(names)
    corrections = next((name for name in names if f"{name} ".casefold().startswith(RETURN_TO)), None)
    if corrections:
        what = f"{quoted(corrections)} would read as a pass of corrections"
        raise WrongValueError(what, "name the sitter in another way")
    heads = tuple(head._replace(name=name) for head, name in zip(answers.heads, names, strict=False))
    return answers._replace(sitters=tuple(names), heads=heads if len(names) == len(answers.heads) else ())


def read_title(text: str, answers: Answers) -> Answers:
    """Take the name of the commission; the name that it has by its sitters follows them."""
    title = _line(text)
    by_sitters = answers._replace(title="").commission
    return answers._replace(title="" if title == by_sitters else title)


def read_photo(text: str, answers: Answers) -> Answers:
    """Take the name of the photo's file as it is typed; `none` where there is none yet."""
    name = _line(text, MOST_FILE_NAME)
    if name != " ".join(text.split()):
        raise WrongValueError(f"{quoted(name)} holds a character that cannot be shown; rename the file first")
    if not is_plain_name(name):
        raise WrongValueError(
            f"{quoted(name)} is not the plain name of a file; put the photo beside the plan: sitter.jpg"
        )
    photo = None if name.lower() == "none" else name
    return answers if photo == answers.photo else answers._replace(photo=photo, heads=(), said=answers.said - {"heads"})


def read_heads(text: str, answers: Answers) -> Answers:
    """Take the box of each head, in the order of the sitters, parted by semicolons; `none` where none is marked."""
    line = _line(text, MOST_LINE)
    if line.lower() == "none":
        return answers._replace(heads=())
    boxes = [read_box(entry.rpartition(":")[2]) for entry in line.split(";") if entry.strip()]
    if len(boxes) != len(answers.sitters):
        sit, marked = counted(len(answers.sitters), "sitter"), counted(len(boxes), "head")
        raise WrongValueError(f"{sit} and {marked}; mark one for each, parted by semicolons")
    empty = next((box for box in boxes if box.width_px <= 0 or box.height_px <= 0), None)
    if empty is not None or any(min(box) < 0 for box in boxes):
        raise WrongValueError("a head is left,top,right,bottom: right beyond left, bottom below top, in pixels")
    return answers._replace(heads=tuple(map(MarkedHead, answers.sitters, boxes)))


def read_palette(text: str, answers: Answers) -> Answers:
    """Take the name of a limited palette."""
    return answers._replace(palette=one_of(*PALETTE_NAMED).read(_line(text)))


def read_features(text: str, answers: Answers) -> Answers:
    """Take the features in the order in which they are to be painted; `all` and `usual` stand for several."""
    several = {"all": tuple(FEATURE_NAMED), "usual": USUAL_FEATURES}
    names: list[str] = []
    for entry in _entries(sanitized(text), _AND):
        name = entry.lower() if entry.lower() in several else one_of(*FEATURE_NAMED).read(_line(entry))
        names += several.get(name, (name,))
    if not names:
        raise WrongValueError("no feature is named; write usual, all, or some of: " + ", ".join(FEATURE_NAMED))
    return answers._replace(features=tuple(dict.fromkeys(names)))


def read_fineness(text: str, answers: Answers) -> Answers:
    """Take coarse, middle or fine."""
    return answers._replace(fineness=one_of(*FINENESSES).read(_line(text)))


def read_count(text: str, answers: Answers) -> Answers:
    """Take how many canvases there are; those that have a name keep it."""
    try:
        count = whole_number(1, MOST_CANVASES).read(_line(text))
    except WrongValueError as wrong:
        raise WrongValueError(f"write how many canvases there are, 1 to {MOST_CANVASES}") from wrong
    if count == len(answers.canvases):
        return answers
    return answers._replace(canvases=so_many_canvases(answers.canvases, count))


def read_canvases(text: str, answers: Answers) -> Answers:
    """Take the names of all canvases, each with its place or none: `Hall (left), School (right)` or `Hall, School`."""
    line = _line(text, MOST_LINE)
    entries = _entries(line, _COMMA)
    count = len(answers.canvases)
    if len(entries) != count:
        were = "1 canvas was" if count == 1 else f"{count} canvases were"
        raise WrongValueError(f"{were} said and {len(entries)} named; name {count}, or go back and change the number")
    written = _names_and_places(entries)
    names = [name for name, _ in written]
    places = _places([place for _, place in written])
    _check_names(names)
    return answers._replace(canvases=tuple(map(NamedPlace, names, places)))


def read_due(text: str, answers: Answers) -> Answers:
    """Take the day of delivery: a day as people write it, or so many days or weeks ahead."""
    today = answers.asked_on
    ahead = _AHEAD.fullmatch(text.strip())
    if ahead:
        due = today + dt.timedelta(days=int(ahead[1]) * (7 if ahead[2].lower() == "week" else 1))
    else:
        due = _day_as_written(_line(text), today)
    if due <= today:
        raise WrongValueError(f"{due} is not ahead: today is {today}; write a later day, or such as 8 weeks")
    if due.year - today.year > _MOST_YEARS:
        raise WrongValueError(f"{due} is more than {_MOST_YEARS} years ahead; write the day that was agreed")
    return answers._replace(due=due)


def _day_as_written(line: str, today: dt.date) -> dt.date:
    """Read `20 March 2027`, `March 20`, `20.3.2027` or `2027-03-20`; without a year the next such day."""
    figures = _IN_FIGURES.fullmatch(line)
    if figures:
        first, sign, second, year = int(figures[1]), figures[2], int(figures[3]), int(figures[4])
        if sign != "." and first != second and max(first, second) <= _MONTHS:
            days = [dt.date(year, month, day) for month, day in ((second, first), (first, second))]
            this, that = (f"{one.day} {one:%B %Y}" for one in days)
            raise WrongValueError(f"{quoted(line)} may be {this} or {that}", f"write the month as a word: {this}")
        is_month_first = sign != "." and second > _MONTHS
        found = units.day(f"{year}-{first}-{second}" if is_month_first else f"{year}-{second}-{first}")
        if found is not None:
            return found
    found = units.day(line) or (units.day_in_words(line, today) if any(map(str.isalpha, line)) else None)
    if found is None:
        raise WrongValueError(f"there is no day {quoted(line)}", "write such as 20 March 2027, or 8 weeks")
    return found


def read_week(text: str, answers: Answers) -> Answers:
    """Take the hours of each day, or those of a week, which are spread evenly over Monday to Friday."""
    line = _line(text)
    hours = units.number(line)
    whole_s = units.duration_s(line) if hours is None else round(hours * 3600)
    if whole_s is None:
        week_s = _day_by_day_s(line)
    elif whole_s > _WORKDAYS * _DAY_S:
        raise WrongValueError(f"{quoted(line)} is more than five whole days; write the hours that are painted")
    else:
        week_s = (whole_s // _WORKDAYS,) * _WORKDAYS + (0, 0)
    if not any(week_s):
        raise WrongValueError("a week needs some hours", "write such as 25 h")
    return answers._replace(week_s=week_s)


def read_size(text: str, answers: Answers) -> Answers:
    """Take the size of every canvas: a stock canvas, upright or lying, or width x height.

    A head that was stated and is taller than the canvas is estimated anew.
    """
    line = _line(text)
    directed = _DIRECTED.fullmatch(line)
    name, direction = (directed[1], directed[2].lower()) if directed else (line, "")
    size = _turned(canvas_named(name), units.size_mm(name.lower()), direction)
    if answers.head_mm is not None and answers.head_mm > size.height_mm:
        answers = answers._replace(head_mm=None, said=answers.said - {"head"})
    return answers._replace(size=size)


def read_head(text: str, answers: Answers) -> Answers:
    """Take the height of a head on the canvas: a length, per cent of life size, or `estimate`."""
    line = _line(text)
    if line.lower() == "estimate":
        return answers._replace(head_mm=None)
    found = _HEAD.fullmatch(line)
    if found is None:
        raise WrongValueError(f"{quoted(line)} is not the height of a head; write such as 16 cm, 75 % or estimate")
    unit = found[2].lower()
    per_unit = LIFE_MM / 100 if unit == "%" else units.MM_PER_UNIT[unit]
    head_mm = round(float(found[1].replace(",", ".")) * per_unit, 1)
    if head_mm < LEAST_HEAD_MM:
        raise WrongValueError(
            f"a head of {quoted(line)} is too small to paint; write at least {LEAST_HEAD_MM / 10:g} cm"
        )
    if head_mm > answers.size.height_mm:
        height_cm = answers.size.height_mm / 10
        raise WrongValueError(f"a head of {quoted(line)} is taller than the canvas of {height_cm:g} cm; write less")
    return answers._replace(head_mm=head_mm)


def _line(text: str, most: int = MOST_CHARACTERS) -> str:
    """Return `text` sanitized and on one line, or refuse one that is empty or longer than `most`."""
    return checked_text(cleaned(text), most)


def _entries(line: str, parted_by: re.Pattern[str]) -> list[str]:
    """Return what stands between the marks that part a list, without empty entries."""
    return [entry for part in parted_by.split(line) if (entry := " ".join(part.split()))]


def _check_names(names: Sequence[str]) -> None:
    """Refuse names that are too long, or that are alike but for capitals."""
    long = next((name for name in names if len(name) > MOST_NAME), None)
    if long:
        raise WrongValueError(f"{quoted(long)} has {len(long)} characters", f"use at most {MOST_NAME}")
    twice = _named_twice(names)
    if twice:
        raise WrongValueError(f"the name {quoted(twice)} stands twice", "give each its own name")


def _named_twice(names: Sequence[str]) -> str:
    """Return the first name that stood before, capitals aside; empty where all differ."""
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            return name
        seen.add(name.casefold())
    return ""


def _names_and_places(entries: Sequence[str]) -> list[tuple[str, str]]:
    """Part names from places, which are empty where none is written.

    A number at the end without brackets is a place only if all have one and the names still differ: it is part of
    the name in "Panel 1, Panel 2".
    """
    numbered = [found for entry in entries if (found := _NUMBER.fullmatch(entry))]
    if len(numbered) == len(entries) and not _named_twice([found[1] for found in numbered]):
        return [(found[1], found[2]) for found in numbered]
    placed = [_IN_BRACKETS.fullmatch(entry) or _SIDE.fullmatch(entry) for entry in entries]
    return [(found[1], found[2]) if found else (entry, "") for entry, found in zip(entries, placed, strict=True)]


def _places(written: Sequence[str]) -> Sequence[str]:
    if not any(written):
        return usual_places(len(written))
    if not all(written):
        raise WrongValueError("some canvases have a place and some have none", "give each one, or none")
    places = [PLACE.read(_line(text)) for text in written]
    twice = _named_twice(places)
    if twice:
        raise WrongValueError(f"two canvases stand in place {twice}", "give each its own place")
    return places


def _day_by_day_s(line: str) -> tuple[int, ...]:
    """Read `mon-fri: 5 h, sat 2,5 h`: a comma before a digit is a decimal comma."""
    week_s, named = [0] * 7, set[int]()
    for entry in filter(None, map(str.strip, _ENTRIES.split(line))):
        found = _DAY_HOURS.fullmatch(entry)
        if found is None:
            raise WrongValueError(f"{quoted(entry)} names no day with its hours; write such as 25 h, or mon-fri: 5 h")
        for number in weekdays(found[1], named):
            week_s[number] = HOURS_OF_DAY.read(found[2])
    return tuple(week_s)


def _turned(canvas: CanvasFormat, typed_mm: tuple[float, float] | None, direction: str) -> CanvasSize:
    """Return width and height as directed; else as typed; else upright."""
    if typed_mm is not None and not direction:
        width_mm, height_mm = typed_mm
    else:
        width_mm, height_mm = canvas.directions.get(direction, canvas.directions["upright"])
    return CanvasSize(width_mm=width_mm, height_mm=height_mm)
