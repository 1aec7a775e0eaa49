"""Photos of the canvases: newest first by the camera's clock, with what is wrong with each in one sentence."""

import datetime as dt
import hashlib
import os
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import ExifTags, Image

from coach.store.canvas_photos import CanvasPhoto, canvas_photo, canvas_photos, load_canvas_photo
from coach.store.photo import PhotoFileError

EXIF = ExifTags.Base
RED = (250, 10, 10)


def shot(path: Path, *, mode: str = "RGB", size: tuple[int, int] = (60, 40), turn: int = 1, **tags: object) -> Path:
    """Save a photo with tags of EXIF by their names."""
    exif = Image.Exif()
    exif[EXIF.Orientation] = turn
    exif.get_ifd(ExifTags.IFD.Exif).update({EXIF.__members__[name]: value for name, value in tags.items()})
    colour = RED if mode == "RGB" else None
    Image.new(mode, size, colour or 0).save(path, exif=exif)
    return path


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    path = tmp_path / "canvas-photos"
    path.mkdir()
    return path


def listed(folder: Path) -> tuple[CanvasPhoto, ...]:
    return canvas_photos(folder.parent / "plan.yaml", folder.name)


def test_the_newest_by_the_cameras_clock_comes_first(folder: Path) -> None:
    """10:00 in New York is 15:00 in London, whatever the time of the file says."""
    day = "2027:01:08"
    shot(folder / "b.jpg", DateTimeOriginal=f"{day} 14:00:00", OffsetTimeOriginal="+00:00")
    shot(folder / "a.jpg", DateTimeOriginal=f"{day} 10:00:00", OffsetTimeOriginal="-05:00", SubsecTimeOriginal="25")
    shot(folder / "c.jpg", DateTimeOriginal=f"{day} 10:00:00", OffsetTimeOriginal="-05:00")
    found = listed(folder)

    assert [photo.name for photo in found] == ["a.jpg", "c.jpg", "b.jpg"]
    assert found[0].taken_at == dt.datetime(2027, 1, 8, 15, 0, 0, 250_000, dt.UTC)
    assert not any(photo.is_file_time for photo in found)


@pytest.mark.parametrize("said", ["", "0000:00:00 00:00:00", "yesterday", "9999:99:99 10:00:00"])
def test_without_a_clock_it_is_the_time_of_the_file(folder: Path, said: str) -> None:
    path = shot(folder / "a.jpg", DateTimeOriginal=said)
    os.utime(path, (1_800_000_000, 1_800_000_000))
    (found,) = listed(folder)

    assert found.is_file_time
    assert found.taken_at == dt.datetime.fromtimestamp(1_800_000_000, dt.UTC)


def test_what_is_no_photo_is_passed_over_and_a_link_is_told(folder: Path) -> None:
    shot(folder.parent / "elsewhere.jpg")
    (folder / "link.jpg").symlink_to(folder.parent / "elsewhere.jpg")
    (folder / "film.mov").write_bytes(b"film")
    shot(folder / ".hidden.jpg")
    (found,) = listed(folder)

    assert (found.name, found.size) == ("link.jpg", None)
    assert found.problem == "this is only a link; put the photo itself into the folder"


def test_a_folder_that_is_none_or_leads_elsewhere_is_one_sentence(folder: Path) -> None:
    (folder.parent / "led").symlink_to(folder)
    (folder.parent / "file").write_bytes(b"")
    for name, said in (("led", "not a folder"), ("file", "not a folder"), ("gone", "no such folder"), ("a\0", "read")):
        with pytest.raises(PhotoFileError, match=said):
            canvas_photos(folder.parent / "plan.yaml", name)


def test_a_photo_is_loaded_upright_with_its_hash_and_nothing_is_written(folder: Path) -> None:
    path = shot(folder / "a.jpg", turn=6)
    before = path.read_bytes(), path.stat().st_mtime_ns
    (found,) = listed(folder)
    loaded = load_canvas_photo(found)

    assert found.size is not None
    assert loaded.coded.shape == (found.size.height_px, found.size.width_px, 3) == (60, 40, 3)
    assert loaded.sha256 == hashlib.sha256(before[0]).hexdigest()
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert list(folder.iterdir()) == [path]


