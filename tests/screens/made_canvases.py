"""Two canvases photographed twice in a rendered room, for what is tested of the Compare screen."""

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from coach.colour.light import linear_of
from coach.commands.compare_repository import features_drawn, on_photo
from coach.compare.comparison import compare
from coach.compare.landmarks import Landmark
from coach.compare.pictures import pictures_of
from coach.compare.subject import Photographed
from coach.errors import CoachError
from coach.plan.commission import Address, Canvas
from coach.screens.compare.repository import (
    ComparedCanvases,
    DrawnFeature,
    FramedPhoto,
    Landmarks,
    OfferedPhoto,
    OpenedCanvases,
    PhotoOfCanvases,
)
from coach.shapes.photo_light import moderate_scale
from coach.shapes.photo_window import Box
from tests.compare import scenes
from tests.compare.scenes import DISCS, NAMES, SIZE, outlines, painted, photographed
from tests.compare.test_comparison import CHANGED

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

EYE = ("socket left, half-dark", "white of the eye, light", "iris left, darkest")
CANVASES = (Canvas(NAMES[0], "left", SIZE), Canvas(NAMES[1], "right", SIZE))
CROP = (0.0, 0.0, 400.0, 500.0)
MARKS = tuple(
    Landmark(name=name, feature=name.partition(",")[0], at=(x, y))
    for name, _, _, x, y, *_ in DISCS
    if name.partition(",")[0] in ("iris left", "iris right", "nose", "mouth", "chin", "collar", "cheek left", "neck")
)
"""The middles of some discs, in millimetres on the canvas, as a photo of one pixel a millimetre would have them."""

FIRST, SECOND = "window-1.jpg", "window-2.jpg"


@cache
def scene() -> tuple[Photographed, Photographed]:
    """Return two photos of two canvases: three shapes differ in colour, and an eye lies 5 mm further right."""
    one = scenes.Canvas().sheet
    other = scenes.Canvas(colours=CHANGED, moved=dict.fromkeys(EYE, (5, 0))).sheet
    room = scenes.Room()
    return photographed(one, other, NAMES, room), photographed(other, one, NAMES[::-1], room, is_second=True)


@cache
def found() -> ComparedCanvases:
    """Return what the two photos tell."""
    return ComparedCanvases(compare(scene(), painted(), outlines()), pictures_of(scene(), painted(), outlines()))


def photo_of(photo: Photographed, name: str, *, is_found: bool = True) -> PhotoOfCanvases:
    """Return a photo as the screen gets it."""
    height, width = photo.coded.shape[:2]
    step = max(1, round(1 / moderate_scale(width * height)))
    linear = linear_of(photo.coded[::step, ::step] / 255)
    views = sorted(photo.views, key=lambda view: view.middle_px)
    return PhotoOfCanvases(name, name, width, height, linear, tuple(view.corners for view in views) if is_found else ())


class RenderedCanvases:
    """Photos in memory; what is kept is a list, and `fault` is what fails."""

    def __init__(self, *, is_found: bool = True, offers: Sequence[OfferedPhoto] | None = None) -> None:
        self.is_found, self.fault, self.problem = is_found, "", ""
        usual = (OfferedPhoto(SECOND, "28 Nov 14:05"), OfferedPhoto(FIRST, "28 Nov 14:02"))
        self.offers = tuple(usual if offers is None else offers)
        self.canvases: tuple[Canvas, ...] = CANVASES
        self.kept: list[object] = []
        self.marks = MARKS
        self.answer: ComparedCanvases | None = None
        self.last: ComparedCanvases | None = None
        self.history: tuple[str, ...] = ()
        self.framed: Sequence[FramedPhoto] = ()

    def opened(self) -> OpenedCanvases:
        return OpenedCanvases(self.canvases, self.offers, self.problem, self.last, self.history)

    def photo(self, name: str) -> PhotoOfCanvases:
        if name not in (FIRST, SECOND):
            raise CoachError("there is no such file", where=name)
        return photo_of(scene()[name == SECOND], name, is_found=self.is_found)

    def part(self, name: str, box: Box) -> "NDArray[np.float64]":
        left, top, right, bottom = map(round, box)
        return linear_of(scene()[name == SECOND].coded[top:bottom, left:right] / 255)

    def compared(self, photos: Sequence[FramedPhoto]) -> ComparedCanvases:
        self.framed = photos
        if self.fault:
            raise CoachError(self.fault)
        return self.answer or found()

    def landmarks(self, photo: FramedPhoto) -> Landmarks:
        assert self.marks, "no landmark"
        points = [point for view in photo.views for point in on_photo([one.at for one in self.marks], CROP, view)]
        return Landmarks(tuple(one.name for one in self.marks), tuple(points), (0.0,) * len(points))

    def drawn(self, photo: FramedPhoto, landmarks: Landmarks) -> tuple[DrawnFeature, ...]:
        return features_drawn(self.marks, CROP, photo, landmarks)

    def record(self, compared: ComparedCanvases) -> tuple[str, ...]:
        self.keep(compared.comparison.photos)
        return ("collar, light: out since 20 Nov, and growing.",)

    def mean_it(self, meant: Address, canvases: tuple[str, str]) -> tuple[str, ...]:
        self.keep(("meant", meant, canvases))
        return (f"Meant so: {meant[1]}.",)

    def mark_for_return(self, address: Address, canvas: str) -> None:
        self.keep(("marked", address, canvas))

    def keep(self, what: object) -> None:
        if self.fault:
            raise CoachError(self.fault)
        self.kept.append(what)
