"""Every canvas in both directions with its best crop, best first."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.crop import EDGES, Crop, PlacedHead, best_crop, mean_life_frac, placed
from coach.composition.crop_warnings import Framed, warnings_of
from coach.composition.life_size import FORMAL_FRAC, LIFE_MM, SMALLEST_LIKENESS_MM, LifePercent, life_percent
from coach.composition.photo_boxes import CompositionError, PhotoSize, check_boxes
from coach.composition.sizes import CanvasFormat
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead

COMFORTABLE_FRAC: Final = (0.50, 0.90)
"""Share of life within which heads are painted with ease. Source: a professional's range (secondary)."""

NEAR_FRAC: Final = 0.05
"""How far from a share of life that was asked for a head may be and still be taken as that. Source: ours, no other."""

LOST_STEP_FRAC: Final = 0.10
"""Shares of the photo lost that lie in one step of this width are taken as alike. Source: ours, no other."""

TIGHT_FRAC: Final = 1 / 3
"""Share of the photo lost above which a crop is tight: only ranked with the others when a head size is asked for.

Source: ours, no other: a photo of 2:3 on a canvas of 5:6 loses a fifth, turned on its side more than a half."""

LEAST_LIFE_FRAC: Final = 0.05
"""Smallest share of life that may be wanted."""

MOST_LIFE_FRAC: Final = 2.0
"""Largest share of life that may be wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One canvas in one direction.

    Attributes:
        canvas: The canvas.
        direction: "upright" or "lying".
        size: Its width and height in this direction.
        crop: What it shows of the photo.
        heads: The heads on it, in the order they were given.
        photo_lost_frac: Share of the photo that is cut away.
        scale_px_per_cm: Pixels of the photo to a centimetre of canvas.
        cut_count: How many heads and parts to keep are cut by the edge.
        warnings: What to know before settling on it, in sentences.
    """

    canvas: CanvasFormat
    direction: str
    size: CanvasSize
    crop: Crop
    heads: tuple[PlacedHead, ...]
    photo_lost_frac: float
    scale_px_per_cm: float
    cut_count: int
    warnings: tuple[str, ...]

    @property
    def heads_cm2(self) -> float:
        """Area of all heads' boxes on it, in square centimetres."""
        return sum(head.box_cm2 for head in self.heads)


def choices_of(
    photo: PhotoSize,
    heads: Sequence[MarkedHead],
    keeps: Sequence[MarkedBox],
    canvases: Sequence[CanvasFormat],
    *,
    life_frac: float | None = None,
) -> tuple[Choice, ...]:
    """Return every canvas in every direction with its best crop, ranked as `rule_of` says.

    Args:
        photo: Size of the photo.
        heads: Heads in the photo; may be none.
        keeps: Boxes that must stay in the picture; may be none.
        canvases: One or more.
        life_frac: Share of life that the heads should have, or None: then `FORMAL_FRAC` ranks the canvases, and every
            crop is the largest.

    Raises:
        CompositionError: A box cannot be in the photo, or the share of life is out of range.
    """
    check_boxes(photo, heads, keeps)
    if life_frac is not None and not LEAST_LIFE_FRAC <= life_frac <= MOST_LIFE_FRAC:
        raise CompositionError(
            f"heads of {100 * life_frac:g} % of life are out of range: "
            f"{100 * LEAST_LIFE_FRAC:.0f} to {100 * MOST_LIFE_FRAC:.0f} %"
        )
    found = [
        _choice(canvas, direction, size, (photo, heads, keeps), life_frac)
        for canvas in canvases
        for direction, size in canvas.directions.items()
    ]
    return tuple(sorted(found, key=lambda choice: _rank(choice, life_frac)))


