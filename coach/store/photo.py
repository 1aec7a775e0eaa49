"""Photo files: their size as they are looked at, their picture, and their light. Nothing is written.

Only common formats of photos are opened: some readers of Pillow start other programs when a file asks for it.
"""

import contextlib
import io
import math
import struct
import warnings
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, Final

from PIL import ExifTags, Image, ImageCms, UnidentifiedImageError

from coach.composition.photo_boxes import PhotoSize
from coach.errors import CoachError
from coach.text import sanitized

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FORMATS: Final = ("JPEG", "PNG", "TIFF", "WEBP", "GIF", "BMP", "PPM")
"""Kinds of file that are read, whatever the name ends in."""

_HEIC: Final = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})
"""What the first box of a HEIC file says it is. Source: ISO/IEC 23008-12 (from memory)."""

MOST_PIXELS: Final = 89_478_485
"""Pixels of the largest photo that is read. Source: Pillow's own limit against files that unpack without end."""

MOST_SEEN_PIXELS: Final = 60_000_000
"""Pixels of the largest photo that is taken apart into shapes, unless it is a JPEG, which can be read more coarsely."""

_DAMAGED: Final = (
    OSError,
    EOFError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    AttributeError,
    ArithmeticError,
    RuntimeError,
    MemoryError,
    struct.error,
    zlib.error,
)
"""What Pillow's readers end in on a damaged file."""

