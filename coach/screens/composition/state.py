"""What the Composition screen asks of the disk, what it knows, and what each answer makes of that."""

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol

from coach.composition.choices import Choice, choices_of
from coach.composition.marking import Marking, begun, with_found
from coach.composition.photo_boxes import CompositionError, PhotoSize
from coach.composition.sizes import CanvasFormat, canvas_of, stock_canvases
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.shapes.photo_window import Box, PhotoWindow, Point
from coach.text import sanitized

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]


UPRIGHT, LYING = "upright", "lying"
"""How a canvas stands, as `CanvasFormat.directions` names it."""


class Marked(NamedTuple):
    """What a plan says of its photo."""

    photo: str | None = None
    heads: tuple[MarkedHead, ...] = ()
    keeps: tuple[MarkedBox, ...] = ()


class Sitter(NamedTuple):
    """A plan's photo as it was found.

    Attributes:
        written: What the plan's file says of its photo.
        sizes: The sizes of the plan's canvases, each once.
        photo: Name of the photo that was looked for: the plan's, or another one that was asked for; None for none.
        size: Size of the photo; None where there is none, or it cannot be read.
        fault: Why it cannot be read; or empty.
        is_sized: Whether every canvas of the plan says its size.
    """

    written: Marked
    sizes: tuple[CanvasSize, ...]
    photo: str | None = None
    size: PhotoSize | None = None
    fault: str = ""
    is_sized: bool = True


class PhotoRepository(Protocol):
    """Where the screen finds the photo, and where marks are kept; it is asked from threads."""

    def sitter(self, photo: str | None) -> Sitter:
        """Return the plan's photo, or another one beside the plan, with what the plan marks.

        Raises:
            CoachError: The plan cannot be read.
        """

    def light(self, photo: str, box: Box, scale: float) -> "Pixels":
        """Return the linear light of a part of a photo, with so many pixels for one of the photo.

        Raises:
            CoachError: It cannot be read.
        """

    def write(self, before: Marked, after: Marked, size: CanvasSize | None) -> str:
        """Write marks, and a size for every canvas, into the plan and return in a sentence what was done.

        Raises:
            CoachError: The plan says something else of its photo than `before`, or cannot be written.
        """


class Shown(NamedTuple):
    """What is marked, and the canvases ranked for it.

    Attributes:
        marking: What is marked.
        direction: "upright" or "lying": how the picture stands.
        choices: The canvases in both directions, best first.
        chosen: Number of the chosen one among those listed, from 0.
        taken: The canvas that is to be written into the plan, and its direction; or None.
        is_stock: Whether the stock list is ranked, not the plan's own sizes.
        fault: Why there are no choices; or empty.
        is_ranking: Whether the choices are of an earlier marking still.
    """

    marking: Marking
    direction: str = UPRIGHT
    choices: Sequence[Choice] = ()
    chosen: int = 0
    taken: tuple[str, str] | None = None
    is_stock: bool = False
    fault: str = ""
    is_ranking: bool = False

    @property
    def listed(self) -> tuple[Choice, ...]:
        """The canvases in the direction of the picture, best first; a square has only one."""
        return tuple(one for one in self.choices if one.direction == self.direction or len(one.canvas.directions) == 1)

    @property
    def choice(self) -> Choice | None:
        """The chosen one, or None where there is none."""
        return next(iter(self.listed[self.chosen :]), None)


class CompositionState(NamedTuple):
    """What is known.

    Attributes:
        sitter: The plan's photo as it was found last; None while it is looked for.
        shown: What is shown beside the picture; None where there is no photo to mark.
        taken: The canvas that is to be written into the plan, or None.
    """

    sitter: Sitter | None = None
    shown: Shown | None = None
    taken: Choice | None = None

    @property
    def marked(self) -> Marked:
        """What is marked now."""
        if self.sitter is None or self.shown is None:
            return Marked()
        return Marked(self.sitter.photo, self.shown.marking.heads, self.shown.marking.keeps)

    @property
    def is_written(self) -> bool:
        """Whether nothing would be lost if the plan were read anew."""
        if self.sitter is None or self.shown is None:
            return True
        return self.taken is None and self.marked == self.sitter.written

    @property
    def canvases(self) -> Sequence[CanvasFormat]:
        """The canvases that are to be ranked."""
        if self.sitter is None or self.shown is None:
            return ()
        return stock_canvases() if self.shown.is_stock else [canvas_of(size) for size in self.sitter.sizes]

    @property
    def has_head_in_hand(self) -> bool:
        """Whether the box in hand is a head."""
        marking = None if self.shown is None else self.shown.marking
        return marking is not None and marking.in_hand is not None and marking.in_hand < len(marking.heads)


def found(state: CompositionState, sitter: Sitter, *, is_other: bool) -> CompositionState:
    """Return the state once a photo is read; the marks stay where another photo was asked for, else are the plan's."""
    if sitter.size is None:
        return CompositionState(sitter)
    marks = state.marked if is_other and state.shown is not None else sitter.written
    side_1, side_2 = sitter.sizes[0] if sitter.sizes else (sitter.size.width_px, sitter.size.height_px)
    direction = LYING if side_1 > side_2 else UPRIGHT
    marking = begun(sitter.size, marks.heads, marks.keeps)
    return CompositionState(sitter, Shown(marking, direction, is_stock=not sitter.sizes))


