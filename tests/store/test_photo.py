"""Photo files: whatever lies there, a size and colours or one sentence."""

import io
import os
import struct
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image

from coach.composition.photo_boxes import PhotoSize
from coach.shapes.dots import coded
from coach.store.photo import MOST_PIXELS, PhotoFileError, photo_size, read_linear_light, read_photo

RED, GREEN, BLUE, WHITE = (255, 0, 0), (0, 255, 0), (0, 0, 255), (255, 255, 255)


def four_colours() -> Image.Image:
    """A picture of 60 x 40 px: red and green above, blue and white below."""
    picture = Image.new("RGB", (60, 40), RED)
    picture.paste(GREEN, (30, 0, 60, 20))
    picture.paste(BLUE, (0, 20, 30, 40))
    picture.paste(WHITE, (30, 20, 60, 40))
    return picture


def saved(path: Path, picture: Image.Image, *, turn: int = 1) -> Path:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = turn
    picture.save(path, exif=exif, lossless=True)
    return path


def corners_of(picture: Image.Image) -> list[object]:
    right, bottom = picture.width - 1, picture.height - 1
    return [picture.getpixel(at) for at in ((0, 0), (right, 0), (0, bottom), (right, bottom))]


@pytest.mark.parametrize("kind", ["png", "tif", "webp"])
@pytest.mark.parametrize(
    ("turn", "corners"),
    [
        (1, [RED, GREEN, BLUE, WHITE]),
        (2, [GREEN, RED, WHITE, BLUE]),
        (3, [WHITE, BLUE, GREEN, RED]),
        (4, [BLUE, WHITE, RED, GREEN]),
        (5, [RED, BLUE, GREEN, WHITE]),
        (6, [BLUE, RED, WHITE, GREEN]),
        (7, [WHITE, GREEN, BLUE, RED]),
        (8, [GREEN, WHITE, RED, BLUE]),
    ],
)
def test_every_orientation_is_honoured(tmp_path: Path, kind: str, turn: int, corners: list[object]) -> None:
    """The eight orientations of EXIF (CIPA DC-008): where row 0 and column 0 of the stored picture are seen."""
    path = saved(tmp_path / f"photo.{kind}", four_colours(), turn=turn)
    size = photo_size(path)
    picture = read_photo(path)
    shown = coded(read_linear_light(path, (0, 0, size.width_px, size.height_px), 0.5))

    assert (size.width_px, size.height_px) == ((60, 40) if turn < 5 else (40, 60)) == picture.size
    assert corners_of(picture) == corners
    assert [tuple(shown[row, column]) for row in (0, -1) for column in (0, -1)] == corners


def test_a_large_jpeg_is_read_coarsely_with_its_true_size(tmp_path: Path) -> None:
    path = saved(tmp_path / "photo.jpg", four_colours().resize((3000, 2000)), turn=6)
    shown = coded(read_linear_light(path, (0, 0, 2000, 3000), 0.02))

    assert photo_size(path) == PhotoSize(width_px=2000, height_px=3000)
    assert shown.shape == (60, 40, 3)
    assert tuple(shown[4, 2]) == pytest.approx(BLUE, abs=6)


def _cmyk() -> Image.Image:
    return Image.new("CMYK", (6, 4), (0, 255, 255, 0))


def _sixteen_bit() -> Image.Image:
    return Image.new("I;16", (6, 4), 32896)


def _palette() -> Image.Image:
    return Image.new("RGB", (6, 4), RED).convert("P")


def _see_through() -> Image.Image:
    return Image.new("RGBA", (6, 4), (0, 0, 0, 0))


@pytest.mark.parametrize(
    ("make", "kind", "colour"),
    [
        (_cmyk, "TIFF", RED),
        (_cmyk, "JPEG", RED),
        (_sixteen_bit, "PNG", (128, 128, 128)),
        (_sixteen_bit, "TIFF", (128, 128, 128)),
        (_palette, "PNG", RED),
        (_see_through, "PNG", WHITE),
    ],
)
def test_every_mode_comes_out_in_colours_of_the_screen(
    tmp_path: Path, make: Callable[[], Image.Image], kind: str, colour: tuple[int, int, int]
) -> None:
    path = tmp_path / "photo"
    make().save(path, kind)
    shown = coded(read_linear_light(path, (0, 0, 6, 4), 0.5))[0, 0]

    assert photo_size(path) == PhotoSize(width_px=6, height_px=4)
    assert tuple(shown) == pytest.approx(colour, abs=2)
    assert read_photo(path).getpixel((0, 0)) == pytest.approx(colour, abs=2)


