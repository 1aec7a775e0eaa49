"""A photo in half blocks that is enlarged about a point, down to one pixel a dot, and moved with the mouse."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from coach.screens.widgets.half_blocks import HalfBlocks

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_light import PhotoLight
    from coach.shapes.photo_window import Box, PhotoWindow, Point

    Dots = NDArray[np.uint8]


class PhotoView(HalfBlocks):
    """Shows a window of a photo, and asks for the pixels that an enlarged one lacks."""

    DEFAULT_CSS = """
    PhotoView { width: 1fr; height: 100%; }
    """

    @dataclass
    class Moved(Message):
        """Another window is shown."""

    @dataclass
    class Lacking(Message):
        """A part of the photo should be read pixel by pixel; `PhotoView.add` takes it."""

        box: "Box"

    def __init__(self) -> None:
        super().__init__()
        self.window: PhotoWindow | None = None
        """What is shown; None where there is no photo, or no room."""
        self._light: PhotoLight | None = None
        self._bounds: Box | None = None
        self._draw: Callable[[PhotoWindow], Dots] | None = None
        self._least_px = 1.0
        self._asked: Box | None = None
        self._drag_from: PhotoWindow | None = None

    def show_photo(
        self, light: "PhotoLight | None", draw: "Callable[[PhotoWindow], Dots] | None" = None, least_px: float = 1.0
    ) -> None:
        """Show all of another photo.

        Args:
            light: The photo; None for none.
            draw: Returns the dots of a window of it; None draws the photo as it is.
            least_px: The side of the smallest dot, in pixels of the photo.
        """
        self._light, self._draw, self._least_px = light, draw, least_px
        self.expect(None if light is None else light.bounds)

    def expect(self, bounds: "Box | None") -> None:
        """Make room for a photo of so many pixels, whose light comes later; None for none."""
        if bounds != self._bounds:
            self._bounds, self.window = bounds, None
        self._asked = None
        self._fit()
        self.redraw()

    def redraw(self) -> None:
        """Draw the window anew."""
        light, window = self._light, self.window
        if light is None or window is None:
            self.show_dots(None)
            return
        from coach.shapes.dots import coded  # noqa: PLC0415  loaded with the first picture

        self.show_dots(coded(light.linear(window)) if self._draw is None else self._draw(window))
        box = light.missing(window)
        if box is not None and box != self._asked:
            self._asked = box
            self.post_message(self.Lacking(box))

    def add(self, linear: "NDArray[np.float64]", box: "Box") -> None:
        """Take a part of the photo that was lacking."""
        if self._light is not None:
            self._light.add(linear, box)
            self.redraw()

    def enlarge(self, about: "Point", *, is_closer: bool) -> None:
        """Show a larger picture about a point, or a smaller one."""
        if self.window is not None:
            self._go(self.window.enlarged(about) if is_closer else self.window.reduced(about))

    def show_about(self, point: "Point", dot_px: float) -> None:
        """Show what lies about a point at so many pixels of the photo a dot; at most all that there is."""
        if self.window is not None:
            self._go(self.window.about(point, dot_px))

    def follow(self, point: "Point") -> None:
        """Move the window as far as a point needs that came near its edge; draw it in any case."""
        if self.window is not None:
            self._go(self.window.following(point))

    def point_at(self, cell: tuple[int, int]) -> "Point | None":
        """Return the point of the photo in the middle of a cell; None where no photo is shown."""
        return None if self.window is None else self.window.point_at(cell[0], 2 * cell[1] + 0.5)

    def dragged(self, message: HalfBlocks.Spanned) -> "Point | None":
        """Move the picture with the mouse; return the point that was clicked where it was not moved."""
        start = self._drag_from or self.window
        is_click = self._drag_from is None and message.one == message.other
        if start is None or is_click:
            return self.point_at(message.one) if message.is_over else None
        self._drag_from = None if message.is_over else start
        (x, y), (x_2, y_2) = (start.point_at(column, 2 * row) for column, row in (message.one, message.other))
        left, top, right, bottom = start.box
        self._go(start.about(((left + right) / 2 + x - x_2, (top + bottom) / 2 + y - y_2), start.dot_px))
        return None

    def on_resize(self) -> None:
        super().on_resize()
        self._fit()
        self.redraw()

    def on_half_blocks_wheeled(self, message: HalfBlocks.Wheeled) -> None:
        point = self.point_at(message.at)
        if point is not None:
            message.stop()
            self.enlarge(point, is_closer=message.is_up)

    def _go(self, window: "PhotoWindow") -> None:
        self.window = window
        self.redraw()
        self.post_message(self.Moved())

    def _fit(self) -> None:
        if self._bounds is None or not self.size.area:
            return
        from coach.shapes.photo_window import whole  # noqa: PLC0415  loaded with the first picture

        if self.window is None or self.window.box == self._bounds:
            self.window = whole(self._bounds, *self.size, self._least_px)
        else:
            left, top, right, bottom = self.window.box
            self.window = self.window.in_room(*self.size, ((left + right) / 2, (top + bottom) / 2))
        self.post_message(self.Moved())
