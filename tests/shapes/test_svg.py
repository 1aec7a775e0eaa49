"""The file of shapes: written and read back the same, edited elsewhere, and drawn back by another program."""

import io
from dataclasses import replace

import numpy as np
import pytest
import resvg_py
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image

from coach.shapes.features import FEATURES, Feature
from coach.shapes.outlines import area_of
from coach.shapes.polygons import GRID_PX, inside_mask
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg import read_svg, write_svg
from tests.shapes.test_shape_map import shape_map, square

MAP = ShapeMap(
    photo_width_px=200,
    photo_height_px=150,
    photo_sha256="5e" * 32,
    next_number=8,
    borders={Feature.EYES: (square(10, 10, 60),), Feature.GROUND: (square(70, 10, 60),)},
    shapes=(
        OutlinedShape(id="k1", name="eye left, dark", feature=Feature.EYES, outline=(square(10, 10, 20),)),
        OutlinedShape(
            id="k5", name="eye left, light", feature=Feature.EYES, outline=(square(30, 10, 40), square(40, 20, 10))
        ),
        OutlinedShape(id="k7", name="上 <ground> & «ß»", feature=Feature.GROUND, outline=(square(70.3, 10, 60),)),
    ),
)
FILE = write_svg(MAP)


def drawn(content: bytes, id_: str) -> NDArray[np.bool_]:
    """Return the pixels that an independent program fills for one shape."""
    seen = "fill: black; fill-opacity: 1; shape-rendering: crispEdges"
    sheet = f"* {{ fill: none; stroke: none }} #{id_}, #stamp {{ {seen} }}"
    png = resvg_py.svg_to_bytes(svg_string=content.decode(), style_sheet=sheet, skip_system_fonts=True)
    return np.asarray(Image.open(io.BytesIO(bytes(png))))[..., 3] > 127


def edited(old: str, new: str, content: bytes = FILE) -> bytes:
    assert old.encode() in content
    return content.replace(old.encode(), new.encode(), 1)


def path_of(id_: str) -> str:
    start = FILE.decode().index(f'<path id="{id_}"')
    return FILE.decode()[start : FILE.decode().index("</path>", start) + len("</path>")]


LIGHT = path_of("k5")


def instead(tag: str, attributes: str) -> str:
    return f'<{tag} id="k5" {attributes}><title>eye left, light</title></{tag}>'


def test_what_is_written_is_read_back_the_same() -> None:
    assert read_svg(FILE) == (MAP, ())
    assert read_svg(write_svg(shape_map())) == (shape_map(), ())
    assert write_svg(MAP, FILE) == FILE


TENTHS = st.integers(0, 1000).map(lambda tenths: tenths / 10)
NAMES = st.text(st.characters(codec="utf-8"), min_size=1).filter(lambda text: text.isprintable() and text.strip())


@given(
    st.dictionaries(
        st.integers(1, 999_999),
        st.tuples(NAMES, st.sampled_from(FEATURES), TENTHS, TENTHS, st.integers(1, 400)),
        min_size=1,
        max_size=6,
    )
)
def test_any_map_is_read_back_as_it_was_written(
    drawn_shapes: dict[int, tuple[str, Feature, float, float, int]],
) -> None:
    shapes = [
        OutlinedShape(
            id=f"k{number}",
            name=f"{' '.join(name.split())} {number}",
            feature=feature,
            outline=(square(left, top, side / 10),),
        )
        for number, (name, feature, left, top, side) in drawn_shapes.items()
    ]
    rounded = [replace(one, outline=(tuple((round(x, 1), round(y, 1)) for x, y in one.outline[0]),)) for one in shapes]
    found = replace(
        MAP,
        next_number=1 + max(drawn_shapes),
        borders={},
        shapes=tuple(sorted(rounded, key=lambda one: [other.feature for other in rounded].index(one.feature))),
    )
    assert read_svg(write_svg(found)) == (found, ())
    over = read_svg(write_svg(found, FILE))[0]  # the groups of a file that is there keep their order
    assert (over.next_number, set(over.shapes)) == (max(8, found.next_number), set(found.shapes))


