"""Landmarks of the drawing for `coach compare`: as they are proposed, and as they are typed for each canvas."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from coach.errors import UsageError
from coach.plan.commission import Plan
from coach.store.printing import print_json, print_table
from coach.text import joined, sanitized

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.compare.canvas_view import CanvasView, Corner
    from coach.compare.findings import Comparison
    from coach.compare.landmarks import Landmark

_COLUMNS: Final = ("landmark", "column", "row")
_MOST_PX: Final = 1e6


def print_landmarks(plan: Plan, plan_path: Path, *, is_json: bool) -> None:
    """Print the landmarks of the photo that is painted from, and where they lie in it.

    Raises:
        CoachError: Photo or shapes are missing or cannot be read, or show no landmark.
    """
    from coach.store.photo_landmarks import photo_landmarks  # noqa: PLC0415  loaded when photos are compared

    landmarks = photo_landmarks(plan, plan_path).landmarks
    if is_json:
        print_json({"landmarks": landmarks})
        return
    rows = [(one.name, f"{one.at[0]:.0f}", f"{one.at[1]:.0f}") for one in landmarks]
    print_table(_COLUMNS, rows, right=_COLUMNS[1:])


def with_landmarks(
    found: "Comparison", typed: "Sequence[tuple[str, Sequence[CanvasView]]]", plan: Plan, plan_path: Path
) -> "Comparison":
    """Return a comparison that tells also which features lie elsewhere by landmarks.

    Args:
        found: The comparison of two canvases.
        typed: Each landmark as it is typed, `CANVAS:NAME:x,y`, with where the canvases lie in its photo.
        plan: The plan.
        plan_path: Its file.

    Raises:
        CoachError: Photo or shapes cannot be read, a landmark is not one of the photo's, or too few are typed.
    """
    from coach.compare.landmarks import LEAST_SET, SetLandmarks, landmark_findings  # noqa: PLC0415  the same
    from coach.store.photo_landmarks import photo_landmarks  # noqa: PLC0415  the same

    landmarks, box = photo_landmarks(plan, plan_path)
    placed: dict[str, SetLandmarks] = {}
    for text, views in typed:
        view, name, at = _read(text, views, landmarks)
        before = placed.get(view.canvas, SetLandmarks(view=view, at={}))
        if before.view != view:
            raise UsageError(f"--landmark {sanitized(text)}: give all landmarks of {view.canvas} behind one photo")
        placed[view.canvas] = replace(before, at={**before.at, name: at})
    drawn = [placed[canvas] for canvas in found.canvases if canvas in placed]
    if not drawn:
        return found
    common = set.intersection(*(set(one.at) for one in drawn)) if len(drawn) == len(found.canvases) else set()
    if len(common) < LEAST_SET:
        both = joined(found.canvases)
        raise UsageError(
            f"give at least {LEAST_SET} same landmarks on {both}; coach compare PLAN --landmarks names them"
        )
    one, other = drawn
    return replace(found, moved=(*found.moved, *landmark_findings(landmarks, box, (one, other))))


def _read(
    text: str, views: "Sequence[CanvasView]", landmarks: "Sequence[Landmark]"
) -> "tuple[CanvasView, str, Corner]":
    """Return the canvas, the name and the place of a landmark that is typed."""
    name, _, place = text.rpartition(":")
    try:
        x, y = (float(part) for part in place.split(","))
    except ValueError:
        x = y = float("nan")
    known = {f"{view.canvas}:{one.name}": (view, one.name) for view in views for one in landmarks}
    if name not in known or not max(abs(x), abs(y)) < _MOST_PX:
        such = f"{views[0].canvas}:{landmarks[0].name}:412,530"
        raise UsageError(f"--landmark {sanitized(text)} is none of the photo before it; write one such as {such}")
    return *known[name], (x, y)
