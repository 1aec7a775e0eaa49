"""Two photos of two canvases in the painter's hands: corners that are set, names, and the findings walked through."""

import enum
import json
import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.compare.canvas_view import CanvasView, ComparisonError, Corners, checked_view
from coach.plan.commission import Canvas, CanvasSize
from coach.screens.compare.repository import FramedPhoto, Landmarks, PhotoOfCanvases
from coach.shapes.photo_window import Point

CORNERS: Final = ("upper left", "upper right", "lower right", "lower left")
"""The corners of a canvas, as they are set one after the other."""

_TWO: Final = 2
_CARD_FRAC: Final = 0.2
"""A card is drawn so wide for the height of its canvas, until its corners are set; ours."""

_USUAL_HEIGHT_FRAC: Final = 0.7
"""Where no canvas is found, one is drawn so high in the photo; ours."""


class Step(enum.Enum):
    """What the screen is at."""

    PHOTOS = "photos"
    READING = "reading"
    CORNERS = "corners"
    NAMES = "names"
    COMPARING = "comparing"
    ANSWER = "answer"
    LANDMARKS = "landmarks"


class Framing(NamedTuple):
    """A photo in which the corners of two canvases are being set.

    Attributes:
        photo: The photo.
        corners: The corners of the left canvas, then those of the right one, each from upper left, clockwise; then,
            where there are cards, those of the card beside the left canvas and beside the right one.
        left: Name of the canvas on the left.
        right: Name of the canvas on the right.
    """

    photo: PhotoOfCanvases
    corners: tuple[Point, ...]
    left: str
    right: str


class Framings(NamedTuple):
    """Both photos, and what is in hand.

    Attributes:
        canvases: The two canvases, by their names.
        photos: The photos.
        number: Number of the photo in hand.
        in_hand: Number of the point in hand.
        said: Why the corners cannot be accepted; may be empty.
        landmarks: Landmarks that are being set in the photo in hand; None while corners are.
    """

    canvases: tuple[Canvas, Canvas]
    photos: tuple[Framing, Framing]
    number: int = 0
    in_hand: int = 0
    said: str = ""
    landmarks: Landmarks | None = None

    @property
    def framing(self) -> Framing:
        """The photo in hand with its corners."""
        return self.photos[self.number]

    @property
    def at(self) -> Point:
        """The point in hand."""
        return self.points[self.in_hand]

    @property
    def points(self) -> tuple[Point, ...]:
        """The points that are being set: corners, or landmarks."""
        return self.framing.corners if self.landmarks is None else self.landmarks.points

    @property
    def point_name(self) -> str:
        """What the point in hand is."""
        if self.landmarks is None:
            return f"{CORNERS[self.in_hand % len(CORNERS)]} corner"
        return self.landmarks.names[self.in_hand % len(self.landmarks.names)]

    @property
    def canvas(self) -> str:
        """The canvas or the card on which the point in hand lies."""
        each = len(CORNERS) if self.landmarks is None else len(self.landmarks.names)
        number, framing = self.in_hand // each, self.framing
        name = (framing.left, framing.right)[number % _TWO]
        return name if number < _TWO else f"card beside {name}"


def begun(canvases: tuple[Canvas, Canvas], photos: Sequence[PhotoOfCanvases]) -> Framings:
    """Return two photos with the corners that were found; the canvases stand the other way round in the second."""
    one, other = photos
    left, right = canvases[0].name, canvases[1].name
    return Framings(
        canvases,
        (
            Framing(one, _first_corners(one, canvases), left, right),
            Framing(other, _first_corners(other, canvases), right, left),
        ),
    )


def pair_of(canvases: Sequence[Canvas], names: Sequence[str]) -> tuple[Canvas, Canvas] | None:
    """Return two canvases by their names, in the order of the plan; None where one is gone."""
    found = [one for one in canvases if one.name in names]
    return (found[0], found[1]) if len(found) == _TWO else None


def found_all(photo: PhotoOfCanvases) -> bool:
    """Return whether two canvases were found in a photo."""
    return len(photo.proposed) >= _TWO


def with_point(state: Framings, point: Point, dot_px: float) -> Framings:
    """Return the state with the point in hand somewhere else in the photo, set to a dot of so many pixels."""
    photo = state.framing.photo
    put = min(max(point[0], 0), photo.width_px), min(max(point[1], 0), photo.height_px)
    points = (*state.points[: state.in_hand], put, *state.points[state.in_hand + 1 :])
    if state.landmarks is not None:
        return set_here(state._replace(landmarks=state.landmarks._replace(points=points)), dot_px)
    return _with_framing(state, state.framing._replace(corners=points))


