"""The shapes in the painter's hands: every version since editing began, the shape and the passage that are chosen."""

import math
from collections.abc import Callable, Mapping
from functools import partial
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.plan.commission import Address, Passage, Plan
from coach.plan.editing.figures import change
from coach.plan.problems import quoted
from coach.screens.shapes.repository import Version
from coach.shapes.features import FEATURES, Feature
from coach.shapes.looks import SQUINTS
from coach.shapes.photo_window import PhotoWindow, Point
from coach.shapes.shape_map import OutlinedShape, ShapeMap

_POINTING: Final = "The arrows move a point: Enter takes the nearest corner, k begins a cut."

_SIDEWAYS: Final = 2.0
"""How much dearer a step aside is than one ahead, where the next shape in a direction is looked for; ours."""


class Pointer(NamedTuple):
    """A point that the arrows move dot by dot.

    Attributes:
        at: Where it is, in pixels of the photo.
        corner: The corner of the chosen shape that is in hand; None for none.
        cut_from: Where a cut through the chosen shape begins; None where none is begun.
        border_from: Where the point was when the border of the chosen shape's feature was taken in hand, which it moves
            along; None where no border is.
    """

    at: Point
    corner: Point | None = None
    cut_from: Point | None = None
    border_from: Point | None = None

    @property
    def border_by(self) -> Point:
        """How far the border in hand is moved, right and down, in pixels of the photo."""
        x, y = self.border_from or self.at
        return self.at[0] - x, self.at[1] - y


class ShapesState(NamedTuple):
    """The shapes as they are being looked at and edited.

    Attributes:
        versions: Every version since editing began.
        saved: The version that lies in the files, or that is found again in the photo at any time.
        number: Place of the version that is meant.
        chosen: Id of the chosen shape; empty for none.
        passage: Pass and name of the passage in hand; None for none.
        squint: How hard the eyes are squinted: a place in `SQUINTS`.
        is_flat: Whether every shape is shown in one colour.
        feature: The feature that is shown alone; None for all.
        pointer: The point that the arrows move; None where they choose shapes.
        said: What was done, or why it was not; may be empty.
    """

    versions: tuple[Version, ...]
    saved: Version
    number: int = 0
    chosen: str = ""
    passage: Address | None = None
    squint: int = 0
    is_flat: bool = False
    feature: Feature | None = None
    pointer: Pointer | None = None
    said: str = ""

    @property
    def version(self) -> Version:
        """The version that is meant."""
        return self.versions[self.number]

    @property
    def shape_map(self) -> ShapeMap:
        """The shapes that are meant."""
        return self.version.shape_map

    @property
    def plan(self) -> Plan:
        """The plan that is meant."""
        return self.version.plan

    @property
    def is_saved(self) -> bool:
        """Whether nothing would be lost if the files were read, or the photo taken apart, anew."""
        return self.version == self.saved

    @property
    def shape(self) -> OutlinedShape | None:
        """The chosen shape."""
        return next((one for one in self.shape_map.shapes if one.id == self.chosen), None)

    @property
    def in_hand(self) -> Passage | None:
        """The passage in hand."""
        return None if self.passage is None else dict(_passages(self.plan)).get(self.passage)


def begun(version: Version) -> ShapesState:
    """Return the state of shapes as they were read or found, the first one chosen."""
    return ShapesState((version,), version, chosen=_first(version.shape_map))


def with_version(state: ShapesState, version: Version, said: str) -> ShapesState:
    """Return the state with another version meant; the same again is no version."""
    if version == state.version:
        return state._replace(said=said)
    kept = state.versions[: state.number + 1]
    return state._replace(versions=(*kept, version), number=len(kept), said=said)


def edited(state: ShapesState, shape_map: ShapeMap, heirs: Mapping[str, tuple[str, ...]], said: str) -> ShapesState:
    """Return the state with other shapes, and with the passages that go with them.

    Args:
        state: The state.
        shape_map: The shapes as they are now.
        heirs: For a shape that is gone or was cut the ids that take its place.
        said: What was done.
    """
    version = Version(_with_ids(state.plan, heirs), shape_map)
    after = with_version(state, version, said)
    if after.shape is None:
        return after._replace(chosen=next(iter(heirs.get(state.chosen, ())), _first(shape_map)))
    return after


def choosing(state: ShapesState, shape_id: str) -> ShapesState:
    """Return the state with another shape chosen, the same where there is none of that id; the arrows choose shapes."""
    known = any(one.id == shape_id for one in state.shape_map.shapes)
    return state._replace(chosen=shape_id if known else state.chosen, pointer=None, said="")


