"""The forecast in a painter's sentences: whether the day holds, and what had to be guessed."""

import datetime as dt
from collections.abc import Iterator
from math import ceil
from typing import Final

from coach.forecast.calendar import day_after, first_look_days, framed_and_delivered, promised_ahead_s
from coach.forecast.drying import mixture_drying
from coach.forecast.drying_table import SLOW
from coach.forecast.layers import layer_warnings
from coach.forecast.outlook import TurnTime
from coach.forecast.simulation import Simulation
from coach.forecast.steps import passages_of
from coach.text import counted

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


def chance_percent(chance: float) -> str:
    """Return a chance in whole percent: "83 %"; what is nearly sure either way is given no number."""
    if chance > 0.99:  # noqa: PLR2004  the last whole percent below all
        return "more than 99 %"
    return "less than 1 %" if chance < 0.01 else f"{chance * 100:.0f} %"  # noqa: PLR2004  the first above nothing


def due_sentence(due: dt.date | None, chance: float | None, delivered: dt.date | None) -> str:
    """Return whether the due day holds.

    Args:
        due: The due day, or None.
        chance: Its chance, or None in a forecast without chance.
        delivered: The day by which it is delivered with a chance of 80 %, or None where that is too far ahead.
    """
    when = "not within ten years" if delivered is None else f"on {delivered.isoformat()}"
    if due is None:
        foretold = "no day of delivery can be told" if delivered is None else f"delivered {when} with a chance of 80 %"
        return f"The plan states no due day; {foretold}."
    if chance is not None:
        return f"{due.isoformat()} is {chance_words(chance)} to hold ({chance_percent(chance)})."
    holds = delivered is not None and delivered <= due
    return f"{due.isoformat()} {'holds' if holds else 'does not hold'}: delivered {when} if all goes by the plan."


def range_words(low_days: float, high_days: float) -> str:
    """Return how long paint may take: "4 to 8 d", or "9 d" where both ends are the same."""
    low, high = (f"{days:.2g}" if days < 100 else f"{days:.0f}" for days in (low_days, high_days))  # noqa: PLR2004
    return f"{high} d" if low == high else f"{low} to {high} d"


FEW_TURNS: Final = 4
"""With fewer turns the plan counts for more than the log. Source: facts/order.md N: half the weight lies there."""

USUAL_ROOM_C: Final = (10.0, 30.0)
"""Rooms for which the factor of the table is worth something, in degrees Celsius. Source: ours."""


def remarks_of(simulation: Simulation, outliers: tuple[TurnTime, ...], delivered: dt.date | None) -> tuple[str, ...]:
    """Return the remarks, the gravest first; may be empty.

    Args:
        simulation: The work that is left.
        outliers: Turns left out of the pace.
        delivered: The 80 % day of delivery; None where it is too far ahead.
    """
    never = delivered is None and bool(simulation.steps)
    return (
        *_of_due(simulation),
        *(_of_hours(simulation) if never else ()),
        *(_of_log(simulation) if simulation.plan.forecast.is_spread else ()),
        *(outlier_sentence(turn) for turn in outliers),
        *_of_paints(simulation),
        *layer_warnings(simulation.plan),
    )


def earliest_delivery(simulation: Simulation) -> dt.date:
    """Return the day of delivery if the last stroke were today and all dried at its fast end."""
    today, after = simulation.outlook.today, simulation.plan.after
    ends = [ceil(simulation.steps[number].drying.low_days) for number in simulation.wet]
    ends += [day + ceil(dries.low_days) for day, dries in simulation.laid]
    if after.drying_days is not None:
        last = 0 if simulation.steps else max((day for day, _ in simulation.laid), default=0)
        ends = [last + after.drying_days]
    dry = day_after(today, max([*ends, 0]))
    return framed_and_delivered(simulation.plan, [dry])[dry][1]


def outlier_sentence(turn: TurnTime) -> str:
    """Return what is odd about a turn that is left out of the pace."""
    worked, planned = _time(turn.worked_s), _time(turn.planned_s)
    return f"{turn.words or turn.pass_name}: {worked} worked, {planned} planned. Left out until it is corrected."


def _of_due(simulation: Simulation) -> Iterator[str]:
    due, today = simulation.plan.due, simulation.outlook.today
    if due is None:
        return
    if due < today:
        yield f"The due day {due.isoformat()} is past by {counted((today - due).days, 'day')}."
        return
    earliest = earliest_delivery(simulation)
    if earliest > due:
        yield (
            f"Even with the last stroke today it is dry, framed and delivered on {earliest.isoformat()} at the "
            f"earliest: {counted((earliest - due).days, 'day')} after the due day."
        )


def _of_hours(simulation: Simulation) -> Iterator[str]:
    days = first_look_days(simulation.plan, simulation.outlook.today)
    if simulation.plan.week_s is None and not simulation.plan.also:
        yield "The plan states no hours, so no day of the last stroke can be told; add a week to it."
    elif not any(simulation.usable_s(promised_ahead_s(simulation.plan, simulation.outlook.today, days))):
        yield f"The hours that the plan promises leave no time to paint in the next {days} days."
    else:
        yield "With these hours the work does not end within ten years."


def _of_log(simulation: Simulation) -> Iterator[str]:
    turns = simulation.pace.turns
    if turns == 0:
        yield "No turn is timed yet: the times of the plan count."
    elif turns < FEW_TURNS:
        timed = "Only 1 turn is timed" if turns == 1 else f"Only {turns} turns are timed"
        yield f"{timed}: the times of the plan count for most."


def _of_paints(simulation: Simulation) -> Iterator[str]:
    room_c = simulation.plan.forecast.room_c
    unknown = unknown_paints(simulation)
    if simulation.plan.after.drying_days is None and unknown and simulation.plan.forecast.medium != "alkyd":
        names, are = ", ".join(unknown), "is" if len(unknown) == 1 else "are"
        yield f"{names} {are} not in the table of drying: counted as slow, {range_words(*SLOW)} to touch-dry."
    if not USUAL_ROOM_C[0] <= room_c <= USUAL_ROOM_C[1]:
        yield f"At {room_c:g} C the drying times are a guess: the table is for a room of about 20 C."


def unknown_paints(simulation: Simulation) -> tuple[str, ...]:
    """Return the paints of what is wet or still to be painted that the table does not know, each once."""
    outlook, passages = simulation.outlook, passages_of(simulation.plan)
    keys = [(turn.pass_name, name) for turn in outlook.remaining for name in turn.passages]
    keys += [(own.pass_name, own.passage) for own in outlook.laid]
    names = dict.fromkeys(passages[key].mixture for key in keys if key in passages)
    mixtures = [mixture for mixture in map(simulation.plan.mixture_named, names) if mixture is not None]
    return tuple(dict.fromkeys(name for own in mixtures for name in mixture_drying(simulation.plan, own).unknown))


def _time(seconds: float) -> str:
    return f"{seconds / 3600:.3g} h" if seconds >= 3600 else f"{seconds / 60:.0f} min"  # noqa: PLR2004  an hour
