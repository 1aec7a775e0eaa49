"""The photo beside the letters: the place of the passage in hand, straight, mirrored or upside down."""

from collections.abc import Collection
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from textual.message import Message

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.screens.easel import wording
from coach.screens.easel.layout import Box
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.session.situation import Situation

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.shapes.reference import Reference

_MARGIN_CELLS: Final = 1


class Looked(NamedTuple):
    """How the photo is looked at: the shapes of the passages in hand, and how it is turned."""

    shapes: tuple[str, ...]
    is_mirrored: bool = False
    is_upside_down: bool = False


def looked_at(situation: Situation, turned: Collection[str]) -> Looked:
    """Return how the photo is looked at in a situation: as a check asks for, and where the painter turned it, not so.

    Args:
        situation: The situation.
        turned: The ways in which the painter turned it: `wording.MIRRORED`, `wording.UPSIDE_DOWN`.
    """
    check = situation.passages[0].check if situation.passages else None
    return Looked(
        tuple(shape for passage in situation.passages for shape in passage.shapes),
        is_mirrored=(check == "mirror") != (wording.MIRRORED in turned),
        is_upside_down=(check == "upside down") != (wording.UPSIDE_DOWN in turned),
    )


def says(looked: Looked, *, is_colour: bool) -> str:
    """Return what is said of the picture."""
    ways = ((wording.MIRRORED, looked.is_mirrored), (wording.UPSIDE_DOWN, looked.is_upside_down))
    turned = ", ".join(way for way, is_so in ways if is_so)
    if all(is_so for _, is_so in ways):
        return turned
    if not turned:
        return wording.IN_COLOUR if is_colour else wording.IN_VALUES
    return f"{turned}, {wording.SCREEN_COLOUR if is_colour else wording.IN_VALUES}"


class Wanted(NamedTuple):
    """What the picture is to show.

    Attributes:
        plan: The plan, which names the photo.
        looked: How it is looked at.
        box: Where it stands on the board; None for nowhere.
        is_alone: Whether it stands alone, and so in the middle of its box.
        is_inverted: Whether ink and ground are changed about it.
    """

    plan: Plan
    looked: Looked
    box: Box | None
    is_alone: bool
    is_inverted: bool


class EaselPicture(HalfBlocks):
    """Shows the photo over the board; it is read in a thread when it is first wanted.

    Attributes:
        fault: Why the photo cannot be shown; empty where it can, or was not wanted yet.
    """

    DEFAULT_CSS = """
    EaselPicture { layer: picture; position: absolute; display: none; }
    EaselPicture.-inverted { background: $foreground; }
    """

    @dataclass
    class Loaded(Message):
        """The photo is read, or cannot be."""

    def __init__(self, load: "Callable[[Plan], Reference | None] | None") -> None:
        """Show nothing yet; `load` returns a plan's photo, and None shows none."""
        super().__init__()
        self.fault = ""
        self._load = load
        self._photo: object = None
        self._reference: Reference | None = None
        self._shown: object = None

    def has_photo(self, plan: Plan) -> bool:
        """Return whether there is a photo to be shown, as far as it is known."""
        return self._load is not None and plan.photo is not None and not (self.fault and _photo(plan) == self._photo)

    def show_photo(self, wanted: Wanted) -> None:
        """Show the photo as it is wanted; what stands there already is not drawn again."""
        plan, looked, box, is_alone, is_inverted = wanted
        if box is not None and _photo(plan) != self._photo:
            self._photo, self._reference, self.fault = _photo(plan), None, ""
            self.run_worker(partial(self._read, plan), thread=True, exclusive=True, group="photo")
        self.set_class(is_inverted, "-inverted")
        self.display = box is not None and self._reference is not None
        shown = (self._reference, looked, box)
        if box is None or self._reference is None or shown == self._shown:
            return
        self._shown = shown
        self.show_dots(
            self._reference.reference(
                looked.shapes,
                box.columns,
                box.rows,
                mirrored=looked.is_mirrored,
                upside_down=looked.is_upside_down,
            )
        )
        x = (box.columns - self.columns) // 2 if is_alone else 0
        self.styles.offset = (box.x + x + _MARGIN_CELLS, box.y)
        self.styles.width, self.styles.height = box.columns - x, box.rows

    def _read(self, plan: Plan) -> None:
        reference, fault = None, ""
        try:
            reference = self._load(plan) if self._load is not None else None
        except CoachError as error:
            fault = str(error)
        self.app.call_from_thread(self._take, reference, fault)

    def _take(self, reference: "Reference | None", fault: str) -> None:
        self._reference, self.fault = reference, fault
        self.post_message(self.Loaded())


def _photo(plan: Plan) -> object:
    """Return all of a plan that the photo is read by."""
    return plan.photo, plan.shapes, plan.crop, plan.heads
