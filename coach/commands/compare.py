"""`coach compare`: whether canvases agree, by photos in which two of them stand in each other's place."""

import argparse
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.commands.canvases_in_photos import (
    canvas_size,
    newest_photos,
    photo_cautions,
    places_in_first,
    proposed_lines,
    proposed_views,
)
from coach.commands.comparison_keeping import kept_in_journal
from coach.commands.landmarks_in_photos import print_landmarks, with_landmarks
from coach.commands.log_of_plan import journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import CoachError, UsageError
from coach.plan.commission import Plan
from coach.review.compared_passages import reasons_against
from coach.review.comparison_table import COLUMNS, comparison_lines, comparison_rows, without_meant
from coach.store.photo import photo_size, read_srgb
from coach.store.printing import print_json, print_lines, print_table
from coach.text import joined, sanitized

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.compare.canvas_view import CanvasView, Corners
    from coach.compare.chain import ChainOfPairs
    from coach.compare.findings import Comparison
    from coach.compare.subject import Photographed
    from coach.session.journal_state import JournalState

_TWO: Final = 2


class _NamedPhoto(NamedTuple):
    """A photo that the words name, with the corners of canvases and of cards and the landmarks that belong to it."""

    path: Path
    corners: list[str]
    cards: list[str]
    landmarks: list[str]


def _named(path: Path) -> _NamedPhoto:
    return _NamedPhoto(path, [], [], [])


class _InOrder(argparse.Action):
    """Keeps photos, and what belongs to each, in the order in which they are named."""

    def __call__(
        self, _parser: object, namespace: argparse.Namespace, values: object, option: str | None = None
    ) -> None:
        photos: list[_NamedPhoto] = [*namespace.photos]
        if option == "--photo":
            photos.append(_named(Path(str(values))))
        elif photos:
            last = photos[-1]
            own = {"--card": last.cards, "--landmark": last.landmarks}.get(str(option), last.corners)
            own.append(str(values))
        else:
            raise UsageError(f"{option} belongs to a photo: name it before with --photo")
        namespace.photos = photos


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file, with photo and shapes")
    parser.set_defaults(photos=[])
    parser.add_argument(
        "--photo",
        action=_InOrder,
        dest="photos",
        metavar="FILE",
        help="a photo of two canvases side by side; then another one, with their places exchanged",
    )
    parser.add_argument(
        "--corners",
        action=_InOrder,
        dest="photos",
        metavar="CANVAS:x,y,x,y,x,y,x,y",
        help="corners of a canvas in the photo before, in pixels, from upper left, clockwise",
    )
    parser.add_argument(
        "--card",
        action=_InOrder,
        dest="photos",
        metavar="CANVAS:x,y,x,y,x,y,x,y",
        help="corners of a card beside a canvas in the photo before; the same card beside each canvas",
    )
    parser.add_argument(
        "--landmark",
        action=_InOrder,
        dest="photos",
        metavar="CANVAS:NAME:x,y",
        help="where a landmark of the drawing lies on a canvas in the photo before; five on each, at least",
    )
    parser.add_argument("--landmarks", action="store_true", help="print the landmarks of the drawing, and nothing else")
    for side in ("left", "right"):
        parser.add_argument(
            f"--{side}",
            metavar="CANVAS",
            help=f"the canvas on the {side} in the first photo, where no --corners are given",
        )
    parser.add_argument("--json", action="store_true", help="print the answer as JSON; nothing is kept in the journal")


def run(asked: argparse.Namespace) -> int:
    """Print what the photos tell of the canvases."""
    plan = plan_in(asked.plan)
    if asked.landmarks:
        print_landmarks(plan, asked.plan, is_json=asked.json)
        return 0
    named: list[_NamedPhoto] = asked.photos
    state, told = journal_state(asked.plan), list[str]()
    if not named:
        newest, told = newest_photos(plan, asked.plan, state)
        named = [_named(path) for path in newest]
    told += photo_cautions([one.path for one in named])
    views = _views(named, plan, asked)
    photos = [_photographed(one, own, plan) for one, own in zip(named, views, strict=True)]
    _check_apart(photos)
    pairs, chain = _compared(photos, plan, asked.plan, state)
    typed = [(text, own) for one, own in zip(named, views, strict=True) for text in one.landmarks]
    if typed:
        pairs = [with_landmarks(one, typed, plan, asked.plan) for one in pairs]
    placed = [_with_places(one, named, views, told) for one in pairs]
    if asked.json:
        print_json(replace(chain, pairs=tuple(placed)) if chain else placed[0])
        return 0
    _print([without_meant(one, state.meant) for one in placed])
    print_lines(chain.missing if chain else [])
    print_lines(dict.fromkeys(line for one in placed for line in proposed_lines(one.corners)))
    print_lines(kept_in_journal(asked.plan, pairs, [one.path for one in named]))
    return 0


def _compared(
    photos: "Sequence[Photographed]", plan: Plan, plan_path: Path, state: "JournalState"
) -> "tuple[Sequence[Comparison], ChainOfPairs | None]":
    """Return what the photos tell of each two canvases, and of the chain where there are more."""
    from coach.compare.chain import compare_chain  # noqa: PLC0415  loaded when photos are compared
    from coach.compare.comparison import compare, read_alone  # noqa: PLC0415
    from coach.store.painted_passages import painted_passages  # noqa: PLC0415

    canvases = tuple(dict.fromkeys(one for photo in photos for one in photo.canvases))
    painted, outlines = painted_passages(plan, plan_path, canvases, reasons_against(plan, state, photos[0].canvases))
    if len(photos) == 1:
        return [read_alone(photos[0], painted, outlines)], None
    if len(photos) == _TWO and len(canvases) == _TWO:
        return [compare(photos, painted, outlines)], None
    chain = compare_chain(photos, painted, outlines, lambda pair: reasons_against(plan, state, pair))
    if not chain.pairs:
        raise UsageError(" ".join(chain.missing))
    return chain.pairs, chain


