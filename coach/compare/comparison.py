"""Two canvases compared by two photos in which they stand in each other's place."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, luminance_of, value_of
from coach.compare.against_photo import HALF_STEP, off_values
from coach.compare.canvas_view import front_view
from coach.compare.differences import CALLED_DE, CERTAIN_DE, difference, exposure, intervals, lab_pairs
from coach.compare.findings import AllOver, CanvasReading, Compared, Comparison, NotCompared, OffValue
from coach.compare.pair import ReadPair, read_pair
from coach.compare.readings import SHRINK_MM, Reading, interiors, readings_of
from coach.compare.subject import Outlines, Painted, Photographed
from coach.compare.words import words_for

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Labels = NDArray[np.int32]
    Light = NDArray[np.float64]

_UNPAINTED_DE: Final = 18.0
"""No two canvases that are both painted lie so far apart; ours."""


def compare(photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines) -> Comparison:
    """Return what two photos of the same two canvases tell of them.

    Args:
        photos: Two photos from the same spot.
        painted: The passages, by the numbers of the labels.
        outlines: Where they lie on either canvas.

    Raises:
        ComparisonError: The photos cannot be compared; the sentence says why.
    """
    if photos[0].left == photos[1].left:
        said = f"{photos[0].left} stands on the left in both photos: exchange them and take the second photo again."
        return _without_verdict(photos, painted, outlines, said)
    return judged(read_pair(photos, painted, outlines), painted)


def judged(pair: ReadPair, painted: Sequence[Painted]) -> Comparison:
    """Return what is called of what was read of two canvases."""
    readable = [painted[no] for no in pair.kept]
    all_over, shift = _all_over(pair)
    differs = pair.exchange.differs - shift
    shapes, bare = _differences(pair, differs, readable)
    return Comparison(
        canvases=pair.canvases,
        photos=pair.photos,
        exchanged=True,
        shapes=shapes,
        moved=pair.moved,
        off_values=_off_values(pair, differs, readable),
        readings=(),
        not_compared=(
            *(
                NotCompared(pass_=passage.pass_, passage=passage.passage, why=reason)
                for passage, reason in zip(painted, pair.why, strict=True)
                if reason and passage.passage
            ),
            *bare,
        ),
        light_ratio=pair.light_ratio,
        all_over=all_over,
        remarks=(f"{all_over.words}, or the light changed: take both photos again.",)
        if all_over and not all_over.called
        else (),
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
    inside = interiors(outlines.labels, len(painted) + 1, SHRINK_MM * outlines.dots_per_mm, nothing)
    readings: list[CanvasReading] = []
    not_compared: dict[tuple[str, str], str] = {}
    for view in photos[0].views:
        read = readings_of(front_view(photos[0].coded, view, columns, rows), inside)[: len(painted)]
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
        canvases=photos[0].canvases,
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


def _all_over(pair: ReadPair) -> tuple[AllOver | None, "Light"]:
    """Return what is common to all passages where it is worth a word, and the shift beyond which each is judged."""
    common = pair.exchange.common
    paint = common if pair.lamp is None else common - pair.lamp
    middle = np.median(pair.mean, axis=0)[None]
    one, other = lab_pairs(middle, paint[None])
    size = float(difference(one, other)[0])
    if size < CALLED_DE:
        return None, common if pair.lamp is None else pair.lamp
    found = AllOver(
        difference=round(size, 1),
        lab_difference=_rounded(one[0] - other[0]),
        called=pair.lamp is not None,
        words=f"{pair.canvases[0]} is {words_for(tuple(one[0]), tuple(other[0]))} all over",
    )
    return found, common


def _differences(
    pair: ReadPair, differs: "Light", painted: Sequence[Painted]
) -> tuple[tuple[Compared, ...], tuple[NotCompared, ...]]:
    """Return the passages compared, the gravest first, and those that are painted on one canvas only, as it seems."""
    one, other = lab_pairs(pair.mean, differs)
    covariance = pair.exchange.covariance + pair.exchange.common_covariance
    sizes, bounds = difference(one, other), intervals(pair.mean, differs, covariance)
    is_called = (sizes >= CALLED_DE) & (bounds[:, 0] >= CERTAIN_DE)
    compared, bare = [], []
    for no, passage in enumerate(painted):
        if sizes[no] >= _UNPAINTED_DE:
            wanted = lab_of(np.array(passage.light))
            off = [float(np.hypot.reduce(lab - wanted)) for lab in (one[no], other[no])]
            why = f"it seems not to be painted on {pair.canvases[off[1] > off[0]]} yet"
            bare.append(NotCompared(pass_=passage.pass_, passage=passage.passage, why=why))
            continue
        said = f"{pair.canvases[0]} is {words_for(tuple(one[no]), tuple(other[no]))} than {pair.canvases[1]}"
        compared.append(
            Compared(
                pass_=passage.pass_,
                passage=passage.passage,
                difference=round(float(sizes[no]), 1),
                interval=(round(float(bounds[no, 0]), 1), round(float(bounds[no, 1]), 1)),
                lab_difference=_rounded(one[no] - other[no]),
                called=bool(is_called[no]),
                words=said if is_called[no] else "no difference the photos can show",
            )
        )
    return tuple(sorted(compared, key=lambda one: (-one.called, -one.difference))), tuple(bare)


def _off_values(pair: ReadPair, differs: "Light", painted: Sequence[Painted]) -> tuple[OffValue, ...]:
    wanted = value_of(luminance_of(np.array([one.light for one in painted])))
    found = []
    for sign, canvas in zip((0.5, -0.5), pair.canvases, strict=True):
        read = value_of(luminance_of(np.exp(pair.mean + sign * differs)))
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
