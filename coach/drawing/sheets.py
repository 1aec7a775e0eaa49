"""The line drawing at true size on sheets of paper that are cut along their marks and joined edge to edge."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Final

from coach.composition.sizes import ISO_MM
from coach.composition.transfer_grid import label
from coach.drawing.lettering import Lettering
from coach.drawing.lines import FRAME_MM, PENS, Line, Placing
from coach.plan.commission import CanvasSize

if TYPE_CHECKING:
    from fpdf import FPDF

    from coach.shapes.edges import EdgeKind
    from coach.shapes.outlines import Point

PAPERS_MM: Final = {"A4": ISO_MM["A4"], "Letter": (215.9, 279.4)}
"""Width and height of a sheet that stands upright. Source: ISO 216; ANSI/ASME Y14.1, size A (from memory)."""

SIDE_MM: Final = 12.0
FOOT_MM: Final = 20.0
"""Paper left free at the sides and the head, and at the foot, where the scale bar is."""

BAR_MM: Final = 100.0
_TICK_MM: Final = 10.0
_MARK_MM: Final = (1.5, 7.5)
"""Crop marks run so far from the corner of the drawing."""

_LETTERS_PT: Final = 8.0
_PICTURE_PX: Final = 64
_MM_PER_PT: Final = 25.4 / 72
_DAY_0: Final = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)
"""Stands for the day of writing, so that the same drawing is the same file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet: its name, and the part of the canvas that it shows, in millimetres from the top left corner."""

    name: str
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


def sheets_of(canvas: CanvasSize, paper_mm: tuple[float, float]) -> list[Sheet]:
    """Return the sheets that cover a canvas, row by row, all of one size, on paper of this width and height."""
    columns = ceil(canvas.width_mm / (paper_mm[0] - 2 * SIDE_MM))
    rows = ceil(canvas.height_mm / (paper_mm[1] - SIDE_MM - FOOT_MM))
    width_mm, height_mm = canvas.width_mm / columns, canvas.height_mm / rows
    return [
        Sheet(
            name=label(column, row),
            left_mm=column * width_mm,
            top_mm=row * height_mm,
            width_mm=width_mm,
            height_mm=height_mm,
        )
        for row in range(rows)
        for column in range(columns)
    ]


def drawing_pdf(
    lines: Sequence[Line], placing: Placing, heading: str, note: str, *, paper: str, lettering: Lettering
) -> tuple[bytes, int]:
    """Return the lines at true size on as many sheets as the canvas takes, as PDF, and how many they are.

    Paper that lies is taken where fewer sheets of it are needed.

    Args:
        lines: What is drawn.
        placing: Where it lies on the canvas.
        heading: What stands over each sheet; any text.
        note: What else must be known of the drawing, such as whose the photo is; may be empty.
        paper: Name of the paper in `PAPERS_MM`.
        lettering: What the heading is written in where it is not plain.
    """
    from fpdf import FPDF  # noqa: PLC0415  loaded when a drawing is made

    upright = PAPERS_MM[paper]
    paper_mm = min((upright, upright[::-1]), key=lambda sides: len(sheets_of(placing.canvas, sides)))
    sheets = sheets_of(placing.canvas, paper_mm)
    pdf = FPDF(unit="mm", format=paper_mm)
    pdf.alias_nb_pages("")  # no text of the painter's is taken for the number of sheets
    pdf.set_auto_page_break(False)
    pdf.set_creation_date(_DAY_0)
    pdf.set_title(heading)
    pdf.set_subject(note)
    drawn = [(line.edge, placing.on_canvas(line.points)) for line in lines]
    for sheet in sheets:
        pdf.add_page()
        with pdf.rect_clip(SIDE_MM, SIDE_MM, sheet.width_mm, sheet.height_mm):
            _draw_lines(pdf, drawn, sheet)
        _draw_marks(pdf, sheet)
        _draw_bar(pdf, paper_mm[1])
        where = f"sheet {sheet.name} of {label(0, 0)} to {sheets[-1].name}" if len(sheets) > 1 else ""
        _write(pdf, ", ".join(filter(None, (heading, where))), lettering)
    return bytes(pdf.output()), len(sheets)


def _draw_lines(pdf: "FPDF", drawn: "Sequence[tuple[EdgeKind, Sequence[Point]]]", sheet: Sheet) -> None:
    left, top = SIDE_MM - sheet.left_mm, SIDE_MM - sheet.top_mm
    right_mm, bottom_mm = sheet.left_mm + sheet.width_mm, sheet.top_mm + sheet.height_mm
    for edge, points in drawn:
        xs, ys = zip(*points, strict=True)
        if min(xs) <= right_mm and max(xs) >= sheet.left_mm and min(ys) <= bottom_mm and max(ys) >= sheet.top_mm:
            pen = PENS[edge]
            pdf.set_line_width(pen.width_mm)
            pdf.set_dash_pattern(*pen.dash_mm)
            pdf.polyline([(x + left, y + top) for x, y in points])
    pdf.set_dash_pattern()


def _draw_marks(pdf: "FPDF", sheet: Sheet) -> None:
    """Draw the marks along which the sheet is cut, outside its corners."""
    near_mm, far_mm = _MARK_MM
    pdf.set_line_width(FRAME_MM)
    for x, outwards in ((SIDE_MM, -1), (SIDE_MM + sheet.width_mm, 1)):
        for y, upwards in ((SIDE_MM, -1), (SIDE_MM + sheet.height_mm, 1)):
            pdf.line(x + outwards * near_mm, y, x + outwards * far_mm, y)
            pdf.line(x, y + upwards * near_mm, x, y + upwards * far_mm)


def _draw_bar(pdf: "FPDF", paper_height_mm: float) -> None:
    """Draw the scale bar, with a tick every centimetre, and what it is for."""
    y = paper_height_mm - 6.0
    pdf.line(SIDE_MM, y, SIDE_MM + BAR_MM, y)
    for number in range(round(BAR_MM / _TICK_MM) + 1):
        x = SIDE_MM + number * _TICK_MM
        pdf.line(x, y, x, y - 2)
    pdf.set_font("Helvetica", size=_LETTERS_PT)
    pdf.text(SIDE_MM + BAR_MM + 3, y, f"{BAR_MM:g} mm if printed at true size, not fitted to the page")


def _write(pdf: "FPDF", text: str, lettering: Lettering) -> None:
    """Write a text over the sheet; as a picture where the fonts that every reader of PDF has do not do."""
    from PIL import Image, ImageDraw  # noqa: PLC0415  loaded when a drawing is made

    x, y = SIDE_MM + _MARK_MM[1] - _MARK_MM[0], 6.0
    if all(sign.isprintable() and sign.encode("latin-1", "ignore") for sign in text):
        pdf.text(x, y, text)
        return
    written, font = lettering.written(text, _PICTURE_PX)
    left, top, right, bottom = font.getbbox(written)
    picture = Image.new("L", (round(right - left) + 1, round(bottom - top) + 1), 255)
    ImageDraw.Draw(picture).text((-left, -top), written, fill=0, font=font)
    height_mm = picture.height * _LETTERS_PT / _PICTURE_PX * _MM_PER_PT
    pdf.image(picture, x, y - height_mm, h=height_mm)
