"""Drawings for the studio: sizes read back in millimetres by other programs' readers, colours by the standards."""

import io
import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

import numpy as np
import pytest
import shapely
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageFont
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream
from scipy.cluster.hierarchy import fcluster, linkage
from skimage.color import lab2rgb

from coach.colour.light import linear_of, luminance_of, value_of
from coach.composition.crop import Crop
from coach.drawing.flat import in_few, value_studies
from coach.drawing.lettering import Lettering
from coach.drawing.lines import Line, Placing, drawing_svg, lines_of
from coach.drawing.sheets import PAPERS_MM, drawing_pdf, sheets_of
from coach.drawing.wall import key_rows, wall_picture, wall_png, wall_svg
from coach.plan.commission import CanvasSize
from coach.plan.reading import read_plan
from coach.shapes.edges import EdgeKind
from coach.shapes.features import Feature
from coach.shapes.outlines import Ring
from coach.shapes.shape import Neighbour, Shape

SVG = "{http://www.w3.org/2000/svg}"
MM_PER_PT = 25.4 / 72
CROP = Crop(left_px=10, top_px=20, width_px=400, height_px=500)
CANVAS = CanvasSize(width_mm=400, height_mm=500)
LARGE = CanvasSize(width_mm=800, height_mm=1000)


def box(left: float, top: float, right: float, bottom: float) -> Ring:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def shape(name: str, lightness: float, edges: dict[str, EdgeKind], *outline: Ring) -> Shape:
    return Shape(
        id=name,
        feature=Feature.GROUND,
        name=f"{name} <&>",
        lab=(lightness, 0.0, 0.0),
        value=lightness / 10,
        spread_l=0.0,
        area_px=shapely.Polygon(outline[0], outline[1:]).area,
        reach_px=20.0,
        outline=outline,
        neighbours=tuple(Neighbour(id=near, edge=edge, width_frac=0, length_px=1) for near, edge in edges.items()),
    )


def font_of(signs: str) -> ImageFont.FreeTypeFont:
    """Return a font that has these signs only, each a block."""
    pen = TTGlyphPen(None)
    for point, move in zip(box(0, 0, 500, 700), (pen.moveTo, pen.lineTo, pen.lineTo, pen.lineTo), strict=True):
        move(point)
    pen.closePath()
    font = FontBuilder(1000)
    font.setupGlyphOrder([".notdef", "block"])
    font.setupCharacterMap({ord(sign): "block" for sign in signs})
    font.setupGlyf({".notdef": TTGlyphPen(None).glyph(), "block": pen.glyph()})
    font.setupHorizontalMetrics({".notdef": (600, 0), "block": (600, 0)})
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({})
    font.setupOS2()
    font.setupPost()
    content = io.BytesIO()
    font.save(content)
    return ImageFont.truetype(io.BytesIO(content.getvalue()), 10)


PLAIN = ImageFont.load_default(10)
assert isinstance(PLAIN, ImageFont.FreeTypeFont)
LETTERS = Lettering([PLAIN, font_of("Зал")])
HARD, SOFT = EdgeKind.HARD, EdgeKind.SOFT
INNER = box(110, 120, 210, 320)
SHAPES = (
    shape("k1", 20, {"k2": SOFT, "k3": HARD}, box(10, 20, 300, 520), INNER),
    shape("k2", 80, {"k1": SOFT}, ((300, 20), (410, 20), (410, 520), (300, 520))),
    shape("k3", 50, {"k1": HARD}, INNER),
)


def svg_points(path: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.attrib["d"])]


def test_each_border_is_one_line_and_the_frame_is_none() -> None:
    found = {line.edge: shapely.LineString(line.points).length for line in lines_of(SHAPES)}
    assert found == {SOFT: 500, HARD: 600}


def test_a_line_that_no_neighbour_shares_is_drawn_firm() -> None:
    moved = shape("k2", 80, {"k1": SOFT}, ((301, 20), (410, 20), (410, 520), (301, 520)))
    firm = [line for line in lines_of((SHAPES[0], moved)) if line.edge is EdgeKind.FIRM]
    assert sorted(shapely.LineString(line.points).length for line in firm) == [500, 500, 600]


