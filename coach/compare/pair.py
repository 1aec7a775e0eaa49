"""What two photos read of two canvases whose places were exchanged between them, before it is judged."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.compare.canvas_view import ComparisonError, front_view
from coach.compare.differences import Exchange, exchange_of, exposure, is_called
from coach.compare.findings import Moved
from coach.compare.moved import moved_features, pattern_of
from coach.compare.picture_checks import check_front, check_sharpness, wanted_values
from coach.compare.readings import SHRINK_MM, Reading, card_reading, interiors, readings_of
from coach.compare.subject import Outlines, Painted, Photographed
from coach.compare.tone_curve import tone_curve, undone
from coach.text import joined

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Light = NDArray[np.float64]

LEAST_PASSAGES: Final = 4
"""With fewer passages that can be read, what is common to all cannot be told from what differs; ours."""

_MISNAMED_FROM: Final = 2
"""So many passages that differ by place and not by canvas mean that the canvases were not exchanged; ours."""

_LIGHT_CHANGED: Final = float(np.log(1.12))
"""Light of one place against the other that changed so far between the photos can no longer be reckoned out; ours."""

_MOST_LOST_FRAC: Final = 0.3
"""Of a passage of which more lies where the drawing differs no colour is told; ours."""

_DRAWN_ELSEWHERE = "the drawing differs there"

_DISAGREE = "the two photos disagree there (a hand, a shadow or glare in one of them)"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadPair:
    """Two canvases as read.

    Attributes:
        canvases: Their names.
        photos: Names of the photos.
        patterns: The value of each dot of either canvas, in each photo of it.
        moved: Features that lie elsewhere on one of them.
        kept: Numbers of the passages that can be compared.
        why: Why a passage cannot, by number; empty where it can.
        exchange: What the photos tell of the passages kept.
        mean: The mean of both canvases, as bright as the photo they are painted from, (passages, 3).
        light_ratio: Light of the darker place for one of the lighter; None where no photo shows both canvases.
        lamp: How far light that changed shifts all passages, by cards or margins, (3,); None where there are none.
    """

    canvases: tuple[str, str]
    photos: tuple[str, ...]
    patterns: tuple[Sequence["Light"], Sequence["Light"]]
    moved: tuple[Moved, ...]
    kept: tuple[int, ...]
    why: tuple[str, ...]
    exchange: Exchange
    mean: "Light"
    light_ratio: float | None
    lamp: "Light | None"


def read_pair(photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines) -> ReadPair:
    """Return what two photos read of their two canvases.

    Raises:
        ComparisonError: The photos cannot be compared; the sentence says why.
    """
    canvases = photos[0].canvases
    rows, columns = outlines.labels.shape
    fronts = [[front_view(photo.coded, photo.view_of(one), columns, rows) for one in canvases] for photo in photos]
    _check_fronts(photos, fronts, painted, outlines)
    one, other = ([pattern_of(pair[no]) for pair in fronts] for no in (0, 1))
    for canvas, patterns in zip(canvases, (one, other), strict=True):
        check_sharpness(canvas, [photo.name for photo in photos], patterns)
    moved, taken = moved_features(canvases, (one, other), painted, outlines)
    inside = interiors(outlines.labels, len(painted) + 1, SHRINK_MM * outlines.dots_per_mm, taken)
    read = [[readings_of(front, inside) for front in pair] for pair in fronts]
    lost = _lost_fracs(taken, outlines, len(painted))
    why = [_why_not(no, one_passage, read, lost[no]) for no, one_passage in enumerate(painted)]
    middles = _middles(outlines, len(painted))
    expected = np.log(np.maximum([passage.light for passage in painted], 1e-4))
    wrong = [-1]
    while wrong:
        kept = _enough(why, canvases)
        curve = tone_curve(_lights(read, kept), expected[kept], middles[kept])
        exchange = _exchange(read, kept, curve, middles)
        wrong = [kept[no] for no in np.flatnonzero(exchange.is_wrong)]
        for no in wrong:
            why[no] = _DISAGREE
    _check_names(exchange, photos)
    return ReadPair(
        canvases=canvases,
        photos=tuple(photo.name for photo in photos),
        patterns=(one, other),
        moved=moved,
        kept=tuple(kept),
        why=tuple(why),
        exchange=exchange,
        mean=exchange.mean + exposure(exchange.mean, np.exp(expected[kept])),
        light_ratio=round(exchange.light_ratio, 2),
        lamp=_lamp(photos, read, curve),
    )


def chained(first: ReadPair, second: ReadPair, painted: Sequence[Painted], outlines: Outlines) -> ReadPair:
    """Return what two pairs that share a canvas tell of the two others, the shared one standing between them."""
    first, second = _shared_last(first, second), turned(_shared_last(second, first))
    canvases, patterns = (first.canvases[0], second.canvases[1]), (first.patterns[0], second.patterns[1])
    moved, taken = moved_features(canvases, patterns, painted, outlines)
    lost = _lost_fracs(taken, outlines, len(painted))
    why = [
        passage.why_not or one or other or (_DRAWN_ELSEWHERE if own > 0 else "")
        for passage, one, other, own in zip(painted, first.why, second.why, lost, strict=True)
    ]
    kept = _enough(why, canvases)
    one, other = (_only(pair, kept) for pair in (first, second))
    exchange = replace(
        one.exchange,
        differs=one.exchange.differs + other.exchange.differs,
        covariance=one.exchange.covariance + other.exchange.covariance,
    )
    return ReadPair(
        canvases=canvases,
        photos=(*first.photos, *second.photos),
        patterns=patterns,
        moved=moved,
        kept=tuple(kept),
        why=tuple(why),
        exchange=exchange,
        mean=(one.mean + other.mean) / 2,
        light_ratio=None,
        lamp=None if first.lamp is None or second.lamp is None else first.lamp + second.lamp,
    )


def turned(pair: ReadPair) -> ReadPair:
    """Return the same pair with its canvases in the other order; what has moved is left out."""
    return replace(
        pair,
        canvases=(pair.canvases[1], pair.canvases[0]),
        patterns=(pair.patterns[1], pair.patterns[0]),
        moved=(),
        exchange=replace(pair.exchange, differs=-pair.exchange.differs),
        lamp=None if pair.lamp is None else -pair.lamp,
    )


def _shared_last(pair: ReadPair, other: ReadPair) -> ReadPair:
    return pair if pair.canvases[1] in other.canvases else turned(pair)


def _only(pair: ReadPair, kept: Sequence[int]) -> ReadPair:
    """Return a pair of which only some passages are kept."""
    rows = [pair.kept.index(no) for no in kept]
    exchange = pair.exchange
    fewer = Exchange(
        differs=exchange.differs[rows],
        places=exchange.places[rows],
        rough=exchange.rough[rows],
        uneven=exchange.uneven[rows],
        mean=exchange.mean[rows],
        covariance=exchange.covariance[rows],
    )
    return replace(pair, kept=tuple(kept), exchange=fewer, mean=pair.mean[rows])


def _check_fronts(
    photos: Sequence[Photographed],
    fronts: Sequence[Sequence["Coded"]],
    painted: Sequence[Painted],
    outlines: Outlines,
) -> None:
    wanted, is_read = wanted_values(painted, outlines)
    for photo, pair in zip(photos, fronts, strict=True):
        for view, canvas in zip(map(photo.view_of, photos[0].canvases), pair, strict=True):
            check_front(photo, view, canvas, wanted, is_read)


def _lost_fracs(taken: "Flags", outlines: Outlines, count: int) -> "Light":
    """Return what part of each passage lies where the drawing differs, (passages,)."""
    lost, all_dots = (
        np.bincount(own.ravel(), minlength=count)[:count] for own in (outlines.labels[taken], outlines.labels)
    )
    found: Light = lost / np.maximum(all_dots, 1)
    return found


def _why_not(no: int, passage: Painted, read: Sequence[Sequence[Sequence[Reading | str]]], lost_frac: float) -> str:
    if passage.why_not:
        return passage.why_not
    failed = next((own[no] for pair in read for own in pair if isinstance(own[no], str)), "")
    if lost_frac > _MOST_LOST_FRAC or (failed and lost_frac):
        return _DRAWN_ELSEWHERE
    return str(failed)


def _enough(why: Sequence[str], canvases: tuple[str, str]) -> list[int]:
    kept = [no for no, reason in enumerate(why) if not reason]
    if len(kept) < LEAST_PASSAGES:
        read = f"only {len(kept)} passages can be read both on {joined(canvases)}"
        raise ComparisonError(f"{read}; {LEAST_PASSAGES} are needed")
    return kept


def _lights(
    read: Sequence[Sequence[Sequence[Reading | str]]], kept: Sequence[int], field: str = "log_light"
) -> "Light":
    """Return a field of the readings of some passages, shape (photos, canvases, passages, 3)."""
    return np.array([[[getattr(own[no], field) for no in kept] for own in pair] for pair in read])


def _middles(outlines: Outlines, count: int) -> "Light":
    """Return the middle of each passage in millimetres, (passages, 2)."""
    every = 2
    coarse = outlines.labels[::every, ::every]
    labels, (rows, columns) = coarse.ravel(), every * np.indices(coarse.shape)
    counts = np.maximum(np.bincount(labels, minlength=count), 1)
    at = [np.bincount(labels, way.ravel(), minlength=count) / counts for way in (columns, rows)]
    found: Light = np.stack(at, axis=1) / outlines.dots_per_mm
    return found


def _exchange(
    read: Sequence[Sequence[Sequence[Reading | str]]], kept: Sequence[int], curve: "Light", middles: "Light"
) -> Exchange:
    lights, slopes = undone(_lights(read, kept), curve)
    errors = np.sqrt(((_lights(read, kept, "error") * slopes) ** 2).sum(axis=(0, 1)) / 4)
    (one, other), (one_then, other_then) = lights
    return exchange_of((one, other), (one_then, other_then), errors, middles[kept])


def _check_names(exchange: Exchange, photos: Sequence[Photographed]) -> None:
    """Raise where the passages differ by place and not by canvas: then the same canvas stood in the same place."""
    by_place = int(is_called(exchange.mean, exchange.rough, exchange.covariance).sum())
    by_canvas = int(is_called(exchange.mean, exchange.differs - exchange.common, exchange.covariance).sum())
    if by_place >= _MISNAMED_FROM and by_place > 2 * by_canvas:
        raise ComparisonError(
            f"{photos[0].name} and {photos[1].name} show each canvas in the same place, or one is named wrongly: "
            "look which is which, exchange them and take the second photo again"
        )


def _lamp(
    photos: Sequence[Photographed], read: Sequence[Sequence[Sequence[Reading | str]]], curve: "Light"
) -> "Light | None":
    """Return how far light that changed shifts all passages, by what is alike on both canvases.

    Raises:
        ComparisonError: A card cannot be read, or the light changed too far.
    """
    known = []
    margins = [[own[-1] for own in pair] for pair in read]
    if all(isinstance(margin, Reading) for pair in margins for margin in pair):
        known.append([[margin.log_light for margin in pair if isinstance(margin, Reading)] for pair in margins])
    canvases = photos[0].canvases
    if all(canvas in photo.cards for photo in photos for canvas in canvases):
        known.append([[_card(photo, canvas) for canvas in canvases] for photo in photos])
    if not known:
        return None
    lights, _ = undone(np.array(known), curve)
    shift: Light = (lights[:, :, 0] - lights[:, :, 1]).mean(axis=(0, 1))
    if abs(2 * shift.mean()) > _LIGHT_CHANGED:
        raise ComparisonError(
            f"the light changed between {photos[0].name} and {photos[1].name}: take both photos again, one right after "
            "the other"
        )
    return shift


def _card(photo: Photographed, canvas: str) -> "Light":
    read = card_reading(photo.coded, photo.cards[canvas])
    if isinstance(read, str):
        raise ComparisonError(f"{photo.name}: the card beside {canvas} cannot be read: {read}")
    return read.log_light
