"""Changes to a plan, each played with the same draws: what its chance becomes, and the least that is enough."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.forecast.calendar import FARTHEST_DAYS, first_look_days, gone_canvases, latest_dry_day, promised_ahead_s
from coach.forecast.outlook import Outlook
from coach.forecast.simulation import NEVER, Days, Scenario, days_under, simulate
from coach.forecast.steps import Drying, Step, laid_paint, last_wet, steps_of, without_pass
from coach.forecast.what_if import Change, changed_outlook, changed_plan
from coach.plan.commission import Plan

LIKELY_FRAC: Final = 0.80
"""A day holds, and a change is enough, from this chance on."""

NO_CHANGE: Final = Change()


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """A scenario and the last day, in days since today, on which everything may become dry."""

    scenario: Scenario
    limit_day: int


class Trials:
    """Plays changes to one plan, all with the same draws, each at most once roughly and once in full."""

    def __init__(self, plan: Plan, outlook: Outlook, changes: Sequence[Change] = ()) -> None:
        """Draw for a plan and for the changes that may be played."""
        self.plan, self.outlook = plan, outlook
        self._steps: dict[tuple[object, ...], tuple[tuple[Step, ...], tuple[int, ...], tuple[Drying, ...]]] = {}
        self._known: dict[tuple[object, ...], Days] = {}
        self.simulation = simulate(plan, outlook, [self._changed(change)[0] for change in changes])
        self.days = self._horizon()

    def play_of(self, change: Change, promised_s: tuple[float, ...] | None = None) -> Played:
        """Return what is to be played under a change, or under other hours."""
        plan = changed_plan(self.plan, change)
        steps, wet, laid = self._changed(change)
        scenario = Scenario(
            steps=steps,
            wet=wet,
            laid=laid,
            promised_s=promised_s or promised_ahead_s(plan, self.outlook.today, self.days),
            drying_days=plan.after.drying_days,
            without_pass=change.without_pass,
        )
        limit = NEVER - 1 if plan.due is None else (latest_dry_day(plan, plan.due) - self.outlook.today).days
        gone = gone_canvases(plan, self.outlook)
        if plan.due is not None and any(own.delivered > plan.due for own in gone):
            limit = -1
        elif len(gone) == len(plan.canvases) and not steps:
            limit = NEVER - 1
        return Played(scenario=scenario, limit_day=limit)

    def days_of(self, plays: Sequence[Played], *, roughly: bool = False) -> list[Days]:
        """Return the days of each play; what differs only in its last day is played once."""
        keys = [(roughly, *_key(play.scenario)) for play in plays]
        new = {key: play.scenario for key, play in zip(keys, plays, strict=True) if key not in self._known}
        if new:
            found = days_under(self.simulation, list(new.values()), roughly=roughly)
            self._known.update(zip(new, found, strict=True))
        return [self._known[key] for key in keys]

    def chances(self, plays: Sequence[Played], *, roughly: bool = False) -> list[float]:
        """Return the chance of each play."""
        found = self.days_of(plays, roughly=roughly)
        return [chance(days, play.limit_day) for days, play in zip(found, plays, strict=True)]

    def least(self, most: int, play: Callable[[int], Played], wanted_frac: float) -> int | None:
        """Return the least number from 0 to `most` whose play is likely enough; None where none is.

        The chance rises with the number. It is sought roughly, and then in full about what was found.
        """

        def is_enough(number: int, *, roughly: bool) -> bool:
            return self.chances([play(number)], roughly=roughly)[0] >= wanted_frac

        low, high = -1, most + 1
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if is_enough(middle, roughly=True) else (middle, high)
        number = min(high, most)
        self.days_of([play(own) for own in range(number - 1, number + 2) if 0 <= own <= most])
        while number > 0 and is_enough(number - 1, roughly=False):
            number -= 1
        while number <= most and not is_enough(number, roughly=False):
            number += 1
        return number if number <= most else None

    def _changed(self, change: Change) -> tuple[tuple[Step, ...], tuple[int, ...], tuple[Drying, ...]]:
        """Return steps, those last to dry, and laid paint under a change, the same objects for the same change."""
        key = (change.medium, change.room_c, change.without_pass)
        if key not in self._steps:
            paint = Change(medium=change.medium, room_c=change.room_c)
            if change.without_pass is not None:
                steps, _, laid = self._changed(paint)
                steps = without_pass(steps, change.without_pass)
            else:
                plan, outlook = changed_plan(self.plan, paint), changed_outlook(self.plan, self.outlook, paint)
                steps, laid = steps_of(plan, outlook), laid_paint(plan, outlook)
            self._steps[key] = steps, last_wet(steps), laid
        return self._steps[key]

    def _horizon(self) -> int:
        """Return how many days are looked at: twice what the first slice needs, so that the others have room."""
        days = first_look_days(self.plan, self.outlook.today)
        while days < FARTHEST_DAYS:
            self.days = days
            (found,) = days_under(self.simulation, [self.play_of(NO_CHANGE).scenario], roughly=True)
            if bool((found.last_stroke < NEVER).all()):
                return min(FARTHEST_DAYS, max(days, 2 * int(found.last_stroke.max())))
            days *= 2
        return FARTHEST_DAYS


def chance(days: Days, limit_day: int) -> float:
    """Return the share of trials in which everything is dry by a day."""
    return float((days.touch_dry <= limit_day).mean())


def _key(scenario: Scenario) -> tuple[object, ...]:
    return id(scenario.steps), id(scenario.laid), scenario.promised_s, scenario.drying_days, scenario.without_pass
