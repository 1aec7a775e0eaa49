"""What the painter should know beside the figures: what cannot hold, and what the forecast had to guess."""

import datetime as dt
from collections.abc import Iterator
from math import ceil
from typing import Final

from coach.forecast.chance import Played
from coach.forecast.days_ahead import first_look_days, framed_and_delivered, promised_ahead_s
from coach.forecast.drying import mixture_drying
from coach.forecast.drying_table import SLOW
from coach.forecast.layers import day_after, layer_warnings
from coach.forecast.sentences import range_words
from coach.forecast.steps import passages_of
from coach.forecast.turn_times import TurnTime
from coach.text import counted

FEW_TURNS: Final = 4
"""With fewer turns the plan counts for more than the log. Source: facts/order.md N: half the weight lies there."""

USUAL_ROOM_C: Final = (10.0, 30.0)
"""Rooms for which the factor of the table is worth something, in degrees Celsius. Source: ours."""


def remarks_of(play: Played, outliers: tuple[TurnTime, ...], delivered: dt.date | None) -> tuple[str, ...]:
    """Return the remarks, the gravest first; may be empty.

    Args:
        play: The work that is left.
        outliers: Turns left out of the pace.
        delivered: The 80 % day of delivery; None where it is too far ahead.
    """
    never = delivered is None and bool(play.steps)
    return (
        *_of_due(play),
        *(_of_hours(play) if never else ()),
        *(_of_log(play) if play.plan.forecast.is_spread else ()),
        *(outlier_sentence(turn) for turn in outliers),
        *_of_paints(play),
        *layer_warnings(play.plan),
    )


def earliest_delivery(play: Played) -> dt.date:
    """Return the day of delivery if the last stroke were today and all dried at its fast end."""
    today, after = play.outlook.today, play.plan.after
    ends = [ceil(play.steps[number].drying.low_days) for number in play.wet]
    ends += [day + ceil(dries.low_days) for day, dries in play.laid]
    if after.drying_days is not None:
        last = 0 if play.steps else max((day for day, _ in play.laid), default=0)
        ends = [last + after.drying_days]
    dry = day_after(today, max([*ends, 0]))
    return framed_and_delivered(play.plan, [dry])[dry][1]


def outlier_sentence(turn: TurnTime) -> str:
    """Return what is odd about a turn that is left out of the pace."""
    worked, planned = _time(turn.worked_s), _time(turn.planned_s)
    return f"{turn.words or turn.pass_name}: {worked} worked, {planned} planned. Left out until it is corrected."


def _of_due(play: Played) -> Iterator[str]:
    due, today = play.plan.due, play.outlook.today
    if due is None:
        return
    if due < today:
        yield f"The due day {due.isoformat()} is past by {counted((today - due).days, 'day')}."
        return
    earliest = earliest_delivery(play)
    if earliest > due:
        yield (
            f"Even with the last stroke today it is dry, framed and delivered on {earliest.isoformat()} at the "
            f"earliest: {counted((earliest - due).days, 'day')} after the due day."
        )


def _of_hours(play: Played) -> Iterator[str]:
    days = first_look_days(play.plan, play.outlook.today)
    if play.plan.week_s is None and not play.plan.also:
        yield "The plan states no hours, so no day of the last stroke can be told; add a week to it."
    elif not any(play.usable_s(promised_ahead_s(play.plan, play.outlook.today, days))):
        yield f"The hours that the plan promises leave no time to paint in the next {days} days."
    else:
        yield "With these hours the work does not end within ten years."


def _of_log(play: Played) -> Iterator[str]:
    turns = play.pace.turns
    if turns == 0:
        yield "No turn is timed yet: the times of the plan count."
    elif turns < FEW_TURNS:
        timed = "Only 1 turn is timed" if turns == 1 else f"Only {turns} turns are timed"
        yield f"{timed}: the times of the plan count for most."


def _of_paints(play: Played) -> Iterator[str]:
    room_c = play.plan.forecast.room_c
    unknown = unknown_paints(play)
    if play.plan.after.drying_days is None and unknown and play.plan.forecast.medium != "alkyd":
        names, are = ", ".join(unknown), "is" if len(unknown) == 1 else "are"
        yield f"{names} {are} not in the table of drying: counted as slow, {range_words(*SLOW)} to touch-dry."
    if not USUAL_ROOM_C[0] <= room_c <= USUAL_ROOM_C[1]:
        yield f"At {room_c:g} C the drying times are a guess: the table is for a room of about 20 C."


def unknown_paints(play: Played) -> tuple[str, ...]:
    """Return the paints of what is wet or still to be painted that the table does not know, each once."""
    outlook, passages = play.outlook, passages_of(play.plan)
    keys = [(turn.pass_name, name) for turn in outlook.remaining for name in turn.passages]
    keys += [(own.pass_name, own.passage) for own in outlook.laid]
    names = dict.fromkeys(passages[key].mixture for key in keys if key in passages)
    mixtures = [mixture for mixture in map(play.plan.mixture_named, names) if mixture is not None]
    return tuple(dict.fromkeys(name for own in mixtures for name in mixture_drying(play.plan, own).unknown))


def _time(seconds: float) -> str:
    return f"{seconds / 3600:.3g} h" if seconds >= 3600 else f"{seconds / 60:.0f} min"  # noqa: PLR2004  an hour
