"""The photos that `coach compare` is not told, and the canvases in them: proposed, told, and asked for once."""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from coach.compare.findings import PlacedCanvas
from coach.errors import CoachError, UsageError
from coach.plan.commission import CanvasSize, Plan
from coach.review.compared_passages import painted_before
from coach.session.journal_state import JournalState
from coach.store.canvas_photos import CanvasPhoto, canvas_photo, canvas_photos
from coach.store.photo import PhotoFileError, photo_size, read_srgb
from coach.text import counted, joined, sanitized

if TYPE_CHECKING:
    from coach.compare.canvas_view import CanvasView

_TWO: Final = 2
_SOUGHT_PX: Final = 2400
"""Longest side of the picture in which canvases are sought; ours."""

_MOST_APART_MIN: Final = 15
"""Photos taken further apart may show another light; ours."""


def newest_photos(plan: Plan, plan_path: Path, state: JournalState) -> tuple[list[Path], list[str]]:
    """Return the two newest photos of the plan's folder that can be compared, the older one first.

    Returns:
        The photos, and in sentences when they were taken and which newer ones were passed over.

    Raises:
        CoachError: There are none, or the plan names no folder.
    """
    if plan.photos is None:
        what = "name two photos of the canvases with --photo, taken with their places exchanged"
        raise UsageError(f"{what}; or name their folder in the plan, such as photos: canvas-photos")
    found = canvas_photos(plan_path, plan.photos)
    newest = [one for one in found if not one.problem][:_TWO]
    if len(newest) < _TWO:
        spoilt = "".join(f"; {one.name}: {one.problem}" for one in found if one.problem)
        what = f"two photos are needed, with the canvases exchanged; {counted(len(newest), 'photo')} can be compared"
        raise CoachError(what + spoilt, where=sanitized(plan.photos))
    newer = found[: found.index(newest[-1])]
    told = [f"{one.name}: {one.problem}." for one in newer if one.problem]
    return [one.path for one in newest[::-1]], [*(_taken(one, state) for one in newest[::-1]), *told]


def _taken(photo: CanvasPhoto, state: JournalState) -> str:
    """Return when a photo was taken, and what had been painted last, in a sentence."""
    painted = painted_before(state, photo.taken_at)
    by = ", by the time of its file" if photo.is_file_time else ""
    return f"{photo.name}: taken {photo.taken_at:%d %b %Y %H:%M}{f', after {painted}' if painted else ''}{by}."


def photo_cautions(paths: Sequence[Path]) -> Iterator[str]:
    """Yield what speaks against photos, a sentence each.

    Raises:
        PhotoFileError: One cannot be compared; the sentence says why.
    """
    photos = [canvas_photo(path) for path in paths]
    for photo in photos:
        if photo.problem:
            raise PhotoFileError(photo.problem, where=sanitized(str(photo.path)))
        yield from (f"{photo.name}: {caution}." for caution in photo.cautions)
    times = [photo.taken_at for photo in photos if not photo.is_file_time]
    apart_min = (max(times) - min(times)).total_seconds() / 60 if times else 0
    if apart_min > _MOST_APART_MIN:
        yield f"The photos were taken {apart_min:.0f} minutes apart: the light may have changed in between."


def places_in_first(plan: Plan, left: str | None, right: str | None, name: str) -> tuple[str, str]:
    """Return which canvas stands on the left and which on the right in the first photo, asked for where it is not told.

    Args:
        plan: The plan.
        left: The canvas on the left as it is told; None where it is not.
        right: The same of the right.
        name: The name of the photo, as it can be shown.

    Raises:
        UsageError: A canvas is not one of the plan, or nobody can be asked.
    """
    names = [canvas.name for canvas in plan.canvases]
    if len(names) < _TWO:
        raise UsageError("the plan has one canvas only: nothing to compare it with")
    left = _known(left, names, "left", name)
    others = [one for one in names if one != left]
    return left, others[0] if len(others) == 1 and right is None else _known(right, others, "right", name)


def _known(told: str | None, names: Sequence[str], side: str, photo: str) -> str:
    """Return the canvas on a side of a photo."""
    choice = ", ".join(names)
    if told is None:
        if not (sys.stdin.isatty() and sys.stderr.isatty()):
            raise UsageError(f"say which canvas stands on the {side} in {photo}: --{side} and one of {choice}")
        sys.stderr.write(f"Which canvas stands on the {side} in {photo}: {choice}? ")
        sys.stderr.flush()
        told = sys.stdin.readline().strip()
    if told not in names:
        raise UsageError(f"“{sanitized(told)}” cannot stand on the {side} in {photo}; one of {choice} can")
    return told


def proposed_views(path: Path, places: tuple[str, str], plan: Plan) -> "tuple[CanvasView, CanvasView]":
    """Return the two canvases that are found in a photo.

    Args:
        path: The photo.
        places: The canvas on the left and the one on the right.
        plan: What says how large they are.

    Raises:
        CoachError: Not two are found well.
    """
    from coach.compare.canvas_view import CanvasView, scaled  # noqa: PLC0415  loaded when photos are compared
    from coach.compare.corner_finding import proposed_corners  # noqa: PLC0415

    full = photo_size(path)
    sizes = [canvas_size(plan, canvas) for canvas in places]
    coded = read_srgb(path, min(1.0, _SOUGHT_PX / max(full.width_px, full.height_px)))
    found = proposed_corners(coded, [size.width_mm / size.height_mm for size in sizes])
    if len(found) != _TWO:
        seen = (
            "no canvas is" if not found else "only one canvas is" if len(found) == 1 else f"{len(found)} canvases are"
        )
        such = f"{places[0]}:90,80,900,85,910,990,88,985"
        raise CoachError(f"{seen} found well; give both with --corners, such as {such}", where=sanitized(path.name))
    back = full.width_px / coded.shape[1]
    left, right = (
        CanvasView(canvas=canvas, corners=scaled(corners, back), size=size)
        for canvas, corners, size in zip(places, found, sizes, strict=True)
    )
    return left, right


def canvas_size(plan: Plan, name: str) -> CanvasSize:
    """Return how large a canvas of the plan is.

    Raises:
        UsageError: The plan does not say.
    """
    size = next(one.size for one in plan.canvases if one.name == name)
    if size is None:
        raise UsageError(f"the plan does not say how large {name} is; add size: to the canvas")
    return size


def proposed_lines(placed: Sequence[PlacedCanvas]) -> Iterator[str]:
    """Yield for each photo where canvases were found in it, as --corners takes it."""
    for photo in dict.fromkeys(one.photo for one in placed if one.proposed):
        found = [f"{one.canvas}:{','.join(map(str, one.corners))}" for one in placed if one.photo == photo]
        yield f"Found in {photo}: {joined(found)}. If that is not right, give --corners."
