"""What the Compare screen asks of the disk: the photos of the canvases, and the comparison itself."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of
from coach.commands.log_of_plan import journal_state
from coach.compare.comparison import compare
from coach.compare.pictures import pictures_of
from coach.compare.subject import Photographed, reading_scale
from coach.errors import CoachError
from coach.journal.compared import KeptPhoto
from coach.plan.commission import Address, Canvas, Plan
from coach.plan.reading import read_plan
from coach.review.compared_passages import reasons_against
from coach.screens.compare.repository import (
    ComparedCanvases,
    FramedPhoto,
    OfferedPhoto,
    OpenedCanvases,
    PhotoOfCanvases,
)
from coach.session.comparing import mark_for_return, mean_it, record_comparison
from coach.session.moves import Move
from coach.session.session_service import SessionService
from coach.shapes.photo_light import moderate_scale
from coach.store.canvas_photos import CanvasPhoto, LoadedPhoto, canvas_photo, canvas_photos, load_canvas_photo
from coach.store.painted_passages import DOTS_PER_MM, painted_passages
from coach.store.photo import read_linear_light, read_srgb
from coach.store.plan_file import PlanFile

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coach.shapes.photo_window import Box

_LINEAR: Final = linear_of(np.arange(256) / 255)
_PLACES: Final = {"left": -1, "right": 1}
_TWO: Final = 2


class CompareFileRepository:
    """Reads plan and photos anew each time; photos are kept in memory while they are in hand, and only read."""

    def __init__(self, plan_path: Path, session: SessionService) -> None:
        """Serve the plan of a session, in that file."""
        self._path, self._session = plan_path, session
        self._offered: dict[str, CanvasPhoto] = {}
        self._loaded: dict[str, LoadedPhoto] = {}

    def opened(self) -> OpenedCanvases:
        """Return what can be compared."""
        plan = self._plan()
        canvases = tuple(sorted(plan.canvases, key=_place))
        problem = _missing(plan)
        if problem or plan.photos is None:
            return OpenedCanvases(canvases, problem=problem)
        found = canvas_photos(self._path, plan.photos)
        self._offered = {photo.name: photo for photo in found}
        return OpenedCanvases(
            canvases,
            tuple(OfferedPhoto(one.name, f"{one.taken_at:%d %b %H:%M}", one.problem, one.cautions) for one in found),
        )

    def photo(self, name: str) -> PhotoOfCanvases:
        """Return a photo of the folder, or any other by its path, with the canvases that are found in it."""
        photo = self._offered.get(name) or canvas_photo(self._path.parent / Path(name).expanduser())
        loaded = load_canvas_photo(photo)
        self._loaded = {**dict([*self._loaded.items()][-1:]), name: loaded}  # two are in hand
        height, width = loaded.coded.shape[:2]
        linear = read_linear_light(photo.path, (0, 0, width, height), moderate_scale(width * height), is_shown=True)
        return PhotoOfCanvases(name, loaded.sha256, width, height, linear)

    def part(self, name: str, box: "Box") -> "NDArray[np.float64]":
        """Return a part of a photo pixel by pixel, in linear light."""
        left, top, right, bottom = (round(side) for side in box)
        part: NDArray[np.float64] = _LINEAR[self._loaded[name].coded[top:bottom, left:right]]
        return part

    def compared(self, photos: Sequence[FramedPhoto]) -> ComparedCanvases:
        """Return what photos tell of the canvases."""
        plan = self._plan()
        photographed = [self._photographed(one) for one in photos]
        canvases = photos[0].views[0].canvas, photos[0].views[1].canvas
        state = journal_state(self._path)
        why = reasons_against(plan, state, canvases)
        painted, outlines = painted_passages(plan, self._path, canvases, why)
        found = compare(photographed, painted, outlines)
        kept = tuple(
            KeptPhoto(one.photo.name, one.sha256, one.photo.taken_at.isoformat(timespec="seconds"))
            for one in (self._loaded[framed.photo.name] for framed in photos)
        )
        meant = frozenset((one.pass_name, one.name) for one in state.meant if one.canvases == tuple(sorted(canvases)))
        return ComparedCanvases(found, pictures_of(photographed, painted, outlines), kept, meant)

    def record(self, found: ComparedCanvases) -> tuple[str, ...]:
        """Keep what was found in the journal; return what became of earlier findings."""
        self._make(record_comparison(found.comparison, found.photos))
        return ()

    def mean_it(self, meant: Address, canvases: tuple[str, str]) -> None:
        """Keep that a passage or a feature differs because the painter wants it so."""
        self._make(mean_it(*meant, canvases))

    def mark_for_return(self, address: Address, canvas: str) -> None:
        """Mark a passage on a canvas, so that it is looked at again."""
        self._make(mark_for_return(*address, canvas))

    def _make(self, move: Move) -> None:
        """Record a move; what the session says of it is told on this screen, not once more on the Easel."""
        is_made = self._session.make(move)
        said, self._session.remark = self._session.remark, ""
        if not is_made:
            raise CoachError(said)

    def _photographed(self, framed: FramedPhoto) -> Photographed:
        """Return a photo as finely as it is read."""
        loaded = self._loaded[framed.photo.name]
        coded = read_srgb(loaded.photo.path, reading_scale(framed.views, DOTS_PER_MM))
        photo = Photographed(name=loaded.photo.name, coded=coded, views=framed.views)
        return photo.at(coded.shape[1] / framed.photo.width_px)

    def _plan(self) -> Plan:
        file = PlanFile(self._path)
        return read_plan(file.read(), file.name)


def _place(canvas: Canvas) -> int:
    """Return where a canvas stands, from left to right."""
    return int(canvas.place) if canvas.place and canvas.place.isdecimal() else _PLACES.get(canvas.place or "", 0)


def _missing(plan: Plan) -> str:
    """Return what a plan lacks for a comparison, in a sentence; empty for nothing."""
    if len(plan.canvases) < _TWO:
        return "There is one canvas only: nothing to compare it with."
    if plan.photo is None or plan.shapes is None:
        return "First the photo and its shapes: t opens them."
    lacking = next((canvas.name for canvas in plan.canvases if canvas.size is None), None)
    return "" if lacking is None else f"First the size of {lacking} in the plan: v opens it."
