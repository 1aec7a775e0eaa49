"""The file of shapes beside a plan: read with all that is wrong with it, and saved with the plan as one."""

import hashlib
from dataclasses import dataclass
from pathlib import Path

from coach.errors import CoachError
from coach.shapes.shape_map import ShapeMap
from coach.shapes.svg import read_svg, write_svg
from coach.shapes.svg_reading import MOST_BYTES, SvgError
from coach.store.pair_saving import finish_pair
from coach.store.plan_file import ShapesToSave
from coach.store.safe_files import read_ordinary
from coach.text import sanitized


class ShapeFileError(CoachError):
    """The file of shapes cannot be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedShapes:
    """The shapes beside a plan, as they were read.

    Attributes:
        path: Their file.
        content: What it holds.
        shape_map: The shapes.
        problems: What is wrong with the file, a sentence each, in its order.
    """

    path: Path
    content: bytes
    shape_map: ShapeMap
    problems: tuple[str, ...]

    def changed(self, shape_map: ShapeMap) -> ShapesToSave:
        """Return other shapes to save in this file; what in it is no shape stays.

        Raises:
            SvgError: They are far more than a file of shapes holds.
        """
        return ShapesToSave(path=self.path, content=write_svg(shape_map, self.content), read_content=self.content)


def new_shapes(plan_path: Path, name: str, shape_map: ShapeMap) -> ShapesToSave:
    """Return shapes to save in a new file beside a plan; errors as for `LoadedShapes.changed`."""
    return ShapesToSave(path=plan_path.with_name(name), content=write_svg(shape_map), read_content=None)


def load_shapes(plan_path: Path, name: str, photo: str | None) -> LoadedShapes:
    """Return the shapes beside a plan; a saving that was cut short is finished first.

    Args:
        plan_path: The plan's file.
        name: The plain name of the file of shapes.
        photo: The plain name of the plan's photo; where its file is not the one that the shapes were drawn on, that is
            one of the problems. None, or no such file, says nothing.

    Raises:
        ShapeFileError: There is no such file, or it cannot be read.
        SvgError: It is no file of shapes.
        CutSavingError: A saving of the plan and its shapes cannot be finished.
    """
    finish_pair(plan_path)
    path = plan_path.with_name(name)
    where = sanitized(str(path))
    try:
        content = read_ordinary(path, MOST_BYTES + 1)
        shape_map, found = read_svg(content)
    except FileNotFoundError as error:
        raise ShapeFileError("there is no such file of shapes", where=where) from error
    except (OSError, ValueError) as error:  # the latter for a name that no file can have
        raise ShapeFileError(
            f"the shapes cannot be read: {getattr(error, 'strerror', None) or error}", where=where
        ) from error
    except SvgError as error:
        raise SvgError(error.what, where=where) from error
    problems = [problem.sentence(where) for problem in found]
    sha256 = None if photo is None else photo_sha256(plan_path.with_name(photo))
    if shape_map.photo_sha256 and sha256 not in (None, shape_map.photo_sha256):
        what = f"{sanitized(str(photo))} is not the photo that these shapes were drawn on; their outlines are kept"
        problems.append(f"{where}: {what}")
    return LoadedShapes(path=path, content=content, shape_map=shape_map, problems=tuple(problems))


def photo_sha256(path: Path) -> str | None:
    """Return the hash of a photo's file, in hexadecimal digits; None where it cannot be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return None
