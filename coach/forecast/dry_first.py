"""Runs taken while others dry: whether another order of the runs saves working days; who leads each stays the same."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from coach.forecast.calendar import FARTHEST_DAYS, first_look_days, promised_ahead_s
from coach.forecast.outlook import Outlook, RemainingTurn
from coach.forecast.steps import Step, steps_of
from coach.plan.commission import Address, Plan

_NEVER: Final = FARTHEST_DAYS


@dataclass(frozen=True, slots=True, kw_only=True)
class DryFirst:
    """An order of the runs in which fewer days are waited.

    Attributes:
        saved_days: Days with hours by which the last stroke falls earlier, 1 or more, by planned times and the slow
            end of drying.
        taken: The first run that comes earlier: its pass and its passages.
        waits: The run that would have come there.
    """

    saved_days: int
    taken: RemainingTurn
    waits: RemainingTurn

    @property
    def sentence(self) -> str:
        """What is offered, in a sentence."""
        days = "1 working day" if self.saved_days == 1 else f"{self.saved_days} working days"
        return (
            f"Painting other runs first while layers dry saves {days}: {_named(self.taken)} before "
            f"{_named(self.waits)}, and so on; who leads each run stays as it is."
        )


def _named(turn: RemainingTurn) -> str:
    return f"{' + '.join(turn.passages)} ({turn.pass_name})"


def dry_first(plan: Plan, outlook: Outlook) -> DryFirst | None:
    """Return the order of runs that waits less, or None where it would save less than a working day.

    Plans in which the client answers, whose runs go in batches, or whose canvases are away are left as they are.
    """
    turns = tuple(turn for turn in outlook.remaining if turn.planned_s > 0 and not turn.is_check)
    outlook = outlook._replace(remaining=turns)
    is_layered = any(passage.over for one in plan.passes for passage in one.passages)
    if not is_layered or plan.approval or plan.batch > 1 or plan.absent_on(outlook.today) or not turns:
        return None
    steps = steps_of(plan, outlook)
    days = first_look_days(plan, outlook.today)
    promised_s = promised_ahead_s(plan, outlook.today, min(FARTHEST_DAYS, 4 * days))
    easel = _Easel(steps, promised_s, outlook.today_painted_s)
    groups = _groups(turns)
    as_planned = easel.last_day(groups)
    sequence = list(_taken_when_dry(plan, turns, easel, groups))
    other = easel.last_day(sequence)
    if as_planned >= len(promised_s) or other >= as_planned:
        return None
    saved = sum(own > 0 for own in promised_s[other + 1 : as_planned + 1])
    moved = next((pair for pair in zip(sequence, groups, strict=True) if pair[0] != pair[1]), None)
    if saved < 1 or moved is None:
        return None
    return DryFirst(saved_days=saved, taken=turns[moved[0][0]], waits=turns[moved[1][0]])


def _groups(turns: Sequence[RemainingTurn]) -> list[tuple[int, ...]]:
    """Return the numbers of the turns, run by run."""
    groups: list[list[int]] = []
    for number, turn in enumerate(turns):
        before = turns[groups[-1][0]] if groups else None
        if before is not None and before.pass_name == turn.pass_name and {*before.passages} & {*turn.passages}:
            groups[-1].append(number)
        else:
            groups.append([number])
    return [tuple(own) for own in groups]


class _Easel:
    """Paints turns one after the other, by planned times on promised hours, and waits where it must."""

    def __init__(self, steps: Sequence[Step], promised_s: Sequence[float], painted_s: float) -> None:
        self.steps, self._promised_s = steps, promised_s
        self._painted_s = painted_s
        self.restart()

    def restart(self) -> None:
        """Begin again with nothing painted."""
        self.day = 0
        self.dry_on: dict[int, int] = {}
        self._left_s = self._promised_s[0] - self._painted_s

    def ready(self, group: Sequence[int]) -> int:
        """Return the day from which all below a run is dry; what is to be painted first is never ready."""
        days = [0]
        for number in group:
            step = self.steps[number]
            days += [self.dry_on.get(below, _NEVER) for below in step.waits_for]
            days += [own.day + max(ceil(own.dries.high_days), int(own.wet_days) + 1) for own in step.waits_for_laid]
        return max(days)

    def paint(self, group: Sequence[int]) -> None:
        """Paint a run on its canvases, each as soon as all below is dry there."""
        for number in group:
            self._wait(self.ready([number]))
            step = self.steps[number]
            needed_s = max(0.0, step.planned_s - step.worked_s)
            while needed_s > self._left_s and self.day < len(self._promised_s):
                needed_s -= max(0.0, self._left_s)
                self._wait(self.day + 1)
            self._left_s -= needed_s
            self.dry_on[number] = self.day + (0 if step.drying is None else ceil(step.drying.high_days))

    def last_day(self, sequence: Sequence[tuple[int, ...]]) -> int:
        """Return the day of the last stroke when the runs are painted in this order."""
        self.restart()
        for group in sequence:
            self.paint(group)
        return self.day

    def _wait(self, day: int) -> None:
        if day > self.day:
            self.day = min(day, len(self._promised_s))
            self._left_s = self._promised_s[self.day] if self.day < len(self._promised_s) else 0.0


def _taken_when_dry(
    plan: Plan, turns: Sequence[RemainingTurn], easel: _Easel, groups: Sequence[tuple[int, ...]]
) -> Iterator[tuple[int, ...]]:
    """Yield the runs: always the first that is dry, or where none is the one that is dry soonest."""
    met = {
        (one.name, passage.name): below
        for one in plan.passes
        for passage in one.passages
        if (below := passage.into or passage.over) is not None
    }
    left = dict.fromkeys(groups)
    addresses = {group: _addresses(turns, group) for group in groups}
    open_addresses: dict[Address, int] = {}
    for group in groups:
        for address in addresses[group]:
            open_addresses[address] = open_addresses.get(address, 0) + 1
    easel.restart()

    def is_free(group: tuple[int, ...]) -> bool:
        return not any(open_addresses.get(met[own], 0) for own in addresses[group] if own in met)

    while left:
        best = next((group for group in left if is_free(group) and easel.ready(group) <= easel.day), None)
        best = best or min((group for group in left if is_free(group)), key=easel.ready, default=next(iter(left)))
        easel.paint(best)
        for address in addresses[best]:
            open_addresses[address] -= 1
        del left[best]
        yield best


def _addresses(turns: Sequence[RemainingTurn], group: Sequence[int]) -> set[Address]:
    return {(turns[number].pass_name, name) for number in group for name in turns[number].passages}