def test_the_first_picture_of_an_animation_is_the_photo(tmp_path: Path) -> None:
    path = tmp_path / "moving.gif"
    Image.new("RGB", (6, 4), RED).save(path, save_all=True, append_images=[Image.new("RGB", (6, 4), BLUE)])

    assert photo_size(path) == PhotoSize(width_px=6, height_px=4)
    assert read_photo(path).getpixel((0, 0)) == RED


def test_what_a_file_is_counts_and_not_what_its_name_ends_in(tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    four_colours().save(path, "PNG")

    assert photo_size(path) == PhotoSize(width_px=60, height_px=40)


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_claiming(width_px: int, height_px: int) -> bytes:
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + _chunk(b"IDAT", zlib.compress(b"\0" * 100)) + _chunk(b"IEND", b"")


@pytest.mark.parametrize(("width_px", "height_px"), [(20000, 10000), (10000, 9000)])
def test_two_hundred_megapixels_are_refused_before_they_are_unpacked(
    tmp_path: Path, width_px: int, height_px: int
) -> None:
    path = tmp_path / "huge.png"
    path.write_bytes(png_claiming(width_px, height_px))

    assert MOST_PIXELS == Image.MAX_IMAGE_PIXELS
    with pytest.raises(PhotoFileError, match="more than 89 million pixels; save a smaller copy"):
        photo_size(path)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "GIF", "WEBP", "BMP"])
def test_a_photo_cut_short_is_said(tmp_path: Path, kind: str) -> None:
    content = io.BytesIO()
    noisy = Image.effect_noise((400, 400), 80).convert("RGB")
    noisy.save(content, kind)
    path = tmp_path / "photo"
    path.write_bytes(content.getvalue()[: len(content.getvalue()) // 2])

    with pytest.raises(PhotoFileError) as caught:
        photo_size(path)
    assert str(caught.value).startswith(str(path))


@pytest.mark.parametrize("content", [b"", b"canvases: [Hall]\n", b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n"])
def test_what_is_no_photo_is_said(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)

    with pytest.raises(PhotoFileError, match="this is not a photo that can be read; save it as JPEG"):
        photo_size(path)


def test_a_folder_a_pipe_and_nothing_are_said(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")

    with pytest.raises(PhotoFileError, match="this is a folder; name the file"):
        photo_size(tmp_path)
    with pytest.raises(PhotoFileError, match="this is not a file"):
        photo_size(tmp_path / "pipe")
    with pytest.raises(PhotoFileError, match="there is no such file"):
        read_linear_light(tmp_path / "none.jpg", (0, 0, 10, 10), 1)


def test_a_name_that_no_file_can_have_is_said() -> None:
    with pytest.raises(PhotoFileError):
        photo_size(Path("a" * 5000))
    with pytest.raises(PhotoFileError):
        photo_size(Path("photo\0.jpg"))


@pytest.fixture
def photo_without_permission(tmp_path: Path) -> Path:
    path = saved(tmp_path / "photo.png", four_colours())
    path.chmod(0)
    return path


@pytest.fixture
def _nobody(photo_without_permission: Path) -> Iterator[None]:
    """The superuser may read everything, so a test of permissions is run as somebody else."""
    assert photo_without_permission.is_file()
    before = os.geteuid()
    if before == 0:
        os.seteuid(65534)
    yield
    os.seteuid(before)


@pytest.mark.usefixtures("_nobody")
def test_a_photo_without_permission_is_said(photo_without_permission: Path) -> None:
    with pytest.raises(PhotoFileError, match="the file cannot be read: Permission denied"):
        photo_size(photo_without_permission)


@settings(max_examples=120, deadline=None)
@given(
    st.sampled_from(["JPEG", "PNG", "TIFF", "GIF", "WEBP", "BMP"]),
    st.lists(st.tuples(st.integers(0, 700), st.integers(0, 255)), min_size=1, max_size=12),
)
def test_a_damaged_file_is_a_photo_or_a_sentence(
    tmp_path_factory: pytest.TempPathFactory, kind: str, damage: list[tuple[int, int]]
) -> None:
    content = io.BytesIO()
    four_colours().save(content, kind)
    data = bytearray(content.getvalue())
    for at, value in damage:
        data[at % len(data)] = value
    path = tmp_path_factory.mktemp("damaged") / "photo"
    path.write_bytes(data)

    try:
        shown = read_linear_light(path, (0, 0, 60, 40), 0.2)
    except PhotoFileError as error:
        said = str(error)
    else:
        said = ""
        assert shown.shape == (8, 12, 3)
    assert "\n" not in said
