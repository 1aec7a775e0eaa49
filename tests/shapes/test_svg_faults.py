"""What is wrong with a file of shapes is said with title and line and never guessed."""

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.shapes.features import Feature
from coach.shapes.shape_map import OutlinedShape
from coach.shapes.svg import read_svg, write_svg
from coach.shapes.svg_reading import MOST_BYTES, SvgError
from tests.shapes.test_shape_map import square
from tests.shapes.test_svg import FILE, LIGHT, MAP, edited, instead, path_of


def said(content: bytes) -> list[str]:
    return [problem.sentence("map.svg") for problem in read_svg(content)[1]]


def written_again(content: bytes) -> bytes:
    """Return a file with its shapes written into it anew, which reads the same."""
    read = read_svg(content)[0]
    written = write_svg(read, content)
    assert read_svg(written)[0] == read
    return written


@pytest.mark.parametrize(
    ("tag", "attributes", "sentence"),
    [
        ("path", 'd="M30 10 70 50V10L30 50z"', "crosses itself; draw its outline without crossings"),
        ("path", 'd="M30 10h40v40h-40zM50 20h40v9h-40z"', "crosses itself; draw its outline without crossings"),
        ("path", 'd="M30 10h400v40z"', "reaches beyond the photo of 200 x 150 pixels; draw its outline inside"),
        ("path", 'd="M30 10h40v40h"', "is no path that SVG knows"),
        ("path", 'd="M30 10 40"', "is no path that SVG knows"),
        ("path", 'd="M30 10 40Z"', "has a point without its second number"),
        ("path", 'd="M30 10h40v40h-40z and so on"', "is no path that SVG knows"),
        ("path", "", "is no path that SVG knows"),
        ("path", 'd="M30 10h40z"', "encloses nothing"),
        ("path", 'd="M30 10h1e300v40z"', "lies a million pixels away"),
        ("path", 'd="M3 1a9e9 9e9 0 0 0 7e9 40z"', "has a curve longer than any photo"),
        ("path", 'd="M30 10h4v4z" transform="turn(3)"', "has a transform that cannot be read"),
        ("rect", 'x="3cm" width="9" height="9"', "has an x that is no number of pixels"),
        ("text", 'x="3"', 'is no outline but "text"; make it a path'),
        ("g", "", 'is no outline but "g"; make it a path'),
        ("use", 'href="#none"', "uses what is not in the file"),
        ("use", 'href="#k5"', "uses itself, or too much that uses others"),
    ],
)
def test_an_outline_that_is_odd_or_cannot_be_read_is_said(tag: str, attributes: str, sentence: str) -> None:
    content = edited(LIGHT, instead(tag, attributes))
    assert said(content) == [f'map.svg:15: k5 "eye left, light": {sentence}']
    written_again(content)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            LIGHT,
            LIGHT + path_of("k1"),
            '17: k1 "eye left, dark": stands in line 12 already; the one in that line counts',
        ),
        (LIGHT, LIGHT.replace("light", "warm"), '15: k5 "eye left, warm": was called "eye left, light"'),
        (
            LIGHT,
            '<path id="k5" d="M9 9h9v9z"/>',
            '15: k5 "eye left, light": has no title; give it the name of the shape',
        ),
        (LIGHT, LIGHT.replace("light", "dark"), '15: k5 "eye left, dark": has the name of k1; give it another'),
        (
            "</g>",
            LIGHT.replace("k5", "oval 1") + "</g>",
            '18: oval 1 "eye left, light": lies among the eyes and is no shape; give it the id k8',
        ),
        (
            "</svg>",
            '<path id="k9" d="M0 0h9v9z"><title>new</title></path></svg>',
            '26: k9 "new": lies in the group of no feature; move it into one, such as face',
        ),
        (
            '<g id="eyes">',
            '<g id="eyes" transform="matrix(1)">',
            '9: eyes "eyes": has a transform that cannot be read; nothing in it is read',
        ),
        ('<g id="eyes">', '<g id="eyes" transform="scale(0)">', '12: k1 "eye left, dark": encloses nothing'),
        (
            'viewBox="0 0 200 150"',
            'viewBox="0 0 100 75"',
            "2: the viewBox is no longer 0 0 200 150, the pixels of the photo; save the drawing with its old page",
        ),
        ("coach:photo", "photo", "2: it no longer says which photo it is of"),
    ],
)
def test_what_is_wrong_with_a_file_is_said(old: str, new: str, sentence: str) -> None:
    content = edited(old, new)
    assert f"map.svg:{sentence}" in said(content)
    assert len(said(content)) < 4
    written_again(content)


