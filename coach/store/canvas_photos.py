"""Photos of the canvases: the folder they come in by, what their files tell, their pictures. Nothing is written."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PIL import ExifTags, Image

from coach.composition.photo_boxes import PhotoSize
from coach.store.photo import PhotoFileError, opened, read_srgb, upright_size
from coach.store.shape_file import photo_sha256
from coach.text import sanitized

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_ENDINGS: Final = frozenset({".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif", ".hif"})
"""Files of other endings are passed over in a folder: phones lay films and notes beside their photos."""

_GREY: Final = frozenset({"1", "L", "LA", "I", "F", "I;16", "I;16B", "I;16L", "I;16N"})

_WIDEST: Final = 3
"""A photo so many times wider than high was swept or cut; ours."""

_SWEPT, _BLURRED = 6, frozenset({7, 8})
"""What phones write under CustomRendered of a panorama, and of a portrait whose ground is blurred; from memory."""

_FLASH_FIRED: Final = 1
"""The lowest bit of the tag Flash. Source: CIPA DC-008 (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasPhoto:
    """A photo of the canvases, as the beginning of its file tells.

    Attributes:
        path: Its file.
        name: The name of the file, as it can be shown.
        taken_at: When it was taken, aware; where it does not state a zone, by that of this computer.
        is_file_time: Whether the photo does not say when it was taken, so that this is the time of the file.
        size: Its size as it is looked at; None where it cannot be read.
        problem: Why it cannot be compared, in a sentence; empty where it can.
        cautions: What speaks against it, a sentence each.
    """

    path: Path
    name: str
    taken_at: dt.datetime
    is_file_time: bool
    size: PhotoSize | None
    problem: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedPhoto:
    """A photo with its picture, 8-bit sRGB, upright, shape (rows, columns, 3), and the SHA-256 of its file in hex."""

    photo: CanvasPhoto
    coded: "NDArray[np.uint8]"
    sha256: str


def canvas_photos(plan_path: Path, folder: str) -> tuple[CanvasPhoto, ...]:
    """Return the photos of a folder beside a plan, the newest first; those that cannot be compared say why.

    Args:
        plan_path: The plan's file.
        folder: Plain name of the folder; neither it nor a file in it may be a link.

    Raises:
        PhotoFileError: There is no such folder, or it cannot be read.
    """
    path = plan_path.with_name(folder)
    where = sanitized(str(path))
    try:
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            raise PhotoFileError("this is not a folder; put the photos of the canvases into one", where=where)
        files = [file for file in path.iterdir() if _is_photo(file.name)]
    except FileNotFoundError as error:
        raise PhotoFileError("there is no such folder; put the photos of the canvases into it", where=where) from error
    except (OSError, ValueError) as error:  # the latter for a name that no folder can have
        what = f"the folder cannot be read: {getattr(error, 'strerror', None) or error}"
        raise PhotoFileError(what, where=where) from error
    found = [_link(file) if file.is_symlink() else canvas_photo(file) for file in files]
    return tuple(sorted(found, key=lambda photo: (photo.taken_at, photo.name), reverse=True))


def canvas_photo(path: Path) -> CanvasPhoto:
    """Return what the beginning of a photo's file tells; what is wrong with it is its `problem`."""
    try:
        with opened(path) as image:
            size, tags = upright_size(image), image.getexif().get_ifd(ExifTags.IFD.Exif)
            return _photo(
                path,
                taken_at=_taken_at(tags),
                size=size,
                problem="the photo is black and white; take it in colour" if image.mode in _GREY else "",
                cautions=tuple(_cautions(image, size, tags)),
            )
    except PhotoFileError as error:
        return _photo(path, problem=error.what)


def load_canvas_photo(photo: CanvasPhoto) -> LoadedPhoto:
    """Return a photo with its picture.

    Raises:
        PhotoFileError: It cannot be compared, or not be read to its end; the sentence says why.
    """
    if photo.problem:
        raise PhotoFileError(photo.problem, where=sanitized(str(photo.path)))
    return LoadedPhoto(photo=photo, coded=read_srgb(photo.path), sha256=photo_sha256(photo.path) or "")


def _is_photo(name: str) -> bool:
    return not name.startswith(".") and Path(name).suffix.lower() in _ENDINGS


def _link(path: Path) -> CanvasPhoto:
    return _photo(path, problem="this is only a link; put the photo itself into the folder")


def _photo(
    path: Path,
    *,
    taken_at: dt.datetime | None = None,
    size: PhotoSize | None = None,
    problem: str = "",
    cautions: tuple[str, ...] = (),
) -> CanvasPhoto:
    try:
        file_time_s = path.lstat().st_mtime
    except (OSError, ValueError):  # gone, or a name that no file can have
        file_time_s = 0
    return CanvasPhoto(
        path=path,
        name=sanitized(path.name),
        taken_at=taken_at or dt.datetime.fromtimestamp(file_time_s, dt.UTC).astimezone(),
        is_file_time=taken_at is None,
        size=size,
        problem=problem,
        cautions=cautions,
    )


def _taken_at(tags: Mapping[int, object]) -> dt.datetime | None:
    """Return when a photo was taken, by its tags; None where they do not say it as they should.

    Source:
        DateTimeOriginal, OffsetTimeOriginal and SubsecTimeOriginal: CIPA DC-008 (from memory).
    """
    parts = [
        str(tags.get(tag) or "").strip("\0 ")
        for tag in (
            ExifTags.Base.DateTimeOriginal,
            ExifTags.Base.SubsecTimeOriginal,
            ExifTags.Base.OffsetTimeOriginal,
        )
    ]
    day, fraction, offset = parts
    fraction = fraction[:6] if fraction.isdecimal() else "0"
    try:
        form = f"%Y:%m:%d %H:%M:%S %f{'%z' if offset else ''}"
        return dt.datetime.strptime(f"{day} {fraction}{offset}", form).astimezone()
    except (ValueError, OverflowError, OSError):  # the latter two for a year beyond the calendar
        return None


def _cautions(image: Image.Image, size: PhotoSize, tags: Mapping[int, object]) -> Iterator[str]:
    rendered, flash = tags.get(ExifTags.Base.CustomRendered), tags.get(ExifTags.Base.Flash)
    if image.mode == "CMYK":
        yield "its colours were changed for printing; use the photo as the camera took it"
    if rendered == _SWEPT or size.width_px > _WIDEST * size.height_px:
        yield "it looks like a panorama, in which the light is patched together; take one plain photo"
    if rendered in _BLURRED:
        yield "it was taken in portrait mode, which blurs; take a plain photo"
    if isinstance(flash, int) and flash & _FLASH_FIRED:
        yield "it was taken with flash, which shines back from wet paint; take it without"
