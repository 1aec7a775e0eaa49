"""The forecast in a painter's sentences: whether the day holds, and what had to be guessed."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final

from coach.forecast.adherence import CLEANUP_S, MOST_LOST_FRAC, SETUP_S
from coach.forecast.calendar import (
    VARNISH_MONTHS,
    after_last_stroke,
    day_after,
    first_look_days,
    gone_canvases,
    promised_ahead_s,
    varnish_day,
)
from coach.forecast.dry_first import dry_first
from coach.forecast.drying import mixture_drying
from coach.forecast.drying_table import SLOW, DaysRange
from coach.forecast.layers import layer_warnings
from coach.forecast.outlook import Outlook, Stage, TurnTime
from coach.forecast.pace import TOLD_FROM_TURNS, Pace
from coach.forecast.simulation import Simulation, last_laid_day
from coach.forecast.steps import DryingTimes, last_wet
from coach.journal.events import STAGE_WORDS
from coach.plan.commission import Plan
from coach.plan.delivery import Forecast
from coach.text import counted, percent, span

FAR: Final = "no day yet"
"""What is said of a day that is too far ahead."""

LIKELY: Final = "8 times in 10"
"""What is said of the day by which something is done with a chance of 0.8."""

_TIMES: Final = {80: LIKELY, 95: "19 times in 20"}
"""What is said of the chances, in percent, for which hours a day are told."""

_MOST_FELT: Final = 2
"""So many mixtures that dry otherwise than the table says are named."""

HOLDS_FROM, PERHAPS_FROM = 0.8, 0.5
"""From these chances on the due day holds, or perhaps does."""

_CERTAIN_FROM, _HARDLY_BELOW = 0.99, 0.05

DRY_TO_TOUCH: Final = (
    "Dry to touch is not dry through: let nothing touch the paint in the frame, pack it face free, and hand it over "
    "unvarnished or with a temporary varnish, as agreed."
)
"""Said where the work will be framed and sent. Source: trade facts F9, F10, B5.5 and B5.8 (all secondary)."""

PACKING: Final = (
    "Pack only what is dry to touch, better 7 to 14 days later (the cautious wait six months): hold it by the edges, "
    "under glassine or in a box that stands off; no bubble film on the paint."
)
"""How it is packed. Source: trade facts F9 (the pages conflict) and F10 (both secondary)."""

NO_TREND: Final = "If later passes go slower, that is not foreseen: they count like those painted so far."
"""What the model leaves out. Source: trade facts K6."""

_LIKELIHOODS: Final = (
    (0.99, "as good as certain"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.33, "as likely as not"),
    (0.10, "unlikely"),
    (0.01, "very unlikely"),
)
"""From which chance on a word is used, the greatest first.

Source: the bounds of the likelihood scale of Mastrandrea et al., guidance note for authors of the IPCC Fifth
Assessment Report, 2010 (from memory); the words are partly ours.
"""


def chance_words(chance: float) -> str:
    """Return a chance between 0 and 1 in words: "very likely"."""
    return next((words for least, words in _LIKELIHOODS if chance >= least), "as good as impossible")


def chance_in_ten(chance: float) -> str:
    """Return a chance as a painter says it: "8 in 10"; what is nearly sure either way is given no number."""
    if chance >= _CERTAIN_FROM:
        return "As good as certain"
    return "Hardly a chance" if chance < _HARDLY_BELOW else f"{min(9, max(1, round(10 * chance)))} in 10"


def day_words(day: dt.date | None) -> str:
    """Return a day as a painter writes it, with its weekday: "Sat 1 May 2027"."""
    return FAR if day is None else f"{day:%a} {day.day} {day:%b %Y}"


def states_no_hours(plan: Plan) -> bool:
    """Return whether the plan says nothing of hours, so that no day can be told."""
    return plan.week_s is None and not plan.also


def due_sentence(plan: Plan, chance: float | None, delivered: dt.date | None, today: dt.date) -> str:
    """Return whether the due day holds.

    Args:
        plan: The plan, with its due day or without.
        chance: Its chance, or None in a forecast without chance.
        delivered: The day by which it is delivered with a chance of 80 %, or None where that is too far ahead.
        today: The day it is asked on.
    """
    when, due = "on no day that can be told yet" if delivered is None else f"on {day_words(delivered)}", plan.due
    if due is not None and due < today and delivered is not None and delivered <= due:
        return f"{day_words(due)} held: handed over {when}."
    if due is not None and due < today:
        sure = "" if delivered is None or chance is None else f", {LIKELY}"
        return f"{day_words(due)} is past by {counted((today - due).days, 'day')}: handed over {when}{sure}."
    if states_no_hours(plan) and delivered is None:
        return f"{'The day of delivery' if due is None else day_words(due)} cannot be told: say your hours."
    if due is None:
        foretold = "no day of delivery can be told" if delivered is None else f"delivered {when}, {LIKELY}"
        return f"The plan states no due day; {foretold}."
    if chance is not None:
        in_ten = chance_in_ten(chance)
        return f"{day_words(due)} is {chance_words(chance)} to hold{f' ({in_ten})' if in_ten[0].isdigit() else ''}."
    holds = delivered is not None and delivered <= due
    return f"{day_words(due)} {'holds' if holds else 'does not hold'}: delivered {when} if all goes by the plan."


def range_words(low_days: float, high_days: float) -> str:
    """Return how long paint may take: "4 to 8 days", or "9 days" where both ends are the same."""
    low, high = (f"{days:.2g}" if days < 100 else f"{days:.0f}" for days in (low_days, high_days))  # noqa: PLR2004
    return ("1 day" if high == "1" else f"{high} days") if low == high else f"{low} to {high} days"


USUAL_ROOM_C: Final = (10.0, 30.0)
"""Rooms for which the factor of the table is worth something, in degrees Celsius. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reasons:
    """The figures that the sentences are made of; as in the answer, but for these.

    Attributes:
        hours_for: Chances in percent, each with the hours a day that reach it.
        delivered: The 80 % day of delivery.
        last_stroke: The 80 % day of the last stroke.
        outliers: Turns left out of the pace.
    """

    needed_hours: float
    slack_hours: float | None
    latest_last_stroke: dt.date | None
    drying_days: DaysRange | None
    hours_for: tuple[tuple[int, float | None], ...]
    delivered: dt.date | None
    delivered_chance: float | None
    last_stroke: dt.date | None
    outliers: tuple[TurnTime, ...]