@pytest.mark.parametrize(("canvas", "times"), [(CANVAS, 1), (LARGE, 2)])
@pytest.mark.parametrize("is_mirrored", [False, True])
def test_the_svg_is_as_large_as_the_canvas_and_its_lines_lie_where_the_photo_has_them(
    canvas: CanvasSize, times: int, is_mirrored: bool
) -> None:
    placing = Placing(canvas=canvas, crop=CROP, is_mirrored=is_mirrored)
    root = ET.fromstring(drawing_svg(lines_of(SHAPES), placing, "Hall <&> 林\x1b\ud800", ""))  # noqa: S314  our own text
    assert (root.attrib["width"], root.attrib["height"]) == (f"{400 * times}mm", f"{500 * times}mm")
    assert root.attrib["viewBox"] == f"0 0 {400 * times} {500 * times}"
    assert root.findtext(f"{SVG}title") == "Hall <&> 林"
    paths = {path.attrib["id"]: path for path in root.iter(f"{SVG}path")}
    assert "stroke-dasharray" in paths["soft"].attrib
    assert "stroke-dasharray" not in paths["hard"].attrib
    bounds = shapely.MultiPoint(svg_points(paths["hard"])).bounds
    left, right = (200, 300) if is_mirrored else (100, 200)
    assert bounds == pytest.approx((left * times, 100 * times, right * times, 300 * times))


def test_paper_has_its_standard_size() -> None:
    """ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: size A is 8.5 x 11 in (both from memory)."""
    assert PAPERS_MM["A4"] == (210, 297)
    assert PAPERS_MM["Letter"] == pytest.approx((8.5 * 25.4, 11 * 25.4))


@given(st.floats(20, 5000), st.floats(20, 5000), st.sampled_from(sorted(PAPERS_MM)))
def test_the_sheets_together_are_the_canvas(width_mm: float, height_mm: float, paper: str) -> None:
    sheets = sheets_of(CanvasSize(width_mm, height_mm), PAPERS_MM[paper])
    parts = shapely.box(
        *np.array(
            [(one.left_mm, one.top_mm, one.left_mm + one.width_mm, one.top_mm + one.height_mm) for one in sheets]
        ).T
    )
    assert shapely.area(parts).sum() == pytest.approx(width_mm * height_mm)
    assert shapely.MultiPolygon(parts.tolist()).bounds == pytest.approx((0, 0, width_mm, height_mm))
    assert len({one.name for one in sheets}) == len(sheets)
    assert all(one.width_mm <= PAPERS_MM[paper][0] - 20 and one.height_mm <= PAPERS_MM[paper][1] - 30 for one in sheets)


def pdf_lines(page: PageObject, reader: PdfReader) -> Iterator[tuple[bool, list[tuple[float, float]]]]:
    """Yield whether each line is dashed, and its points in mm from the top left corner of the sheet."""
    points: list[tuple[float, float]] = []
    is_dashed = False
    for words, sign in ContentStream(page.get_contents(), reader).operations:
        if sign == b"d":
            is_dashed = bool(words[0])
        elif sign in (b"m", b"l"):
            points = ([] if sign == b"m" else points) + [
                (float(words[0]) * MM_PER_PT, (float(page.mediabox.height) - float(words[1])) * MM_PER_PT)
            ]
        elif sign == b"S" and points:
            yield is_dashed, points
            points = []


@pytest.mark.parametrize("paper", sorted(PAPERS_MM))
@pytest.mark.parametrize("canvas", [CANVAS, LARGE, CanvasSize(width_mm=160, height_mm=200)])
def test_the_pdf_is_true_to_size_and_its_sheets_join(paper: str, canvas: CanvasSize) -> None:
    """Media box, scale bar, crop marks and lines as another library reads them."""
    placing = Placing(canvas=canvas, crop=CROP)
    content, count = drawing_pdf(lines_of(SHAPES), placing, "Hall", "", paper=paper, lettering=LETTERS)
    reader = PdfReader(io.BytesIO(content))
    assert len(reader.pages) == count
    joined, covered = [], 0.0
    for page in reader.pages:
        paper_mm = (float(page.mediabox.width) * MM_PER_PT, float(page.mediabox.height) * MM_PER_PT)
        assert sorted(paper_mm) == pytest.approx(PAPERS_MM[paper], abs=0.01)
        lines = list(pdf_lines(page, reader))
        lengths = [shapely.LineString(points).length for _, points in lines]
        assert any(length == pytest.approx(100, abs=0.02) for length in lengths)
        marks = np.array(
            [points for _, points in lines if shapely.LineString(points).length == pytest.approx(6, abs=0.02)]
        )
        assert len(marks) == 8
        level = marks[np.isclose(marks[:, 0, 1], marks[:, 1, 1])]
        upright = marks[np.isclose(marks[:, 0, 0], marks[:, 1, 0])]
        covered += np.ptp(level[:, 0, 1]) * np.ptp(upright[:, 0, 0])
        joined += [points for is_dashed, points in lines if not is_dashed and len(points) == 5]
    assert covered == pytest.approx(canvas.width_mm * canvas.height_mm, rel=1e-3)
    sides = {tuple(np.ptp(np.array(points), axis=0).round(1).tolist()) for points in joined}
    assert sides == {(canvas.width_mm / 4, canvas.height_mm * 0.4)}


