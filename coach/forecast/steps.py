"""The turns still to be painted, made ready to be simulated: time, drying, and what each must wait for."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from coach.forecast.drying import DryAnswer, learned_range, passage_drying, slowest
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Laid, Outlook
from coach.plan.commission import Passage, Plan

Own = TypeVar("Own")

Passages = Mapping[tuple[str, str], Passage]
"""Passages by pass name and name."""


@dataclass(frozen=True, slots=True)
class Drying:
    """Paint that was laid and dries.

    Attributes:
        day: Day of its last stroke, in days since today, 0 or less.
        dries: Days it takes from then.
        wet_days: Days after its last stroke when it was last found still wet; 0 where it never was.
    """

    day: int
    dries: DaysRange
    wet_days: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A turn to be simulated.

    Attributes:
        pass_name: Name of its pass.
        is_lead: Whether its canvas leads the run.
        planned_s: Time planned for it, in seconds, greater than 0; 0 where it is left out.
        worked_s: Work done on it already, in seconds.
        drying: Days until the last of its passages is dry to touch; None where it is left out or lays no paint.
        waits_for: Numbers of earlier steps that must be dry first, each once.
        waits_for_laid: What was laid before and must be dry first.
        waits_for_client: Number of the step after which the client answers before this one, and the days until then.
        away_days: Days from today until its canvas is back; 0 where it is there.
    """

    pass_name: str
    is_lead: bool
    planned_s: float
    worked_s: float
    drying: DaysRange | None
    waits_for: tuple[int, ...] = ()
    waits_for_laid: tuple[Drying, ...] = ()
    waits_for_client: tuple[tuple[int, int], ...] = ()
    away_days: int = 0

    @property
    def is_waiting(self) -> bool:
        """Whether it may have to wait for something to dry, or for its canvas."""
        return bool(self.waits_for or self.waits_for_laid or self.waits_for_client or self.away_days)


class DryingTimes:
    """Looks up how long passages take to be dry to touch, with what was found of their mixtures."""

    def __init__(self, plan: Plan, answers: Iterable[DryAnswer]) -> None:
        """Look up each passage and each mixture once."""
        self.passages: Passages = {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}
        self._plan = plan
        self._answers: dict[tuple[str, str], list[DryAnswer]] = {}
        for answer in answers:
            self._answers.setdefault((answer.mixture, answer.medium), []).append(answer)
        self._known: dict[str | None, DaysRange] = {}
        self._laid: dict[tuple[object, ...], DaysRange] = {}

    def of(self, pass_name: str, name: str) -> DaysRange:
        """Return the days of a passage; one that the plan does not know may be of any paint."""
        passage = self.passages.get((pass_name, name), Passage(name))
        if passage.mixture not in self._known:
            table = passage_drying(self._plan, passage).days
            answers = self._answers.get((passage.mixture or "", self._plan.forecast.medium), ())
            self._known[passage.mixture] = learned_range(table, answers)
        return self._known[passage.mixture]

    def of_laid(self, laid: Laid) -> DaysRange:
        """Return the days from its last stroke in which what is laid is dry to touch."""
        if laid.dries is not None:
            return laid.dries
        paint = laid.paint
        if paint is None:
            return self.of(laid.pass_name, laid.passage)
        if paint not in self._laid:
            answers = self._answers.get((paint.mixture, paint.medium), ())
            self._laid[paint] = learned_range(DaysRange(paint.low_days, paint.high_days), answers)
        return self._laid[paint]


