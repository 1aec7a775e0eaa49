"""Landmarks of a plan's photo: where they lie in it, and what of it is painted."""

from pathlib import Path
from typing import NamedTuple

from coach.compare.landmarks import Box, Landmark, proposed_landmarks
from coach.composition.crop import painted_crop
from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.store.photo import photo_size
from coach.store.reference_photo import head_boxes
from coach.store.shape_file import load_shapes


class PhotoLandmarks(NamedTuple):
    """Landmarks in a photo, and what of it is painted; both in its pixels."""

    landmarks: tuple[Landmark, ...]
    crop: Box


def photo_landmarks(plan: Plan, plan_path: Path) -> PhotoLandmarks:
    """Return the landmarks of the photo that a plan is painted from.

    Raises:
        CoachError: Photo or shapes are missing or cannot be read, or show no landmark.
    """
    if plan.photo is None or plan.shapes is None:
        raise CoachError("only a plan with photo and shapes has landmarks; add both")
    shape_map = load_shapes(plan_path, plan.shapes, None).shape_map
    crop = painted_crop(plan, photo_size(plan_path.with_name(plan.photo)))
    box = (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px)
    found = proposed_landmarks(shape_map, head_boxes(plan.heads), box)
    if not found:
        raise CoachError("the shapes show no point that is found again on the canvases")
    return PhotoLandmarks(found, box)
