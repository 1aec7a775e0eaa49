"""A file of shapes read back, also after a drawing program has been at it; what is not clear is said, never guessed."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from coach.errors import CoachError
from coach.plan.problems import Problem, quoted
from coach.shapes.features import FEATURES, Feature
from coach.shapes.outlines import Ring
from coach.shapes.polygons import crosses_itself
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg_paths import (
    MOST_POINTS,
    UPRIGHT,
    Matrix,
    UnreadOutlineError,
    matrix_of,
    rings_in,
    times,
)
from coach.text import sanitized

if TYPE_CHECKING:
    from lxml.etree import _Element as Element

SVG: Final = "{http://www.w3.org/2000/svg}"
OURS: Final = "{urn:portrait-coach:shapes}"
"""What the file holds beside the drawing stands under this name."""

BORDER: Final = "-border"
"""What the id of a feature's own path ends in."""

MOST_BYTES: Final = 16 * 2**20
"""Size of the largest file that is read: ten thousand shapes, several times over."""

_MOST_ELEMENTS: Final = 200_000
_MOST_USES: Final = 8
_OUTLINES: Final = frozenset({"path", "rect", "circle", "ellipse", "polygon", "polyline"})
_GROUPS: Final = frozenset({"svg", "g", "a", "switch"})
_ID: Final = re.compile(r"k([1-9]\d{0,8})")
_LINK: Final = "{http://www.w3.org/1999/xlink}href"
_SMALL_PX: Final = 0.5
"""Half a pixel beyond the photo is no fault."""


class SvgError(CoachError):
    """A file of shapes cannot be read at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A shape as it was when the coach last wrote the file."""

    name: str
    feature: Feature | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """An element of the file that is a shape, or a feature's border.

    Attributes:
        element: Where it stands.
        outside: From the coordinates around the element to pixels of the photo.
        outline: Its rings, in pixels of the photo.
        feature: The feature whose group it lies in.
    """

    element: "Element"
    outside: Matrix
    outline: tuple[Ring, ...]
    feature: Feature


@dataclass(frozen=True, slots=True, kw_only=True)
class _Around:
    """What an element takes over from those around it."""

    matrix: Matrix = UPRIGHT
    is_even_odd: bool = False
    feature: Feature | None = None


