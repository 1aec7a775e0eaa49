"""`coach compose` and `coach prepare` against whatever is typed and whatever lies on the disk."""

import io
import os
import re
import struct
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from coach.cli import main

_STEERING: Final = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Control characters of ECMA-48 but the line feed, and the bidirectional ones of Unicode (UAX #9)."""

_ANNA: Final = ("--head", "Anna:150,120,220,210")
_GREY: Final = (120, 120, 120)
Said = pytest.CaptureFixture[str]


def refused(said: Said, *words: str) -> tuple[int, str]:
    """Run a command that is to be refused; return its status and its one sentence."""
    status = main(words)
    out, err = said.readouterr()
    assert not out
    assert len(err.splitlines()) == 1, err
    assert not _STEERING.search(err)
    return status, err


def _saved(path: Path, picture: Image.Image, kind: str) -> None:
    picture.save(path, kind)


def _cut_short(path: Path) -> None:
    content = io.BytesIO()
    Image.effect_noise((400, 600), 80).convert("RGB").save(content, "JPEG")
    path.write_bytes(content.getvalue()[:20_000])


def _two_hundred_megapixels(path: Path) -> None:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 20_000, 10_000, 8, 2, 0, 0, 0))
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"\0")) + chunk(b"IEND", b""))


def _folder(path: Path) -> None:
    path.mkdir()


def _missing(_: Path) -> None:
    pass


def _text(path: Path) -> None:
    path.write_text("canvases: [Hall]\n")


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (_cut_short, "the photo is damaged or cut short"),
        (_two_hundred_megapixels, "more than 89 million pixels"),
        (_folder, "this is a folder; name the file of the photo"),
        (_missing, "there is no such file"),
        (_text, "this is not a photo that can be read"),
        (os.mkfifo, "this is not a file"),
    ],
)
def test_a_photo_that_is_none_is_refused_in_one_sentence(
    tmp_path: Path, capsys: Said, make: Callable[[Path], None], sentence: str
) -> None:
    photo = tmp_path / "photo.jpg"
    make(photo)

    status, err = refused(capsys, "compose", "--photo", str(photo), *_ANNA)

    assert status == 1
    assert sentence in err


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """A photo of 400 x 600 px."""
    path = tmp_path / "photo.png"
    Image.new("RGB", (400, 600), _GREY).save(path)
    return path


@pytest.fixture
def as_nobody(photo: Path) -> Iterator[None]:
    """The superuser may read and write everything, so permissions are tried as somebody else."""
    assert main(["compose", "--photo", str(photo), "--json"]) == 0  # nothing need be loaded as somebody else
    before = os.geteuid()
    if before == 0:
        os.seteuid(65534)
    else:
        photo.chmod(0)
        photo.parent.chmod(0o500)
    yield
    os.seteuid(before)
    photo.parent.chmod(0o700)


@pytest.mark.usefixtures("as_nobody")
@pytest.mark.parametrize("words", [(), ("--grid-canvas",)])
def test_a_photo_or_a_folder_without_permission_is_said(photo: Path, capsys: Said, words: tuple[str, ...]) -> None:
    capsys.readouterr()
    target = [*words, str(photo.with_name("grid.svg"))] if words else []

    status, err = refused(capsys, "compose", "--photo", "400x600" if words else str(photo), *target)

    assert status == 1
    assert "Permission denied" in err


def _made(picture: Image.Image, kind: str) -> Callable[[Path], None]:
    return lambda path: _saved(path, picture, kind)


def _animated(path: Path) -> None:
    Image.new("RGB", (400, 600), _GREY).save(
        path, "GIF", save_all=True, append_images=[Image.new("RGB", (400, 600), (250, 0, 0))]
    )


def _on_its_side(path: Path) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # orientation: row 0 is the right side (CIPA DC-008, from memory)
    Image.new("RGB", (600, 400), _GREY).save(path, "JPEG", exif=exif)