def set_here(state: Framings, dot_px: float) -> Framings:
    """Return the state with the landmark in hand set where it is; corners are set anyway."""
    landmarks, number = state.landmarks, state.in_hand
    if landmarks is None:
        return state
    dots_px = (*landmarks.dots_px[:number], dot_px, *landmarks.dots_px[number + 1 :])
    return state._replace(landmarks=landmarks._replace(dots_px=dots_px))


def pointed(state: Framings, point: Point, dot_px: float) -> Framings:
    """Return the state with the point that is nearest to another in hand, and there."""
    nearest = min(range(len(state.points)), key=lambda number: math.dist(state.points[number], point))
    return with_point(state._replace(in_hand=nearest), point, dot_px)


def with_landmarks(state: Framings, landmarks: Landmarks) -> Framings:
    """Return the state with landmarks in hand, in the first photo."""
    return state._replace(landmarks=landmarks, number=0, in_hand=0, said="")


def with_cards(state: Framings) -> Framings:
    """Return the state with a card beside each canvas in both photos, or without them where there were some."""
    half = _TWO * len(CORNERS)
    has_cards = len(state.framing.corners) > half
    photos = [
        one._replace(corners=one.corners[:half] if has_cards else (*one.corners[:half], *_cards(one)))
        for one in state.photos
    ]
    return state._replace(photos=(photos[0], photos[1]), in_hand=0 if has_cards else half, said="")


def _cards(framing: Framing) -> tuple[Point, ...]:
    """Return corners of cards below the lower outer corner of each canvas, as far as the photo goes."""
    found: list[Point] = []
    for first, is_left in ((0, True), (len(CORNERS), False)):
        upper, lower = framing.corners[first], framing.corners[first + (3 if is_left else 2)]
        side = _CARD_FRAC * math.dist(upper, lower)
        left = min(max(lower[0] - (0 if is_left else side), 0), framing.photo.width_px - side)
        top = min(lower[1] + side / 4, framing.photo.height_px - side)
        found += [(left, top), (left + side, top), (left + side, top + side), (left, top + side)]
    return tuple(found)


def next_point(state: Framings) -> Framings:
    """Return the state with the next point in hand."""
    return state._replace(in_hand=(state.in_hand + 1) % len(state.points), said="")


def exchanged(state: Framings) -> Framings:
    """Return the state with the names of the canvases exchanged in the photo in hand and in those that follow."""
    photos = list(state.photos)
    for number in range(state.number, len(photos)):
        photos[number] = photos[number]._replace(left=photos[number].right, right=photos[number].left)
    return state._replace(photos=(photos[0], photos[1]), said="")


def checked(state: Framings) -> Framings:
    """Return the state; where the corners cannot be those of the canvases it says why, with one of them in hand."""
    framing = state.framing
    for number, view in enumerate(_views(state, framing)):
        try:
            checked_view(view, framing.photo.width_px, framing.photo.height_px, framing.photo.name)
        except ComparisonError as error:
            first = number * len(CORNERS)
            in_hand = state.in_hand if first <= state.in_hand < first + len(CORNERS) else first
            return state._replace(in_hand=in_hand, said=sentence(error.what.removeprefix(f"{framing.photo.name}: ")))
    return state._replace(said="")


def onto_photo(state: Framings, number: int) -> Framings:
    """Return the state with another photo in hand, at its first corner."""
    return state._replace(number=number, in_hand=0, said="")


def framed(state: Framings) -> tuple[FramedPhoto, ...]:
    """Return the photos with the canvases in them."""
    return tuple(FramedPhoto(one.photo, _views(state, one), _cards_of(one)) for one in state.photos)


def size_of(state: Framings, name: str) -> CanvasSize:
    """Return the size of one of the canvases."""
    found = next(one.size for one in state.canvases if one.name == name)
    return CanvasSize(1, 1) if found is None else found


def draft_of(state: Framings) -> str:
    """Return names and corners as a text that `drafted` reads."""
    photos = [
        {
            "name": one.photo.name,
            "sha256": one.photo.sha256,
            "left": one.left,
            "right": one.right,
            "corners": one.corners,
        }
        for one in state.photos
    ]
    return json.dumps({"photos": photos, "number": state.number, "landmarks": state.landmarks})


def sentence(text: str) -> str:
    """Return what is wrong as a sentence."""
    said = text.removesuffix(".")
    return f"{said[:1].upper()}{said[1:]}."


class Drafted(NamedTuple):
    """What a draft asks to be read: two photos and two canvases, by their names; the text itself."""

    photos: tuple[str, str]
    canvases: tuple[str, str]
    text: str


