"""What `coach shapes --drawing DIR` writes: lines at true size, a picture for the wall, studies in few values."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.composition.crop import Crop
from coach.drawing.flat import FEWEST_VALUES, MOST_VALUES, value_studies
from coach.drawing.lettering import Lettering
from coach.drawing.lines import Placing, drawing_svg, lines_of
from coach.drawing.sheets import PAPERS_MM, drawing_pdf
from coach.drawing.wall import KeyRow, key_rows, wall_picture, wall_png, wall_svg
from coach.errors import CoachError, UsageError
from coach.plan.commission import CanvasSize, Plan
from coach.shapes.shape import Shape
from coach.store.fonts import lettering
from coach.store.safe_files import write_new
from coach.text import counted, cut, joined, sanitized

_HEADING_CELLS: Final = 90
_NAMED_CELLS, _MOST_NAMED = 20, 3
_ENDS: Final = ("svg", *(f"{paper}.pdf" for paper in PAPERS_MM))
_WALL: Final = ("wall.png", "wall.svg")
_COUNTS: Final = range(FEWEST_VALUES, MOST_VALUES + 1)


class DrawingError(CoachError):
    """A drawing cannot be written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDraw:
    """What is drawn.

    Attributes:
        shapes: The shapes.
        crop: The part of the photo that is painted.
        canvases: Sizes by name, all of the crop's ratio.
        plan: The plan, or None.
        has_own_shapes: Whether the shapes are those that the passages of the plan name.
    """

    shapes: Sequence[Shape]
    crop: Crop
    canvases: Mapping[str, CanvasSize]
    plan: Plan | None
    has_own_shapes: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenFile:
    """A file that was written, and what is in it."""

    file: str
    holds: str


def write_drawings(folder: Path, what: ToDraw, *, is_mirrored: bool) -> tuple[list[WrittenFile], list[str]]:
    """Write every drawing into a folder, which is made where it is not there, and return the files and remarks.

    Mirrored, the lines are all that is drawn.

    Raises:
        DrawingError: One of the files is there already, so that none was written, or one cannot be written.
        UsageError: No canvas has a size.
    """
    if not what.canvases:
        raise UsageError("a drawing at true size needs a canvas: give its size in the plan, or with --canvas")
    sizes: dict[CanvasSize, list[str]] = {}
    for name, size in what.canvases.items():
        sizes.setdefault(size, []).append(sanitized(name))
    names = [_file(size, end, is_mirrored) for size in sizes for end in _ENDS]
    _check(folder, names if is_mirrored else [*names, *_WALL, *map(_study, _COUNTS)])
    letters, remarks = _lettering(what)
    others = () if is_mirrored else (*_wall(what, letters), *_studies(what))
    written = []
    for name, holds, content in (*_lines(what, sizes, letters, is_mirrored), *others):
        write_new(folder / name, content, error=DrawingError)
        written.append(WrittenFile(file=name, holds=holds))
    return written, remarks


def _check(folder: Path, names: Sequence[str]) -> None:
    """Refuse a folder that holds one of the files, and make it where it is not there."""
    where = sanitized(str(folder))
    is_there = next((name for name in names if os.path.lexists(folder / name)), None)
    if is_there is not None:
        raise DrawingError(f"{is_there} is there already, so nothing was drawn; name another folder", where=where)
    try:
        folder.mkdir(exist_ok=True)
    except FileExistsError as fault:
        raise DrawingError("this is not a folder; name one to draw into", where=where) from fault
    except (OSError, ValueError) as fault:
        why = (isinstance(fault, OSError) and fault.strerror) or "no folder can have this name"
        raise DrawingError(f"the folder cannot be made: {why}", where=where) from fault


def _lettering(what: ToDraw) -> tuple[Lettering, list[str]]:
    """Return the letters to write in, and what cannot be written in them."""
    texts = [text for row in _rows(what) for text in (row.heading, row.name, row.pile)]
    texts += [_title(what), *map(sanitized, what.canvases), _note(what)]
    letters = lettering(texts)
    missing = list(dict.fromkeys(letters.missing(texts)))
    if not missing:
        return letters, []
    named = joined([f"“{cut(text, _NAMED_CELLS)}”" for text in missing[:_MOST_NAMED]])
    more = f" and {counted(len(missing) - _MOST_NAMED, 'other')}" if len(missing) > _MOST_NAMED else ""
    return letters, [f"No font here has every letter of {named}{more}: ? stands for them, but not in the SVG files."]


def _lines(
    what: ToDraw, sizes: Mapping[CanvasSize, Sequence[str]], letters: Lettering, is_mirrored: bool
) -> Iterator[tuple[str, str, bytes]]:
    lines = lines_of(what.shapes)
    for size, canvases in sizes.items():
        placing = Placing(canvas=size, crop=what.crop, is_mirrored=is_mirrored)
        shown = f"{_cm(size)}{', mirrored: trace it through the back' if is_mirrored else ''}"
        heading = cut(f"{_title(what)}: {joined(canvases)}".removeprefix(": "), _HEADING_CELLS - len(shown))
        heading = f"{heading}, {shown}"
        holds = f"lines at true size for {joined(canvases)}"
        content = drawing_svg(lines, placing, heading, _note(what)).encode()
        yield _file(size, "svg", is_mirrored), holds, content
        for paper in PAPERS_MM:
            content, count = drawing_pdf(lines, placing, heading, _note(what), paper=paper, lettering=letters)
            yield _file(size, f"{paper}.pdf", is_mirrored), f"{holds}, {counted(count, 'sheet')} of {paper}", content


def _wall(what: ToDraw, letters: Lettering) -> Iterator[tuple[str, str, bytes]]:
    wall = wall_picture(what.shapes, what.crop, _rows(what), _title(what), _note(what))
    holds = "shapes with the numbers of their passages, a key of names and piles"
    png, svg = _WALL
    yield png, holds, wall_png(wall, letters)
    yield svg, holds, wall_svg(wall).encode()


def _studies(what: ToDraw) -> Iterator[tuple[str, str, bytes]]:
    painted = what.plan.values.paint_value if what.plan and what.plan.values else float
    for count, content in value_studies(what.shapes, what.crop, painted):
        yield _study(count), f"study in {count} values", content


def _rows(what: ToDraw) -> list[KeyRow]:
    return key_rows(what.shapes, what.plan if what.has_own_shapes else None)


def _title(what: ToDraw) -> str:
    return sanitized(what.plan.commission) if what.plan else ""


def _note(what: ToDraw) -> str:
    plan = what.plan
    told = (("Rights in the photo", plan.rights), ("Consent", plan.consent)) if plan else ()
    return "; ".join(f"{name}: {sanitized(text)}" for name, text in told if text)


def _cm(size: CanvasSize) -> str:
    return f"{size.width_mm / 10:.5g} x {size.height_mm / 10:.5g} cm"


def _file(size: CanvasSize, end: str, is_mirrored: bool) -> str:
    """Return the name of a drawing's file; no text of the plan stands in it."""
    return (
        f"drawing-{_cm(size).replace(' ', '')}{'-mirrored' if is_mirrored else ''}{'.' if end == 'svg' else '-'}{end}"
    )


def _study(count: int) -> str:
    return f"values-{count}.png"
