"""What the Compare screen asks of the disk: the photos of the canvases, and the comparison itself."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of
from coach.commands.log_of_plan import journal_state
from coach.compare.canvas_view import CanvasView
from coach.compare.comparison import compare
from coach.compare.corner_finding import proposed_corners
from coach.compare.findings import AllOver, Compared, Comparison, Moved, NotCompared, OffValue
from coach.compare.landmarks import LEAST_SET, Landmark, SetLandmarks, landmark_findings
from coach.compare.pictures import pictures_of
from coach.compare.subject import Photographed, reading_scale
from coach.errors import CoachError
from coach.journal.compared import KeptAllOver, KeptPhoto, KeptShift
from coach.journal.reading import local_time
from coach.plan.commission import Address, Canvas, Plan
from coach.plan.reading import read_plan
from coach.review.compared_passages import reasons_against
from coach.review.comparison_history import comparison_history
from coach.screens.compare.repository import (
    ComparedCanvases,
    DrawnFeature,
    FramedPhoto,
    Landmarks,
    OfferedPhoto,
    OpenedCanvases,
    PhotoOfCanvases,
)
from coach.session.comparing import kept_shift, mark_for_return, mean_it, record_comparison
from coach.session.journal_state import JournalState
from coach.session.moves import Move
from coach.session.session_service import SessionService
from coach.shapes.photo_light import moderate_scale
from coach.shapes.photo_window import Box, Point
from coach.store.canvas_photos import CanvasPhoto, LoadedPhoto, canvas_photo, canvas_photos, load_canvas_photo
from coach.store.painted_passages import DOTS_PER_MM, painted_passages
from coach.store.photo import read_linear_light, read_srgb
from coach.store.photo_landmarks import photo_landmarks
from coach.store.plan_file import PlanFile

if TYPE_CHECKING:
    from numpy.typing import NDArray


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
        """Return what can be compared, and what was."""
        plan, state = self._plan(), journal_state(self._path)
        opened = OpenedCanvases(
            tuple(sorted(plan.canvases, key=_place)),
            problem=_missing(plan),
            last=_last(state),
            history=comparison_history(plan, state).sentences,
        )
        if plan.photos is None:
            return opened
        found = canvas_photos(self._path, plan.photos)
        self._offered = {photo.name: photo for photo in found}
        return opened._replace(
            offered=tuple(OfferedPhoto(one.name, _taken(one, state), one.problem, one.cautions) for one in found)
        )

    def photo(self, name: str) -> PhotoOfCanvases:
        """Return a photo of the folder, or any other by its path, with the canvases that are found in it."""
        photo = self._offered.get(name) or canvas_photo(self._path.parent / Path(name).expanduser())
        loaded = load_canvas_photo(photo)
        self._loaded = {**dict([*self._loaded.items()][-1:]), name: loaded}  # two are in hand
        height, width = loaded.coded.shape[:2]
        linear = read_linear_light(photo.path, (0, 0, width, height), moderate_scale(width * height), is_shown=True)
        sizes = [canvas.size for canvas in self._plan().canvases if canvas.size is not None]
        found = proposed_corners(loaded.coded, [size.width_mm / size.height_mm for size in sizes])
        return PhotoOfCanvases(name, loaded.sha256, width, height, linear, found)

    def part(self, name: str, box: Box) -> "NDArray[np.float64]":
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
        return ComparedCanvases(
            found, pictures_of(photographed, painted, outlines), kept, _meant(state, found.canvases)
        )

    def landmarks(self, photo: FramedPhoto) -> Landmarks:
        """Return landmarks of the drawing where they should lie in a photo."""
        marks, crop = photo_landmarks(self._plan(), self._path)
        points = [point for view in photo.views for point in on_photo([one.at for one in marks], crop, view)]
        return Landmarks(tuple(one.name for one in marks), tuple(points), (0.0,) * len(points))

    def drawn(self, photo: FramedPhoto, landmarks: Landmarks) -> tuple[DrawnFeature, ...]:
        """Return what lies elsewhere by the landmarks that are set."""
        marks, crop = photo_landmarks(self._plan(), self._path)
        return features_drawn(marks, crop, photo, landmarks)

    def record(self, found: ComparedCanvases) -> tuple[str, ...]:
        """Keep what was found in the journal; return what became of earlier findings."""
        shifts = [kept_shift(one.moved, one.passage or ("", "")) for one in found.drawn]
        self._make(record_comparison(found.comparison, found.photos, shifts))
        return comparison_history(self._session.plan, self._session.state).sentences

    def mean_it(self, meant: Address, canvases: tuple[str, str]) -> tuple[str, ...]:
        """Keep that a passage or a feature differs because the painter wants it so; return what became of all."""
        self._make(mean_it(*meant, canvases))
        return comparison_history(self._session.plan, self._session.state).sentences

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
        photo = Photographed(name=loaded.photo.name, coded=coded, views=framed.views, cards=framed.cards)
        return photo.at(coded.shape[1] / framed.photo.width_px)

    def _plan(self) -> Plan:
        file = PlanFile(self._path)
        return read_plan(file.read(), file.name)


def _taken(photo: CanvasPhoto, state: JournalState) -> str:
    """Return when a photo was taken, and what was painted last before it."""
    turns = [record.turn for record in state.turns if record.is_painted and local_time(record.ended) <= photo.taken_at]
    after = f", after {' + '.join(turns[-1].passages)} on {turns[-1].canvas}" if turns else ""
    return f"{photo.taken_at:%d %b %H:%M}{after}"


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


def on_photo(at: Sequence[Point], crop: Box, view: CanvasView) -> list[Point]:
    """Return where points of the photo that is painted from should lie in a photo of a canvas."""
    left, top, right, bottom = crop
    scale = np.array([view.size.width_mm / (right - left), view.size.height_mm / (bottom - top)])
    mm = (np.array(at) - (left, top)) * scale
    x, y, w = view.homography() @ np.stack((*mm.T, np.ones(len(mm))))
    return list(zip((x / w).tolist(), (y / w).tolist(), strict=True))


def features_drawn(
    marks: Sequence[Landmark], crop: Box, photo: FramedPhoto, landmarks: Landmarks
) -> tuple[DrawnFeature, ...]:
    """Return what lies elsewhere by landmarks, of which those count that are set on both canvases.

    Raises:
        CoachError: These are too few.
    """
    count = len(landmarks.names)
    points = landmarks.points[:count], landmarks.points[count:]
    dots_px = zip(landmarks.dots_px[:count], landmarks.dots_px[count:], strict=True)
    is_set = {name for name, own in zip(landmarks.names, dots_px, strict=True) if all(own)}
    if len(is_set) < LEAST_SET:
        raise CoachError(f"set {LEAST_SET} points or more on each canvas; Tab leaves one and takes the next")
    left, right = (
        SetLandmarks(view=view, at={name: at for name, at in zip(landmarks.names, own, strict=True) if name in is_set})
        for view, own in zip(photo.views, points, strict=True)
    )
    dot_mm = max(landmarks.dots_px) / min(view.px_per_mm for view in photo.views)
    scale = photo.views[0].size.width_mm / (crop[2] - crop[0])
    drawn = []
    for moved in landmark_findings(marks, crop, (left, right), dot_mm):
        own = [one.at for one in marks if one.feature == moved.feature]
        x, y = ((np.mean(own, axis=0) - crop[:2]) * scale).tolist()
        drawn.append(DrawnFeature(moved, (x, y)))
    return tuple(drawn)


def _meant(state: JournalState, canvases: tuple[str, str]) -> frozenset[Address]:
    """Return what is meant to differ between two canvases."""
    pair = tuple(sorted(canvases))
    return frozenset((one.pass_name, one.name) for one in state.meant if one.canvases == pair)


def _last(state: JournalState) -> ComparedCanvases | None:
    """Return the last comparison of a journal, which holds no pictures; None where it holds none."""
    if not state.comparisons:
        return None
    kept = state.comparisons[-1].found
    shapes = tuple(
        Compared(
            pass_=one.pass_name,
            passage=one.passage,
            difference=one.difference,
            interval=(one.low, one.high),
            lab_difference=one.lab_difference,
            called=one.is_called,
            words=one.words,
        )
        for one in kept.passages
    )
    comparison = Comparison(
        canvases=kept.canvases,
        photos=tuple(photo.name for photo in kept.photos),
        exchanged=True,
        shapes=shapes,
        moved=tuple(map(_moved, {one.name: one for one in (*kept.moved, *kept.landmarks)}.values())),
        off_values=tuple(
            OffValue(canvas=one.canvas, pass_=one.pass_name, passage=one.passage, steps=one.steps, words=one.words)
            for one in kept.off_values
        ),
        readings=(),
        not_compared=tuple(NotCompared(pass_=one.pass_name, passage=one.passage, why=one.why) for one in kept.left_out),
        light_ratio=kept.light_ratio,
        remarks=kept.remarks,
        all_over=None if kept.all_over is None else _all_over(kept.all_over),
    )
    return ComparedCanvases(comparison, None, kept.photos, _meant(state, kept.canvases))


def _moved(kept: KeptShift) -> Moved:
    name, canvas, right_mm, down_mm, words, pass_name, passage = kept
    return Moved(
        feature=name,
        canvas=canvas,
        right_mm=right_mm,
        down_mm=down_mm,
        words=words,
        pass_=pass_name,
        passage=passage,
    )


def _all_over(kept: KeptAllOver) -> AllOver:
    size, lab_difference, is_called, words = kept
    return AllOver(difference=size, lab_difference=lab_difference, called=is_called, words=words)