def _with_places(
    found: "Comparison",
    named: "Sequence[_NamedPhoto]",
    views: "Sequence[tuple[CanvasView, CanvasView]]",
    cautions: "Sequence[str]",
) -> "Comparison":
    """Return a comparison with where its canvases lie in its photos, and what speaks against these."""
    from coach.compare.findings import PlacedCanvas  # noqa: PLC0415  loaded when photos are compared

    placed = [
        PlacedCanvas(
            photo=sanitized(one.path.name),
            canvas=view.canvas,
            corners=tuple(round(side) for corner in view.corners for side in corner),
            proposed=not one.corners,
        )
        for one, pair in zip(named, views, strict=True)
        for view in pair
    ]
    own = [one for one in placed if one.photo in found.photos and one.canvas in found.canvases]
    return replace(found, corners=tuple(own), remarks=(*found.remarks, *cautions))


def _print(pairs: "Sequence[Comparison]") -> None:
    for found in pairs:
        if len(pairs) > 1:
            print_lines([f"{joined(found.canvases)}:"])
        if found.shapes:
            print_table(COLUMNS, comparison_rows(found), right=("difference",))
        print_lines(comparison_lines(found))


def _check_apart(photos: "Sequence[Photographed]") -> None:
    """Raise where the same photo is named twice."""
    import numpy as np  # noqa: PLC0415  loaded when photos are compared

    for one, other in combinations(photos, 2):
        if np.array_equal(one.coded, other.coded):
            raise CoachError(
                f"{one.name} and {other.name} are the same photo; exchange the canvases and take a second one"
            )


def _views(
    named: "Sequence[_NamedPhoto]", plan: Plan, asked: argparse.Namespace
) -> "list[tuple[CanvasView, CanvasView]]":
    """Return where the canvases lie in each photo: as typed, else as found, with the canvases exchanged."""
    typed = [_typed_views(one, plan) if one.corners else None for one in named]
    name = sanitized(named[0].path.name)
    if len(named) > _TWO and not all(typed):
        raise UsageError(f"{name}: of more than two photos, give --corners of two canvases behind each")
    told = next((no for no, own in enumerate(typed) if own), None)
    if told is None:
        places = places_in_first(plan, asked.left, asked.right, name)
    else:
        left, right = sorted(typed[told] or (), key=lambda view: view.middle_px[0])
        places = (right.canvas, left.canvas) if told else (left.canvas, right.canvas)
    return [
        own or proposed_views(one.path, places[::-1] if no else places, plan)
        for no, (one, own) in enumerate(zip(named, typed, strict=True))
    ]


def _typed_views(named: _NamedPhoto, plan: Plan) -> "tuple[CanvasView, CanvasView]":
    name = sanitized(named.path.name)
    if len(named.corners) != _TWO:
        raise UsageError(f"{name}: give --corners of two canvases behind the photo, or none, so that they are sought")
    one, other = (_view(text, plan) for text in named.corners)
    if one.canvas == other.canvas:
        raise UsageError(f"{name}: the corners of {one.canvas} are given twice")
    return one, other


def _photographed(named: _NamedPhoto, views: "tuple[CanvasView, CanvasView]", plan: Plan) -> "Photographed":
    from coach.compare.canvas_view import checked_view  # noqa: PLC0415  loaded when photos are compared
    from coach.compare.subject import Photographed, reading_scale  # noqa: PLC0415
    from coach.store.painted_passages import DOTS_PER_MM  # noqa: PLC0415

    name = sanitized(named.path.name)
    cards = dict(_corners(text, plan, "--card") for text in named.cards)
    stray = next((canvas for canvas in cards if canvas not in [view.canvas for view in views]), None)
    if stray is not None:
        raise UsageError(f"{name}: a card stands beside {stray}, which the photo does not show")
    size = photo_size(named.path)
    for view in views:
        checked_view(view, size.width_px, size.height_px, name)
    coded = read_srgb(named.path, reading_scale(views, DOTS_PER_MM))
    photo = Photographed(name=name, coded=coded, views=views, cards=cards)
    return photo.at(coded.shape[1] / size.width_px)


def _view(text: str, plan: Plan) -> "CanvasView":
    from coach.compare.canvas_view import CanvasView  # noqa: PLC0415  loaded when photos are compared

    name, corners = _corners(text, plan, "--corners")
    return CanvasView(canvas=name, corners=corners, size=canvas_size(plan, name))


def _corners(text: str, plan: Plan, option: str) -> "tuple[str, Corners]":
    """Return the canvas and the four corners that are typed."""
    name, _, typed = text.rpartition(":")
    if all(one.name != name for one in plan.canvases):
        known = ", ".join(one.name for one in plan.canvases)
        raise UsageError(f"{option} names no canvas of the plan: “{sanitized(name)}”; one of {known}")
    try:
        numbers = [float(part) for part in typed.split(",")]
    except ValueError:
        numbers = []
    if len(numbers) != 2 * 4 or not all(abs(number) < 1e6 for number in numbers):  # noqa: PLR2004  beyond any photo
        such = f"{name}:90,80,900,85,910,990,88,985"
        raise UsageError(f"{option} {sanitized(text)}: eight numbers are needed, such as {such}")
    one, two, three, four = zip(numbers[::2], numbers[1::2], strict=True)
    return name, (one, two, three, four)