def drafted(text: str) -> Drafted | None:
    """Return what a draft is of; None where it is none of ours."""
    try:
        one, other = json.loads(text)["photos"]
        found = Drafted((one["name"], other["name"]), (one["left"], one["right"]), text)
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return found if all(isinstance(name, str) for name in (*found.photos, *found.canvases)) else None


def with_draft(state: Framings, text: str) -> Framings:
    """Return the state with the corners of a draft, where its photos are the same and it is whole."""
    try:
        held = json.loads(text)
        photos = [_restored(one, kept) for one, kept in zip(state.photos, held["photos"], strict=True)]
        number = int(held["number"]) % _TWO
        landmarks = _kept_landmarks(held.get("landmarks"))
    except (ValueError, KeyError, TypeError):
        return state
    return state._replace(photos=(photos[0], photos[1]), number=number, landmarks=landmarks)


def _kept_landmarks(held: object) -> Landmarks | None:
    """Return landmarks that were kept; None for none.

    Raises:
        ValueError: They are none.
        TypeError: The same.
    """
    if held is None:
        return None
    if not isinstance(held, list):
        raise TypeError
    names, points, dots_px = held
    found = Landmarks(
        tuple(map(str, names)), tuple((float(x), float(y)) for x, y in points), tuple(map(float, dots_px))
    )
    counts = {_TWO * len(found.names), len(found.points), len(found.dots_px)}
    if not found.names or len(counts) > 1 or not _are_finite(found.points):
        raise ValueError
    return found


def _are_finite(points: Sequence[Point]) -> bool:
    return all(math.isfinite(side) for point in points for side in point)


def _restored(framing: Framing, kept: dict[str, object]) -> Framing:
    """Return a photo with the corners that were kept for it.

    Raises:
        ValueError: They belong to another photo, or are no corners.
    """
    corners = kept["corners"]
    if kept["sha256"] != framing.photo.sha256 or not isinstance(corners, list):
        raise ValueError
    points = tuple((float(x), float(y)) for x, y in corners)
    names = {framing.left, framing.right}
    left, right = str(kept["left"]), str(kept["right"])
    half = _TWO * len(CORNERS)
    if len(points) not in (half, _TWO * half) or {left, right} != names or not _are_finite(points):
        raise ValueError
    return framing._replace(corners=points, left=left, right=right)


def _with_framing(state: Framings, framing: Framing) -> Framings:
    photos = state.photos
    return state._replace(photos=(framing, photos[1]) if state.number == 0 else (photos[0], framing), said="")


def _cards_of(framing: Framing) -> dict[str, Corners]:
    quadrilaterals = [
        framing.corners[first : first + len(CORNERS)] for first in range(0, len(framing.corners), len(CORNERS))
    ]
    cards = zip((framing.left, framing.right), quadrilaterals[_TWO:], strict=False)
    return {name: _corners(own) for name, own in cards}


def _views(state: Framings, framing: Framing) -> tuple[CanvasView, CanvasView]:
    half = len(CORNERS)
    one, other = _corners(framing.corners[:half]), _corners(framing.corners[half : _TWO * half])
    return (
        CanvasView(canvas=framing.left, corners=one, size=size_of(state, framing.left)),
        CanvasView(canvas=framing.right, corners=other, size=size_of(state, framing.right)),
    )


def _first_corners(photo: PhotoOfCanvases, canvases: Sequence[Canvas]) -> tuple[Point, ...]:
    """Return the corners of the two largest canvases that were found, from left to right, else of two drawn ones."""
    if found_all(photo):
        largest = sorted(photo.proposed, key=_spread, reverse=True)[:_TWO]
        return tuple(corner for corners in sorted(largest, key=lambda one: one[0][0]) for corner in corners)
    size = canvases[0].size or CanvasSize(1, 1)
    height = min(_USUAL_HEIGHT_FRAC * photo.height_px, 0.4 * photo.width_px * size.height_mm / size.width_mm)
    width = height * size.width_mm / size.height_mm
    top = (photo.height_px - height) / 2
    found: list[Point] = []
    for middle in (photo.width_px / 4, 3 * photo.width_px / 4):
        left, right = middle - width / 2, middle + width / 2
        found += [(left, top), (right, top), (right, top + height), (left, top + height)]
    return tuple(found)


def _spread(corners: Corners) -> float:
    return math.dist(corners[0], corners[2]) * math.dist(corners[1], corners[3])


def _corners(points: Sequence[Point]) -> Corners:
    one, two, three, four = points
    return one, two, three, four