@pytest.mark.parametrize(
    "make",
    [
        _made(Image.new("CMYK", (400, 600), (0, 0, 0, 135)), "JPEG"),
        _made(Image.new("I;16", (400, 600), 120 * 257), "PNG"),
        _made(Image.new("RGB", (400, 600), _GREY), "BMP"),  # named .jpg: what it is counts
        _animated,
        _on_its_side,
    ],
)
def test_every_kind_of_photo_gives_a_grid_in_its_colours_and_is_not_touched(
    tmp_path: Path, capsys: Said, make: Callable[[Path], None]
) -> None:
    photo, grid = tmp_path / "photo.jpg", tmp_path / "grid.png"
    make(photo)
    before = photo.read_bytes(), photo.stat().st_mtime_ns

    words = ["compose", "--photo", str(photo), *_ANNA, "--canvas", "16 x 20 in", "--grid-photo", str(grid)]
    assert main(words) == 0

    assert "8 x 10 squares" in capsys.readouterr().out
    assert (photo.read_bytes(), photo.stat().st_mtime_ns) == before
    with Image.open(grid) as drawn:
        assert (drawn.format, drawn.mode, drawn.size) == ("PNG", "RGB", (400, 500))
        assert drawn.getpixel((45, 45)) == pytest.approx(_GREY, abs=2)


