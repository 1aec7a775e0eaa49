"""What is typed as an answer, read by the plan's own readers, so that an answer and a plan mean the same."""

import datetime as dt
import re
from collections.abc import Callable, Sequence
from typing import Final, NamedTuple, TypeVar

from coach.composition.life_size import LIFE_MM
from coach.composition.proposal.answers import MOST_SITTERS, Answers, NamedPlace, so_many_canvases, usual_places
from coach.composition.proposal.feature_table import FEATURE_NAMED, FINENESSES, USUAL_FEATURES
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.sizes import CanvasFormat, canvas_named
from coach.errors import UsageError
from coach.plan import units
from coach.plan.commission import MOST_CANVASES, RETURN_TO, CanvasSize
from coach.plan.problems import quoted
from coach.plan.time_types import DAY, HOURS_OF_DAY, weekdays
from coach.plan.value_types import (
    MOST_CHARACTERS,
    MOST_FILE_NAME,
    PLACE,
    WrongValueError,
    checked_text,
    is_plain_name,
    one_of,
    whole_number,
)
from coach.plan.value_types import cleaned as on_one_line
from coach.text import sanitized

_T = TypeVar("_T")
MOST_NAME: Final = 40
"""Most characters of a name of a sitter or a canvas."""

MOST_LINE: Final = 1000
"""Most characters of an answer."""

_MOST_TITLE: Final = 300
_AND: Final = re.compile(r",|\band\b")
_COMMA: Final = re.compile(",")
_IN_BRACKETS: Final = re.compile(r"(.+?)\s*\(([^()]*)\)")
_SIDE: Final = re.compile(r"(.+?)\s+(left|right)", re.IGNORECASE)
_NUMBER: Final = re.compile(r"(.+?)\s+(\d{1,2})", re.ASCII)
LEAST_HEAD_MM: Final = 10.0
"""Smallest head that can be stated."""

_MOST_YEARS: Final = 10
_WORKDAYS: Final = 5
_DAY_S: Final = 24 * 3600
_MOST_LINE: Final = 300
_AHEAD: Final = re.compile(r"(?:in\s+)?(\d{1,3})\s*(day|week)s?", re.IGNORECASE | re.ASCII)
_HEAD: Final = re.compile(r"(\d{1,4}(?:[.,]\d{1,3})?)\s*(mm|cm|in|%)(?: of life)?", re.IGNORECASE | re.ASCII)
_ENTRIES: Final = re.compile(r",(?!\d)|;")
_DAY_HOURS: Final = re.compile(r"([^:]+?)\s*(?::|\s(?=\d))\s*(.+)")
_DIRECTED: Final = re.compile(r"(.+?),?\s+(upright|lying)", re.IGNORECASE)


class AnswerFault(NamedTuple):
    """Why an answer cannot be taken, in one sentence with a way out."""

    sentence: str


def read_typed(read: Callable[[str], _T], text: str, *, most: int = MOST_CHARACTERS) -> _T | AnswerFault:
    """Return what a reader of the plan makes of a text of 1 to `most` characters, or its fault."""
    try:
        return read(checked_text(on_one_line(text), most))
    except WrongValueError as wrong:
        return AnswerFault(str(wrong))


def cleaned(text: str, *, most: int) -> str | AnswerFault:
    """Return `text` harmless and on one line, of 1 to `most` characters."""
    return read_typed(str, text, most=most)


