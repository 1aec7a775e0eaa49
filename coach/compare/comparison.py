"""Two canvases compared by two photos in which they stand in each other's place."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, luminance_of, value_of
from coach.compare.against_photo import HALF_STEP, off_values
from coach.compare.canvas_view import ComparisonError, front_view
from coach.compare.differences import (
    CALLED_DE,
    CERTAIN_DE,
    Exchange,
    difference,
    exchange_of,
    exposure,
    intervals,
    lab_pairs,
)
from coach.compare.findings import CanvasReading, Compared, Comparison, NotCompared, OffValue
from coach.compare.moved import moved_features
from coach.compare.readings import SHRINK_MM, Reading, interiors, readings_of
from coach.compare.subject import Outlines, Painted, Photographed
from coach.compare.words import words_for

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Labels = NDArray[np.int32]
    Light = NDArray[np.float64]

_LEAST_PASSAGES: Final = 4
"""With fewer passages that can be read, what is common to all cannot be told from what differs; ours."""

_MISNAMED_FROM: Final = 2
"""So many passages that differ by place and not by canvas mean that the canvases were not exchanged; ours."""


def compare(photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines) -> Comparison:
    """Return what two photos of the same two canvases tell of them.

    Args:
        photos: Two photos from the same spot.
        painted: The passages, by the numbers of the labels.
        outlines: Where they lie on either canvas.

    Raises:
        ComparisonError: The photos cannot be compared; the sentence says why.
    """
    one, other = photos[0].views[0].canvas, photos[0].views[1].canvas
    if photos[0].left == photos[1].left:
        said = f"{photos[0].left} stands on the left in both photos: exchange them and take the second photo again."
        return _without_verdict(photos, painted, outlines, said)
    rows, columns = outlines.labels.shape
    fronts = [
        [front_view(photo.coded, photo.view_of(name), columns, rows) for name in (one, other)] for photo in photos
    ]
    moved, taken = moved_features((one, other), fronts, painted, outlines)
    inside = interiors(outlines.labels, len(painted), SHRINK_MM * outlines.dots_per_mm, taken)
    read = [[readings_of(front, inside) for front in pair] for pair in fronts]
    why = [_why_not(no, one_passage, read, taken, outlines.labels) for no, one_passage in enumerate(painted)]
    kept = [no for no, reason in enumerate(why) if not reason]
    not_compared = tuple(
        NotCompared(pass_=painted[no].pass_, passage=painted[no].passage, why=reason)
        for no, reason in enumerate(why)
        if reason and painted[no].passage
    )
    if len(kept) < _LEAST_PASSAGES:
        raise ComparisonError(f"only {len(kept)} passages can be read on both canvases; {_LEAST_PASSAGES} are needed")
    exchange = _exchange(read, kept, outlines)
    _check_names(exchange, photos)
    readable = [painted[no] for no in kept]
    mean = exchange.mean + exposure(exchange.mean, np.array([passage.light for passage in readable]))
    found, remarks = _differences((one, other), exchange, mean, readable)
    return Comparison(
        canvases=(one, other),
        photos=tuple(photo.name for photo in photos),
        exchanged=True,
        shapes=found,
        moved=moved,
        off_values=_off_values((one, other), exchange, mean, readable),
        readings=(),
        not_compared=not_compared,
        light_ratio=round(exchange.light_ratio, 2),
        remarks=remarks,
    )


def read_alone(photo: Photographed, painted: Sequence[Painted], outlines: Outlines) -> Comparison:
    """Return what one photo reads on either canvas; it allows no verdict, and the remark says why."""
    said = (
        "One photo allows no verdict: two canvases seldom stand in the same light. "
        "Exchange them and take a second photo from the same spot."
    )
    return _without_verdict((photo,), painted, outlines, said)


def _without_verdict(
    photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines, remark: str
) -> Comparison:
    """Return the readings of the first photo, as bright as the photo it is painted from."""
    rows, columns = outlines.labels.shape
    nothing = np.zeros(outlines.labels.shape, dtype=bool)
    inside = interiors(outlines.labels, len(painted), SHRINK_MM * outlines.dots_per_mm, nothing)
    readings: list[CanvasReading] = []
    not_compared: dict[tuple[str, str], str] = {}
    for view in photos[0].views:
        read = readings_of(front_view(photos[0].coded, view, columns, rows), inside)
        known = [(one, own) for one, own in zip(painted, read, strict=True) if isinstance(own, Reading)]
        lights = np.array([own.log_light for _, own in known]).reshape(-1, 3)
        expected = np.array([one.light for one, _ in known]).reshape(-1, 3)
        labs = lab_of(np.exp(lights + exposure(lights, expected))) if known else lights
        readings += [
            CanvasReading(pass_=one.pass_, passage=one.passage, canvas=view.canvas, lab=_rounded(lab))
            for (one, _), lab in zip(known, labs, strict=True)
            if one.passage and not one.why_not
        ]
        for one, own in zip(painted, read, strict=True):
            reason = one.why_not or (own if isinstance(own, str) else "")
            if reason and one.passage:
                not_compared[one.pass_, one.passage] = reason
    return Comparison(
        canvases=(photos[0].views[0].canvas, photos[0].views[1].canvas),
        photos=tuple(photo.name for photo in photos),
        exchanged=False,
        shapes=(),
        moved=(),
        off_values=(),
        readings=tuple(readings),
        not_compared=tuple(
            NotCompared(pass_=pass_, passage=passage, why=why) for (pass_, passage), why in not_compared.items()
        ),
        light_ratio=None,
        remarks=(remark,),
    )


def _why_not(
    no: int,
    passage: Painted,
    read: Sequence[Sequence[Sequence[Reading | str]]],
    taken: "Flags",
    labels: "Labels",
) -> str:
    if passage.why_not:
        return passage.why_not
    failed = next((own[no] for pair in read for own in pair if isinstance(own[no], str)), "")
    if failed and taken[labels == no].any():
        return "the drawing differs there"
    return str(failed)


def _exchange(read: Sequence[Sequence[Sequence[Reading | str]]], kept: Sequence[int], outlines: Outlines) -> Exchange:
    def array(field: str, photo: int, canvas: int) -> "Light":
        return np.array([getattr(read[photo][canvas][no], field) for no in kept])

    lights = [[array("log_light", photo, canvas) for canvas in (0, 1)] for photo in (0, 1)]
    errors = np.sqrt(sum(array("error", photo, canvas) ** 2 for photo in (0, 1) for canvas in (0, 1)) / 4)
    rows, columns = np.indices(outlines.labels.shape)
    counts = np.bincount(outlines.labels.ravel(), minlength=max(kept) + 1)
    at = [
        np.bincount(outlines.labels.ravel(), way.ravel(), minlength=len(counts)) / np.maximum(counts, 1)
        for way in (columns, rows)
    ]
    middles = np.stack(at, axis=1)[list(kept)] / outlines.dots_per_mm
    return exchange_of((lights[0][0], lights[0][1]), (lights[1][0], lights[1][1]), errors, middles)


def _check_names(exchange: Exchange, photos: Sequence[Photographed]) -> None:
    """Raise where the passages differ by place and not by canvas: then the same canvas stood in the same place."""
    by_place = int(_is_called(exchange.mean, exchange.rough, exchange.covariance).sum())
    by_canvas = int(_is_called(exchange.mean, exchange.differs - exchange.common, exchange.covariance).sum())
    if by_place >= _MISNAMED_FROM and by_place > 2 * by_canvas:
        raise ComparisonError(
            f"{photos[0].name} and {photos[1].name} show each canvas in the same place, or one is named wrongly: "
            "look which is which, exchange them and take the second photo again"
        )


def _is_called(mean: "Light", differs: "Light", covariance: "Light") -> "Flags":
    return _called(difference(*lab_pairs(mean, differs)), intervals(mean, differs, covariance))


def _called(sizes: "Light", bounds: "Light") -> "Flags":
    """Return which passages are called, by their differences and between what these lie."""
    return (sizes >= CALLED_DE) & (bounds[:, 0] >= CERTAIN_DE)


def _differences(
    canvases: tuple[str, str], exchange: Exchange, mean: "Light", painted: Sequence[Painted]
) -> tuple[tuple[Compared, ...], tuple[str, ...]]:
    differs = exchange.differs - exchange.common
    one, other = lab_pairs(mean, differs)
    sizes, bounds = difference(one, other), intervals(mean, differs, exchange.covariance)
    called = _called(sizes, bounds)
    found = [
        Compared(
            pass_=passage.pass_,
            passage=passage.passage,
            difference=round(float(sizes[no]), 1),
            interval=(round(float(bounds[no, 0]), 1), round(float(bounds[no, 1]), 1)),
            lab_difference=_rounded(one[no] - other[no]),
            called=bool(called[no]),
            words=f"{canvases[0]} is {words_for(tuple(one[no]), tuple(other[no]))} than {canvases[1]}"
            if called[no]
            else "no difference the photos can show",
        )
        for no, passage in enumerate(painted)
    ]
    found.sort(key=lambda one: (-one.called, -one.difference))
    return tuple(found), _common_remark(canvases, mean, exchange)


def _common_remark(canvases: tuple[str, str], mean: "Light", exchange: Exchange) -> tuple[str, ...]:
    middle = np.median(mean, axis=0)[None]
    one, other = lab_pairs(middle, exchange.common[None])
    if difference(one, other)[0] < CALLED_DE:
        return ()
    said = words_for(tuple(one[0]), tuple(other[0]))
    return (f"{canvases[0]} is {said} all over, or the light changed: take both photos again.",)


def _off_values(
    canvases: tuple[str, str], exchange: Exchange, mean: "Light", painted: Sequence[Painted]
) -> tuple[OffValue, ...]:
    wanted = value_of(luminance_of(np.array([one.light for one in painted])))
    found = []
    for sign, canvas in ((0.5, canvases[0]), (-0.5, canvases[1])):
        read = value_of(luminance_of(np.exp(mean + sign * (exchange.differs - exchange.common))))
        for passage, steps in zip(painted, off_values(wanted.tolist(), read.tolist()), strict=True):
            if abs(steps) >= HALF_STEP:
                way = "light" if steps > 0 else "dark"
                words = f"{canvas}: too {way} beside its neighbours in value, by {abs(steps):.1f} steps"
                found.append(
                    OffValue(
                        canvas=canvas,
                        pass_=passage.pass_,
                        passage=passage.passage,
                        steps=round(float(steps), 1),
                        words=words,
                    )
                )
    return tuple(sorted(found, key=lambda one: -abs(one.steps)))


def _rounded(lab: "Light") -> tuple[float, float, float]:
    lightness, a, b = (round(float(part), 1) for part in lab)
    return lightness, a, b
