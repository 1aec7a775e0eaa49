"""What may stand behind a key: how its text becomes a value and back, and what is said of a text that it is not."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final, Generic, TypeVar

from coach.plan import units
from coach.plan.commission import CanvasSize
from coach.plan.problems import did_you_mean, quoted, shortened
from coach.plan.units import FRACTION, NUMBER
from coach.plan.yaml_text import scalar_text
from coach.text import sanitized

_T = TypeVar("_T")
Schema = Mapping[str, object]
"""A piece of a JSON Schema."""

MOST_CHARACTERS: Final = 300
MOST_FILE_NAME: Final = 200
NOT_ZERO: Final = "(?=[^1-9]*[1-9])"
_MOST_SPELT_OUT: Final = 100
_PLACES: Final = ("left", "right", *map(str, range(1, 13)))
_SIDE_MM: Final = (20.0, 5000.0)


class WrongValueError(ValueError):
    """A text is not what its key takes.

    Attributes:
        what: What is wrong, with the offending text.
        suggestion: What would be right; may be empty.
    """

    def __init__(self, what: str, suggestion: str = "") -> None:
        super().__init__("; ".join(filter(None, (what, suggestion))))
        self.what, self.suggestion = what, suggestion


def wrong(text: str, what: str, suggestion: str = "") -> WrongValueError:
    """Return the error that says what a text is not, and what would be right."""
    return WrongValueError(f"{quoted(text)} {what}", suggestion)


@dataclass(frozen=True, slots=True)
class ValueType(Generic[_T]):
    """What a single text can say.

    Attributes:
        type: What it is, in a word or two, with its unit.
        bounds: Between what it lies, and what else must hold; empty where nothing does.
        read: Returns the value of a text as `cleaned` returns it; raises `WrongValueError`.
        write: Returns the YAML of a value; the text reads as exactly the same.
        schema: What a JSON Schema says of it.
        unit: Unit that is meant where a plain number is typed; empty where a plain number is the value.
    """

    type: str
    bounds: str
    read: Callable[[str], _T]
    write: Callable[[_T], str]
    schema: Schema = field(repr=False)
    unit: str = ""


def cleaned(text: str) -> str:
    """Return a text sanitized and on one line, every kind of space and any number of them as one space."""
    return " ".join(sanitized(text).split())


def checked_text(text: str, most: int = MOST_CHARACTERS) -> str:
    """Return a cleaned text that is not empty and has at most so many characters.

    Raises:
        WrongValueError: It is empty or too long.
    """
    if not text:
        raise WrongValueError("nothing is written here", "write a text or delete this entry")
    if len(text) > most:
        raise wrong(text, f"has {len(text)} characters", f"use at most {most}")
    return text


def matching(pattern: str) -> Schema:
    """Return the schema of a text of that pattern, with or without spaces around it."""
    return {"type": "string", "pattern": rf"^\s*{pattern}\s*$"}


def any_case(*words: str) -> str:
    """Return a pattern of these words in small or capital letters."""
    return f"(?:{'|'.join(''.join(f'[{c.upper()}{c}]' if c.isalpha() else c for c in word) for word in words)})"


def from_to(least: int, most: int) -> str:
    """Return a pattern of the numbers, with or without decimals, from `least` to `most`."""
    whole = "|".join(map(str, range(least, most)))
    return rf"0{{0,5}}(?:(?:{whole}){FRACTION}|{most}(?:\.0{{1,6}}|,0{{1,2}})?)"


_ANY_SCALAR: Final = ["string", "number", "boolean"]
_TEXT_PATTERN: Final = rf"^\s*(?:\S|\s+(?=\S)){{1,{MOST_CHARACTERS}}}\s*$"
_TEXT_SCHEMA: Final = {"type": _ANY_SCALAR, "pattern": _TEXT_PATTERN}
TEXT: Final = ValueType("text", f"1 to {MOST_CHARACTERS} characters", checked_text, scalar_text, _TEXT_SCHEMA)


def one_of(*words: str, older: tuple[str, ...] = ()) -> ValueType[str]:
    """Return the type of one of `words`, in small or capital letters; words of older plans are read, not offered."""

    def read(text: str) -> str:
        if text.lower() not in (*words, *older):
            raise wrong(text, "is not known here", did_you_mean(text, words))
        return text.lower()

    schema = {"anyOf": [{"enum": list(words)}, matching(any_case(*words, *older))]}
    return ValueType("word", ", ".join(words), read, str, schema)


def yes_or_no(yes: str, no: str) -> ValueType[bool]:
    """Return the type of two words of which the first means true."""
    word = one_of(yes, no)
    return ValueType(
        word.type, word.bounds, lambda text: word.read(text) == yes, lambda is_so: yes if is_so else no, word.schema
    )


def whole_number(least: int, most: int) -> ValueType[int]:
    """Return the type of a whole number from `least` to `most`."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdigit() and least <= int(text) <= most):
            raise wrong(text, f"is not a whole number from {least} to {most}", f"write {least}")
        return int(text)

    digits = matching("0*[1-9][0-9]{0,9}" if least else "[0-9]{1,10}")
    schema = {"anyOf": [{"type": "integer", "minimum": least, "maximum": most}, digits]}
    return ValueType("whole number", f"{least} to {most}", read, str, schema)