def test_a_shape_that_is_gone_is_said_once() -> None:
    content = edited(LIGHT, "")
    assert said(content) == ['map.svg: k5 "eye left, light": is no longer in the file']
    assert said(written_again(content)) == []


def test_what_cannot_be_read_stays_in_the_file_and_is_said_again() -> None:
    content = edited(LIGHT, LIGHT.replace("M30,10", "M30,10 ?"))
    read = read_svg(content)[0]
    assert [one.id for one in read.shapes] == ["k1", "k7"]
    written = write_svg(replace(read, shapes=(replace(read.shapes[0], name="shadow"), read.shapes[1])), content)
    assert "M30,10 ?" in written.decode()
    assert said(written) == ['map.svg:15: k5 "eye left, light": is no path that SVG knows']
    gone = edited(LIGHT.replace("M30,10", "M30,10 ?"), "", written)
    assert said(gone) == ['map.svg: k5 "eye left, light": is no longer in the file']


def test_numbers_are_never_used_again() -> None:
    fewer = replace(MAP, shapes=MAP.shapes[:1], next_number=2)
    assert read_svg(write_svg(fewer, FILE))[0].next_number == 8
    assert read_svg(edited("urn:portrait-coach", "urn:none"))[0].next_number == 8


def bomb() -> str:
    """Return entities that unpack to a billion words."""
    made = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
    return f'<!DOCTYPE svg [<!ENTITY e0 "word">{made}]><svg>&e9;</svg>'


DAMAGED = "it is not whole XML; save it again"


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "this is not an SVG file; a drawing program saves one"),
        (b"\x89PNG\r\n\x1a\n\0\0\0", "this is not an SVG file; a drawing program saves one"),
        (b"\x1f\x8b\x08", "the file is compressed; save it as plain SVG"),
        (b"passes: [eyes]", "this is not an SVG file; a drawing program saves one"),
        (b"<html><svg/></html>", "this is XML but no SVG; a drawing program saves one"),
        (b"<svg/>", "this is XML but no SVG; a drawing program saves one"),
        (FILE[:-20], f"the file is damaged at line 24: {DAMAGED}"),
        (FILE.replace(b"eyes", b"\xff"), f"the file is damaged at line 5: {DAMAGED}"),
        (b"<g>" * 5000, f"the file is damaged at line 1: {DAMAGED}"),
        (bomb().encode(), f"the file is damaged at line 1: {DAMAGED}"),
        (
            f'<!DOCTYPE svg [<!ENTITY a "{"x" * 50_000}">]><svg>{"&a;" * 50_000}</svg>'.encode(),
            f"the file is damaged at line 1: {DAMAGED}",
        ),
        (b" " * (MOST_BYTES + 1), "the file is larger than 16 MiB; this is no map of shapes"),
        (
            FILE.replace(b"</svg>", b"<g/>" * 200_001 + b"</svg>"),
            "there are more than 200000 parts in it; this is no map of shapes",
        ),
        (
            b"<svg xmlns='http://www.w3.org/2000/svg'/>",
            "it says neither a photo nor a viewBox; the shapes have no place",
        ),
    ],
)
def test_what_is_no_file_of_shapes_is_said_in_one_sentence(content: bytes, sentence: str) -> None:
    with pytest.raises(SvgError) as caught:
        read_svg(content)
    assert str(caught.value) == sentence


def test_no_other_file_is_read(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("hidden")
    kinds = f'<!DOCTYPE svg SYSTEM "{secret.as_uri()}" [<!ENTITY e SYSTEM "{secret.as_uri()}">]>'
    for told in ("eye &e;", "eye left, dark"):
        content = edited("?>", f"?>{kinds}").replace(b"eye left, dark", told.encode(), 2)
        with suppress(SvgError):
            read, problems = read_svg(content)
            assert "hidden" not in f"{read}{problems}{write_svg(read, content).decode()}"


def test_ten_thousand_shapes_are_read_and_written() -> None:
    many = tuple(
        OutlinedShape(id=f"k{no}", name=f"patch {no}", feature=Feature.GROUND, outline=(square(no % 100, no / 100, 1),))
        for no in range(1, 10_001)
    )
    found = replace(MAP, next_number=10_001, shapes=many, borders={})
    assert len(read_svg(write_svg(found))[0].shapes) == 10_000


@given(st.data())
def test_a_damaged_file_ends_in_a_sentence_or_a_map(data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(FILE) - 1))
    new = data.draw(st.binary(max_size=4) | st.text(' "<>/=MmAaZz0123456789.,-e()', max_size=6).map(str.encode))
    content = FILE[:at] + new + FILE[at + data.draw(st.integers(0, 9)) :]
    with suppress(SvgError):
        assert all(problem.sentence("f").isprintable() for problem in read_svg(content)[1])
        written_again(content)