def pointing(state: ShapesState, near: Point) -> ShapesState:
    """Return the state with a point in hand: on the corner of the chosen shape that is nearest to another point."""
    return state._replace(pointer=Pointer(_nearest_corner(state, near) or near), said=_POINTING)


def aim_of(state: ShapesState | None, centres: Mapping[str, Point], window: PhotoWindow | None) -> Point:
    """Return what is enlarged: the point in hand, else the chosen shape, else the middle of what is shown."""
    if state is not None and state.pointer is not None:
        return state.pointer.at
    if state is not None and state.chosen in centres:
        return centres[state.chosen]
    left, top, right, bottom = window.box if window is not None else (0.0, 0.0, 0.0, 0.0)
    return (left + right) / 2, (top + bottom) / 2


def taking_corner(state: ShapesState) -> ShapesState:
    """Return the state with the corner of the chosen shape in hand that is nearest to the point, which goes there."""
    if state.pointer is None:
        return state
    corner = _nearest_corner(state, state.pointer.at)
    if corner is None:
        return state._replace(said="Choose a shape first.")
    return state._replace(pointer=Pointer(corner, corner), said="The arrows move this corner; Enter leaves it there.")


def taking_border(state: ShapesState, near: Point) -> ShapesState:
    """Return the state with the border of the chosen shape's feature in hand."""
    if state.shape is None:
        return state
    said = f"The arrows move the border of the {state.shape.feature.value}; Enter leaves it there."
    return state._replace(pointer=Pointer(near, border_from=near), said=said)


def beginning_cut(state: ShapesState) -> ShapesState:
    """Return the state with a cut begun where the point is."""
    if state.pointer is None:
        return state
    said = "The cut begins here: go to where it ends and press k again."
    return state._replace(pointer=Pointer(state.pointer.at, cut_from=state.pointer.at), said=said)


def marked(state: ShapesState) -> ShapesState:
    """Return the state with the chosen shape in the passage in hand, or out of it where it was in."""
    passage, address, shape = state.in_hand, state.passage, state.shape
    if passage is None or address is None:
        return state._replace(said="Choose a passage first: ] takes the next one.")
    if shape is None:
        return state._replace(said="Choose a shape first.")
    plan, left = state.plan, ""
    try:
        for (pass_name, name), other in _passages(plan):
            if pass_name == address[0] and other is not passage and shape.id in other.shapes:
                plan = change(plan, pass_name, name, "shapes", ", ".join(_without(other.shapes, shape.id))).plan
                left = f", no longer to {quoted(name)}"
        is_in = shape.id in passage.shapes
        ids = _without(passage.shapes, shape.id) if is_in else (*passage.shapes, shape.id)
        plan = change(plan, *address, "shapes", ", ".join(ids)).plan
    except CoachError as error:
        return state._replace(said=sentence(error))
    verb = "no longer belongs" if is_in else "belongs"
    return with_version(
        state, state.version._replace(plan=plan), f"{shape.name} {verb} to {quoted(passage.name)}{left}."
    )


def with_passage(state: ShapesState, by: int) -> ShapesState:
    """Return the state with the next passage in hand, or the one before; a shape of it is chosen where it has one."""
    addresses = [address for address, passage in _passages(state.plan) if passage.check is None]
    if not addresses:
        return state._replace(said="The plan has no passage.")
    if state.passage in addresses:
        place = (addresses.index(state.passage) + by) % len(addresses)
    else:
        place = 0 if by > 0 else len(addresses) - 1
    state = state._replace(passage=addresses[place], said="")
    ids = state.in_hand.shapes if state.in_hand else ()
    known = [one.id for one in state.shape_map.shapes if one.id in ids]
    return state._replace(chosen=known[0]) if known and state.chosen not in known else state


def passages_of(plan: Plan, shape_id: str) -> tuple[Address, ...]:
    """Return pass and name of the passages that hold a shape."""
    return tuple(address for address, passage in _passages(plan) if shape_id in passage.shapes)


def shape_towards(centres: Mapping[str, Point], chosen: str, across: int, down: int) -> str:
    """Return the nearest shape in a direction from the chosen one; the same where there is none.

    Args:
        centres: The middle of each shape, in pixels of the photo.
        chosen: The chosen shape; where it has no middle, the first in order is returned.
        across: 1 to the right, -1 to the left, else 0.
        down: 1 downwards, -1 upwards, else 0.
    """
    if chosen not in centres:
        return min(centres, default=chosen)
    x, y = centres[chosen]
    ahead = {}
    for other, (x_2, y_2) in centres.items():
        forward = (x_2 - x) * across + (y_2 - y) * down
        aside = abs((x_2 - x) * down) + abs((y_2 - y) * across)
        if forward > 0 and forward * _SIDEWAYS >= aside:
            ahead[other] = forward + _SIDEWAYS * aside
    return min(ahead, key=lambda other: (ahead[other], other), default=chosen)


