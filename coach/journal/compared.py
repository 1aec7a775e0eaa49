"""What the journal keeps of a comparison of two canvases: its figures and words, never a picture."""

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

from coach.journal.stored_values import figure, formed, safe_text, truth

_SHA256: Final = re.compile("[0-9a-f]{64}")
_TAKEN: Final = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d(:\d\d)?", re.ASCII)


Row = Sequence[Any]
"""What a list of JSON holds."""


class KeptPhoto(NamedTuple):
    """A photo of the canvases: its name, its SHA-256 in hexadecimal, and when it was taken.

    Attributes:
        name: Name of its file.
        sha256: Of the file, 64 digits.
        taken: With its offset, as 2027-03-01T10:15:00+01:00; empty where it is not known.
    """

    name: str
    sha256: str
    taken: str = ""


class KeptPassage(NamedTuple):
    """A passage that was compared; figures as in `coach.compare.findings.Compared`."""

    pass_name: str
    passage: str
    difference: float
    low: float
    high: float
    lab_difference: tuple[float, float, float]
    is_called: bool
    words: str


class KeptAllOver(NamedTuple):
    """What all passages of the first canvas have in common, against the second."""

    difference: float
    lab_difference: tuple[float, float, float]
    is_called: bool
    words: str


class KeptShift(NamedTuple):
    """A feature or a landmark that lies elsewhere on a canvas, so many millimetres right and down.

    Pass and passage are those that most of it belongs to; empty where they are not known.
    """

    name: str
    canvas: str
    right_mm: float
    down_mm: float
    words: str
    pass_name: str = ""
    passage: str = ""


class KeptValue(NamedTuple):
    """A passage whose value leaves the order of the photo on a canvas, by so many steps."""

    pass_name: str
    passage: str
    canvas: str
    steps: float
    words: str


class LeftOut(NamedTuple):
    """A passage that was not compared, and why."""

    pass_name: str
    passage: str
    why: str


class KeptComparison(NamedTuple):
    """Two canvases compared by photos in which they stand in each other's place; the gravest comes first in each list.

    Attributes:
        canvases: Names of the two; a `lab_difference` is that of the first against the second.
        photos: The photos.
        light_ratio: Light of the darker place for one of the lighter; None where it is not known.
        passages: What was compared.
        all_over: What all of them have in common; None where it is not known.
        moved: Features that lie elsewhere.
        landmarks: Landmarks that lie elsewhere.
        off_values: What leaves the order of the photo's values.
        left_out: What was not compared.
        remarks: What else was said.
    """

    canvases: tuple[str, str]
    photos: tuple[KeptPhoto, ...]
    light_ratio: float | None
    passages: tuple[KeptPassage, ...]
    all_over: KeptAllOver | None = None
    moved: tuple[KeptShift, ...] = ()
    landmarks: tuple[KeptShift, ...] = ()
    off_values: tuple[KeptValue, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    remarks: tuple[str, ...] = ()


class Difference(NamedTuple):
    """A difference between two canvases that the painter can say is meant so.

    Attributes:
        pass_name: Pass of a passage; empty for a feature or a landmark of the drawing.
        name: Name of the passage, the feature or the landmark.
        canvases: Names of the two canvases in alphabetical order, so that either order means the same.
    """

    pass_name: str
    name: str
    canvases: tuple[str, str]


def difference_between(pass_name: str, name: str, canvases: Sequence[str]) -> Difference:
    """Return the difference of a passage, or of a feature where there is no pass, between two canvases."""
    one, other = sorted(canvases)
    return Difference(pass_name, name, (one, other))


def difference_of(row: Row) -> Difference:
    """Return a difference from its list; a ValueError or TypeError for what is none."""
    pass_name, name, canvases = row
    return difference_between(safe_text(pass_name), safe_text(name), _canvases(canvases))


def plain_comparison(kept: KeptComparison) -> dict[str, object]:
    """Return a comparison as `comparison_of` reads it; what it has nothing of is left out."""
    return {name: value for name, value in kept._asdict().items() if value not in ((), None)}


def comparison_of(held: Mapping[str, Any]) -> KeptComparison:
    """Return a comparison from what `plain_comparison` made plain; a ValueError or TypeError for what is none."""
    light_ratio, all_over = held.get("light_ratio"), held.get("all_over")
    return KeptComparison(
        canvases=_canvases(held["canvases"]),
        photos=tuple(map(_photo, held.get("photos", ()))),
        light_ratio=None if light_ratio is None else figure(light_ratio),
        passages=tuple(map(_passage, held.get("passages", ()))),
        all_over=None if all_over is None else _all_over(all_over),
        moved=tuple(map(_shift, held.get("moved", ()))),
        landmarks=tuple(map(_shift, held.get("landmarks", ()))),
        off_values=tuple(map(_value, held.get("off_values", ()))),
        left_out=tuple(map(_left_out, held.get("left_out", ()))),
        remarks=tuple(map(safe_text, held.get("remarks", ()))),
    )


def _canvases(names: Row) -> tuple[str, str]:
    one, other = map(safe_text, names)
    return one, other


def _photo(row: Row) -> KeptPhoto:
    name, sha256, taken = row
    if taken:
        dt.datetime.fromisoformat(formed(_TAKEN, taken))
    return KeptPhoto(safe_text(name), formed(_SHA256, sha256), safe_text(taken))


def _passage(row: Row) -> KeptPassage:
    pass_name, passage, difference, low, high, lab_difference, is_called, words = row
    return KeptPassage(
        safe_text(pass_name),
        safe_text(passage),
        figure(difference),
        figure(low),
        figure(high),
        _lab(lab_difference),
        truth(is_called),
        safe_text(words),
    )


def _all_over(row: Row) -> KeptAllOver:
    difference, lab_difference, is_called, words = row
    return KeptAllOver(figure(difference), _lab(lab_difference), truth(is_called), safe_text(words))


def _lab(row: Row) -> tuple[float, float, float]:
    lightness, a, b = map(figure, row)
    return lightness, a, b


def _shift(row: Row) -> KeptShift:
    name, canvas, right_mm, down_mm, words, pass_name, passage = row
    return KeptShift(
        safe_text(name),
        safe_text(canvas),
        figure(right_mm),
        figure(down_mm),
        safe_text(words),
        safe_text(pass_name),
        safe_text(passage),
    )


def _value(row: Row) -> KeptValue:
    pass_name, passage, canvas, steps, words = row
    return KeptValue(safe_text(pass_name), safe_text(passage), safe_text(canvas), figure(steps), safe_text(words))


def _left_out(row: Row) -> LeftOut:
    pass_name, passage, why = map(safe_text, row)
    return LeftOut(pass_name, passage, why)