class Document:
    """A file of shapes as a tree.

    Attributes:
        root: Its outermost element.
        shape_map: The shapes in it.
        shapes: Where each shape stands, by its id.
        borders: Where the border of each feature stands.
        groups: The group of each feature, with what lies between it and the photo.
        outermost: What lies between a part of the root and the photo.
        known: The shapes as they were last written, by their ids.
        unread: Ids that stand in the file and are no shape of the map.
        problems: What is wrong with it, in the order of the file.
    """

    def __init__(self, content: bytes) -> None:
        """Read a file.

        Raises:
            SvgError: It is no SVG, or far larger than a map of shapes.
        """
        self.root = _parsed(content)
        self.shapes: dict[str, Drawn] = {}
        self.borders: dict[Feature, Drawn] = {}
        self.groups: dict[Feature, tuple[Element, Matrix]] = {}
        self.problems: list[Problem] = []
        self.known, self._photo = _kept(self.root)
        self._by_id: dict[str, Element] = {}
        self._seen: dict[str, int] = {}
        self._points = 0
        for number, element in enumerate(self.root.iter()):
            if number > _MOST_ELEMENTS:
                raise SvgError(f"there are more than {_MOST_ELEMENTS} parts in it; this is no map of shapes")
            if local_name(element):
                self._by_id.setdefault(element.get("id", ""), element)
        self.outermost = _inside(self.root, _Around()).matrix
        self._enter(self.root, _Around())
        self.unread = self._seen.keys() - self.shapes.keys()
        self.shape_map = self._map()
        self.problems.sort(key=lambda problem: problem.line)

    def _say(self, element: "Element | None", where: str, what: str, suggestion: str = "") -> None:
        line = 0 if element is None else element.sourceline or 0
        self.problems.append(Problem(line=line, column=0, where=where, what=what, suggestion=suggestion))

    def _enter(self, group: "Element", around: _Around) -> None:
        try:
            inside = _inside(group, around)
        except UnreadOutlineError as error:
            self._say(group, _called(group, None), f"{error}; nothing in it is read")
            return
        if group.get("id") in set(FEATURES):
            feature = Feature(group.get("id"))
            inside = _Around(matrix=inside.matrix, is_even_odd=inside.is_even_odd, feature=feature)
            self.groups.setdefault(feature, (group, inside.matrix))
        for element in group:
            tag = local_name(element)
            if tag in _GROUPS and not _ID.fullmatch(element.get("id", "")):
                self._enter(element, inside)
            elif tag in _OUTLINES or tag == "use" or (tag and _ID.fullmatch(element.get("id", ""))):
                self._take(element, inside)

    def _take(self, element: "Element", around: _Around) -> None:
        """Take an outline for a shape, a border or nothing of ours."""
        id_ = element.get("id", "")
        known = self.known.get(id_)
        feature = around.feature or (known.feature if known else None)
        where = _called(element, known)
        is_border = feature is not None and id_ == f"{feature}{BORDER}"
        if not is_border and not _ID.fullmatch(id_):
            if around.feature is not None:
                free = f"k{self._next_number()}"
                self._say(element, where, f"lies among the {feature} and is no shape", f"give it the id {free}")
            return
        if id_ in self._seen:
            self._say(element, where, f"stands in line {self._seen[id_]} already", "the one in that line counts")
            return
        self._seen[id_] = element.sourceline or 0
        if feature is None:
            self._say(element, where, "lies in the group of no feature", "move it into one, such as face")
            return
        try:
            outline = self._outline(element, around, 0)
        except UnreadOutlineError as error:
            self._say(element, where, str(error))
            return
        found = Drawn(element=element, outside=around.matrix, outline=outline, feature=feature)
        if is_border:
            self.borders[feature] = found
        else:
            self.shapes[id_] = found
            self._check(found, where, known)

    def _outline(self, element: "Element", around: _Around, depth: int) -> tuple[Ring, ...]:
        inside = _inside(element, around)
        tag = local_name(element)
        if tag == "use":
            if depth == _MOST_USES:
                raise UnreadOutlineError("uses itself, or too much that uses others")
            aim = self._by_id.get((element.get("href") or element.get(_LINK) or "").removeprefix("#"))
            if aim is None:
                raise UnreadOutlineError("uses what is not in the file")
            moved = matrix_of(f"translate({element.get('x', '0')} {element.get('y', '0')})")
            return self._outline(
                aim, _Around(matrix=times(inside.matrix, moved), is_even_odd=inside.is_even_odd), depth + 1
            )
        if tag not in _OUTLINES:
            raise UnreadOutlineError(f"is no outline but {quoted(tag)}; make it a path")
        outline = rings_in(tag, element.attrib, inside.matrix, is_even_odd=inside.is_even_odd)
        self._points += sum(map(len, outline))
        if self._points > MOST_POINTS:
            raise SvgError(f"its outlines have more than {MOST_POINTS} points; this is no map of shapes")
        return outline

    def _check(self, found: Drawn, where: str, known: Known | None) -> None:
        """Say what is odd about a shape that can be read."""
        name = name_of(found.element)
        if not name:
            self._say(found.element, where, "has no title", "give it the name of the shape")
        elif known is not None and name != known.name:
            self._say(found.element, where, f"was called {quoted(known.name)}")
        if crosses_itself(found.outline):
            self._say(found.element, where, "crosses itself", "draw its outline without crossings")

    def _next_number(self) -> int:
        used = [int(found[1]) for id_ in (*self.known, *self._by_id) if (found := _ID.fullmatch(id_))]
        return max([self._photo.next_number, *(number + 1 for number in used)])

    def _map(self) -> ShapeMap:
        width, height = self._size()
        names: dict[str, str] = {}
        shapes = []
        for id_, found in self.shapes.items():
            known = self.known.get(id_)
            name = name_of(found.element) or (known.name if known else id_)
            if name in names:
                self._say(found.element, f"{id_} {quoted(name)}", f"has the name of {names[name]}", "give it another")
            names.setdefault(name, id_)
            if _reaches_beyond(found.outline, width, height):
                what = f"reaches beyond the photo of {width} x {height} pixels"
                self._say(found.element, f"{id_} {quoted(name)}", what, "draw its outline inside")
            shapes.append(OutlinedShape(id=id_, name=name, feature=found.feature, outline=found.outline))
        for id_, known in self.known.items():
            if id_ not in self._seen:
                self._say(None, f"{id_} {quoted(known.name)}", "is no longer in the file")
        return ShapeMap(
            photo_width_px=width,
            photo_height_px=height,
            photo_sha256=self._photo.sha256,
            next_number=self._next_number(),
            borders={feature: found.outline for feature, found in self.borders.items()},
            shapes=tuple(shapes),
        )

    def _size(self) -> tuple[int, int]:
        """Return the size of the photo; where the drawing has another one, that is said."""
        photo = (self._photo.width_px, self._photo.height_px)
        numbers = re.findall(r"[-+.\deE]+", self.root.get("viewBox", ""))
        try:
            box = tuple(round(float(number)) for number in numbers)
        except (ValueError, OverflowError):
            box = ()
        if not all(photo):
            self._say(self.root, "", "it no longer says which photo it is of")
            if len(box) == 4 and min(box[2:]) > 0:  # noqa: PLR2004
                return box[2], box[3]
            raise SvgError("it says neither a photo nor a viewBox; the shapes have no place")
        if box != (0, 0, *photo):
            what = f"the viewBox is no longer 0 0 {photo[0]} {photo[1]}, the pixels of the photo"
            self._say(self.root, "", what, "save the drawing with its old page")
        return photo