def steps_of(plan: Plan, outlook: Outlook) -> tuple[Step, ...]:
    """Return the steps in the order of the turns; a turn without time is left out.

    The turns of a canvas that is away come after all others: the painter goes on with those that are there.
    """
    times = DryingTimes(plan, outlook.answers)
    wet = {(own.canvas, own.pass_name, own.passage): own for own in outlook.laid}
    placed: dict[tuple[str, str, str], int] = {}
    steps: list[Step] = []
    away = {name: (back - outlook.today).days for name, back in plan.away if back > outlook.today}
    for turn in sorted(outlook.remaining, key=lambda turn: away.get(turn.canvas, 0)):
        if not turn.planned_s > 0:
            continue
        own = [times.passages.get((turn.pass_name, name), Passage(name)) for name in turn.passages]
        below = dict.fromkeys((turn.canvas, *passage.over) for passage in own if passage.over is not None)
        step = Step(
            pass_name=turn.pass_name,
            is_lead=turn.is_lead,
            planned_s=turn.planned_s,
            worked_s=turn.worked_s,
            drying=None
            if turn.is_check
            else slowest([times.of(turn.pass_name, name) for name in turn.passages or ("",)]),
            waits_for=tuple(dict.fromkeys(placed[key] for key in below if key in placed)),
            waits_for_laid=tuple(
                _drying(times, outlook, wet[key]) for key in below if key in wet and key not in placed
            ),
            away_days=away.get(turn.canvas, 0),
        )
        placed |= {(turn.canvas, turn.pass_name, name): len(steps) for name in turn.passages}
        steps.append(step)
    return _with_stops(plan, outlook, steps)


def _with_stops(plan: Plan, outlook: Outlook, steps: list[Step]) -> tuple[Step, ...]:
    """Return the steps with the days on which the client answers: the first of a later pass waits for them."""
    places = {one.name: number for number, one in enumerate(plan.passes)}
    for stop in plan.approval:
        shown = max((number for number, step in enumerate(steps) if step.pass_name == stop.after), default=-1)
        painted = outlook.passes_painted.get(stop.after)
        held = (
            number
            for number, step in enumerate(steps)
            if number > shown and places.get(step.pass_name, 0) > places[stop.after]
        )
        first = next(held, None)
        if first is None or (shown < 0 and painted is None):
            continue
        step = steps[first]
        if shown >= 0:
            steps[first] = replace(step, waits_for_client=(*step.waits_for_client, (shown, stop.wait_days)))
        elif painted is not None:
            answered = Drying((painted - outlook.today).days, DaysRange(stop.wait_days, stop.wait_days))
            steps[first] = replace(step, waits_for_laid=(*step.waits_for_laid, answered))
    return tuple(steps)


def without_pass(steps: Sequence[Step], name: str) -> tuple[Step, ...]:
    """Return the steps, as many and in the same places, with those of a pass left out."""
    gone = {number for number, step in enumerate(steps) if step.pass_name == name}
    return tuple(
        Step(pass_name=name, is_lead=step.is_lead, planned_s=0.0, worked_s=0.0, drying=None)
        if number in gone
        else replace(
            step,
            waits_for=tuple(own for own in step.waits_for if own not in gone),
            waits_for_client=tuple(own for own in step.waits_for_client if own[0] not in gone),
        )
        for number, step in enumerate(steps)
    )


def laid_paint(plan: Plan, outlook: Outlook) -> tuple[Drying, ...]:
    """Return of what is laid only what can be the last to dry, and all that was found still wet."""
    times = DryingTimes(plan, outlook.answers)
    every = dict.fromkeys(_drying(times, outlook, own) for own in outlook.laid)
    ends = [(own.day + own.dries.low_days, own.day + own.dries.high_days, own) for own in every if not own.wet_days]
    return (*(own for own in every if own.wet_days), *(own for _, _, own in _last_to_dry(ends)))


def last_wet(steps: Sequence[Step]) -> tuple[int, ...]:
    """Return the numbers of the steps that can be the last to dry, in order; no later step is slower."""
    turned = [
        (step.drying.low_days, step.drying.high_days, number)
        for number, step in reversed(list(enumerate(steps)))
        if step.drying is not None
    ]
    return tuple(sorted(number for _, _, number in _last_to_dry(turned)))


def _drying(times: DryingTimes, outlook: Outlook, laid: Laid) -> Drying:
    return Drying((laid.painted - outlook.today).days, times.of_laid(laid), laid.wet_days)


def _last_to_dry(ends: Iterable[tuple[float, float, Own]]) -> list[tuple[float, float, Own]]:
    """Return those that none before them outlasts at both ends."""
    kept: list[tuple[float, float, Own]] = []
    for own in ends:
        if not any(own[0] <= other[0] and own[1] <= other[1] for other in kept):
            kept.append(own)
    return kept
