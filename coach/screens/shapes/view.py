"""The Shapes screen as lines of text: beside the picture the chosen shape, its value large, what it touches."""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from coach.composition.setup_cautions import photo_notes
from coach.plan.commission import Address, Passage
from coach.screens.chips import HELP, Chip, chip
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.shapes.repository import OpenedPhoto, OpenedShapes
from coach.screens.shapes.state import ShapesState, passages_of
from coach.screens.widgets.block_letters import block_lines
from coach.shapes.edges import EdgeKind
from coach.shapes.features import Feature
from coach.shapes.shape import MANY_VALUES_L, Apart, Shape, widest_brush_mm
from coach.shapes.shape_map import ShapeMap
from coach.text import padded, wrapped

EDGE_SIGNS: Final[Mapping[EdgeKind, str]] = {
    EdgeKind.HARD: "━━",
    EdgeKind.FIRM: "──",
    EdgeKind.SOFT: "╌╌",
    EdgeKind.LOST: "··",
}
"""An edge as it looks: the softer, the less of a line."""

ASKED: Final = {
    "find": "part of a shape's name: Enter finds it, Esc drops it",
    "name": "the shape's name: Enter keeps it, Esc drops it",
}
"""What a field asks for."""

CHOICES: Final = {
    "join": "What is it joined to?",
    "feature": "Where does it belong?",
    "change": "What is to change?",
}
"""What a list asks."""

_HEADS: Final = {0: "No head is found: i opens the composition.", 1: "Is this the head? Enter takes it."}
"""What is said of so many heads that were found; there the painter marks one."""

_STEPS: Final = tuple(range(1, 10))
_MOST_SAID_LINES: Final = 3
_WORDS_FROM_COLUMNS: Final = 28
_FEWEST_LINES: Final = 12
_LARGE_FROM_COLUMNS, _LARGE_FROM_LINES = 40, 30


class ShownShape(NamedTuple):
    """The chosen shape as it is told.

    Attributes:
        name: Its name.
        feature: Where it belongs.
        passages: Pass and name of the passages that hold it.
        measured: What is measured of it; None until it is.
        touching: Ids of the shapes that it touches, the longest edge first.
        names: The names of all shapes by their ids.
        area_cm2: Its area on each canvas; empty where no canvas says its size.
        mm_per_px: Millimetres on the first canvas for a pixel of the photo; None where it says no size.
        brushes_mm: The painter's brushes, where the plan names them.
        paint_value: The value in which it is painted, where the plan maps the photo's values; else None.
        notes: What is to be known of the photo, a sentence each.
    """

    name: str
    feature: Feature
    passages: tuple[Address, ...] = ()
    measured: Shape | None = None
    touching: tuple[str, ...] = ()
    names: Mapping[str, str] = {}
    area_cm2: Mapping[str, float] = {}
    mm_per_px: float | None = None
    brushes_mm: tuple[float, ...] = ()
    paint_value: float | None = None
    notes: tuple[str, ...] = ()


def shape_lines(shown: ShownShape, columns: int, lines: int, *, with_figures: bool) -> tuple[Line, ...]:
    """Return the chosen shape beside the picture: its name, its value in block letters, then what it touches.

    Args:
        shown: The shape.
        columns: Cells of a line.
        lines: Most lines; where there are few, space goes first, then the shortest edges.
        with_figures: Whether figures stand in the place of the edges.
    """
    place, _, rest = shown.name.partition(", ")
    head = [Line(row, Role.CANVAS) for row in wrapped(place, columns, 2, indent="")]
    head += [Line(row, Role.PASSAGE) for row in wrapped(rest, columns, 2, indent="")] if rest else []
    shape = shown.measured
    if shape is None:
        return _cut(head, columns, lines)
    if lines < _FEWEST_LINES:
        return _cut([*head, Line(f"value {_to_mix(shown, shape):.1f}", Role.TIME)], columns, lines)
    large = 2 if columns >= _LARGE_FROM_COLUMNS and lines >= _LARGE_FROM_LINES else 1
    *upper, last = block_lines(f"{_to_mix(shown, shape):.1f}", large)
    parts = [
        head,
        [
            *(Line(row, Role.TIME) for row in upper),
            Line(f"{last}  {_VALUE_WORDS[shown.paint_value is not None]}", Role.TIME),
        ],
        [Line(row, Role.DETAIL) for row in _scale(_to_mix(shown, shape), columns)],
        [Line(row, Role.DETAIL) for row in _size(shown, shape)],
        [Line(row, Role.DETAIL) for row in (_figures(shown, shape, columns) if with_figures else _edges(shown, shape))],
        [Line(" / ".join(address), Role.HEAD) for address in shown.passages] or [Line("in no passage", Role.HEAD)],
    ]
    left = lines - sum(map(len, parts))
    is_airy = left >= len(parts) - 1
    parts[-2] = parts[-2][: max(1, len(parts[-2]) + min(left, 0))]
    rows = [row for part in parts for row in ((*part, BLANK) if is_airy else part)]
    return _cut(rows, columns, lines)


