"""What the keys of the Shapes screen do to the chosen shape, what is said of it, and what becomes of the passages."""

import math
from collections.abc import Callable, Iterable, Mapping
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.screens.shapes.repository import OpenedPhoto
from coach.screens.shapes.state import ShapesState, edited, sentence
from coach.shapes import map_editing, outline_editing
from coach.shapes.features import FEATURES, Feature, HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.photo_window import Point
from coach.shapes.polygons import joined as outlined
from coach.shapes.polygons import polygon_of
from coach.shapes.shape import Neighbour
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.text import joined

ShapeEdit = Callable[[ShapeMap, str, OpenedPhoto], ShapeMap]
"""Returns the shapes after an edit of the one of an id; raises a `ShapeMapError` where it cannot be."""


def cut(shape_map: ShapeMap, shape_id: str, photo: OpenedPhoto) -> ShapeMap:
    """Cut the shape where its two most different parts meet."""
    return map_editing.split(shape_map, shape_id, photo.picture, photo.sizing_heads)


def cut_along(start: Point, end: Point) -> ShapeEdit:
    """Return the edit that cuts a shape along a line."""
    return lambda shape_map, shape_id, photo: map_editing.split_along(
        shape_map, shape_id, (start, end), photo.picture, photo.sizing_heads
    )


def joined_to(other_id: str) -> ShapeEdit:
    """Return the edit that makes a shape and another one that touches it one."""
    return lambda shape_map, shape_id, _: map_editing.merged(shape_map, shape_id, other_id)


def given_to(feature: Feature) -> ShapeEdit:
    """Return the edit that gives a shape to a feature."""
    return lambda shape_map, shape_id, _: map_editing.given_to(shape_map, {shape_id: feature})


def renamed(name: str) -> ShapeEdit:
    """Return the edit that calls a shape otherwise."""
    return lambda shape_map, shape_id, _: map_editing.renamed(shape_map, shape_id, name)


def with_corner(corner: Point, to: Point) -> ShapeEdit:
    """Return the edit that moves a corner, in all shapes that have it."""
    return lambda shape_map, _, __: outline_editing.point_moved(shape_map, corner, to)


def with_border(by: Point) -> ShapeEdit:
    """Return the edit that moves the border of a shape's feature on its own head, so far right and down."""

    def edit(shape_map: ShapeMap, shape_id: str, photo: OpenedPhoto) -> ShapeMap:
        feature = next(one.feature for one in shape_map.shapes if one.id == shape_id)
        mine = border_in_hand(shape_map, shape_id, photo)
        moved = tuple(tuple((x + by[0], y + by[1]) for x, y in ring) for ring in mine)
        others = tuple(ring for ring in _border(shape_map, feature) if ring not in mine)
        return outline_editing.border_moved(shape_map, feature, (*others, *moved), photo.picture, photo.sizing_heads)

    return edit


def border_in_hand(shape_map: ShapeMap, shape_id: str, photo: OpenedPhoto) -> tuple[Ring, ...]:
    """Return the border of a shape's feature, on the head that is nearest to the shape; empty for no such shape."""
    shape = next((one for one in shape_map.shapes if one.id == shape_id), None)
    if shape is None:
        return ()

    def head_of(ring: Ring) -> HeadBox:
        x, y = (sum(side) / len(ring) for side in zip(*ring, strict=True))
        return min(
            photo.sizing_heads, key=lambda box: math.dist((2 * x, 2 * y), (box.left + box.right, box.top + box.bottom))
        )

    own = head_of(shape.outline[0])
    return tuple(ring for ring in _border(shape_map, shape.feature) if head_of(ring) is own)


def _border(shape_map: ShapeMap, feature: Feature) -> tuple[Ring, ...]:
    """Return the border of a feature; that about its shapes where a file of shapes gives none."""
    return shape_map.borders.get(feature) or outlined(one.outline for one in shape_map.shapes if one.feature is feature)


class Offer(NamedTuple):
    """A change of the chosen shape that stands in a list.

    Attributes:
        asks: How it is called.
        now: What stands there now; may be empty.
        edit: What it does; None where more is asked first.
        action: What asks for more.
    """

    asks: str
    now: str = ""
    edit: ShapeEdit | None = None
    action: str = ""


