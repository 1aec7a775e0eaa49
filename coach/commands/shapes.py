"""`coach shapes`: the photo taken apart into the shapes that a painter would lay in."""

import argparse
import sys
from pathlib import Path

from coach.commands.named_plan import plan_in
from coach.commands.photo_plan import EACH_HEAD, MOST_HEADS, Sitters, check_heads, heads_in, picture_of
from coach.commands.plan_argument import add_plan
from coach.commands.shapes_plan import add_plan_arguments, write_proposed_plan
from coach.composition.crop import Crop, best_crop
from coach.composition.photo_boxes import PhotoSize, read_head
from coach.composition.sizes import canvas_named
from coach.errors import CoachError, UsageError
from coach.plan.commission import CanvasSize
from coach.plan.units import size_mm
from coach.review.shape_table import COLUMNS, shape_report, shape_rows
from coach.shapes.shape import Apart, take_apart
from coach.shapes.shape_map import ShapeMap, crop_remarks, measured_map
from coach.store.photo import photo_size
from coach.store.printing import print_json, print_lines, print_table
from coach.store.shape_file import load_shapes
from coach.text import counted, sanitized


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "take the photo, the heads and the canvases of this plan", is_optional=True)
    parser.add_argument("--photo", type=Path, metavar="FILE", help="the photo, where no plan names it")
    parser.add_argument(
        "--head",
        metavar="NAME:left,top,right,bottom",
        action="append",
        default=[],
        help="a head, crown to chin and side to side, in pixels of the photo; may be repeated",
    )
    parser.add_argument("--canvas", metavar="SIZE", help='crop and areas for this canvas, width first: "40 x 50 cm"')
    parser.add_argument("--count", type=int, metavar="N", help=f"how many shapes; else {EACH_HEAD['middle']} a head")
    parser.add_argument(
        "--drawing",
        type=Path,
        metavar="DIR",
        help="write into this folder: the lines at true size, a picture for the wall, studies in few values",
    )
    parser.add_argument(
        "--mirrored", action="store_true", help="draw the lines only, mirrored: to trace through the back"
    )
    add_plan_arguments(parser)
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def run(asked: argparse.Namespace) -> int:
    """Print the shapes of the photo that the words or the plan name, or write the plan that is proposed from them."""
    sitters = _sitters(asked)
    size = photo_size(sitters.photo)
    crop = _crop(size, sitters)
    count = EACH_HEAD["middle"] * len(sitters.heads) if asked.count is None else asked.count
    check_heads(sitters.heads, crop, count)
    if asked.canvases is not None and asked.new_plan is None:
        raise UsageError("--canvases names those of a new plan; write --plan NEW.yaml too")
    if asked.new_plan is not None:
        write_proposed_plan(asked, sitters, count)
        return 0
    shape_map = _own_shapes(asked, sitters, crop)
    picture, heads = picture_of(sitters.photo, sitters.heads, crop)
    if shape_map is None:
        apart = take_apart(picture, heads, count)
    elif asked.count is None:
        apart = measured_map(shape_map, picture, heads)
    else:
        apart = take_apart(picture, heads, count, shape_map.borders)
    if asked.drawing is not None:
        _draw(asked, apart, crop, sitters, is_own=shape_map is not None and asked.count is None)
        return 0
    report = shape_report(apart, size, crop, sitters.canvases, sitters.plan.brushes_mm if sitters.plan else ())
    if asked.json:
        print_json(report)
        return 0
    rows = shape_rows(report)
    print_table(COLUMNS, rows, right=("value", "cm2", "brush_mm"))
    flat = f"painted flat, they lie {report.flat_difference_mean:.1f} from the photo on average (CIEDE2000)"
    has_many = any("+" in row[2] for row in rows)
    many = " + stands by a shape that has more than one value in it." if has_many else ""
    print_lines([f"{counted(len(report.shapes), 'shape')}; {flat}.{many}"])
    return 0