def measured_shape(apart: tuple[ShapeMap, Apart] | None, state: ShapesState) -> Shape | None:
    """Return what is measured of the chosen shape; None where its outline has changed since."""
    shape = state.shape
    if apart is None or shape is None:
        return None
    if not any(one.id == shape.id and one.outline == shape.outline for one in apart[0].shapes):
        return None
    return next((one for one in apart[1].shapes if one.id == shape.id), None)


def shown_shape(
    state: ShapesState, photo: OpenedPhoto, measured: Shape | None, touching: Sequence[str]
) -> ShownShape | None:
    """Return the chosen shape as it is told; None where none is chosen."""
    shape = state.shape
    if shape is None:
        return None
    scales, values = photo.mm_per_px, state.plan.values
    area_px = 0.0 if measured is None else measured.area_px
    return ShownShape(
        name=shape.name,
        feature=shape.feature,
        passages=passages_of(state.plan, shape.id),
        measured=measured,
        touching=tuple(touching),
        names={one.id: one.name for one in state.shape_map.shapes},
        area_cm2={name: area_px * mm**2 / 100 for name, mm in scales.items()},
        mm_per_px=next(iter(scales.values()), None),
        brushes_mm=state.plan.brushes_mm,
        paint_value=None if values is None or measured is None else values.paint_value(measured.value),
        notes=photo_notes(state.plan),
    )


def waiting_for(opened: OpenedShapes | None, proposed: int | None = None) -> str:
    """Return what is waited for, or missing, while there are no shapes.

    Args:
        opened: What lies in the files; None until it is read.
        proposed: How many heads were found where none is marked; None while they are looked for.
    """
    if opened is None:
        return "The photo is being read."
    if opened.photo is None:
        is_named = opened.plan.photo is not None
        return "The photo cannot be shown." if is_named else "The plan names no photo: i opens the composition."
    if opened.photo.heads:
        return "The shapes are coming."
    if proposed is None:
        return "A head is being looked for."
    return _HEADS.get(proposed, "Are these the heads? Enter takes them.")


def below_text(state: ShapesState) -> str:
    """Return what stands below the picture: what was said last, else the passage in hand."""
    if state.said:
        return state.said
    if state.passage is not None and state.in_hand is not None:
        return passage_line(state.passage, state.in_hand)
    return ""


def below_line(text: str, columns: int) -> Line:
    """Return what stands below the picture on one line."""
    return fitted(Line(text, Role.NOTICE), columns)


class Beside(NamedTuple):
    """What stands beside the picture.

    Attributes:
        shape: The chosen shape; None for none.
        waits: What is waited for or missing, in a sentence, where there is no shape.
        problems: What is wrong with photo and shapes; they stand in the place of the shape until they are read.
        with_figures: Whether figures stand in the place of the edges.
    """

    shape: ShownShape | None = None
    waits: str = ""
    problems: tuple[str, ...] = ()
    with_figures: bool = False


