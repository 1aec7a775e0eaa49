"""`coach compare`: whether two canvases agree, by two photos in which they stand in each other's place."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.commands.log_of_plan import journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import CoachError, UsageError
from coach.plan.commission import Plan
from coach.review.compared_passages import reasons_against
from coach.review.comparison_table import COLUMNS, comparison_lines, comparison_rows
from coach.store.photo import read_srgb
from coach.store.printing import print_json, print_lines, print_table
from coach.text import sanitized

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.compare.canvas_view import CanvasView
    from coach.compare.findings import Comparison
    from coach.compare.subject import Photographed

_TWO: Final = 2


class _NamedPhoto(NamedTuple):
    """A photo that the words name, with the corners that belong to it."""

    path: Path
    corners: list[str]


class _InOrder(argparse.Action):
    """Keeps photos and corners in the order in which they are named."""

    def __call__(
        self, _parser: object, namespace: argparse.Namespace, values: object, option: str | None = None
    ) -> None:
        photos: list[_NamedPhoto] = [*namespace.photos]
        if option == "--photo":
            photos.append(_NamedPhoto(Path(str(values)), []))
        elif photos:
            photos[-1].corners.append(str(values))
        else:
            raise UsageError("--corners belong to a photo: name it before them with --photo")
        namespace.photos = photos


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file, with photo and shapes")
    parser.set_defaults(photos=[])
    parser.add_argument(
        "--photo", action=_InOrder, dest="photos", metavar="FILE", help="a photo of both canvases side by side; twice"
    )
    parser.add_argument(
        "--corners",
        action=_InOrder,
        dest="photos",
        metavar="CANVAS:x,y,x,y,x,y,x,y",
        help="corners of a canvas in the photo before, in pixels, from upper left, clockwise",
    )
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def run(asked: argparse.Namespace) -> int:
    """Print what the photos tell of the canvases."""
    import numpy as np  # noqa: PLC0415  loaded when photos are compared

    from coach.compare.comparison import compare, read_alone  # noqa: PLC0415  loaded when photos are compared
    from coach.store.painted_passages import painted_passages  # noqa: PLC0415

    plan = plan_in(asked.plan)
    named: Sequence[_NamedPhoto] = asked.photos
    if not 1 <= len(named) <= _TWO:
        raise UsageError("name two photos of the canvases with --photo, taken with their places exchanged")
    photos = [_photographed(one, plan) for one in named]
    if len(photos) == _TWO and np.array_equal(photos[0].coded, photos[1].coded):
        raise CoachError("both photos are the same file; exchange the canvases and take a second one")
    names = [sorted(view.canvas for view in photo.views) for photo in photos]
    if any(one != names[0] for one in names):
        raise UsageError(f"both photos must show the same two canvases: {' and '.join(names[0])}")
    canvases = photos[0].views[0].canvas, photos[0].views[1].canvas
    why = reasons_against(plan, journal_state(asked.plan), canvases)
    painted, outlines = painted_passages(plan, asked.plan, canvases, why)
    found = compare(photos, painted, outlines) if len(photos) == _TWO else read_alone(photos[0], painted, outlines)
    if asked.json:
        print_json(found)
        return 0
    _print(found)
    return 0


def _print(found: "Comparison") -> None:
    if found.shapes:
        print_table(COLUMNS, comparison_rows(found), right=("difference",))
    print_lines(comparison_lines(found))


def _photographed(named: _NamedPhoto, plan: Plan) -> "Photographed":
    from coach.compare.canvas_view import checked_view  # noqa: PLC0415  loaded when photos are compared
    from coach.compare.subject import Photographed  # noqa: PLC0415

    if len(named.corners) != _TWO:
        raise UsageError(f"{sanitized(named.path.name)}: give --corners of two canvases behind the photo")
    views = [_view(text, plan) for text in named.corners]
    if views[0].canvas == views[1].canvas:
        raise UsageError(f"{sanitized(named.path.name)}: the corners of {views[0].canvas} are given twice")
    coded = read_srgb(named.path)
    name, (height, width) = sanitized(named.path.name), coded.shape[:2]
    one, other = (checked_view(view, width, height, name) for view in views)
    return Photographed(name=name, coded=coded, views=(one, other))


def _view(text: str, plan: Plan) -> "CanvasView":
    from coach.compare.canvas_view import CanvasView  # noqa: PLC0415  loaded when photos are compared

    name, _, typed = text.rpartition(":")
    canvas = next((one for one in plan.canvases if one.name == name), None)
    if canvas is None:
        known = ", ".join(one.name for one in plan.canvases)
        raise UsageError(f"--corners names no canvas of the plan: “{sanitized(name)}”; one of {known}")
    if canvas.size is None:
        raise UsageError(f"the plan does not say how large {name} is; add size: to the canvas")
    try:
        numbers = [float(part) for part in typed.split(",")]
    except ValueError:
        numbers = []
    if len(numbers) != 2 * 4 or not all(abs(number) < 1e6 for number in numbers):  # noqa: PLR2004  beyond any photo
        such = f"{name}:90,80,900,85,910,990,88,985"
        raise UsageError(f"--corners {sanitized(text)}: eight numbers are needed, such as {such}")
    a, b, c, d = zip(numbers[::2], numbers[1::2], strict=True)
    return CanvasView(canvas=name, corners=(a, b, c, d), size=canvas.size)
