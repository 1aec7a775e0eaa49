"""The moves of a comparison of two canvases: keep it, say that a difference is meant so, mark a passage for return.

Like those in `coach.session.moves` they take how things stand and return an event, or refuse with a reason.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from coach.journal.compared import (
    Difference,
    KeptAllOver,
    KeptComparison,
    KeptPassage,
    KeptPhoto,
    KeptShift,
    KeptValue,
    LeftOut,
    comparison_of,
    difference_between,
    plain_comparison,
)
from coach.journal.events import Event, Kind
from coach.journal.reading import Reading
from coach.plan.commission import RETURN_TO, Address
from coach.session.moves import Move, MoveRefused, Standing
from coach.session.records import SKIPPED

if TYPE_CHECKING:
    from coach.compare.findings import Comparison, Moved

_GONE = (Kind.SENT, Kind.HANDED_OVER)


def record_comparison(found: "Comparison", photos: Sequence[KeptPhoto], landmarks: Sequence[KeptShift] = ()) -> Move:
    """Return the move that keeps a comparison: its figures and words, and which photos it was made from."""

    def record(now: Standing, at: Reading) -> Event:
        if not found.exchanged:
            raise MoveRefused("Not kept: without two photos in which the canvases are exchanged there is no verdict.")
        _check_canvases(now, found.canvases)
        kept = _kept(found, photos, landmarks)
        same = [one.found for one in now.state.comparisons if _is_of(one.found, kept)]
        if same and same[-1] == kept:
            raise MoveRefused("These photos are compared and kept already.")
        return Event(seq=0, at=at, kind=Kind.COMPARED, comparison=kept)

    return record


def mean_it(pass_: str, passage: str, canvases: Sequence[str]) -> Move:
    """Return the move that says a difference is meant so: it is named no more until that is taken back.

    Args:
        pass_: The pass of the passage; empty for a feature or a landmark of the drawing.
        passage: The passage, or the feature or landmark.
        canvases: The two canvases, in either order.
    """

    def mean(now: Standing, at: Reading) -> Event:
        difference = _difference(now, pass_, passage, canvases)
        if difference in now.state.meant:
            raise MoveRefused(f"{passage} is meant so already.")
        return Event(seq=0, at=at, kind=Kind.MEANT, difference=difference)

    return mean


def mean_it_no_more(pass_: str, passage: str, canvases: Sequence[str]) -> Move:
    """Return the move that takes back, on whatever day, that a difference is meant so; arguments as in `mean_it`."""

    def mean_no_more(now: Standing, at: Reading) -> Event:
        difference = difference_between(pass_, passage, canvases)
        if difference not in now.state.meant:
            raise MoveRefused(f"Nobody has said that {passage} is meant so.")
        return Event(seq=0, at=at, kind=Kind.MEANT_NO_MORE, difference=difference)

    return mean_no_more


def mark_for_return(pass_: str, passage: str, canvas: str) -> Move:
    """Return the move that marks a painted passage for return on one canvas, whatever turn is in hand."""

    def mark(now: Standing, at: Reading) -> Event:
        _check_canvases(now, [canvas])
        if (pass_, passage) not in now.work.passages:
            raise MoveRefused(f"The plan has no passage {passage} in {pass_}.")
        pass_name = pass_
        while (pass_name, passage, canvas) in now.state.marks:
            pass_name = RETURN_TO + pass_name
        place = now.state.places.get((pass_name, passage, canvas))
        record = now.state.record_of((pass_name, passage, canvas))
        if record is None or place is None or (place == SKIPPED and pass_name == pass_):
            again = "comes again already" if pass_name != pass_ else "is not painted yet"
            raise MoveRefused(f"{passage} {again} on {canvas}.")
        if any((canvas, stage) in now.state.stages for stage in _GONE):
            raise MoveRefused(f"{canvas} has left the studio; nothing comes again on it.")
        return Event(seq=0, at=at, kind=Kind.MARKED_FOR_RETURN, turn=record.turn._replace(passages=(passage,)))

    return mark


def _difference(now: Standing, pass_: str, passage: str, canvases: Sequence[str]) -> Difference:
    _check_canvases(now, canvases)
    drawn = {shift.name for one in now.state.comparisons for shift in (*one.found.moved, *one.found.landmarks)}
    if passage not in drawn if not pass_ else (pass_, passage) not in now.work.passages:
        raise MoveRefused(f"The plan has no passage {passage} in {pass_}." if pass_ else f"{passage} was not compared.")
    if len(set(canvases)) != len(("one", "other")):
        raise MoveRefused("What is meant so differs between two canvases; name two.")
    return difference_between(pass_, passage, canvases)


def _check_canvases(now: Standing, names: Sequence[str]) -> None:
    known = {canvas.name for canvas in now.work.plan.canvases}
    for name in names:
        if name not in known:
            raise MoveRefused(f"The plan has no canvas {name}.")


def _is_of(one: KeptComparison, other: KeptComparison) -> bool:
    """Return whether two comparisons are of the same canvases in the same photos."""
    photos = [{photo.sha256 for photo in each.photos} for each in (one, other)]
    return {*one.canvases} == {*other.canvases} and photos[0] == photos[1]


def kept_shift(moved: "Moved", place: Address = ("", "")) -> KeptShift:
    """Return what is kept of a feature that lies elsewhere; `place` is where it lies, if it does not say so itself."""
    pass_name, passage = (moved.pass_, moved.passage) if moved.passage else place
    return KeptShift(moved.feature, moved.canvas, moved.right_mm, moved.down_mm, moved.words, pass_name, passage)


def _kept(found: "Comparison", photos: Sequence[KeptPhoto], landmarks: Sequence[KeptShift]) -> KeptComparison:
    """Return what the journal keeps; what the plan names by no passage is left out.

    Raises:
        MoveRefused: It holds what no journal can: a figure that is none.
    """
    kept = KeptComparison(
        canvases=found.canvases,
        photos=tuple(sorted(photos, key=lambda photo: (photo.taken, photo.name))),
        light_ratio=found.light_ratio,
        passages=tuple(
            KeptPassage(
                one.pass_, one.passage, one.difference, *one.interval, one.lab_difference, one.called, one.words
            )
            for one in found.shapes
            if one.passage
        ),
        all_over=None
        if (own := found.all_over) is None
        else KeptAllOver(own.difference, own.lab_difference, own.called, own.words),
        moved=tuple(map(kept_shift, found.moved)),
        landmarks=tuple(landmarks),
        off_values=tuple(
            KeptValue(one.pass_, one.passage, one.canvas, one.steps, one.words) for one in found.off_values
        ),
        left_out=tuple(LeftOut(one.pass_, one.passage, one.why) for one in found.not_compared),
        remarks=found.remarks,
    )
    try:
        return comparison_of(plain_comparison(kept))
    except ValueError as error:
        raise MoveRefused("Not kept: the comparison holds a figure that is no number.") from error
