"""A photo with boxes marked in it, which the mouse draws and changes, and the heads that are found in it.

A side is white on what is dark and black on what is light; every kind of box has a line of its own, so that no colour
is needed to tell them apart.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

from textual import work
from textual.message import Message

from coach.composition.crop import Crop
from coach.composition.marking import Marking, dragged, in_hand_at
from coach.composition.photo_boxes import CompositionError
from coach.errors import CoachError
from coach.plan.commission import MarkedBox
from coach.screens.widgets.half_blocks import HalfBlocks, Mark, MarkRole, Marks
from coach.screens.widgets.photo_view import PhotoView
from coach.shapes.photo_window import Box, PhotoWindow
from coach.text import cells as cells_of
from coach.text import chopped, cut

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_light import PhotoLight

    Dots = NDArray[np.uint8]
    Pixels = NDArray[np.float64]

_INSIDE: Final = 1e-6
"""A box ends before the pixel of its right and bottom side."""

_IN_HAND, _OTHER, _KEEP = (1, 1), (2, 3), (1, 3)
"""Of a line: so many dots of so many are drawn."""

_WHITE, _BLACK = 255, 0
_LIGHT_FROM: Final = 150
"""A side of a box is light where the mean channel of its dots is at least this."""


_REACH_DOTS: Final = 2
"""So near to the edge of a box the mouse is on it."""


class Extent(NamedTuple):
    """Columns and rows of dots, from 0, all included."""

    left: int
    top: int
    right: int
    bottom: int


class MarkedPhoto(PhotoView):
    """Reads a photo, shows what is marked in it, and tells what the mouse makes of that."""

    @dataclass
    class Changed(Message):
        """The mouse has marked this."""

        marking: Marking

    @dataclass
    class HeadsFound(Message):
        """These heads were found in the photo, perhaps none."""

        boxes: tuple[MarkedBox, ...]

    @dataclass
    class Failed(Message):
        """Something could not be done; the sentence says why."""

        why: str

    @dataclass
    class _Read(Message):
        read: "Callable[[Box, float], Pixels]"
        linear: "Pixels"
        box: Box
        is_whole: bool

    def __init__(self) -> None:
        super().__init__()
        self._read: Callable[[Box, float], Pixels] | None = None
        self._marking: Marking | None = None
        self._crop: Crop | None = None
        self._pictured: tuple[tuple[PhotoWindow, Crop | None], Dots] | None = None
        self._before_drag: Marking | None = None
        self._is_asked_for_heads = 0

    def open_photo(self, bounds: Box | None, read: "Callable[[Box, float], Pixels] | None") -> None:
        """Show another photo.

        Args:
            bounds: What there is of it; None for none.
            read: Returns the linear light of a part of it with so many pixels for one of the photo, or raises
                `CoachError`; asked from a thread.
        """
        self._read, self._marking, self._crop, self._is_asked_for_heads = read, None, None, 0
        self._draw_light(None)
        self.show_marks({})
        self.expect(bounds)
        if bounds is not None and read is not None:
            self._read_part(read, bounds, is_whole=True)

    def look_for_heads(self, most: int) -> None:
        """Look for heads as soon as the photo is read; `HeadsFound` tells them."""
        self._is_asked_for_heads = most
        light = self._light
        if light is not None:
            self._is_asked_for_heads = 0
            self._look(self._read, light, most)

    def show_marking(self, marking: Marking | None, crop: Crop | None = None) -> None:
        """Show what is marked; what a crop leaves out is dimmed."""
        self._marking, self._crop = marking, crop
        window = self.window
        self.show_marks({} if window is None or marking is None else names_on(window, marking))
        self.redraw()

    @work(thread=True, exclusive=True, group="light")
    def _read_part(self, read: "Callable[[Box, float], Pixels]", box: Box, *, is_whole: bool) -> None:
        from coach.shapes.photo_light import moderate_scale  # noqa: PLC0415  loaded with the first picture

        scale = moderate_scale(round((box[2] - box[0]) * (box[3] - box[1]))) if is_whole else 1.0
        try:
            self.post_message(self._Read(read, read(box, scale), box, is_whole))
        except CoachError as error:
            self.post_message(self.Failed(str(error)))

    @work(thread=True, exclusive=True, group="heads")
    def _look(self, read: object, light: "PhotoLight", most: int) -> None:
        from coach.shapes.head_finding import heads_in  # noqa: PLC0415  loaded when a head is looked for

        found = heads_in(light, most)
        if read is self._read:  # no other photo is shown meanwhile
            self.post_message(self.HeadsFound(found))

    def on_marked_photo__read(self, message: _Read) -> None:
        if message.read is not self._read:
            return
        self._pictured = None
        if not message.is_whole:
            self.add(message.linear, message.box)
            return
        from coach.shapes.photo_light import PhotoLight  # noqa: PLC0415  the thread has loaded it

        self._draw_light(PhotoLight(message.linear, message.box))
        if self._is_asked_for_heads:
            self.look_for_heads(self._is_asked_for_heads)

    def on_photo_view_lacking(self, message: PhotoView.Lacking) -> None:
        message.stop()
        if self._read is not None:
            self._read_part(self._read, message.box, is_whole=False)

    def on_half_blocks_spanned(self, message: HalfBlocks.Spanned) -> None:
        window, marking = self.window, self._before_drag or self._marking
        if window is None or marking is None:
            return
        message.stop()
        self._before_drag = None if message.is_over else marking
        at, to = (window.point_at(column, 2 * row + 0.5) for column, row in (message.one, message.other))
        try:
            if message.one == message.other:
                marking = in_hand_at(marking, int(at[0]), int(at[1]))
            else:
                drawn, by = box_between(window, message.one, message.other), (to[0] - at[0], to[1] - at[1])
                marking = dragged(marking, at, by, drawn, _REACH_DOTS * window.dot_px)
        except CompositionError as error:
            self.post_message(self.Failed(str(error)))
        else:
            self.post_message(self.Changed(marking))

    def _draw_light(self, light: "PhotoLight | None") -> None:
        self._pictured = None
        self.show_photo(light, None if light is None else lambda window: self._marked_dots(light, window))

    def _marked_dots(self, light: "PhotoLight", window: PhotoWindow) -> "Dots":
        if self._pictured is None or self._pictured[0] != (window, self._crop):
            self._pictured = (window, self._crop), drawn_photo(light, window, self._crop)
        return self._pictured[1] if self._marking is None else with_boxes(self._pictured[1], window, self._marking)


def extent_of(window: PhotoWindow, box: MarkedBox) -> Extent:
    """Return the dots that a box touches, one at least; they may lie beyond the picture where it is enlarged.

    A box beyond the photo touches the dots at its edge.
    """
    left, top, right, bottom = window.bounds
    first = window.dot_at((min(box.left_px, right - 1), min(box.top_px, bottom - 1)))
    last = window.dot_at(
        (min(max(box.right_px, left + 1), right) - _INSIDE, min(max(box.bottom_px, top + 1), bottom) - _INSIDE)
    )
    return Extent(first[0], first[1], max(first[0], last[0]), max(first[1], last[1]))


def box_between(window: PhotoWindow, one: tuple[int, int], other: tuple[int, int]) -> MarkedBox:
    """Return the box of the photo that two cells, each a column and a row, span; both are in it."""
    (left, right), (top, bottom) = (sorted((a, b)) for a, b in zip(one, other, strict=True))
    width_px, height_px = int(window.bounds[2]), int(window.bounds[3])
    across, down = (window.box[2] - window.box[0]) / window.across, (window.box[3] - window.box[1]) / window.down
    sides = (
        int(window.box[0] + left * across),
        int(window.box[1] + 2 * top * down),
        int(window.box[0] + (right + 1) * across),
        int(window.box[1] + 2 * (bottom + 1) * down),
    )
    left_px, top_px = min(max(sides[0], 0), width_px - 1), min(max(sides[1], 0), height_px - 1)
    return MarkedBox(
        left_px, top_px, min(max(sides[2], left_px + 1), width_px), min(max(sides[3], top_px + 1), height_px)
    )


def drawn_photo(light: "PhotoLight", window: PhotoWindow, crop: Crop | None) -> "Dots":
    """Return sRGB of the dots of a window; what a crop leaves out is dimmed."""
    from coach.shapes.dots import coded, dimmed  # noqa: PLC0415  loaded with the first picture

    linear = light.linear(window)
    if crop is None:
        return coded(linear)
    kept = extent_of(window, MarkedBox(crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    shown = dimmed(linear)
    rows, columns = slice(max(0, kept.top), kept.bottom + 1), slice(max(0, kept.left), kept.right + 1)
    shown[rows, columns] = linear[rows, columns]
    return coded(shown)


def with_boxes(dots: "Dots", window: PhotoWindow, marking: Marking) -> "Dots":
    """Return the dots with a line along every box, the one in hand above the others."""
    shown = dots.copy()
    for number in _in_order(marking):
        line = _IN_HAND if number == marking.in_hand else _OTHER if number < len(marking.heads) else _KEEP
        for side in _sides(extent_of(window, marking.boxes[number]), line):
            seen = [(y, x) for x, y in side if 0 <= x < window.across and 0 <= y < window.down]
            lightness = sum(float(dots[at].mean()) for at in seen) / max(1, len(seen))
            for at in seen:
                shown[at] = _BLACK if lightness >= _LIGHT_FROM else _WHITE
    return shown


def names_on(window: PhotoWindow, marking: Marking) -> Marks:
    """Return the names of the boxes as signs: above a box, or within it at the upper edge of the picture."""
    marks: Marks = {}
    for number in _in_order(marking):
        role = MarkRole.IN_HAND if number == marking.in_hand else MarkRole.PLAIN
        _write(marks, window, extent_of(window, marking.boxes[number]), marking.names[number], role)
    return marks


def _in_order(marking: Marking) -> Sequence[int]:
    return sorted(range(len(marking.boxes)), key=lambda number: number == marking.in_hand)


def _sides(extent: Extent, line: tuple[int, int]) -> Iterator[list[tuple[int, int]]]:
    """Yield the dots of each of the four sides that the line draws, the corners always."""
    (left, top, right, bottom), (drawn, period) = extent, line
    across = [x for x in range(left, right + 1) if (x - left) % period < drawn or x == right]
    down = [y for y in range(top, bottom + 1) if (y - top) % period < drawn or y == bottom]
    yield from ([(x, y) for x in across] for y in (top, bottom))
    yield from ([(x, y) for y in down] for x in (left, right))


def _write(marks: Marks, window: PhotoWindow, extent: Extent, name: str, role: MarkRole) -> None:
    rows = window.down // 2
    above = extent.top // 2 - 1
    if extent.right < 0 or extent.left >= window.across or extent.bottom < 0 or above >= rows:
        return
    row = max(above, 0)
    column = max(0, min(extent.left, window.across - cells_of(name)))
    line: dict[int, Mark] = {}
    for sign in chopped(cut(name, window.across - column), window.across - column)[0]:
        width = cells_of(sign)
        if width == 0:
            before = line.get(column - 1)
            if before is not None and before.sign:
                line[column - 1] = Mark(before.sign + sign, role)
            continue
        if column + width > window.across:
            break
        line[column] = Mark(sign, role)
        if width > 1:
            line[column + 1] = Mark("", role)
        column += width
    if line:
        marks[row] = marks.get(row, {}) | line