@pytest.mark.parametrize("kind", ["jpg", "png", "tif", "webp"])
def test_the_size_that_is_told_is_that_of_the_picture(folder: Path, kind: str) -> None:
    found = canvas_photo(shot(folder / f"a.{kind}", turn=8))

    assert found.size is not None
    assert load_canvas_photo(found).coded.shape[:2] == (found.size.height_px, found.size.width_px)


def test_a_heic_photo_is_read_where_its_reader_is_and_told_where_not(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import pillow_heif  # noqa: PLC0415

    exif = Image.Exif()
    exif.get_ifd(ExifTags.IFD.Exif)[EXIF.DateTimeOriginal] = "2027:01:08 14:00:00"
    file = pillow_heif.from_pillow(Image.new("RGB", (64, 48), RED))
    file.save(folder / "a.heic", exif=exif.tobytes())
    (found,) = listed(folder)
    assert (found.is_file_time, found.problem) == (False, "")
    assert np.abs(load_canvas_photo(found).coded.astype(int) - RED).max() < 12

    monkeypatch.setitem(sys.modules, "pillow_heif", None)
    (found,) = listed(folder)
    assert found.problem == "reading HEIC needs the package pillow-heif: install it, or save the photo as JPEG"
    (folder / "b.heic").write_bytes((folder / "a.heic").read_bytes()[:300])
    monkeypatch.undo()
    assert "damaged or cut short" in canvas_photo(folder / "b.heic").problem


@pytest.mark.parametrize(
    ("tags", "said"),
    [
        ({"mode": "CMYK"}, "changed for printing"),
        ({"size": (400, 100)}, "panorama"),
        ({"CustomRendered": 6}, "panorama"),
        ({"CustomRendered": 8}, "portrait mode"),
        ({"Flash": 0x19}, "with flash"),
    ],
)
def test_what_speaks_against_a_photo_is_told(folder: Path, tags: dict[str, object], said: str) -> None:
    (sentence,) = canvas_photo(shot(folder / "a.jpg", **tags)).cautions  # type: ignore[arg-type]

    assert said in sentence


@pytest.mark.parametrize("tags", [{}, {"Flash": 0x18}, {"CustomRendered": 2}])
def test_of_a_plain_photo_nothing_is_told(folder: Path, tags: dict[str, object]) -> None:
    found = canvas_photo(shot(folder / "a.jpg", **tags))  # type: ignore[arg-type]

    assert (found.problem, found.cautions) == ("", ())


def test_what_cannot_be_compared_says_why(folder: Path) -> None:
    (folder / "words.jpg").write_bytes(b"not a picture")
    content = shot(folder / "short.jpg", size=(400, 400)).read_bytes()
    (folder / "short.jpg").write_bytes(content[: len(content) // 2])
    shot(folder / "grey.jpg", mode="L")
    Image.new("1", (20_000, 10_000)).save(folder / "vast.png")
    for name, said in (
        ("words.jpg", "not a photo that can be read"),
        ("short.jpg", "damaged or cut short"),
        ("grey.jpg", "black and white"),
        ("vast.png", "more than 89 million pixels"),
        ("gone.jpg", "no such file"),
    ):
        with pytest.raises(PhotoFileError, match=said) as raised:
            load_canvas_photo(canvas_photo(folder / name))
        assert str(raised.value).count(name) == 1


def test_sixteen_bits_are_read_as_eight(folder: Path) -> None:
    values = np.full((30, 40, 3), 200 * 257, dtype=np.uint16)
    from skimage.io import imsave  # noqa: PLC0415

    imsave(folder / "deep.tif", values, check_contrast=False)

    assert (load_canvas_photo(canvas_photo(folder / "deep.tif")).coded == 200).all()