@dataclass(frozen=True, slots=True, kw_only=True)
class _Photo:
    sha256: str = ""
    width_px: int = 0
    height_px: int = 0
    next_number: int = 1


def check_size(content: bytes) -> None:
    """Check that a file is not far larger than any map of shapes.

    Raises:
        SvgError: It is.
    """
    if len(content) > MOST_BYTES:
        raise SvgError(f"the file is larger than {MOST_BYTES // 2**20} MiB; this is no map of shapes")


def local_name(element: "Element") -> str:
    """Return the name of an element of SVG; empty for anything else."""
    tag = element.tag
    return tag.removeprefix(SVG) if isinstance(tag, str) and tag.startswith(SVG) else ""


def name_of(element: "Element") -> str:
    """Return the title of an element on one line, safe to show; empty where it has none."""
    return " ".join(sanitized("".join(element.findtext(f"{SVG}title") or "")).split())


def _reaches_beyond(outline: tuple[Ring, ...], width: int, height: int) -> bool:
    points = [point for ring in outline for point in ring]
    return not all(-_SMALL_PX <= x <= width + _SMALL_PX and -_SMALL_PX <= y <= height + _SMALL_PX for x, y in points)


def _called(element: "Element", known: Known | None) -> str:
    name = name_of(element) or (known.name if known else "")
    words = (element.get("id", ""), quoted(name) if name else "")
    return sanitized(" ".join(word for word in words if word)) or f"a {local_name(element)}"


def _parsed(content: bytes) -> "Element":
    from lxml import etree  # noqa: PLC0415  loaded when shapes are read

    check_size(content)
    if content.startswith(b"\x1f\x8b"):
        raise SvgError("the file is compressed; save it as plain SVG")
    parser = etree.XMLParser(resolve_entities="internal", no_network=True, load_dtd=False, huge_tree=False)
    try:
        root = etree.fromstring(content, parser)
    except (etree.XMLSyntaxError, ValueError) as error:
        if b"<" not in content[:4096]:
            raise SvgError("this is not an SVG file; a drawing program saves one") from error
        line = getattr(error, "lineno", None) or 1
        raise SvgError(f"the file is damaged at line {line}: it is not whole XML; save it again") from error
    if local_name(root) != "svg":
        raise SvgError("this is XML but no SVG; a drawing program saves one")
    return root


def _kept(root: "Element") -> tuple[Mapping[str, Known], _Photo]:
    """Return what the coach itself wrote beside the drawing."""
    known = {}
    for found in root.iter(f"{OURS}shape"):
        feature = Feature(found.get("feature")) if found.get("feature") in set(FEATURES) else None
        known[found.get("id", "")] = Known(name=sanitized(found.get("name", "")), feature=feature)
    photo = root.find(f".//{OURS}photo")
    if photo is None:
        return known, _Photo()
    try:
        width, height, number = (int(photo.get(key, "")) for key in ("width", "height", "next"))
    except ValueError:
        return known, _Photo()
    return known, _Photo(
        sha256=sanitized(photo.get("sha256", "")), width_px=width, height_px=height, next_number=number
    )


def _inside(element: "Element", around: _Around) -> _Around:
    """Return what stands around the parts of an element, its own transform and fill rule added."""
    style = dict(declarations(element.get("style", "")))
    matrix = matrix_of(style.get("transform") or element.get("transform", ""))
    rule = style.get("fill-rule") or element.get("fill-rule", "")
    return _Around(
        matrix=times(around.matrix, matrix),
        is_even_odd=rule == "evenodd" if rule in ("evenodd", "nonzero") else around.is_even_odd,
        feature=around.feature,
    )


def declarations(style: str) -> Iterator[tuple[str, str]]:
    """Yield the names and values of a style attribute."""
    for part in style.split(";"):
        name, is_one, value = part.partition(":")
        if is_one:
            yield name.strip(), value.strip()