def beside_lines(beside: Beside, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the lines beside the picture, at most `lines`, each at most `columns` cells wide."""
    if beside.problems:
        return problem_lines(beside.problems, columns, lines)
    if beside.shape is None:
        return _cut([Line(row, Role.PASSAGE) for row in wrapped(beside.waits, columns, indent="")], columns, lines)
    return shape_lines(beside.shape, columns, lines, with_figures=beside.with_figures)


def passage_line(address: Address, passage: Passage) -> str:
    """Return the passage in hand on one line."""
    count = len(passage.shapes)
    held = "no shape yet" if not count else "1 shape" if count == 1 else f"{count} shapes"
    return f"{' / '.join(address)}: {held}"


def problem_lines(problems: Sequence[str], columns: int, lines: int) -> tuple[Line, ...]:
    """Return what is wrong, each in full as far as there is room."""
    rows = [Line(row, Role.NOTICE) for problem in problems for row in wrapped(problem, columns, _MOST_SAID_LINES)]
    return _cut(rows, columns, lines)


_VALUE_WORDS: Final = ("value", "value to mix")
"""What stands beside the number, without and with a range of values in the plan."""


def _to_mix(shown: ShownShape, shape: Shape) -> float:
    """Return the value in which a shape is painted: that of the photo where the plan maps none."""
    return shape.value if shown.paint_value is None else shown.paint_value


def _scale(value: float, columns: int) -> tuple[str, str]:
    """Return the painter's scale from dark to light, with the value marked under it."""
    steps = " ".join(map(str, _STEPS))
    before, after = ("dark ", " light") if columns >= _WORDS_FROM_COLUMNS else ("", "")
    at = min(max(round(2 * (value - 1)), 0), 2 * (len(_STEPS) - 1))
    return f"{before}{steps}{after}", f"{' ' * (len(before) + at)}▲"


def _size(shown: ShownShape, shape: Shape) -> list[str]:
    rows = []
    if shape.spread_l > MANY_VALUES_L:
        rows.append("more than one value here")
    if shown.paint_value is not None:
        rows.append(f"in the photo {shape.value:.1f}")
    areas = {name: f"{area:.3g} cm²" for name, area in shown.area_cm2.items()}
    if len(set(areas.values())) == 1:
        rows.append(next(iter(areas.values())))
    else:
        rows += [f"{area} on {name}" for name, area in areas.items()]
    if shown.mm_per_px is not None:
        brush = widest_brush_mm(shape.reach_px * shown.mm_per_px, shown.brushes_mm)
        rows.append(f"brush {brush:.0f} mm" if brush >= 1 else "brush under 1 mm")
    return rows


def _edges(shown: ShownShape, shape: Shape) -> list[str]:
    """Return the shapes that it touches, each with the edge between them as it looks; without while that is open."""
    wide = max(len(kind.value) for kind in EDGE_SIGNS)
    if not shape.neighbours:
        names = [shown.names[id_] for id_ in shown.touching if id_ in shown.names]
        return [f"{padded('' if place else 'touches', wide + 5)}{name}" for place, name in enumerate(names)]
    return [
        f"{EDGE_SIGNS[one.edge]} {padded(one.edge.value, wide)}  {shown.names.get(one.id, one.id)}"
        for one in shape.neighbours
    ]


def _figures(shown: ShownShape, shape: Shape, columns: int) -> list[str]:
    lightness, a, b = shape.lab
    rows = [
        f"L* {lightness:.1f}  a* {a:.1f}  b* {b:.1f}",
        f"L* spreads by {shape.spread_l:.1f}",
        f"{shape.id}, {shown.feature.value}, {shape.area_px:.0f} pixels",
        *(row for note in shown.notes for row in wrapped(note, columns)),
    ]
    for one in shape.neighbours:
        length = "" if shown.mm_per_px is None else f"{one.length_px * shown.mm_per_px / 10:5.1f} cm"
        wide = f"  {100 * one.width_frac:4.1f} %" if columns >= _LARGE_FROM_COLUMNS else ""
        rows.append(f"{one.edge.value}{length}{wide}  {shown.names.get(one.id, one.id)}")
    return rows


def _cut(rows: Sequence[Line], columns: int, lines: int) -> tuple[Line, ...]:
    return tuple(fitted(row, columns) for row in rows[:lines])


def chips_for(state: ShapesState | None, *, has_problems: bool, is_asked: bool = False) -> tuple[Chip, ...]:
    """Return the keys that matter now; `is_asked` while a head is proposed."""
    if has_problems:
        return (chip("shapes.back", "understood"), HELP)
    if state is None:
        first = chip("shapes.take") if is_asked else chip("shapes.back")
        return (first, chip("app.composition", "mark it"), HELP)
    if state.pointer is not None and state.pointer.border_from is not None:
        return (chip("shapes.take", "leave it here"), chip("shapes.back"), HELP)
    if state.pointer is not None:
        taken = "leave it here" if state.pointer.corner is not None else "take corner"
        return (chip("shapes.take", taken), chip("shapes.cut"), chip("shapes.closer"), HELP)
    if state.passage is not None:
        return (chip("shapes.add"), chip("shapes.other"), chip("shapes.closer"), HELP)
    return (chip("shapes.closer"), chip("shapes.squint"), chip("shapes.change"), HELP)