def read_sitters(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take one sitter, or several parted by commas or "and"."""
    line = cleaned(text, most=MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    names = entries_of(line, _AND)
    if not names:
        return AnswerFault("nobody is named; write a name or a word such as elder")
    if len(names) > MOST_SITTERS:
        return AnswerFault(f"{len(names)} sitters are named; name at most {MOST_SITTERS}")
    return name_fault(names) or _return_fault(names) or answers._replace(sitters=tuple(names))


def read_title(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of the commission; the name that it has by its sitters follows them."""
    title = cleaned(text, most=_MOST_TITLE)
    if isinstance(title, AnswerFault):
        return title
    by_sitters = answers._replace(title="").commission
    return answers._replace(title="" if title == by_sitters else title)


def read_photo(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of the photo's file as it is typed; `none` where there is none yet."""
    name = cleaned(text, most=MOST_FILE_NAME)
    if isinstance(name, AnswerFault):
        return name
    if name != " ".join(text.split()):
        return AnswerFault(f"{quoted(name)} holds a character that cannot be shown; rename the file first")
    if not is_plain_name(name):
        return AnswerFault(f"{quoted(name)} is not the plain name of a file; put the photo beside the plan: sitter.jpg")
    return answers._replace(photo=None if name.lower() == "none" else name)


def read_palette(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of a limited palette."""
    name = _one_of(text, tuple(PALETTE_NAMED))
    return name if isinstance(name, AnswerFault) else answers._replace(palette=name)


def read_features(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the features in the order in which they are to be painted; `all` and `usual` stand for several."""
    several = {"all": tuple(FEATURE_NAMED), "usual": USUAL_FEATURES}
    names: list[str] = []
    for entry in entries_of(sanitized(text), _AND):
        name = entry.lower() if entry.lower() in several else _one_of(entry, tuple(FEATURE_NAMED))
        if isinstance(name, AnswerFault):
            return name
        names += several.get(name, (name,))
    if not names:
        return AnswerFault("no feature is named; write usual, all, or some of: " + ", ".join(FEATURE_NAMED))
    return answers._replace(features=tuple(dict.fromkeys(names)))


def read_fineness(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take coarse, middle or fine."""
    name = _one_of(text, FINENESSES)
    return name if isinstance(name, AnswerFault) else answers._replace(fineness=name)


def entries_of(line: str, parted_by: re.Pattern[str]) -> list[str]:
    """Return what stands between the marks that part a list, without empty entries."""
    return [entry for part in parted_by.split(line) if (entry := " ".join(part.split()))]


def name_fault(names: Sequence[str]) -> AnswerFault | None:
    """Return what is wrong with names that must differ, capitals aside; None where nothing is."""
    long = next((name for name in names if len(name) > MOST_NAME), None)
    if long:
        return AnswerFault(f"{quoted(long)} has {len(long)} characters; use at most {MOST_NAME}")
    twice = named_twice(names)
    return AnswerFault(f"the name {quoted(twice)} stands twice; give each its own name") if twice else None


def named_twice(names: Sequence[str]) -> str:
    """Return the first name that stood before, capitals aside; empty where all differ."""
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            return name
        seen.add(name.casefold())
    return ""


def read_count(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take how many canvases there are; those that have a name keep it."""
    count = read_typed(whole_number(1, MOST_CANVASES).read, text)
    if isinstance(count, AnswerFault):
        return AnswerFault(f"write how many canvases there are, 1 to {MOST_CANVASES}")
    if count == len(answers.canvases):
        return answers
    return answers._replace(canvases=so_many_canvases(answers.canvases, count))


def read_canvases(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the names of all canvases, each with its place or none: `Hall (left), School (right)` or `Hall, School`."""
    line = cleaned(text, most=MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    entries = entries_of(line, _COMMA)
    count = len(answers.canvases)
    if len(entries) != count:
        were = "1 canvas was" if count == 1 else f"{count} canvases were"
        return AnswerFault(f"{were} said and {len(entries)} named; name {count}, or go back and change the number")
    written = _names_and_places(entries)
    names = [name for name, _ in written]
    places = _places([place for _, place in written])
    if isinstance(places, AnswerFault):
        return places
    return name_fault(names) or answers._replace(canvases=tuple(map(NamedPlace, names, places)))


def read_due(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the day of delivery: a day, or so many days or weeks ahead."""
    today = answers.asked_on
    ahead = _AHEAD.fullmatch(text.strip())
    if ahead:
        due: dt.date | AnswerFault = today + dt.timedelta(days=int(ahead[1]) * (7 if ahead[2].lower() == "week" else 1))
    else:
        due = read_typed(DAY.read, text)
    if isinstance(due, AnswerFault):
        return due
    if due <= today:
        return AnswerFault(f"{due} is not ahead: today is {today}; write a later day, or such as 8 weeks")
    if due.year - today.year > _MOST_YEARS:
        return AnswerFault(f"{due} is more than {_MOST_YEARS} years ahead; write the day that was agreed")
    return answers._replace(due=due)


def read_week(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the hours of each day, or those of a week, which are spread evenly over Monday to Friday."""
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    hours = units.number(line)
    whole_s = units.duration_s(line) if hours is None else round(hours * 3600)
    if whole_s is None:
        week_s = _day_by_day_s(line)
    elif whole_s > _WORKDAYS * _DAY_S:
        return AnswerFault(f"{quoted(line)} is more than five whole days; write the hours that are painted")
    else:
        week_s = (whole_s // _WORKDAYS,) * _WORKDAYS + (0, 0)
    if isinstance(week_s, AnswerFault):
        return week_s
    return (
        answers._replace(week_s=week_s) if any(week_s) else AnswerFault("a week needs some hours; write such as 25 h")
    )


def read_size(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the size of every canvas: a stock canvas, upright or lying, or width x height.

    A head that was stated and is taller than the canvas is estimated anew.
    """
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    directed = _DIRECTED.fullmatch(line)
    name, direction = (directed[1], directed[2].lower()) if directed else (line, "")
    try:
        size = _turned(canvas_named(name), units.size_mm(name.lower()), direction)
    except UsageError as error:
        return AnswerFault(error.what)
    if answers.head_mm is not None and answers.head_mm > size.height_mm:
        answers = answers._replace(head_mm=None, said=answers.said - {"head"})
    return answers._replace(size=size)


def read_head(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the height of a head on the canvas: a length, per cent of life size, or `estimate`."""
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    if line.lower() == "estimate":
        return answers._replace(head_mm=None)
    found = _HEAD.fullmatch(line)
    if found is None:
        return AnswerFault(f"{quoted(line)} is not the height of a head; write such as 16 cm, 75 % or estimate")
    unit = found[2].lower()
    per_unit = LIFE_MM / 100 if unit == "%" else units.MM_PER_UNIT[unit]
    head_mm = round(float(found[1].replace(",", ".")) * per_unit, 1)
    if head_mm < LEAST_HEAD_MM:
        return AnswerFault(f"a head of {quoted(line)} is too small to paint; write at least {LEAST_HEAD_MM / 10:g} cm")
    if head_mm > answers.size.height_mm:
        height_cm = answers.size.height_mm / 10
        return AnswerFault(f"a head of {quoted(line)} is taller than the canvas of {height_cm:g} cm; write less")
    return answers._replace(head_mm=head_mm)


def _one_of(text: str, words: tuple[str, ...]) -> str | AnswerFault:
    return read_typed(one_of(*words).read, text)


def _return_fault(names: Sequence[str]) -> AnswerFault | None:
    name = next((name for name in names if f"{name} ".casefold().startswith(RETURN_TO)), None)
    if name is None:
        return None
    return AnswerFault(f"{quoted(name)} would read as a pass of corrections; name the sitter in another way")


def _names_and_places(entries: Sequence[str]) -> list[tuple[str, str]]:
    """Part names from places, which are empty where none is written.

    A number at the end without brackets is a place only if all have one and the names still differ: it is part of
    the name in "Panel 1, Panel 2".
    """
    numbered = [found for entry in entries if (found := _NUMBER.fullmatch(entry))]
    if len(numbered) == len(entries) and not named_twice([found[1] for found in numbered]):
        return [(found[1], found[2]) for found in numbered]
    placed = [_IN_BRACKETS.fullmatch(entry) or _SIDE.fullmatch(entry) for entry in entries]
    return [(found[1], found[2]) if found else (entry, "") for entry, found in zip(entries, placed, strict=True)]


def _places(written: Sequence[str]) -> Sequence[str] | AnswerFault:
    if not any(written):
        return usual_places(len(written))
    if not all(written):
        return AnswerFault("some canvases have a place and some have none; give each one, or none")
    places: list[str] = []
    for text in written:
        place = read_typed(PLACE.read, text)
        if isinstance(place, AnswerFault):
            return place
        places.append(place)
    twice = named_twice(places)
    return AnswerFault(f"two canvases stand in place {twice}; give each its own place") if twice else places


def _day_by_day_s(line: str) -> tuple[int, ...] | AnswerFault:
    """Read `mon-fri: 5 h, sat 2,5 h`: a comma before a digit is a decimal comma."""
    week_s, named = [0] * 7, set[int]()
    for entry in filter(None, map(str.strip, _ENTRIES.split(line))):
        found = _DAY_HOURS.fullmatch(entry)
        if found is None:
            return AnswerFault(f"{quoted(entry)} names no day with its hours; write such as 25 h, or mon-fri: 5 h")
        try:
            for number in weekdays(found[1], named):
                week_s[number] = HOURS_OF_DAY.read(found[2])
        except WrongValueError as wrong:
            return AnswerFault(str(wrong))
    return tuple(week_s)


def _turned(canvas: CanvasFormat, typed_mm: tuple[float, float] | None, direction: str) -> CanvasSize:
    """Return width and height as directed; else as typed; else upright."""
    if typed_mm is not None and not direction:
        width_mm, height_mm = typed_mm
    else:
        width_mm, height_mm = canvas.directions.get(direction, canvas.directions["upright"])
    return CanvasSize(width_mm=width_mm, height_mm=height_mm)