def number(most: int, *, example: str, above_0: bool = False) -> ValueType[float]:
    """Return the type of a number of at most `most` that is 0 or more, or greater than 0."""
    bounds = f"greater than 0, at most {most}" if above_0 else f"0 to {most}"

    def read(text: str) -> float:
        value = units.number(text)
        if value is None or value > most or (above_0 and not value):
            raise wrong(
                text, f"is not a number {'' if above_0 else 'from '}{bounds}", f"write a number such as {example}"
            )
        return value

    least = {"exclusiveMinimum": 0} if above_0 else {"minimum": 0}
    # Above 100 the pattern only tells that it is a number: it would have to name every one.
    digits = matching((NOT_ZERO if above_0 else "") + (NUMBER if most > _MOST_SPELT_OUT else from_to(0, most)))
    return ValueType(
        "number", bounds, read, units.number_text, {"anyOf": [{"type": "number", "maximum": most, **least}, digits]}
    )


def _read_place(text: str) -> str:
    if text.lower() not in _PLACES:
        raise wrong(text, "is not a place", "write left, right or a number from 1 to 12")
    return text.lower()


def _read_size(text: str) -> CanvasSize:
    sides = units.size_mm(text)
    low, high = _SIDE_MM
    if sides is None or not all(low <= side <= high for side in sides):
        raise wrong(text, "is not a size of 2 to 500 cm a side", "write width x height: 40 x 50 cm")
    return CanvasSize(*sides)


def _read_area(text: str) -> float:
    area_cm2 = units.area_cm2(text)
    if not area_cm2:
        meant = f"write {text} cm2" if units.number(text) else "write an area such as 12 cm2"
        raise wrong(text, "is not an area greater than 0", meant)
    return area_cm2


_PLACE_NUMBER: Final = {"type": "integer", "minimum": 1, "maximum": 12}
PLACE: Final[ValueType[str]] = ValueType(
    "word or number", "left, right, 1 to 12", _read_place, str, {"anyOf": [_PLACE_NUMBER, matching(any_case(*_PLACES))]}
)
SIZE: Final[ValueType[CanvasSize]] = ValueType(
    "width x height in cm, in or mm", "2 to 500 cm a side", _read_size, units.size_text, matching(units.SIZE)
)
_AREA_SCHEMA: Final = matching(rf"(?=[0.,]*[1-9]){units.AREA}")
AREA: Final[ValueType[float]] = ValueType(
    "area in cm2, in2 or mm2", "greater than 0", _read_area, units.area_text, _AREA_SCHEMA, "cm2"
)


