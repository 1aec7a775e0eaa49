"""The file of shapes: SVG that drawing programs open and edit, written anew or into what they made of it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from coach.plan.problems import Problem
from coach.shapes.features import Feature
from coach.shapes.outlines import Ring
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg_paths import Matrix, path_data, placed
from coach.shapes.svg_reading import BORDER, OURS, SVG, Document, Known, check_size, declarations, name_of

if TYPE_CHECKING:
    from lxml.etree import _Element as Element

_PLACES: Final = frozenset(
    ("d", "points", "x", "y", "width", "height", "rx", "ry", "cx", "cy", "r", "href", "transform", "fill-rule")
)
"""What says where an outline lies."""

_DRAWN_WITH: Final = {"fill": "#808080", "fill-opacity": "0.2", "stroke": "#000000", "fill-rule": "evenodd"}


def read_svg(content: bytes) -> tuple[ShapeMap, tuple[Problem, ...]]:
    """Return the shapes in a file, and what is wrong with it.

    What cannot be read, or stands twice, is no shape of the map and stays in the file when it is written again.

    Raises:
        SvgError: It is no SVG, or far larger than a map of shapes.
    """
    document = Document(content)
    return document.shape_map, tuple(document.problems)


def write_svg(shape_map: ShapeMap, before: bytes | None = None) -> bytes:
    """Return a file of shapes.

    Args:
        shape_map: The shapes. User units are pixels of the photo.
        before: The file as it was read: all that is no shape stays as it is there, and so does every shape that is the
            same; None for a new file.

    Raises:
        SvgError: `before` cannot be read, or the file would be too large to be read again.
    """
    from lxml import etree  # noqa: PLC0415  loaded when shapes are written

    document = Document(_bare(shape_map) if before is None else before)
    if before is not None and document.shape_map == shape_map and not document.problems:
        return before
    kept = {shape.id for shape in shape_map.shapes}
    gone = [drawn for id_, drawn in document.shapes.items() if id_ not in kept]
    gone += [drawn for feature, drawn in document.borders.items() if feature not in shape_map.borders]
    for drawn in gone:
        drawn.element.getparent().remove(drawn.element)
    elements = [_put_shape(document, shape) for shape in shape_map.shapes]
    for feature, rings in shape_map.borders.items():
        _put_border(document, feature, rings)
    _put_in_order(elements)
    _put_data(document, shape_map)
    if before is None:
        etree.indent(document.root)
    content: bytes = etree.tostring(document.root.getroottree(), xml_declaration=True, encoding="UTF-8") + b"\n"
    check_size(content)
    return content


def _bare(shape_map: ShapeMap) -> bytes:
    size = f'width="{shape_map.photo_width_px}" height="{shape_map.photo_height_px}"'
    box = f'viewBox="0 0 {shape_map.photo_width_px} {shape_map.photo_height_px}"'
    drawn = " ".join(f'{name}="{value}"' for name, value in _DRAWN_WITH.items())
    return f'<svg xmlns="{SVG[1:-1]}" xmlns:coach="{OURS[1:-1]}" {size} {box} {drawn}/>'.encode()


def _put_shape(document: Document, shape: OutlinedShape) -> "Element":
    """Put a shape into the tree, and return where it stands."""
    drawn = document.shapes.get(shape.id)
    if drawn is None or drawn.feature is not shape.feature:
        group, matrix = _group(document, shape.feature)
        element = _new(group, "path") if drawn is None else drawn.element
        element.set("id", shape.id)
        group.append(element)
        _redraw(element, shape.outline, matrix)
    else:
        element = drawn.element
        if drawn.outline != shape.outline:
            _redraw(element, shape.outline, drawn.outside)
    if name_of(element) != shape.name:
        _entitle(element, shape.name)
    return element


def _put_border(document: Document, feature: Feature, rings: tuple[Ring, ...]) -> None:
    drawn = document.borders.get(feature)
    if drawn is None:
        group, matrix = _group(document, feature)
        element = _new(group, "path")
        element.attrib.update({"id": f"{feature}{BORDER}", "fill": "none"})
        group.insert(1, element)  # behind the title, under the shapes
        _redraw(element, rings, matrix)
    elif drawn.outline != rings:
        _redraw(drawn.element, rings, drawn.outside)


def _group(document: Document, feature: Feature) -> tuple["Element", Matrix]:
    """Return the group of a feature, made where there is none, and what lies between it and the photo."""
    if feature not in document.groups:
        group = _new(document.root, "g")
        group.set("id", feature.value)
        _entitle(group, feature.value)
        document.groups[feature] = (group, document.outermost)
    return document.groups[feature]


def _redraw(element: "Element", outline: tuple[Ring, ...], outside: Matrix) -> None:
    """Make an element a path with this outline; how it looks stays as it is."""
    for name in element.attrib:
        if name in _PLACES or name.startswith("{"):  # a program's own may hold the old outline once more
            del element.attrib[name]
    if "style" in element.attrib:
        kept = [f"{name}:{value}" for name, value in declarations(element.get("style")) if name not in _PLACES]
        element.set("style", ";".join(kept))
    element.tag = f"{SVG}path"
    element.set("d", path_data(placed(outline, outside)))
    if len(outline) > 1:
        element.set("fill-rule", "evenodd")


def _new(group: "Element", tag: str) -> "Element":
    from lxml.etree import SubElement  # noqa: PLC0415

    element = SubElement(group, f"{SVG}{tag}")
    element.tail = "\n"
    return element


def _entitle(element: "Element", name: str) -> None:
    title = element.find(f"{SVG}title")
    if title is None:
        title = _new(element, "title")
        element.insert(0, title)
    title.text = name


def _put_in_order(elements: Sequence["Element"]) -> None:
    """Let the elements of each group follow each other as they do here; what lies between them keeps its place."""
    groups: dict[Element, list[Element]] = {}
    for element in elements:
        groups.setdefault(element.getparent(), []).append(element)
    for group, own in groups.items():
        places = {element: place for place, element in enumerate(group)}
        if [places[element] for element in own] == sorted(places[element] for element in own):
            continue
        ours, queue = set(own), iter(own)
        group[:] = [next(queue) if element in ours else element for element in group]


def _put_data(document: Document, shape_map: ShapeMap) -> None:
    """Write beside the drawing which photo it is of and which shapes there are."""
    root = document.root
    for old in [*root.iter(f"{OURS}photo", f"{OURS}shape")]:
        old.getparent().remove(old)
    data = root.find(f"{SVG}metadata")
    if data is None:
        data = _new(root, "metadata")
        root.insert(0, data)
    next_number = max(shape_map.next_number, document.shape_map.next_number)  # an undo takes back no number
    photo = {"sha256": shape_map.photo_sha256, "next": str(next_number)}
    photo |= {"width": str(shape_map.photo_width_px), "height": str(shape_map.photo_height_px)}
    known = {shape.id: Known(name=shape.name, feature=shape.feature) for shape in shape_map.shapes}
    known = {id_: old for id_, old in document.known.items() if id_ in document.unread} | known
    entries = [("photo", photo)]
    entries += [("shape", {"id": id_, "name": one.name, "feature": one.feature or ""}) for id_, one in known.items()]
    for tag, kept in entries:
        entry = data.makeelement(f"{OURS}{tag}", kept, nsmap={"coach": OURS[1:-1]})
        entry.tail = "\n"
        data.append(entry)
