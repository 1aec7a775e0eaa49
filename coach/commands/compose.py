"""`coach compose`: which canvas suits a photo, with the best crop of it and the grid to transfer it by."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NamedTuple

from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.composition.choices import Choice, choices_of, report_on
from coach.composition.crop_warnings import remarks_on
from coach.composition.photo_boxes import PhotoSize, read_box, read_head, read_photo_spec
from coach.composition.sizes import CanvasFormat, canvas_named, canvas_of, stock_canvases
from coach.composition.transfer_grid import MOST_SQUARES, TransferGrid, grid_of, read_side_mm
from coach.errors import CoachError, UsageError
from coach.plan.commission import MarkedBox, MarkedHead, Plan
from coach.review import compose_table
from coach.store.exports import write_canvas_grid, write_photo_grid
from coach.store.photo import photo_size
from coach.store.printing import print_json, print_lines, print_table
from coach.text import sanitized

_ROWS_SHOWN: Final = 15
_BOX: Final = "left,top,right,bottom"


class _Picture(NamedTuple):
    """The photo with what is marked in it; `file` is None where only its size is typed."""

    file: Path | None
    size: PhotoSize
    heads: list[MarkedHead]
    keeps: list[MarkedBox]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "rank the canvases of this plan, not the stock sizes", is_optional=True)
    parser.add_argument("--photo", help="the photo's file, or its size in pixels: 4000x6000; the plan's without it")
    for name, written, what in (
        ("--head", f"NAME:{_BOX}", "a head, crown to chin and side to side, in pixels of the photo; may be repeated"),
        ("--keep", _BOX, "a part that must stay in the picture; may be repeated"),
        ("--canvas", "SIZE", 'rank this canvas: "40 x 50 cm", "16 x 20 in", "30 figure"; may be repeated'),
    ):
        parser.add_argument(name, metavar=written, help=what, action="append", default=[])
    parser.add_argument("--life", type=float, metavar="PERCENT", help="wanted height of the heads, per cent of life")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.add_argument("--grid-photo", type=Path, metavar="PNG", help="write the best crop of the photo with a grid")
    parser.add_argument("--grid-canvas", type=Path, metavar="SVG", help="write the grid of the first canvas, true size")
    squares = parser.add_mutually_exclusive_group()
    squares.add_argument("--square", metavar="SIDE", help='side of the squares on the canvas: "2 in", "5 cm"')
    squares.add_argument("--rows", type=int, help="or how many squares lie one above another")


def run(asked: argparse.Namespace) -> int:
    """Print the canvases that the words name, or all stock canvases, best first; write the grid where it is asked for.

    Nothing is printed where a grid cannot be written.
    """
    _check_grid(asked)
    plan = None if asked.plan is None else plan_in(asked.plan)
    picture = _picture(asked, plan)
    canvases = _canvases(asked, plan)
    life_frac = None if asked.life is None else asked.life / 100
    choices = choices_of(picture.size, picture.heads, picture.keeps, canvases, life_frac=life_frac)
    remarks = [*remarks_on(picture.size, picture.heads), *_write_grid(asked, picture.file, choices[0])]
    if asked.json:
        print_json(report_on(choices, life_frac=life_frac, remarks=remarks))
        return 0
    columns = compose_table.CHOICE_COLUMNS
    print_table(columns, compose_table.choice_rows(choices[:_ROWS_SHOWN]), right=columns[1:])
    others = len(choices) - _ROWS_SHOWN
    left_out = [f"and {others} more; --json prints them all"] if others > 0 else []
    print_lines([*left_out, *compose_table.choice_lines(choices, life_frac=life_frac, remarks=remarks)])
    return 0


def _check_grid(asked: argparse.Namespace) -> None:
    if asked.rows is not None and not 1 <= asked.rows <= MOST_SQUARES:
        raise UsageError(f"a grid has 1 to {MOST_SQUARES} rows")
    if asked.grid_photo and asked.photo and read_photo_spec(asked.photo) is not None:
        raise UsageError("the grid is drawn into a copy of the photo: name its file with --photo, not its size")
    is_grid = asked.grid_photo or asked.grid_canvas
    if (asked.square or asked.rows) and not is_grid:
        raise UsageError("say where the grid goes: --grid-photo PNG, --grid-canvas SVG or both")


def _picture(asked: argparse.Namespace, plan: Plan | None) -> _Picture:
    """Return the photo and what is marked in it: by the words, and by the plan where they leave it open."""
    typed = [*map(read_head, asked.head)]
    keeps = [*map(read_box, asked.keep)]
    marked = [] if plan is None else plan.heads
    size = read_photo_spec(asked.photo) if asked.photo else None
    file = None if size else _photo_file(asked, plan)
    return _Picture(
        file=file,
        size=size or photo_size(file or Path(asked.photo)),
        heads=[*(head for head in marked if head.name not in {other.name for other in typed}), *typed],
        keeps=[*([] if plan is None else plan.keeps), *keeps],
    )


def _photo_file(asked: argparse.Namespace, plan: Plan | None) -> Path:
    if asked.photo:
        return Path(asked.photo)
    if plan is None:
        raise UsageError("name the photo with --photo, its file or its size, or a plan that names it")
    if plan.photo is None:
        what = "the plan names no photo; write photo: sitter.jpg into it, or name one with --photo"
        raise CoachError(what, where=sanitized(str(asked.plan)))
    folder: Path = asked.plan.parent
    return folder / plan.photo


def _canvases(asked: argparse.Namespace, plan: Plan | None) -> Sequence[CanvasFormat]:
    named = [canvas_named(text) for text in asked.canvas]
    if plan is None:
        return named or stock_canvases()
    sizes = dict.fromkeys(canvas.size for canvas in plan.canvases if canvas.size is not None)
    if not sizes and not named:
        raise CoachError("no canvas states its size; name sizes with --canvas", where=sanitized(str(asked.plan)))
    return [*map(canvas_of, sizes), *named]


def _write_grid(asked: argparse.Namespace, photo: Path | None, best: Choice) -> list[str]:
    """Write the grid files that are asked for and return what to say of them."""
    if not (asked.grid_photo or asked.grid_canvas):
        return []
    square_mm = read_side_mm(asked.square) if asked.square else None
    grid = grid_of(best.size, best.crop, best.size.height_mm / asked.rows if asked.rows else square_mm)
    if asked.grid_photo and photo:
        write_photo_grid(grid, photo, asked.grid_photo)
    if asked.grid_canvas:
        write_canvas_grid(grid, f"{best.canvas.name}, {best.direction}", asked.grid_canvas)
    return [_told(grid, best)]


def _told(grid: TransferGrid, best: Choice) -> str:
    return (
        f"Grid for {best.canvas.name}, {best.direction}: {grid.columns} x {grid.rows} squares, "
        f"{grid.square_mm / 10:.4g} cm a side on the canvas, {grid.square_px:.4g} px on the photo."
    )