def reasons_of(simulation: Simulation, reasons: Reasons) -> tuple[str, ...]:
    """Return why the day holds or not: the day itself, hours needed, hours left over, pace, drying, hours kept."""
    is_trend_unknown = simulation.plan.forecast.is_spread and bool(simulation.steps)
    return (*_reasons(simulation, reasons), *([NO_TREND] if is_trend_unknown else []))


def _reasons(simulation: Simulation, reasons: Reasons) -> Iterator[str]:
    surest = {hours: chance for chance, hours in reasons.hours_for}
    if simulation.steps:
        yield from (
            f"Paint {_day_span(hours)} a day and it holds {_TIMES[chance]}."
            for hours, chance in surest.items()
            if hours
        )
    if reasons.delivered_chance is not None:
        yield f"Handed over by {day_words(reasons.delivered)}: {chance_in_ten(reasons.delivered_chance).lower()}."
    if simulation.steps:
        yield f"Left to paint: {hours_words(reasons.needed_hours)}."
    else:
        yield "Nothing is left to paint."
    for stage in last_stages(simulation.outlook):
        yield f"{stage.canvas}: {STAGE_WORDS[stage.kind]} on {day_words(stage.day)}."
    yield from _of_last_stroke(simulation, reasons)
    if reasons.drying_days is not None:
        yield f"The slowest paint is dry to touch after {range_words(*reasons.drying_days)}."
    if simulation.plan.forecast.is_spread:
        yield pace_sentence(simulation.pace)
        if simulation.adherence.kept_frac is not None and simulation.steps:
            days = counted(simulation.adherence.days, "day")
            yield f"You painted {percent(simulation.adherence.kept_frac)} of the hours your week promised ({days})."
    if simulation.plan.forecast.is_spread and simulation.steps and not states_no_hours(simulation.plan):
        lost = f"{SETUP_S // 60} min of a promised day go to setting up and {CLEANUP_S // 60} min to clearing up"
        yield f"{lost}, at most {percent(MOST_LOST_FRAC)} of it; the rests come on top."
    if reasons.last_stroke is not None:
        yield DRY_TO_TOUCH
        yield PACKING
        yield from _of_framer_and_client(simulation)
        day = day_words(varnish_day(reasons.last_stroke))
        yield f"Varnish from {day}, {VARNISH_MONTHS} months after the last stroke (3 to 12 are quoted); test first."
    yield from _of_felt(simulation)


def _of_last_stroke(simulation: Simulation, reasons: Reasons) -> Iterator[str]:
    latest, slack = reasons.latest_last_stroke, reasons.slack_hours
    if latest is not None and simulation.steps:
        over = "" if slack is None else f": {_hours_min(abs(slack))} {'to spare' if slack >= 0 else 'are missing'}"
        must = "must fall" if latest >= simulation.outlook.today else "had to fall"
        yield f"The last stroke {must} by {day_words(latest)}{over}."