def rule_of(life_frac: float | None = None) -> str:
    """Return the rule by which crops are chosen and canvases ranked, in words; `life_frac` as in `choices_of`."""
    least, most = (f"{100 * frac:g}" for frac in _window(life_frac))
    tight = (
        ""
        if life_frac is not None
        else "then what loses a third of the photo or less, as long as no size of head is asked for; "
    )
    crop = "as large as it can be" if life_frac is None else f"so that the heads come nearest to {100 * life_frac:g} %"
    return (
        f"The crop has the shape of the canvas and is {crop}, with every head and every part to keep inside where "
        f"they fit. In this order: what cuts nothing first; {tight}then heads of {least} to {most} % "
        f"of life, and heads above life size or under {SMALLEST_LIKENESS_MM / 10:g} cm last; then ordinary sizes "
        "before the narrow series (paysage and marine); then what loses least of the photo, in steps of "
        f"{100 * LOST_STEP_FRAC:g} %; then heads nearest to {100 * _wanted_frac(life_frac):g} % of life."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadReport:
    """A head on a canvas as it is printed."""

    name: str
    cm: float
    life_percent: LifePercent


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacingReport:
    """Where a head lies on a canvas, as it is printed; margins by the name of the edge."""

    name: str
    eye_line_cm: float
    margins_cm: dict[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceReport:
    """A canvas as it is printed; the crop is left, top, width and height in pixels of the photo."""

    canvas: str
    direction: str
    crop: tuple[int, int, int, int]
    heads: tuple[HeadReport, ...]
    heads_cm2: float
    placing: tuple[PlacingReport, ...]
    photo_lost_percent: float
    scale_px_per_cm: float
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ComposeReport:
    """Everything that `coach compose` answers; `remarks` are about all canvases."""

    rule: str
    choices: tuple[ChoiceReport, ...]
    remarks: tuple[str, ...]


def report_on(
    choices: Sequence[Choice], *, life_frac: float | None = None, remarks: Sequence[str] = ()
) -> ComposeReport:
    """Return the choices with their figures rounded as they are printed."""
    return ComposeReport(rule=rule_of(life_frac), choices=tuple(map(_report, choices)), remarks=tuple(remarks))


def _report(choice: Choice) -> ChoiceReport:
    crop = choice.crop
    return ChoiceReport(
        canvas=choice.canvas.name,
        direction=choice.direction,
        crop=(crop.left_px, crop.top_px, crop.width_px, crop.height_px),
        heads=tuple(_head_report(head) for head in choice.heads),
        heads_cm2=round(choice.heads_cm2, 1),
        placing=tuple(
            PlacingReport(
                name=head.name,
                eye_line_cm=round(head.eye_line_mm / 10, 1),
                margins_cm={edge: round(room / 10, 1) for edge, room in zip(EDGES, head.margins_mm, strict=True)},
            )
            for head in choice.heads
        ),
        photo_lost_percent=round(100 * choice.photo_lost_frac, 1),
        scale_px_per_cm=round(choice.scale_px_per_cm, 1),
        warnings=choice.warnings,
    )


def _head_report(head: PlacedHead) -> HeadReport:
    percent = life_percent(head.height_mm)
    return HeadReport(
        name=head.name,
        cm=round(head.height_mm / 10, 1),
        life_percent=LifePercent(man=round(percent.man, 1), woman=round(percent.woman, 1)),
    )


def _choice(
    canvas: CanvasFormat,
    direction: str,
    size: CanvasSize,
    picture: tuple[PhotoSize, Sequence[MarkedHead], Sequence[MarkedBox]],
    life_frac: float | None,
) -> Choice:
    photo, heads, keeps = picture
    crop = best_crop(photo, size, heads, keeps, life_frac)
    on_canvas = placed(size, crop, heads)
    framed = Framed(photo=photo, canvas=size, crop=crop, heads=heads, keeps=keeps, placed=on_canvas)
    return Choice(
        canvas=canvas,
        direction=direction,
        size=size,
        crop=crop,
        heads=on_canvas,
        photo_lost_frac=1 - crop.width_px * crop.height_px / (photo.width_px * photo.height_px),
        scale_px_per_cm=crop.height_px / size.height_mm * 10,
        cut_count=framed.cut_count,
        warnings=warnings_of(framed),
    )


def _rank(choice: Choice, life_frac: float | None) -> tuple[bool, bool, int, bool, int, float, float]:
    mean_frac = mean_life_frac(choice.heads)
    off_frac = 0.0 if mean_frac is None else abs(mean_frac - _wanted_frac(life_frac))
    # Rounded first, because 1 - 0.9 is a little less than 0.1 in binary.
    lost_step = int(round(choice.photo_lost_frac / LOST_STEP_FRAC, 6))
    is_tight = life_frac is None and choice.photo_lost_frac > TIGHT_FRAC
    return (
        choice.cut_count > 0,
        is_tight,
        _grade(mean_frac, life_frac),
        not choice.canvas.is_ordinary,
        lost_step,
        off_frac,
        choice.photo_lost_frac,
    )


def _grade(mean_frac: float | None, life_frac: float | None) -> int:
    least, most = _window(life_frac)
    if mean_frac is None or least <= mean_frac <= most:
        return 0
    return 1 if SMALLEST_LIKENESS_MM / LIFE_MM <= mean_frac <= 1 else 2


def _window(life_frac: float | None) -> tuple[float, float]:
    return COMFORTABLE_FRAC if life_frac is None else (max(0.0, life_frac - NEAR_FRAC), life_frac + NEAR_FRAC)


def _wanted_frac(life_frac: float | None) -> float:
    return FORMAL_FRAC if life_frac is None else life_frac