def turned(state: CompositionState) -> CompositionState:
    """Return the state with the picture upright where it lay, or lying where it stood; the same canvas stays chosen."""
    shown = state.shown
    if shown is None:
        return state
    name = None if shown.choice is None else shown.choice.canvas.name
    other = shown._replace(direction=UPRIGHT if shown.direction == LYING else LYING)
    names = [choice.canvas.name for choice in other.listed]
    return state._replace(shown=other._replace(chosen=names.index(name) if name in names else 0))


def ranked(state: CompositionState, choices: Sequence[Choice], fault: str) -> CompositionState:
    """Return the state with the canvases ranked; one that was gone to or taken stays chosen, else the first one is."""
    shown = state.shown
    if shown is None:
        return state
    chosen = 0
    if shown.choice is not None and (shown.chosen or shown.taken):
        keys = [key_of(choice) for choice in shown._replace(choices=choices).listed]
        chosen = keys.index(key_of(shown.choice)) if key_of(shown.choice) in keys else 0
    return state._replace(shown=shown._replace(choices=choices, chosen=chosen, fault=fault, is_ranking=False))


def with_proposed(marking: Marking, boxes: Sequence[MarkedBox]) -> Marking:
    """Return what is drawn: what is marked, with the heads that wait to be taken; without where they are too many."""
    try:
        return with_found(marking, boxes)._replace(in_hand=None) if boxes else marking
    except CompositionError:
        return marking


class Ranking(NamedTuple):
    """The canvases ranked for a marking; there are none where the fault says why."""

    marking: Marking
    is_stock: bool
    choices: tuple[Choice, ...]
    fault: str


def ranking_of(marking: Marking, canvases: Sequence[CanvasFormat], *, is_stock: bool) -> Ranking:
    """Return the canvases ranked for what is marked."""
    try:
        choices = choices_of(marking.photo, marking.heads, marking.keeps, canvases)
    except CompositionError as error:
        return Ranking(marking, is_stock, (), str(error))
    return Ranking(marking, is_stock, choices, "")


def aim_of(marking: Marking, window: PhotoWindow, *, is_sized: bool) -> Point:
    """Return the corner that the arrows set: of the box in hand; without one the middle of what is shown.

    Args:
        marking: What is marked.
        window: What is shown.
        is_sized: Whether they size the box.
    """
    if marking.in_hand is None:
        left, top, right, bottom = window.box
        return (left + right) / 2, (top + bottom) / 2
    box = marking.boxes[marking.in_hand]
    x_px, y_px = (box.right_px, box.bottom_px) if is_sized else (box.left_px, box.top_px)
    return float(x_px), float(y_px)


def is_ranking_of(state: CompositionState, marking: Marking, *, is_stock: bool) -> bool:
    """Return whether a ranking that was made for a marking holds still."""
    shown = state.shown
    if shown is None:
        return True
    now = shown.marking
    return (now.photo, now.heads, now.keeps, shown.is_stock) == (marking.photo, marking.heads, marking.keeps, is_stock)


def taking(state: CompositionState, choice: Choice | None) -> CompositionState:
    """Return the state with a canvas taken, or none."""
    shown = state.shown
    if shown is None:
        return state
    return state._replace(taken=choice, shown=shown._replace(taken=None if choice is None else key_of(choice)))


def written(state: CompositionState, marked: Marked, size: CanvasSize | None) -> CompositionState:
    """Return the state once marks, and a size where one was taken, are in the plan."""
    if state.sitter is None:
        return state
    sizes = state.sitter.sizes if size is None else (size,)
    kept = state._replace(sitter=state.sitter._replace(written=marked, sizes=sizes))
    return kept if size is None else taking(kept, None)


def unwritten(state: CompositionState) -> tuple[str, ...]:
    """Return what is not in the plan yet, in words."""
    if state.sitter is None or state.shown is None:
        return ()
    now, before = state.marked, state.sitter.written
    changes = (
        ("the photo", now.photo != before.photo),
        ("the head" if len(now.heads) == 1 else "the heads", now.heads != before.heads),
        ("what must stay", now.keeps != before.keeps),
        ("the canvas", state.taken is not None),
    )
    return tuple(what for what, is_changed in changes if is_changed)


def key_of(choice: Choice) -> tuple[str, str]:
    """Return what a choice is known by: its canvas and its direction."""
    return choice.canvas.name, choice.direction


def draft_of(state: CompositionState) -> str:
    """Return what is marked as a text that `with_draft` reads."""
    photo, heads, keeps = state.marked
    return json.dumps({"photo": photo, "heads": [(head.name, *head.box) for head in heads], "keeps": keeps})


def with_draft(state: CompositionState, text: str) -> tuple[CompositionState | None, str]:
    """Return the state with the marks of a draft put in, and in a sentence what became of them.

    None while another photo is shown than the one they were made on.
    """
    if state.sitter is None or state.shown is None:
        return None, ""
    try:
        kept = json.loads(text)
        if kept["photo"] != state.sitter.photo:
            return None, f"the marks of last time are on {sanitized(kept['photo'])}: c and its name bring them back"
        heads = tuple(MarkedHead(str(name), MarkedBox(*map(int, box))) for name, *box in kept["heads"])
        keeps = tuple(MarkedBox(*map(int, box)) for box in kept["keeps"])
        shown = state.shown._replace(marking=begun(state.shown.marking.photo, heads, keeps))
    except (ValueError, TypeError, KeyError, CompositionError):
        return state, "the marks of last time cannot be read any more"
    return state._replace(shown=shown), "the marks of last time are here: w saves them, c drops them"