def changes_of(shape: OutlinedShape) -> tuple[Offer, ...]:
    """Return what can be changed of a shape, beside cutting and joining it."""
    feature = shape.feature
    return (
        Offer("the name", shape.name, action="ask('name')"),
        Offer("where it belongs", feature.value, action="choose('feature')"),
        Offer(
            "a smoother outline", "", lambda shapes, id_, photo: outline_editing.smoothed(shapes, id_, photo.picture)
        ),
        Offer("its corners, one by one", action="toggle_arrows"),
        Offer(f"the border of the {feature}, moved as a whole", action="take_border"),
        Offer(
            f"more shapes in the {feature}",
            "",
            lambda shapes, _, photo: map_editing.more_here(shapes, feature, photo.picture, photo.sizing_heads),
        ),
        Offer(
            f"fewer shapes in the {feature}",
            "",
            lambda shapes, _, photo: map_editing.fewer_here(shapes, feature, photo.picture),
        ),
    )


def features_for(shape: OutlinedShape) -> tuple[Offer, ...]:
    """Return the features that a shape may belong to."""
    return tuple(
        Offer(feature.value, "now" if feature is shape.feature else "", given_to(feature)) for feature in FEATURES
    )


OFFERS: Final = {"change": changes_of, "feature": features_for}
"""What is offered for the chosen shape, by the name of the question."""


def joins_of(shape_map: ShapeMap, near: Iterable[str], neighbours: Iterable[Neighbour]) -> tuple[Offer, ...]:
    """Return the shapes that one may be joined to, each with the edge between them where it is measured.

    Args:
        shape_map: The shapes.
        near: Ids of those that touch it.
        neighbours: What is measured of its edges.
    """
    names = {one.id: one.name for one in shape_map.shapes}
    edges = {one.id: one.edge.value for one in neighbours}
    return tuple(Offer(names[id_], edges.get(id_, ""), joined_to(id_)) for id_ in near if id_ in names)


def applied(state: ShapesState, edit: ShapeEdit, photo: OpenedPhoto) -> ShapesState:
    """Return the state after an edit of the chosen shape; where it is refused, the state says why and is as it was."""
    before, shape = state.shape_map, state.shape
    if shape is None:
        return state._replace(said="Choose a shape first.")
    try:
        after = edit(before, shape.id, photo)
        return edited(state, after, heirs_of(before, after), told(before, after, shape))
    except CoachError as error:
        return state._replace(said=sentence(error))


def heirs_of(before: ShapeMap, after: ShapeMap) -> Mapping[str, tuple[str, ...]]:
    """Return which shapes take the place of those that an edit cut, or took up into others.

    A new shape belongs where the one lay that it was cut from; a shape that is gone where it lies now.
    """
    old, now = ({one.id: one for one in shapes.shapes} for shapes in (before, after))
    heirs: dict[str, tuple[str, ...]] = {}
    for new in (one for one in after.shapes if one.id not in old):
        parent = _under(new, [one for one in before.shapes if now.get(one.id) is not one])
        if parent:
            heirs[parent] = (*heirs.get(parent, (parent,) if parent in now else ()), new.id)
    for gone in (one for one in before.shapes if one.id not in now):
        taker = _under(gone, [one for one in after.shapes if old.get(one.id) is not one])
        if taker:
            heirs[gone.id] = (*heirs.get(gone.id, ()), taker)
    return {id_: tuple(dict.fromkeys(ids)) for id_, ids in heirs.items()}


def told(before: ShapeMap, after: ShapeMap, shape: OutlinedShape) -> str:
    """Return in a sentence what an edit of a shape did."""
    old, now = ({one.id: one for one in shapes.shapes} for shapes in (before, after))
    new = [one.name for one in after.shapes if one.id not in old]
    gone = [one.name for one in before.shapes if one.id not in now]
    same = now.get(shape.id)
    if after is before:
        return "Nothing is changed."
    if gone:
        kept = same or next((one for one in after.shapes if old.get(one.id) is not one), shape)
        return f"Joined to {kept.name}: {joined(gone)}."
    if new:
        return f"Cut: {joined(new)} {'is' if len(new) == 1 else 'are'} new."
    if same is not None and same.name != shape.name:
        return f"{shape.name} is called {same.name} now."
    if same is not None and same.feature is not shape.feature:
        return f"{shape.name} belongs to the {same.feature.value} now."
    return f"The outline of {shape.name} is changed."


def _under(shape: OutlinedShape, others: list[OutlinedShape]) -> str:
    """Return the id of the shape that lies where another one does; empty for none."""
    inside = polygon_of(shape.outline).representative_point()
    return next((one.id for one in others if polygon_of(one.outline).intersects(inside)), "")