def test_the_photo_is_not_written_to_even_where_it_is_named_as_the_grid(photo: Path, capsys: Said) -> None:
    before = photo.read_bytes()

    for option in ("--grid-photo", "--grid-canvas"):
        status, err = refused(capsys, "compose", "--photo", str(photo), option, str(photo))
        assert status == 1
        assert "photo.png" in err
    assert photo.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        ((), 2, "name the photo with --photo"),
        (("--photo", "0x6000"), 2, "each side is 1 to 1000000 px"),
        (("--photo", "-4000x6000"), 2, "expected one argument"),
        (("--photo", "4000x6000", "--head", "Anna"), 2, "names no head"),
        (("--photo", "4000x6000", "--head", "Anna:1,2,3"), 2, "is not a box"),
        (("--photo", "4000x6000", "--head", "Anna:1,2,3,6001"), 1, "lies outside the photo"),
        (("--photo", "4000x6000", "--head", "Anna:-1,2,3,6"), 1, "lies outside the photo"),
        (("--photo", "4000x6000", "--head", "Anna:1,9,3,6"), 1, "is upside down"),
        (("--photo", "4000x6000", "--keep", "9,1,3,6"), 1, "is turned round"),
        (("--photo", "4000x6000", "--head", "A:1,1,9,9", "--head", "A:1,1,9,9"), 1, "two heads are named"),
        (("--photo", "4000x6000", "--canvas", "0 x 50 cm"), 2, "both sides are greater than 0"),
        (("--photo", "4000x6000", "--canvas", "-40 x 50 cm"), 2, "both sides are greater than 0"),
        (("--photo", "4000x6000", "--canvas", "0.4 x 0.5 m"), 2, "write metres as centimetres"),
        (("--photo", "4000x6000", "--canvas", "1 x 50 cm"), 2, "2 to 500 cm a side"),
        (("--photo", "4000x6000", "--canvas", "Hall\x1b[2J\u202e"), 2, "is not a size of a canvas"),
        (("--photo", "4000x6000", "--life", "0"), 1, "out of range: 5 to 200 %"),
        (("--photo", "4000x6000", "--life", "1e400"), 1, "out of range"),
        (("--photo", "4000x6000", "--life", "half"), 2, "invalid float value"),
        (("--photo", "4000x6000", "--grid-photo", "grid.png"), 2, "name its file with --photo, not its size"),
        (("--photo", "4000x6000", "--square", "2 in"), 2, "say where the grid goes"),
        (("--photo", "4000x6000", "--rows", "0", "--grid-canvas", "g.svg"), 2, "1 to 100 rows"),
        (("--photo", "4000x6000", "--rows", "1" + "0" * 400, "--grid-canvas", "g.svg"), 2, "1 to 100 rows"),
        (("--photo", "4000x6000", "--square", "2", "--grid-canvas", "g.svg"), 2, "is not the side of a square"),
        (("--photo", "4000x6000", "--square", "9 m", "--grid-canvas", "g.svg"), 2, "is not the side of a square"),
        (("--photo", "4000x6000", "--square", "900 cm", "--grid-canvas", "g.svg"), 1, "larger than the canvas"),
        (("--photo", "4000x6000", "--square", "1 mm", "--grid-canvas", "g.svg"), 1, "too small to draw"),
        (("--photo", "4000x6000", "--square", "2 in", "--rows", "8", "--grid-canvas", "g.svg"), 2, "not allowed with"),
        (("none.yaml", "--photo", "4000x6000"), 1, "none.yaml"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(  # noqa: PLR0917 - the columns of the table
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Said,
    words: tuple[str, ...],
    status: int,
    sentence: str,
) -> None:
    monkeypatch.chdir(tmp_path)

    found, err = refused(capsys, "compose", *words)

    assert found == status
    assert sentence in err
    assert list(tmp_path.iterdir()) == []


def test_forty_heads_are_taken_and_forty_one_are_refused(capsys: Said) -> None:
    heads = [word for n in range(41) for word in ("--head", f"N{n}:{90 * n},{900 + n},{90 * n + 80},{1000 + n}")]

    assert main(["compose", "--photo", "4000x6000", *heads[:80]]) == 0
    out = capsys.readouterr().out
    assert "and 36 others" in out
    status, err = refused(capsys, "compose", "--photo", "4000x6000", *heads)
    assert (status, "41 heads are marked" in err) == (1, True)


def test_hostile_names_never_print_a_steering_character(tmp_path: Path, capsys: Said) -> None:
    name = "An\x1b]0;owned\x07na\u202e\x9b31m"
    target = tmp_path / "grid\x1b[2J.svg"
    head = ("--head", f"{name}:1500,1200,2200,2100")

    for words in ((), ("--json",), ("--grid-canvas", str(target))):
        assert main(["compose", "--photo", "4000x6000", *head, *words]) == 0
        out, err = capsys.readouterr()
        assert not _STEERING.search(out + err)
    assert "\x1b" not in target.read_text()


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        ((), 2, "arguments are required: PLAN"),
        (("plan.yaml", "--layers", "0"), 2, "1 to 100 layers"),
        (("plan.yaml", "--layers", "1" + "0" * 400), 2, "1 to 100 layers"),
        (("plan.yaml", "--layers", "two"), 2, "invalid int value"),
        (("plan.yaml", "--waste", "-1"), 2, "waste is 0 to 500 %"),
        (("plan.yaml", "--waste", "inf"), 2, "waste is 0 to 500 %"),
        (("plan.yaml", "--tube", "nan"), 2, "a tube holds 1 to 1000 ml"),
        (("plan.yaml", "--head-area", "190"), 2, "--head-area is an area such as"),
        (("plan.yaml", "--head-area", "0 cm2"), 2, "--head-area is an area such as"),
        (("none.yaml",), 1, "none.yaml"),
    ],
)
def test_what_cannot_be_prepared_is_refused_in_one_sentence(  # noqa: PLR0917 - the columns of the table
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Said,
    words: tuple[str, ...],
    status: int,
    sentence: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text("canvases: [{name: Hall, size: 16 x 20 in}]\npasses: [{name: a, passages: [b]}]\n")

    found, err = refused(capsys, "prepare", *words)

    assert found == status
    assert sentence in err


_WORDS: Final = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0/"), max_size=30)
_FIGURES: Final = st.from_regex(r"[A-Za-z]{0,3}:?-?[0-9]{0,6}([,x ]-?[0-9]{0,6}){0,4}( ?(cm|in|m|%))?", fullmatch=True)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.sampled_from(["--head", "--keep", "--canvas", "--life"]), _WORDS | _FIGURES), max_size=4))
def test_any_words_end_in_an_answer_or_one_sentence(capsys: Said, options: list[tuple[str, str]]) -> None:
    words = [f"{name}={value}" for name, value in options]

    status = main(["compose", "--photo", "400x600", "--json", *words])
    out, err = capsys.readouterr()

    assert bool(out) == (status == 0)
    assert len(err.splitlines()) == (status != 0)
    assert not _STEERING.search(err)
