"""What the Shapes screen asks of the disk: the plan, its photo and its shapes, and a place for what is edited."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from coach.commands.repositories import refuse_where_only_shown
from coach.composition.crop import painted_crop
from coach.errors import CoachError
from coach.plan.commission import CanvasSize, Plan
from coach.plan.reading import read_plan
from coach.plan.writing_in_place import edited_text
from coach.screens.plan.repository import SaveResult
from coach.screens.shapes.repository import OpenedPhoto, OpenedShapes, Version
from coach.session.session_service import SessionService
from coach.shapes.shape import Picture, scale_for
from coach.shapes.svg import write_svg
from coach.store.photo import PhotoFileError, photo_size, read_linear_light
from coach.store.plan_file import PlanFile, ShapesToSave, save_plan
from coach.store.reference_photo import head_boxes
from coach.store.shape_file import load_shapes, photo_sha256
from coach.text import sanitized

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coach.shapes.photo_window import Box

    Pixels = NDArray[np.float64]

_ENDING = ".shapes.svg"


class ShapesFileRepository:
    """Reads the files anew each time, so that it may be asked from threads."""

    def __init__(self, plan_path: Path, session: SessionService) -> None:
        """Serve the plan of a session, in that file."""
        self._path, self._session = plan_path, session

    def opened(self) -> OpenedShapes:
        """Return the plan with its photo and its shapes as they lie on the disk."""
        file = PlanFile(self._path)
        text = file.read()
        plan = read_plan(text, file.name)
        opened = OpenedShapes(text, plan, plan.shapes or f"{self._path.stem}{_ENDING}")
        problems = []
        try:
            opened = opened._replace(photo=self.photo(plan))
        except PhotoFileError as error:
            problems.append(str(error))
        if plan.shapes is not None:
            try:
                loaded = load_shapes(self._path, plan.shapes, plan.photo)
            except CoachError as error:
                problems.append(str(error))
            else:
                problems += loaded.problems
                opened = opened._replace(svg=loaded.content, shape_map=loaded.shape_map)
        return opened._replace(problems=tuple(problems))

    def photo(self, plan: Plan) -> OpenedPhoto | None:
        """Return the photo of a plan, with its heads; None where it names none."""
        if plan.photo is None:
            return None
        path = self._path.parent / plan.photo
        size = photo_size(path)
        crop = painted_crop(plan, size)
        sides = (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px)
        first = next((one.size for one in plan.canvases if one.size is not None), None)
        scales = {
            one.name: one.size.width_mm / crop.width_px
            for one in plan.canvases
            if one.size is not None and first is not None and _has_ratio(one.size, first)
        }
        nothing = Picture(linear=np.empty((0, 0, 3)), left_px=crop.left_px, top_px=crop.top_px, scale=1.0)
        photo = OpenedPhoto(size, photo_sha256(path) or "", crop, nothing, tuple(head_boxes(plan.heads)), scales)
        scale = scale_for(photo.sizing_heads, crop.width_px * crop.height_px)
        linear = read_linear_light(path, sides, scale)
        return photo._replace(picture=replace(nothing, linear=linear, scale=scale))

    def part(self, photo: str, box: "Box") -> "Pixels":
        """Return a part of a photo beside the plan pixel by pixel, in linear light."""
        return read_linear_light(self._path.parent / photo, box, 1.0)

    def save(self, opened: OpenedShapes, version: Version) -> SaveResult:
        """Save plan and shapes, that were made of `opened`, as one."""
        refuse_where_only_shown(self._session, "not saved")
        plan = version.plan._replace(shapes=opened.shapes_name)
        text = edited_text(opened.text, opened.plan, plan)
        path = self._path.with_name(opened.shapes_name)
        shapes = ShapesToSave(path=path, content=write_svg(version.shape_map, opened.svg), read_content=opened.svg)
        saved = save_plan(self._path, text, read_text=opened.text, shapes=shapes)
        name = sanitized(self._path.name)
        if saved.kept_beside is None and saved.shapes_beside is None:
            return SaveResult(text, f"Saved in {name} and {sanitized(path.name)}.")
        beside = [sanitized(one.name) for one in (saved.kept_beside, saved.shapes_beside) if one is not None]
        said = f"{name} or its shapes were changed by another hand and stay so; yours lie in {' and '.join(beside)}."
        return SaveResult(text, said, saved.difference or ("Both say the same.",))


def _has_ratio(one: CanvasSize, other: CanvasSize) -> bool:
    return one.width_mm * other.height_mm == one.height_mm * other.width_mm