def _of_felt(simulation: Simulation) -> Iterator[str]:
    """Yield which mixtures dry otherwise than the table says, by what the painter felt: the slowest, then how many."""
    outlook = simulation.outlook
    times = DryingTimes(simulation.plan, outlook.answers)
    told: dict[str, tuple[float, str]] = {}
    for own in (*outlook.laid, *outlook.gone_laid):
        paint = own.paint
        if paint is None or not paint.mixture or paint.mixture in told:
            continue
        low, high = times.of_laid(own)
        felt, table = range_words(low, high), range_words(paint.low_days, paint.high_days)
        said = f"By what you felt, {paint.mixture} is dry to touch after {felt}; the table says {table}."
        told[paint.mixture] = (high, said if felt != table else "")
    differing = sorted((own for own in told.values() if own[1]), key=lambda own: -own[0])
    yield from (said for _, said in differing[:_MOST_FELT])
    if len(differing) > _MOST_FELT:
        others = counted(len(differing) - _MOST_FELT, "more mixture")
        yield f"By what you felt, {others} dry otherwise than the table says, none slower than these."


def last_stages(outlook: Outlook) -> tuple[Stage, ...]:
    """Return for each canvas that the last stroke is behind what followed last."""
    return tuple({stage.canvas: stage for stage in outlook.stages}.values())


def _of_framer_and_client(simulation: Simulation) -> Iterator[str]:
    plan = simulation.plan
    for stop in plan.approval:
        yield f"After {stop.after} the client has {counted(stop.wait_days, 'day')} to answer."
    framer = plan.framer
    if framer.after_touch_dry_days:
        yield f"The framer takes it {counted(framer.after_touch_dry_days, 'day')} after it is dry to touch."
    if plan.after.framing_working_days:
        spacers = "has spacers" if framer.has_spacers else "needs spacers: ask the framer"
        yield f"Between paint and glass or rebate the frame {spacers}."


def _day_span(hours: float) -> str:
    """Return hours of a day, rounded up to five minutes: "2 h 20 min"."""
    return span(300_000 * ceil(hours * 12 - 1e-9))


def hours_words(hours: float) -> str:
    """Return hours of painting as they are said: "about 4 h 30 min"."""
    return f"about {_hours_min(hours)}" if hours else "a few minutes"


def _hours_min(hours: float) -> str:
    """Return hours as they are said: to five minutes below ten hours, to the hour from there on."""
    if hours >= 10:  # noqa: PLR2004
        return f"{hours:.0f} h"
    return span(max(5, round(hours * 12) * 5) * 60_000)


def pace_sentence(pace: Pace) -> str:
    """Return how long the painter takes against the plan."""
    if pace.taken_frac is not None and pace.turns >= TOLD_FROM_TURNS:
        return f"So far you take {pace.taken_frac:.1f} times as long as planned."
    said = f"{pace.median_frac:.1f} times"
    if pace.turns:
        turns = "turn" if pace.turns == 1 else f"{pace.turns} turns"
        return f"By your first {turns}, and what most painters take, the coach reckons {said} as long as planned."
    return f"Most painters take longer than they plan; until your log says otherwise the coach reckons {said} as long."


def remarks_of(simulation: Simulation, reasons: Reasons) -> tuple[str, ...]:
    """Return what else to know, the gravest first; may be empty.

    Args:
        simulation: The work that is left.
        reasons: The figures; an 80 % day of delivery of None is too far ahead.
    """
    plan, never = simulation.plan, reasons.delivered is None and bool(simulation.steps)
    offer = dry_first(plan, simulation.outlook)
    return (
        *_of_due(simulation),
        *_of_wet_on_the_way(simulation),
        *(_of_hours(simulation, reasons.needed_hours) if never else ()),
        *(outlier_sentence(turn) for turn in reasons.outliers),
        *_of_paints(simulation),
        *(() if offer is None else (offer.sentence,)),
        *layer_warnings(plan, simulation.outlook.paint),
    )


def earliest_delivery(simulation: Simulation) -> dt.date:
    """Return the day of delivery if the last stroke were today and all dried at its fast end."""
    today, after = simulation.outlook.today, simulation.plan.after
    every = [step.drying for step in map(simulation.steps.__getitem__, last_wet(simulation.steps))]
    ends = [ceil(own.low_days) for own in every if own is not None]
    ends += [max(own.day + ceil(own.dries.low_days), own.day + int(own.wet_days) + 1) for own in simulation.laid]
    if after.drying_days is not None:
        last = 0 if simulation.steps else last_laid_day(simulation.outlook)
        ends = [last + after.drying_days]
    dry = day_after(today, max([*ends, 0]))
    return after_last_stroke(simulation.plan, dry, drying_days=0).delivered


