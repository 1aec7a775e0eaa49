"""The commission and its plan as frozen data."""

import datetime as dt
from typing import Final, NamedTuple

from coach.plan.delivery import After, Approval, Days, Forecast, Framer
from coach.plan.value_range import ValueRange

DEFAULT_PLANNED_S: Final = 15 * 60
"""Time for a passage that states none, in seconds. Source: common practice, no source."""

DEFAULT_CHECK_S: Final = 3 * 60
"""Time for a check that states none, in seconds. Source: common practice, no source."""

FRESH_EYE: Final = "fresh eye"
"""The check that is made before the first paint of a day."""

CHECKS: Final = ("mirror", "upside down", "step back", FRESH_EYE, "colour")
"""How a canvas may be looked at in a turn without paint. Source: common practice, no source."""

MOST_CANVASES: Final = 12
"""How many canvases one commission may have."""

MOST_MARKED: Final = 12
"""How many heads, and how many parts to keep, a plan may mark in its photo."""

STANDING: Final = "standing"
SEATED: Final = "seated"

RETURN_TO: Final = "return to "
"""The name of a pass of corrections begins with these words; no pass of a plan does."""


def pass_words(name: str) -> str:
    """Return the name of a pass as it is said: "return to return to eyes" is the "2nd return to eyes"."""
    feature, count = name, 0
    while feature.startswith(RETURN_TO):
        feature, count = feature.removeprefix(RETURN_TO), count + 1
    if count < 2:  # noqa: PLR2004  the first return needs no number
        return name
    ending = "th" if 10 <= count % 100 < 20 else {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")  # noqa: PLR2004
    return f"{count}{ending} {RETURN_TO}{feature}"


Address = tuple[str, str]
"""Name of a pass and name of one of its passages."""


class CanvasSize(NamedTuple):
    """Size of a canvas, in millimetres; both greater than 0."""

    width_mm: float
    height_mm: float


class Canvas(NamedTuple):
    """One replica.

    Attributes:
        name: Short name, unique in the commission.
        place: "left", "right" or a number from 1 as text; None where it is not stated.
        size: Its size, or None where it is not stated.
    """

    name: str
    place: str | None = None
    size: CanvasSize | None = None


class Passage(NamedTuple):
    """One or more shapes painted as one, or a check; figures are for one canvas.

    Attributes:
        name: Unique in its pass.
        planned_s: Time planned, in seconds, greater than 0; None where the plan states none.
        value: Darkness to lightness, 0 black to 10 white (Munsell value); None where not stated.
        area_cm2: Area, in square centimetres, greater than 0; None where not stated.
        mixture: Name of its mixture; None where not stated.
        beside: Name of the earlier passage of the same pass whose edge it meets wet; None if it has none.
        difficulty: What a minute of it weighs when the lead is shared, greater than 0.
        lead: Name of the canvas that is to lead its run; None where any may.
        over: Pass and name of the earlier passage it lies over, which must be dry to touch first; None if none.
        into: Pass and name of the earlier passage it is painted into while that is wet; None if none.
        shapes: Ids of its shapes in the plan's file of shapes; a pass paints a shape in one passage only.
        brush_mm: Width of the brush, in millimetres, greater than 0; None where not stated.
        check: One of `CHECKS` where it is a turn without paint, which is alone in its run; None for one that is
            painted.
    """

    name: str
    planned_s: int | None = None
    value: float | None = None
    area_cm2: float | None = None
    mixture: str | None = None
    beside: str | None = None
    difficulty: float = 1.0
    lead: str | None = None
    over: tuple[str, str] | None = None
    into: tuple[str, str] | None = None
    shapes: tuple[str, ...] = ()
    brush_mm: float | None = None
    check: str | None = None

    @property
    def time_s(self) -> int:
        """Time planned on one canvas, in seconds; what is usual where the plan states none."""
        if self.planned_s is not None:
            return self.planned_s
        return DEFAULT_PLANNED_S if self.check is None else DEFAULT_CHECK_S


class Run(NamedTuple):
    """Passages painted one after the other on one canvas; the unit that alternates.

    Attributes:
        pass_name: Name of the pass it belongs to.
        number: Number of the run in its pass, from 1.
        passages: One or more, in the order of the plan.
        canvases: Names of the canvases it is painted on; empty for all of the plan.
    """

    pass_name: str
    number: int
    passages: tuple[Passage, ...]
    canvases: tuple[str, ...] = ()

    @property
    def planned_s(self) -> int:
        """Time planned on one canvas, in seconds."""
        return sum(passage.time_s for passage in self.passages)

    @property
    def weighted_s(self) -> int:
        """What the run weighs when it is led: seconds planned on one canvas times difficulty, and at least 1."""
        return max(1, round(sum(passage.time_s * passage.difficulty for passage in self.passages)))

    @property
    def is_check(self) -> bool:
        """Whether it is a turn without paint."""
        return self.check is not None

    @property
    def check(self) -> str | None:
        """One of `CHECKS` where it is a turn without paint, else None."""
        return self.passages[0].check

    def is_for(self, canvas: str) -> bool:
        """Return whether the run is painted on the canvas of that name."""
        return not self.canvases or canvas in self.canvases

    @property
    def lead(self) -> str | None:
        """Name of the canvas that is to lead the run, or None where any may."""
        return next((passage.lead for passage in self.passages if passage.lead), None)

    @property
    def passage_names(self) -> tuple[str, ...]:
        """Names of its passages, in order."""
        return tuple(passage.name for passage in self.passages)


class Pass(NamedTuple):
    """One feature, taken through on every canvas; `runs` holds every passage exactly once."""

    name: str
    passages: tuple[Passage, ...]
    runs: tuple[Run, ...]


class Limits(NamedTuple):
    """Hours of the body and of the hands, in seconds; the painter's own figures replace these.

    Attributes:
        block_s: Unbroken work until a rest is due.
        rest_s: Time off that counts as a rest.
        long_rest_s: Time off that counts as a long rest.
        long_rest_within_s: Work in a day within which a long rest is due.
        day_s: Work of a day until a notice.
        caution_day_s: Work of a day until a caution.
        strong_day_s: Work of a day until a strong caution.
        between_days_s: Time off between two days.
        week_s: Work in seven days.
        free_stretch_s: Time off in one piece, once in seven days.
        awake_s: Time awake, since the day's first work at least, until a caution.
        standing_s: Time on one spot.
        meal_s: When the painter eats, in seconds after midnight by the clock; None where it is not stated.
        press_s: Quiet that must come before a key goes on, so that a held key counts once, 0 to 3; 0 lets all count.

    Source:
        Rows of section H and A1 to A5 of the trade facts: HSE guidance L26 (block, rest; secondary), WTR 1998 reg. 12
        and Directive 2003/88/EC arts. 3 to 6 (long rest, nights, week, free stretch; secondary), Salminen 2016 (day;
        abstract read), Williamson & Feyer 2000 and Van Dongen 2003 (waking), EU-OSHA OSHwiki (standing; read).
        Press: common practice, no source.
    """

    block_s: int = 50 * 60
    rest_s: int = 10 * 60
    day_s: int = 8 * 3600
    between_days_s: int = 11 * 3600
    long_rest_s: int = 20 * 60
    long_rest_within_s: int = 6 * 3600
    caution_day_s: int = 10 * 3600
    strong_day_s: int = 12 * 3600
    week_s: int = 48 * 3600
    free_stretch_s: int = 35 * 3600
    awake_s: int = 16 * 3600
    standing_s: int = 60 * 60
    meal_s: int | None = None
    press_s: float = 0.7


class Paint(NamedTuple):
    """A paint of the palette.

    Attributes:
        name: Its name in the plan.
        pigment: Its colour index name (such as PW6), or None.
        dries_days: Days to touch-dry that the painter measured, greater than 0, or None.
        price: What a tube of it costs, in the painter's own money, greater than 0, or None.
    """

    name: str
    pigment: str | None = None
    dries_days: float | None = None
    price: float | None = None


class Mixture(NamedTuple):
    """A recipe.

    Attributes:
        name: Its name in the plan.
        parts: Names of paints, each with its parts, greater than 0; empty where it is mixed to match the photo.
        oil: "lean", "middle" or "fat": how rich in oil it is; None where the plan does not say.
    """

    name: str
    parts: tuple[tuple[str, float], ...] = ()
    oil: str | None = None


class MarkedBox(NamedTuple):
    """An upright box in the photo as it is looked at, in pixels from its top left corner.

    Right and bottom lie just outside it; they are greater than left and top.
    """

    left_px: int
    top_px: int
    right_px: int
    bottom_px: int

    @property
    def width_px(self) -> int:
        """Width."""
        return self.right_px - self.left_px

    @property
    def height_px(self) -> int:
        """Height; of a head, from chin to crown."""
        return self.bottom_px - self.top_px


class MarkedHead(NamedTuple):
    """A head in the photo: its name, and its box from crown to chin and side to side."""

    name: str
    box: MarkedBox


class Plan(NamedTuple):
    """A whole commission.

    Attributes:
        commission: Its name; empty where the plan states none.
        due: Day it must be handed over, or None.
        canvases: 1 to `MOST_CANVASES`.
        passes: One or more, each with one or more passages.
        order: Name of the strategy by which the lead changes; None for the default.
        seed: Decides what chance decides in the order, 0 or more.
        batch: So many neighbouring runs of a pass are painted on a canvas before changing over, 1 or more.
        away: Names of canvases that are away, each with the day it is back.
        week_s: Seconds of work promised from Monday to Sunday, or None where the plan states no week.
        limits: Hours of the body.
        posture: `STANDING` or `SEATED`: how it is painted.
        after: What comes after the last stroke.
        framer: What the framer needs.
        approval: Stops at which the client answers; may be empty.
        palette: The paints; may be empty.
        mixtures: The recipes; may be empty.
        off: Days on which nobody paints, whatever the week says.
        also: Days with hours of their own, in seconds of work; they go before `off` and the week.
        forecast: How the day of delivery is foretold.
        learn_from: Names of journals of earlier commissions, beside the plan, from which the pace is learned.
        photo: Name of the photo's file, beside the plan, or None.
        heads: The heads in the photo, at most `MOST_MARKED`.
        keeps: Boxes in the photo that must stay in the picture, at most `MOST_MARKED`.
        crop: The part of the photo that is painted, or None where the plan states none.
        shapes: Name of the file of shapes, beside the plan, or None.
        values: How the photo's values are fitted into those of paint, or None.
        photos: Name of the folder with the photos of the canvases, beside the plan, or None.
        rights: Whose photo it is and what may be done with it; empty where the plan does not say.
        consent: What the sitter has agreed to; empty where the plan does not say.
        brushes_mm: Widths of the painter's brushes, in millimetres; may be empty.
    """

    canvases: tuple[Canvas, ...]
    passes: tuple[Pass, ...]
    commission: str = ""
    due: dt.date | None = None
    order: str | None = None
    seed: int = 0
    batch: int = 1
    away: tuple[tuple[str, dt.date], ...] = ()
    week_s: tuple[int, ...] | None = None
    limits: Limits = Limits()
    posture: str = STANDING
    after: After = After()
    framer: Framer = Framer()
    approval: tuple[Approval, ...] = ()
    palette: tuple[Paint, ...] = ()
    mixtures: tuple[Mixture, ...] = ()
    off: tuple[Days, ...] = ()
    also: tuple[tuple[Days, int], ...] = ()
    forecast: Forecast = Forecast()
    learn_from: tuple[str, ...] = ()
    photo: str | None = None
    heads: tuple[MarkedHead, ...] = ()
    keeps: tuple[MarkedBox, ...] = ()
    crop: MarkedBox | None = None
    shapes: str | None = None
    values: ValueRange | None = None
    photos: str | None = None
    rights: str = ""
    consent: str = ""
    brushes_mm: tuple[float, ...] = ()

    @property
    def runs(self) -> tuple[Run, ...]:
        """Every run of the work, in the order of the plan."""
        return tuple(run for one_pass in self.passes for run in one_pass.runs)

    def absent_on(self, day: dt.date) -> frozenset[int]:
        """Return the numbers of the canvases that are away on a day."""
        gone = {name for name, back in self.away if day < back}
        return frozenset(number for number, canvas in enumerate(self.canvases) if canvas.name in gone)

    def mixture_named(self, name: str | None) -> Mixture | None:
        """Return the recipe of that name, or None where the plan gives none."""
        return next((mixture for mixture in self.mixtures if mixture.name == name), None)


def runs_of(pass_name: str, passages: tuple[Passage, ...]) -> tuple[Run, ...]:
    """Return the runs of a pass: passages joined by `beside`, ordered by their first passage.

    Args:
        pass_name: Name of the pass.
        passages: Its passages; every `beside` names an earlier one.
    """
    groups: list[list[Passage]] = []
    group_of: dict[str, list[Passage]] = {}
    for passage in passages:
        group = group_of[passage.beside] if passage.beside is not None else []
        if not group:
            groups.append(group)
        group.append(passage)
        group_of[passage.name] = group
    return tuple(
        Run(pass_name=pass_name, number=number, passages=tuple(group)) for number, group in enumerate(groups, start=1)
    )