def _own_shapes(asked: argparse.Namespace, sitters: Sitters, crop: Crop) -> ShapeMap | None:
    """Return the shapes that lie beside the plan; None without any, or where the words name another photo or head."""
    plan = sitters.plan
    if plan is None or plan.shapes is None or asked.head or asked.photo is not None:
        return None
    loaded = load_shapes(asked.plan, plan.shapes, plan.photo)
    cut = crop_remarks(loaded.shape_map, (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    sys.stderr.writelines(f"{line}\n" for line in (*loaded.problems, *cut))
    return loaded.shape_map


def _draw(asked: argparse.Namespace, apart: Apart, crop: Crop, sitters: Sitters, *, is_own: bool) -> None:
    """Write the drawings and print which files there are now."""
    from coach.commands.drawing import ToDraw, write_drawings  # noqa: PLC0415  loaded where something is drawn

    what = ToDraw(shapes=apart.shapes, crop=crop, canvases=sitters.canvases, plan=sitters.plan, has_own_shapes=is_own)
    files, remarks = write_drawings(asked.drawing, what, is_mirrored=asked.mirrored)
    if asked.json:
        print_json({"files": files, "remarks": remarks})
        return
    print_table(("file", "holds"), [(one.file, one.holds) for one in files])
    print_lines(remarks)


def _sitters(asked: argparse.Namespace) -> Sitters:
    plan = None if asked.plan is None else plan_in(asked.plan)
    named = [*map(read_head, asked.head)]
    heads = named or ([] if plan is None else plan.heads)
    photo = asked.photo
    if plan is not None and plan.photo is not None and photo is None:
        photo = asked.plan.parent / plan.photo
    if photo is None:
        raise UsageError("name the photo with --photo, or a plan that names it")
    if not heads:
        raise UsageError(_head_wanted(photo))
    sizes = {} if plan is None else {one.name: one.size for one in plan.canvases if one.size is not None}
    if asked.canvas is not None:
        found = canvas_named(asked.canvas)
        width_mm, height_mm = size_mm(found.name.lower()) or (found.short_mm, found.long_mm)
        sizes = {found.name: CanvasSize(width_mm=width_mm, height_mm=height_mm)}
    first = next(iter(sizes.values()), None)
    if any(one.width_mm * first.height_mm != one.height_mm * first.width_mm for one in sizes.values() if first):
        where = sanitized(str(asked.plan))
        raise CoachError("the canvases differ in ratio, so their crops do; name one with --canvas", where=where)
    return Sitters(photo=photo, heads=heads, keeps=plan.keeps if plan else [], canvases=sizes, plan=plan)


def _head_wanted(photo: Path) -> str:
    """Return in a sentence that a head must be marked, with those that are found, as they would be typed."""
    boxes = heads_in(photo, MOST_HEADS)
    names = ["sitter"] if len(boxes) == 1 else [f"sitter{number}" for number in range(1, len(boxes) + 1)]
    found = " ".join(f"--head {name}:{','.join(map(str, box))}" for name, box in zip(names, boxes, strict=True))
    if not found:
        return "mark a head with --head NAME:left,top,right,bottom, or name a plan that has heads; none was found here"
    return f"mark a head; found here, for you to correct: {found}"


def _crop(size: PhotoSize, sitters: Sitters) -> Crop:
    """Return the best crop for the canvases; the whole photo where there is none."""
    canvas = next(iter(sitters.canvases.values()), None)
    if canvas is None:
        return Crop(left_px=0, top_px=0, width_px=size.width_px, height_px=size.height_px)
    if sitters.plan is not None and sitters.plan.crop is not None:
        left, top, right, bottom = sitters.plan.crop
        return Crop(left_px=left, top_px=top, width_px=right - left, height_px=bottom - top)
    return best_crop(size, canvas, sitters.heads, sitters.keeps)
