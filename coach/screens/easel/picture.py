"""The photo beside the letters: the place of the passage in hand, straight, mirrored or upside down."""

from typing import TYPE_CHECKING, Final, NamedTuple

from coach.screens.easel import wording
from coach.screens.easel.layout import Box
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.session.situation import Situation

if TYPE_CHECKING:
    from coach.shapes.reference import Reference

_MARGIN_CELLS: Final = 1
_TURNS: Final = ("", wording.MIRRORED, wording.UPSIDE_DOWN)
_OF_CHECK: Final = {"mirror": 1, "upside down": 2}
"""How a check turns the picture by itself."""


class Looked(NamedTuple):
    """How the photo is looked at: the shapes of the passages in hand, and the number of its turn in `_TURNS`."""

    shapes: tuple[str, ...]
    turn: int = 0


def looked_at(situation: Situation, turns: int) -> Looked:
    """Return how the photo is looked at in a situation, turned so many times further by the painter."""
    passages = situation.passages
    by_check = _OF_CHECK.get(passages[0].check or "", 0) if passages else 0
    shapes = tuple(shape for passage in passages for shape in passage.shapes)
    return Looked(shapes, (by_check + turns) % len(_TURNS))


def says(looked: Looked, *, is_colour: bool) -> str:
    """Return what is said of the picture."""
    turned = _TURNS[looked.turn]
    if not turned:
        return wording.IN_COLOUR if is_colour else wording.IN_VALUES
    return f"{turned}, {wording.SCREEN_COLOUR if is_colour else wording.IN_VALUES}"


class EaselPicture(HalfBlocks):
    """Shows the photo over the board, at the place that the layout leaves for it."""

    DEFAULT_CSS = """
    EaselPicture { layer: picture; position: absolute; display: none; }
    EaselPicture.-inverted { background: $foreground; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.reference: Reference | None = None
        self._shown: tuple[Reference | None, Looked, Box | None] | None = None

    def show_photo(self, looked: Looked, box: Box | None, *, is_alone: bool, is_inverted: bool) -> None:
        """Show the photo in a box of the board; what stands there already is not drawn again.

        Args:
            looked: How it is looked at.
            box: Where it stands; None for nowhere.
            is_alone: Whether it stands alone, and so in the middle of its box.
            is_inverted: Whether ink and ground are changed about it.
        """
        self.set_class(is_inverted, "-inverted")
        shown = (self.reference, looked, box)
        if shown == self._shown:
            return
        self._shown = shown
        self.display = box is not None and self.reference is not None
        if box is None or self.reference is None:
            return
        turned = _TURNS[looked.turn]
        self.show_dots(
            self.reference.reference(
                looked.shapes,
                box.columns,
                box.rows,
                mirrored=turned == wording.MIRRORED,
                upside_down=turned == wording.UPSIDE_DOWN,
            )
        )
        x = (box.columns - self.columns) // 2 if is_alone else 0
        self.styles.offset = (box.x + x + _MARGIN_CELLS, box.y)
        self.styles.width, self.styles.height = box.columns - x, box.rows