_TURNS: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""EXIF orientation to the turn that sets the picture upright. Source: CIPA DC-008 (from memory)."""

_ON_ITS_SIDE: Final = frozenset({5, 6, 7, 8})
"""The orientations by which width and height change places."""

_GAP: Final = 2.0
"""The first step leaves so many times the pixels that are wanted on each side."""

_ABOVE_8_BIT: Final = frozenset({"I", "I;16", "I;16B", "I;16L", "I;16N"})
_WHITE: Final = (255, 255, 255)


class PhotoFileError(CoachError):
    """The file of a photo cannot be read, or the copy of it cannot be written."""


def photo_size(path: Path) -> PhotoSize:
    """Return the size of a photo as it is looked at: turned as its EXIF orientation says.

    The file is read to its end, coarsely, so that one cut short is found now.

    Raises:
        PhotoFileError: It cannot be read as a photo; the sentence says why.
    """
    _, size, _ = _loaded(path, (1, 1))
    return size


def read_photo(path: Path) -> Image.Image:
    """Return the whole picture, upright, in 8-bit RGB; the first one of an animation.

    Raises:
        PhotoFileError: It cannot be read as a photo; the sentence says why.
    """
    image, _, turn = _loaded(path, None)
    return _turned(_in_rgb(image), turn)


def read_srgb(path: Path, scale: float = 1.0) -> "NDArray[np.uint8]":
    """Return the whole picture, upright, as 8-bit sRGB: shape (rows, columns, 3).

    Args:
        path: The photo.
        scale: A format that can be read more coarsely is, but not below so many pixels for one of the photo.

    Raises:
        PhotoFileError: It cannot be read as a photo; the sentence says why.
    """
    import numpy as np  # noqa: PLC0415  loaded when photos are compared

    image, _, turn = _loaded(path, scale / 2 if scale < 1 else None)
    return np.asarray(_turned(_in_srgb(image), turn))


def read_linear_light(
    path: Path, box: tuple[float, float, float, float], scale: float, *, is_shown: bool = False
) -> "NDArray[np.float64]":
    """Return a part of a photo in linear light, scaled: shape (rows, columns, 3), each channel 0 to 1.

    Its colours are brought to sRGB where the file has a profile of its own; averages are taken in linear light.

    Args:
        path: The photo.
        box: Left, top, right and bottom of the part, in pixels of the upright photo.
        scale: Pixels of the answer for one pixel of the photo.
        is_shown: Whether it is only looked at, so that a large photo is made smaller in two steps, which is quick.

    Raises:
        PhotoFileError: It cannot be read as a photo, or is larger than `MOST_SEEN_PIXELS` and no JPEG.
    """
    import numpy as np  # noqa: PLC0415  loaded when a photo is taken apart

    from coach.colour.light import linear_of  # noqa: PLC0415

    image, full, turn = _loaded(path, scale)
    if image.format != "JPEG" and full.width_px * full.height_px > MOST_SEEN_PIXELS:
        most = f"{MOST_SEEN_PIXELS / 1e6:.0f} million pixels"
        raise PhotoFileError(f"the photo has more than {most}; save it as JPEG", where=sanitized(str(path)))
    upright = _turned(_in_srgb(image), turn)
    shrunk = upright.width / full.width_px
    left, top, right, bottom = (side * shrunk for side in box)
    light = linear_of(np.arange(256) / 255).astype(np.float32)
    size = max(1, round((box[2] - box[0]) * scale)), max(1, round((box[3] - box[1]) * scale))
    channels = [
        Image.fromarray(light[np.asarray(channel)]).resize(
            size, Image.Resampling.BICUBIC, box=(left, top, right, bottom), reducing_gap=_GAP if is_shown else None
        )
        for channel in upright.split()
    ]
    linear: NDArray[np.float64] = np.stack([np.asarray(one, dtype=float) for one in channels], axis=-1)
    return linear.clip(0, 1)


@contextlib.contextmanager
def opened(path: Path) -> Iterator[Image.Image]:
    """Lend a photo of which only the beginning is read yet.

    Raises:
        PhotoFileError: It cannot be read, or not to where it is read while it is lent; the sentence says why.
    """
    where = sanitized(str(path))
    try:
        if path.is_dir():
            raise PhotoFileError("this is a folder; name the file of the photo", where=where)
        if path.exists() and not path.is_file():
            raise PhotoFileError("this is not a file; name the file of the photo", where=where)
        with path.open("rb") as file, warnings.catch_warnings():
            warnings.simplefilter("ignore")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            yield _begun(file, where)
    except FileNotFoundError as error:
        raise PhotoFileError("there is no such file", where=where) from error
    except UnidentifiedImageError as error:
        what = "this is not a photo that can be read; save it as JPEG, PNG, TIFF or WebP"
        raise PhotoFileError(what, where=where) from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        most = f"{MOST_PIXELS / 1e6:.0f} million pixels"
        raise PhotoFileError(f"the photo has more than {most}; save a smaller copy", where=where) from error
    except _DAMAGED as error:
        raise PhotoFileError(_why(error), where=where) from error


def _begun(file: BinaryIO, where: str) -> Image.Image:
    head = file.read(12)
    file.seek(0)
    if head[4:8] != b"ftyp" or head[8:] not in _HEIC:
        return Image.open(file, formats=FORMATS)
    try:
        import pillow_heif  # noqa: PLC0415  optional, and loaded when such a file is read
    except ImportError as error:
        what = "reading HEIC needs the package pillow-heif: install it, or save the photo as JPEG"
        raise PhotoFileError(what, where=where) from error
    pillow_heif.register_heif_opener()
    try:
        return Image.open(file, formats=("HEIF",))
    except UnidentifiedImageError as error:
        raise PhotoFileError(_why(error), where=where) from error


def upright_size(image: Image.Image) -> PhotoSize:
    """Return the size of a picture as it is looked at, by what its file states."""
    is_turned = image.format != "TIFF" and _turn(image) in _ON_ITS_SIDE  # Pillow turns a TIFF itself
    width_px, height_px = reversed(image.size) if is_turned else image.size
    return PhotoSize(width_px=width_px, height_px=height_px)


def _turn(image: Image.Image) -> int:
    return int(image.getexif().get(ExifTags.Base.Orientation, 1))


def _loaded(path: Path, coarse: tuple[int, int] | float | None) -> tuple[Image.Image, PhotoSize, int]:
    """Return the picture as stored, its size as looked at and its orientation.

    With `coarse`, a format that can be read more coarsely is, down to twice these sides, or to twice the sides
    at this scale.
    """
    with opened(path) as image:
        size = upright_size(image)
        if coarse is not None:
            longest = max(coarse) if isinstance(coarse, tuple) else math.ceil(coarse * max(image.size))
            image.draft("RGB", (2 * longest, 2 * longest))
        image.load()
        return image, size, _turn(image)


def _why(error: BaseException) -> str:
    """Return why a file failed: the system's word has a number, a damaged picture has none."""
    if isinstance(error, OSError) and error.errno is not None:
        return f"the file cannot be read: {error.strerror}"
    if isinstance(error, MemoryError):
        return "the photo is too large for the memory; save a smaller copy"
    return "the photo is damaged or cut short; save it again"


def _turned(image: Image.Image, turn: int) -> Image.Image:
    return image.transpose(_TURNS[turn]) if turn in _TURNS else image


def _in_srgb(image: Image.Image) -> Image.Image:
    """Return the picture in 8-bit sRGB, brought there from the profile that the file carries, where it can be used."""
    profile = image.info.get("icc_profile")
    if profile:
        image = image if image.mode in ("RGB", "CMYK", "L") else _in_rgb(image)
        with contextlib.suppress(ImageCms.PyCMSError, *_DAMAGED):
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            found = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
            return found or _in_rgb(image)
    return _in_rgb(image)


def _in_rgb(image: Image.Image) -> Image.Image:
    """Return the picture in 8-bit RGB: 16 bits are scaled down, what is transparent lies on white."""
    if image.mode in _ABOVE_8_BIT:
        return image.convert("I").point(lambda level: level * (1 / 257)).convert("L").convert("RGB")
    if image.has_transparency_data:
        over = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", image.size, _WHITE), over).convert("RGB")
    return image.convert("RGB")