def outlier_sentence(turn: TurnTime) -> str:
    """Return what is odd about a turn that is left out of the pace."""
    worked, planned = _time(turn.worked_s), _time(turn.planned_s)
    return f"{turn.words or turn.pass_name}: {worked} worked, {planned} planned. It is left out until you correct it."


def _of_due(simulation: Simulation) -> Iterator[str]:
    due, today = simulation.plan.due, simulation.outlook.today
    if due is None or due < today:
        return
    gone = gone_canvases(simulation.plan, simulation.outlook)
    arrives = max((own.delivered for own in gone), default=today)
    if arrives > due:
        late = counted((arrives - due).days, "day")
        yield f"What is on its way arrives on {day_words(arrives)}: {late} after the due day."
    if len(gone) == len(simulation.plan.canvases):
        return
    earliest = earliest_delivery(simulation)
    if earliest > due:
        yield (
            f"Even with the last stroke today it is dry, framed and delivered on {day_words(earliest)} at the "
            f"earliest: {counted((earliest - due).days, 'day')} after the due day."
        )


def _of_wet_on_the_way(simulation: Simulation) -> Iterator[str]:
    """Yield which canvases left the studio with paint that may be wet still, and until when."""
    plan, outlook = simulation.plan, simulation.outlook
    times, stated = DryingTimes(plan, outlook.answers), plan.after.drying_days
    dry: dict[str, dt.date] = {}
    for own in outlook.gone_laid:
        days = ceil(times.of_laid(own).high_days) if stated is None else stated
        dry[own.canvas] = max(day_after(own.painted, days), dry.get(own.canvas, dt.date.min))
    for canvas, day in dry.items():
        if day > outlook.today:
            yield (
                f"{canvas} left the studio before it was sure to be dry to touch ({day_words(day)}): say so to whoever "
                "has it, and let nothing touch the paint."
            )


def _of_hours(simulation: Simulation, needed_hours: float) -> Iterator[str]:
    days = first_look_days(simulation.plan, simulation.outlook.today)
    if states_no_hours(simulation.plan):
        yield "The plan states no hours, so no day can be told: say your hours, such as week: {mon-fri: 5 h}."
    elif not any(simulation.usable_s(promised_ahead_s(simulation.plan, simulation.outlook.today, days))):
        yield f"The hours that the plan promises leave no time to paint in the next {days} days."
    else:
        yield f"Left to paint: {hours_words(needed_hours)}, more than these hours give: promise more of them."


def _of_paints(simulation: Simulation) -> Iterator[str]:
    room_c = simulation.plan.forecast.room_c
    unknown = unknown_paints(simulation)
    if simulation.plan.after.drying_days is None and unknown and simulation.plan.forecast.medium != "alkyd":
        names, are = ", ".join(unknown), "is" if len(unknown) == 1 else "are"
        yield f"{names} {are} not in the table of drying: counted as slow, dry to touch after {range_words(*SLOW)}."
    forecast, usual = simulation.plan.forecast, Forecast()
    if simulation.plan.after.drying_days is not None and (forecast.medium, forecast.room_c) != (
        usual.medium,
        usual.room_c,
    ):
        days = counted(simulation.plan.after.drying_days, "day")
        yield f"The plan states {days} of drying, so medium and room make no difference to the last drying."
    if not USUAL_ROOM_C[0] <= room_c <= USUAL_ROOM_C[1]:
        yield f"At {room_c:g} °C the drying times are a guess: the table is for a room of about 20 °C."


def unknown_paints(simulation: Simulation) -> tuple[str, ...]:
    """Return the paints of what is wet or still to be painted that the table does not know, each once."""
    outlook, passages = simulation.outlook, DryingTimes(simulation.plan, ()).passages
    keys = [(turn.pass_name, name) for turn in outlook.remaining for name in turn.passages]
    keys += [(own.pass_name, own.passage) for own in outlook.laid]
    names = dict.fromkeys(passages[key].mixture for key in keys if key in passages)
    mixtures = [mixture for mixture in map(simulation.plan.mixture_named, names) if mixture is not None]
    return tuple(dict.fromkeys(name for own in mixtures for name in mixture_drying(simulation.plan, own).unknown))


def _time(seconds: float) -> str:
    return f"{seconds / 3600:.3g} h" if seconds >= 3600 else f"{seconds / 60:.0f} min"  # noqa: PLR2004  an hour