def test_another_program_draws_the_shapes_where_they_lie() -> None:
    """The pixels of resvg, a renderer of SVG of its own, against ours."""
    content = write_svg(shape_map())
    for one in shape_map().shapes[::4]:
        theirs = drawn(content, one.id)
        ours = inside_mask([np.array(ring) for ring in one.outline], (0, 0, *theirs.shape[::-1]))
        assert np.mean(theirs != ours) < 1e-4
        assert theirs.sum() == pytest.approx(area_of(list(one.outline)), rel=0.02, abs=20)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('<g id="eyes">', '<g id="eyes" transform="translate(20) rotate(10 60 60) scale(1.1,0.9)">'),
        ('<g id="eyes">', '<g transform="matrix(.9 .1 -.1 .9 12 3)"><g id="eyes" transform="skewX(8),skewY(-4)">'),
        ('<g id="eyes">', '<g id="eyes" style="opacity:.5; transform:translate(5, 7) rotate(3)">'),
        (LIGHT, instead("path", 'd="m30 10 40-1v41H30v-40zM40,20l0 10 10 0 0-10z"')),
        (LIGHT, instead("path", 'd="M30 10C80 0 80 90 30 60S10 30 30 10ZM40 20q20 5 10 20t-10 0z"')),
        (LIGHT, instead("path", 'd="M30 40a20 30 20 1 1 40 5A30 20 0 01 30 80zM40 50h9v9h-9z"')),
        (LIGHT, instead("path", 'style="fill-rule:nonzero" d="M30 10h40v40h-40zM40 20h40v10h-40z"')),
        (LIGHT, instead("path", 'fill-rule="nonzero" d="M30 10h60v60h-60zM40 20v20h20v-20z"')),
        (LIGHT, instead("path", 'd="M30 10h60v60h-60z m10 10h20v20h-20z"')),
        (LIGHT, instead("rect", 'x="30" y="12" width="50px" height="40" rx="8" transform="rotate(5)"')),
        (LIGHT, instead("ellipse", 'cx="60" cy="50" rx="30" ry="22.5"')),
        (LIGHT, instead("circle", 'cx="60" cy="50" r="33"')),
        (LIGHT, instead("polygon", 'points="30,10 70,20 60 60"')),
        (LIGHT, instead("polyline", 'points="30,10 70,20 60 60 41.5,40"')),
        (LIGHT, instead("use", 'href="#stamp" x="20" y="9"') + '<defs><path id="stamp" d="M9 9h40v30z"/></defs>'),
        ('<g id="eyes">', '<g id="layer1"><title>Layer</title><g id="eyes">'),
    ],
)
def test_what_a_drawing_program_made_of_a_shape_is_where_another_program_draws_it(old: str, new: str) -> None:
    content = edited(old, new)
    if new.count("<g") == 2:
        content = edited("</g>", "</g></g>", content)
    (read, problems), theirs = read_svg(content), drawn(content, "k5")
    found = next(one for one in read.shapes if one.id == "k5")
    ours = inside_mask([np.array(ring) for ring in found.outline], (0, 0, *theirs.shape[::-1]))
    assert problems == ()
    assert ours.sum() > 400
    assert np.mean(theirs != ours) < 1e-3
    again = read_svg(write_svg(read, content))[0]
    assert again == read


def test_a_curve_is_flattened_to_a_quarter_of_a_pixel() -> None:
    """A circle of 2,000 pixels across: the area between it and a line so near is at most its length times 0.25."""
    content = edited(LIGHT, instead("circle", 'cx="1" cy="1" r="10" transform="scale(100)"'))
    found = next(one for one in read_svg(content)[0].shapes if one.id == "k5")
    away = [abs(np.hypot(x - 100, y - 100) - 1000) for x, y in found.outline[0]]
    middles = np.array(found.outline[0]) / 2 + np.roll(found.outline[0], 1, axis=0) / 2
    assert max(away) <= GRID_PX
    assert max(abs(np.hypot(x - 100, y - 100) - 1000) for x, y in middles) <= 0.25


def test_what_is_not_ours_is_left_alone() -> None:
    own = '<g xmlns:x="urn:x" id="notes"><!-- mine --><text x:y="1">warm</text><image href="photo.jpg"/></g>'
    content = edited("</svg>", f"{own}<style>.a{{fill:red}}</style></svg>")
    content = edited('<path id="k1"', '<path class="a" style="fill:#f00;stroke:blue" id="k1"', content)
    first, *others = MAP.shapes
    moved = replace(first, outline=(square(11, 11, 18),), name="eye left, darkest")
    written = write_svg(replace(MAP, shapes=(moved, *others)), content).decode()
    assert own in written
    assert "<style>.a{fill:red}</style>" in written
    assert '<path class="a" style="fill:#f00;stroke:blue" id="k1" d="M11,11 29,11 29,29 11,29Z">' in written
    assert path_of("k7") in written
    assert read_svg(written.encode()) == (replace(MAP, shapes=(moved, *others)), ())


def test_shapes_come_go_and_change_their_feature_in_a_file_that_is_there() -> None:
    first, second, third = MAP.shapes
    new = OutlinedShape(id="k8", name="cheek", feature=Feature.FACE, outline=(square(0, 0, 9),))
    after = replace(MAP, next_number=9, shapes=(second, third, replace(first, feature=Feature.GROUND), new))
    assert read_svg(write_svg(after, FILE)) == (after, ())
    turned = edited('<g id="ground">', '<g id="ground" transform="rotate(30) scale(2)">')
    assert read_svg(write_svg(after, turned))[0].shapes == after.shapes
    bordered = replace(MAP, borders={Feature.EYES: (square(10, 10, 61),), Feature.FACE: (square(0, 0, 9),)})
    assert read_svg(write_svg(bordered, FILE)) == (bordered, ())
    assert read_svg(write_svg(replace(MAP, shapes=MAP.shapes[::-1]), FILE))[0].shapes == (second, first, third)