def test_a_heading_is_written_as_it_stands_or_drawn() -> None:
    def text_of(heading: str) -> tuple[str, int]:
        placing = Placing(canvas=CanvasSize(width_mm=160, height_mm=200), crop=CROP)
        content, _ = drawing_pdf([], placing, heading, "rights", paper="A4", lettering=LETTERS)
        page = PdfReader(io.BytesIO(content)).pages[0]
        return page.extract_text(), len(page.images)

    said, pictures = text_of("Büro {nb} **x**")
    assert "Büro {nb} **x**" in said
    assert pictures == 0
    assert text_of("Зал")[1] == 1


def test_signs_that_no_font_has_are_told() -> None:
    assert LETTERS.missing(["Hall", "Зал", "林"]) == ["林"]
    assert LETTERS.written("林 Hall", 10)[0] == "? Hall"
    assert LETTERS.written("Зал", 10)[1].getlength("З") == 6


def test_few_values_are_ward_s_groups() -> None:
    """The groups of a general library's Ward clustering, on shapes of one area."""
    values = np.random.default_rng(5).uniform(0, 10, 40)
    for count in (2, 3, 6, 9):
        theirs = fcluster(linkage(values[:, None], "ward"), count, "maxclust")
        means = {label: values[theirs == label].mean() for label in set(theirs.tolist())}
        assert in_few(values, np.ones(40), count) == pytest.approx([means[label] for label in theirs.tolist()])


def test_a_study_shows_the_values_that_paint_reaches() -> None:
    """Greys read back by ASTM D1535."""
    studies = dict(value_studies(SHAPES, CROP, lambda value: 2 + 0.75 * value))
    assert sorted(studies) == [2, 3]
    picture = Image.open(io.BytesIO(studies[3]))
    assert picture.size == (1600, 2000)
    greys = [picture.getpixel((4 * x, 4 * y)) for x, y in ((20, 20), (350, 100), (150, 200))]
    found = value_of(luminance_of(linear_of(np.array(greys)[:, None] / 255 * np.ones(3))))
    assert found == pytest.approx([3.5, 8.0, 5.75], abs=0.03)


PLAN = """
canvases: [Hall]
palette: [umber]
mixtures:
  - {name: "<deep> shade", parts: {umber: 1}}
passes:
  - name: block-in
    passages: [{name: large darks, shapes: [k1, k3], mixture: <deep> shade}, a check]
  - name: eyes
    passages: [{name: "iris & lid", shapes: [k3]}, {name: gone, shapes: [k9]}]
"""


def test_the_wall_has_the_passages_their_piles_and_their_numbers() -> None:
    rows = key_rows(SHAPES, read_plan(PLAN, "made"))
    assert [(row.heading, row.number, row.name, row.pile, row.shapes) for row in rows] == [
        ("block-in", 1, "large darks", "<deep> shade", (0, 2)),
        ("eyes", 2, "iris & lid", "", (2,)),
    ]
    wall = wall_picture(SHAPES, CROP, rows, "The <keeper>", "Consent: given")
    root = ET.fromstring(wall_svg(wall))  # noqa: S314  our own text
    texts = [one.text for one in root.iter(f"{SVG}text")]
    assert texts[:2] == ["1", "1,2"]
    assert {"The <keeper>", "Consent: given", "block-in", "large darks", "<deep> shade", "iris & lid"} <= set(texts)
    path = next(root.iter(f"{SVG}path"))
    red, green, blue = (int(path.attrib["fill"][at : at + 2], 16) / 255 for at in (1, 3, 5))
    assert (red, green, blue) == pytest.approx(lab2rgb(np.array([20.0, 0, 0])), abs=0.003)
    picture = Image.open(io.BytesIO(wall_png(wall, LETTERS)))
    assert picture.width / picture.height == pytest.approx(wall.width / wall.height, rel=0.01)
    assert picture.getpixel((30, 30)) == (round(255 * red),) * 3


def test_without_passages_the_shapes_stand_in_the_key_themselves() -> None:
    rows = key_rows(SHAPES, None)
    assert [(row.heading, row.name) for row in rows] == [("ground", "k1 <&>"), ("", "k2 <&>"), ("", "k3 <&>")]


def test_a_line_outside_the_canvas_is_on_no_sheet() -> None:
    placing = Placing(canvas=CanvasSize(width_mm=160, height_mm=200), crop=CROP)
    outside = Line(points=((0, 0), (9, 9)), edge=EdgeKind.SOFT)
    content, _ = drawing_pdf([outside], placing, "", "", paper="A4", lettering=LETTERS)
    reader = PdfReader(io.BytesIO(content))
    assert not any(is_dashed for is_dashed, _ in pdf_lines(reader.pages[0], reader))
