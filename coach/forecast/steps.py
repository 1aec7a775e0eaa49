"""The turns still to be painted, made ready to be played through: time, drying, and what each must wait for."""

from collections.abc import Iterable, Mapping, Sequence
from math import log
from typing import NamedTuple

from coach.forecast.drying import passage_drying, slowest
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Laid, Outlook
from coach.forecast.pace import Pace
from coach.plan.commission import Passage, Plan

Passages = Mapping[tuple[str, str], Passage]
"""Passages by pass name and name."""


class Step(NamedTuple):
    """A turn to be played through.

    Attributes:
        log_mean: Mean of the logarithm of its seconds.
        log_sd: How uncertain the painter's factor is, on the log scale.
        drying: Days until the last of its passages is dry to touch.
        waits_for: Numbers of earlier steps that must be dry first, each once.
        waits_for_laid: What was laid before and must be dry first: days since today (0 or less) and its drying.
        away_days: Days from today until its canvas is back; 0 where it is there.
    """

    log_mean: float
    log_sd: float
    drying: DaysRange
    waits_for: tuple[int, ...] = ()
    waits_for_laid: tuple[tuple[int, DaysRange], ...] = ()
    away_days: int = 0

    @property
    def is_waiting(self) -> bool:
        """Return whether it may have to wait for something to dry, or for its canvas."""
        return bool(self.waits_for or self.waits_for_laid or self.away_days)


def steps_of(plan: Plan, outlook: Outlook, pace: Pace) -> tuple[Step, ...]:
    """Return the steps in the order of the turns; a turn without time is left out.

    The turns of a canvas that is away come after all others: the painter goes on with those that are there.
    """
    passages = passages_of(plan)
    wet = {(own.canvas, own.pass_name, own.passage): own for own in outlook.laid}
    placed: dict[tuple[str, str, str], int] = {}
    steps: list[Step] = []
    away = {name: (back - outlook.today).days for name, back in plan.away if back > outlook.today}
    for turn in sorted(outlook.remaining, key=lambda turn: away.get(turn.canvas, 0)):
        if not turn.planned_s > 0:
            continue
        own = [passages.get((turn.pass_name, name), Passage(name)) for name in turn.passages]
        below = dict.fromkeys((turn.canvas, *passage.over) for passage in own if passage.over is not None)
        laid = [key for key in below if key in wet and key not in placed]
        factor = pace.factor(turn.pass_name, is_lead=turn.is_lead)
        steps.append(
            Step(
                log(turn.planned_s) + factor.log_mean,
                factor.log_sd,
                slowest([passage_drying(plan, passage).days for passage in own or [Passage("")]]),
                tuple(dict.fromkeys(placed[key] for key in below if key in placed)),
                tuple(((wet[key].painted - outlook.today).days, laid_drying(plan, passages, wet[key])) for key in laid),
                away.get(turn.canvas, 0),
            )
        )
        for name in turn.passages:
            placed[turn.canvas, turn.pass_name, name] = len(steps) - 1
    return tuple(steps)


def laid_days(plan: Plan, outlook: Outlook) -> tuple[tuple[int, DaysRange], ...]:
    """Return for what is laid its day, in days since today, and its drying; only what can be the last to dry."""
    passages = passages_of(plan)
    every = [((own.painted - outlook.today).days, laid_drying(plan, passages, own)) for own in outlook.laid]
    ends = [DaysRange(day + dries.low_days, day + dries.high_days) for day, dries in every]
    return tuple(every[number] for number in _last_to_dry(ends))


def laid_drying(plan: Plan, passages: Passages, laid: Laid) -> DaysRange:
    """Return the days from its last stroke in which what is laid is dry to touch."""
    if laid.dries is not None:
        return laid.dries
    return passage_drying(plan, passages.get((laid.pass_name, laid.passage), Passage(laid.passage))).days


def last_wet(steps: Sequence[Step]) -> tuple[int, ...]:
    """Return the numbers of the steps that can be the last to dry, in order; no later step is slower."""
    turned = [step.drying for step in reversed(steps)]
    return tuple(sorted(len(steps) - 1 - number for number in _last_to_dry(turned)))


def passages_of(plan: Plan) -> Passages:
    """Return every passage of the plan by pass name and name."""
    return {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}


def _last_to_dry(ends: Iterable[DaysRange]) -> list[int]:
    """Return the numbers of those that none before them outlasts at both ends."""
    kept: list[tuple[int, DaysRange]] = []
    for number, own in enumerate(ends):
        if not any(own.low_days <= other.low_days and own.high_days <= other.high_days for _, other in kept):
            kept.append((number, own))
    return [number for number, _ in kept]
