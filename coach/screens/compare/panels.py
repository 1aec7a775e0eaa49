"""The pictures of the Compare screen on it: the photo whose corners are set, or a finding and where it lies."""

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Container

from coach.compare.pictures import CanvasPictures
from coach.screens.compare import picture
from coach.screens.compare.repository import ComparedCanvases
from coach.screens.compare.state import Framings, Step, size_of
from coach.screens.compare.view import CompareView
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.photo_view import PhotoView
from coach.shapes.photo_light import PhotoLight
from coach.shapes.photo_window import PhotoWindow, Point, finest_px

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.screens.compare.findings import Finding

    Dots = NDArray[np.uint8]


class Pictures(Container):
    """Shows the photo in hand with its corners; of an answer two patches, and the passage outlined on a canvas."""

    DEFAULT_CSS = """
    Pictures { layout: horizontal; height: 1fr; }
    Pictures > HalfBlocks { width: 1fr; height: 100%; margin: 0 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.patches, self.photo = HalfBlocks(), PhotoView()
        self._view = CompareView()
        self._found: ComparedCanvases | None = None
        self._light: PhotoLight | None = None
        self._source: object = None
        self._placed: Finding | None = None

    def compose(self) -> ComposeResult:
        yield self.patches
        yield self.photo

    def show(self, shown: CompareView, found: ComparedCanvases | None) -> None:
        """Show what belongs to a view; what was found has the canvases from the front."""
        self._view, self._found = shown, found
        framings = shown.framings
        if framings is not None:
            self.patches.display, self.photo.display = False, True
            self._show_photo(framings)
        elif found is not None and found.pictures is not None:
            self._show_finding(found.pictures)

    def on_half_blocks_resized(self) -> None:
        if self._found is not None and self._found.pictures is not None and self._view.step is Step.ANSWER:
            self._show_patches(self._found.pictures)
        self._show_names()

    def on_photo_view_moved(self) -> None:
        self._go_to_finding()
        self._show_names()

    @property
    def aim(self) -> Point:
        """What is enlarged: the corner in hand, or the passage that is shown."""
        framings, found, finding = self._view.framings, self._found, self._view.finding
        if framings is not None:
            return framings.at
        pictures = None if found is None else found.pictures
        return (0.0, 0.0) if pictures is None or finding is None else picture.place_of(pictures, finding)[0]

    @property
    def dot_px(self) -> float:
        """The side of a dot that is shown, in pixels of the photo."""
        return 1.0 if self.photo.window is None else self.photo.window.dot_px

    def _show_photo(self, framings: Framings) -> None:
        photo = framings.framing.photo
        marks = framings.landmarks
        if self._source != (photo.sha256, marks is None):
            self._source = (photo.sha256, marks is None)
            self._light = light = PhotoLight(photo.linear, (0.0, 0.0, float(photo.width_px), float(photo.height_px)))
            self.photo.show_photo(None)
            self.photo.show_photo(light, self._point_dots, _finest_px(framings))
            if marks is not None and self.photo.window is not None:
                own = marks.points[: len(marks.names)]
                self.photo.show_about(*picture.window_about(own, self.photo.window))
        else:
            self.photo.follow(framings.at)
        self._show_names()

    def _point_dots(self, window: PhotoWindow) -> "Dots":
        framings, light = self._view.framings, self._light
        assert framings is not None  # noqa: S101
        assert light is not None  # noqa: S101
        return picture.point_dots(light, window, framings, is_set=self._view.step is not Step.NAMES)

    def _show_names(self) -> None:
        window, framings = self.photo.window, self._view.framings
        self.photo.show_marks(
            {} if window is None or framings is None else picture.name_marks(window, framings.framing)
        )

    def _show_finding(self, pictures: CanvasPictures) -> None:
        self.patches.display, self.photo.display = True, self._view.finding is not None
        if self._source is not pictures:
            self._source = pictures
            rows, columns = pictures.labels.shape
            self._light = PhotoLight(pictures.fronts[0], (0.0, 0.0, float(columns), float(rows)))
            self.photo.show_photo(None)
            self.photo.show_marks({})
            self._placed = None
            self.photo.show_photo(self._light, self._outline_dots, 1.0)
        self._go_to_finding()
        self.photo.redraw()
        self._show_patches(pictures)

    def _go_to_finding(self) -> None:
        """Show the passage of a finding so large that it is seen, once for each; the painter may go on from there."""
        finding, pictures = self._view.finding, None if self._found is None else self._found.pictures
        is_shown = self._view.step is Step.ANSWER and self.photo.window is not None
        if is_shown and pictures is not None and finding is not None and finding is not self._placed:
            self._placed = finding
            self.photo.show_about(*picture.place_of(pictures, finding))

    def _outline_dots(self, window: PhotoWindow) -> "Dots":
        light, pictures = self._light, None if self._found is None else self._found.pictures
        assert pictures is not None  # noqa: S101
        assert light is not None  # noqa: S101
        return picture.outline_dots(pictures, light, window, self._view.finding)

    def _show_patches(self, pictures: CanvasPictures) -> None:
        (columns, rows), finding = self.patches.size, self._view.finding
        if not columns or not rows:
            return
        dots = None if finding is None else picture.patch_dots(pictures, finding, columns, rows)
        dots = picture.both_dots(pictures, columns, rows) if dots is None else dots
        self.patches.show_dots(dots)
        names = picture.patch_names(pictures, finding)
        self.patches.show_marks(picture.patch_marks(names, dots.shape[1], dots.shape[0] // 2, finding))


def _finest_px(framings: Framings) -> float:
    """Return the side of the smallest dot, in pixels of the photo: 1 mm on the canvas, where that is less than 1."""
    framing = framings.framing
    (left, top), (right, _), (_, bottom) = framing.corners[0], framing.corners[1], framing.corners[3]
    size = size_of(framings, framing.left)
    return finest_px(max((right - left) / size.width_mm, (bottom - top) / size.height_mm))