def shape_called(state: ShapesState, text: str) -> ShapesState:
    """Return the state with the next shape chosen whose name holds a text, after the chosen one and round again."""
    wanted = text.casefold()
    ids = [one.id for one in state.shape_map.shapes]
    place = ids.index(state.chosen) + 1 if state.chosen in ids else 0
    turned = (*state.shape_map.shapes[place:], *state.shape_map.shapes[:place])
    found = next((one.id for one in turned if wanted in one.name.casefold()), None)
    return (
        state._replace(chosen=found, said="") if found else state._replace(said=f"No shape is called {quoted(text)}.")
    )


def squinted(state: ShapesState) -> ShapesState:
    """Return the state with the eyes squinted harder, or open again."""
    return state._replace(squint=(state.squint + 1) % len(SQUINTS), said="")


def flattened(state: ShapesState) -> ShapesState:
    """Return the state with every shape in one colour, or as it is again."""
    return state._replace(is_flat=not state.is_flat, said="")


def with_next_feature(state: ShapesState) -> ShapesState:
    """Return the state with the next feature alone, the chosen shape's first; after the last one all again."""
    there = [feature for feature in FEATURES if any(one.feature is feature for one in state.shape_map.shapes)]
    shape = state.shape
    if state.feature is None:
        first = shape.feature if shape is not None else next(iter(there), None)
        return state._replace(feature=first, said="")
    own = shape.feature if shape is not None else there[0]
    round_ = [*there[there.index(own) :], *there[: there.index(own)]] if own in there else there
    place = round_.index(state.feature) + 1 if state.feature in round_ else len(round_)
    return state._replace(feature=round_[place] if place < len(round_) else None, said="")


def undone(state: ShapesState) -> ShapesState:
    """Return the state one version back."""
    return _turned(state, -1, "Nothing is left to undo.", "The last change is undone.")


def redone(state: ShapesState) -> ShapesState:
    """Return the state one version on."""
    return _turned(state, 1, "Nothing is left to redo.", "The change is made again.")


STEPS: Final[Mapping[str, Callable[[ShapesState], ShapesState]]] = {
    "squint": squinted,
    "flat": flattened,
    "feature": with_next_feature,
    "undo": undone,
    "redo": redone,
    "mark": marked,
    "next": partial(with_passage, by=1),
    "before": partial(with_passage, by=-1),
}
"""What keys do that ask for nothing, by name."""


def sentence(error: CoachError) -> str:
    """Return an error as a sentence; of several faults the first."""
    said = str(error).partition("\n")[0].removesuffix(".")
    return f"{said[:1].upper()}{said[1:]}."


def _turned(state: ShapesState, by: int, none: str, said: str) -> ShapesState:
    number = state.number + by
    if not 0 <= number < len(state.versions):
        return state._replace(said=none)
    turned = state._replace(number=number, said=said)
    if turned.shape is not None:
        return turned
    before = {one.id for one in state.shape_map.shapes}
    new = [one.id for one in turned.shape_map.shapes if one.id not in before]
    return turned._replace(chosen=next(iter(new), _first(turned.shape_map)))


def _with_ids(plan: Plan, heirs: Mapping[str, tuple[str, ...]]) -> Plan:
    """Return the plan in which the heirs of shapes stand where those stood; none twice in a pass."""
    for (pass_name, name), passage in _passages(plan) if heirs else ():
        if heirs.keys().isdisjoint(passage.shapes):
            continue
        kept = [id_ for id_ in passage.shapes if id_ not in heirs]
        taken = {
            id_
            for (other_pass, other), one in _passages(plan)
            if (other_pass, other) != (pass_name, name) and other_pass == pass_name
            for id_ in one.shapes
        }
        new = [heir for id_ in passage.shapes for heir in heirs.get(id_, ()) if heir not in kept and heir not in taken]
        plan = change(plan, pass_name, name, "shapes", ", ".join([*kept, *dict.fromkeys(new)])).plan
    return plan


def _passages(plan: Plan) -> tuple[tuple[Address, Passage], ...]:
    return tuple(((one.name, passage.name), passage) for one in plan.passes for passage in one.passages)


def _nearest_corner(state: ShapesState, near: Point) -> Point | None:
    corners = [corner for ring in state.shape.outline for corner in ring] if state.shape is not None else []
    return min(corners, key=lambda corner: (math.dist(corner, near), corner), default=None)


def _first(shape_map: ShapeMap) -> str:
    return shape_map.shapes[0].id if shape_map.shapes else ""


def _without(ids: tuple[str, ...], gone: str) -> tuple[str, ...]:
    return tuple(id_ for id_ in ids if id_ != gone)