def celsius(least: int, most: int) -> ValueType[float]:
    """Return the type of a temperature of a room, in degrees Celsius."""

    def read(text: str) -> float:
        room_c = units.celsius(text)
        if room_c is None:
            raise wrong(text, "is not a temperature", "write degrees Celsius, such as 18 C")
        if not least <= room_c <= most:
            what = f"is not between {least} and {most} C, where drying can be foretold"
            raise wrong(text, what, "write the warmth of the room it dries in, such as 18 C")
        return room_c

    degrees = matching(rf"{from_to(least, most)}\s*(?:°?\s?C)?")
    schema = {"anyOf": [{"type": "number", "minimum": least, "maximum": most}, degrees]}
    bounds = f"{least} C to {most} C"
    return ValueType("degrees Celsius", bounds, read, lambda room_c: f"{units.number_text(room_c)} C", schema, "C")


def micrometres(least: int, most: int) -> ValueType[float]:
    """Return the type of the thickness of a wet layer, in micrometres."""

    def read(text: str) -> float:
        film_um = units.micrometres(text)
        if film_um is None:
            figure = units.number(text)
            is_bare = figure and least <= figure <= most
            meant = f"write {text} um" if is_bare else "write micrometres, such as 100 um"
            raise wrong(text, "is not a thickness", meant)
        if not least <= film_um <= most:
            what = f"is not between {least} and {most} um"
            raise wrong(text, what, "write the wet thickness of one layer, such as 100 um")
        return film_um

    bounds, schema = f"{least} um to {most} um", matching(rf"{NUMBER}\s*[uµμ]m")
    return ValueType("micrometres", bounds, read, lambda film_um: f"{units.number_text(film_um)} um", schema, "um")


def is_plain_name(name: str) -> bool:
    """Return whether a name is that of a file beside the plan: no folder, no drive, not hidden, not empty."""
    return bool(name) and not name.startswith(".") and not any(mark in name for mark in "/\\:")


def _name_beside(noun: str, example: str, ending: str = "") -> ValueType[str]:
    """Return the type of the name of a file beside the plan, with the ending that such a file has."""

    def read(text: str) -> str:
        if not is_plain_name(checked_text(text, MOST_FILE_NAME)):
            what = f"is not the plain name of a {noun} beside the plan"
            raise wrong(text, what, f"put the {noun} beside the plan and write {example}")
        if not text.endswith(ending):
            raise wrong(text, f"does not end in {ending}", f"write {shortened(text.partition('.')[0])}{ending}")
        return text

    is_any = {"type": _ANY_SCALAR, "pattern": rf"^\s*{_PLAIN_NAME}$"}
    schema = {"maxLength": MOST_FILE_NAME, **(matching(_PLAIN_NAME + re.escape(ending)) if ending else is_any)}
    return ValueType(f"name of a {noun}", "beside the plan, without a folder", read, scalar_text, schema)


_PLAIN_NAME: Final = r"[^./\\:\s][^/\\:]*"
PHOTO_NAME: Final = _name_beside("photo", "sitter.jpg")
FOLDER_NAME: Final = _name_beside("folder", "canvas-photos")
JOURNAL_NAME: Final = _name_beside("journal", "evening-study.journal", ".journal")
SHAPES_NAME: Final = _name_beside("file of shapes", "sitter.shapes.svg", ".shapes.svg")
_SHAPE_ID: Final = "k[1-9][0-9]{0,6}"


def _read_shape_id(text: str) -> str:
    if not re.fullmatch(_SHAPE_ID, text):
        raise wrong(text, "is not the id of a shape", "write k and a number, such as k12")
    return text


SHAPE_ID: Final = ValueType("id of a shape", "k and a number", _read_shape_id, str, matching(_SHAPE_ID))
_WIDTH_MM: Final = (0.5, 300.0)


def _read_width(text: str) -> float:
    width_mm = units.length_mm(text)
    low, high = _WIDTH_MM
    if width_mm is None or not low <= width_mm <= high:
        meant = f"write {text} mm" if units.number(text) else "write a width such as 6 mm"
        raise wrong(text, "is not the width of a brush, 0.5 to 300 mm", meant)
    return width_mm


BRUSH: Final = ValueType(
    "width in mm, cm or in", "0.5 mm to 300 mm", _read_width, units.length_text, matching(units.LENGTH), "mm"
)
