"""The changes that would help the due day, each tried, the least that is enough first."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from coach.forecast.calendar import day_after
from coach.forecast.outlook import Outlook
from coach.forecast.scenarios import LIKELY_FRAC, Trials
from coach.forecast.what_if import Change
from coach.plan.commission import Plan
from coach.text import counted, span

MOST_HELPS: Final = 3
"""So many changes are offered."""

WARM_ROOM_C: Final = 23.0
"""A warmer room that can still be worked in, in degrees Celsius: test air of ASTM D1640 (from memory)."""

MOST_DAYS: Final = 366
"""A later due day is asked for by at most so many days."""

LEAST_GAIN_FRAC: Final = 0.005
"""A change that raises the chance by less is not offered: it would not show in whole percent."""

MEDIUM_CAUTION: Final = (
    "on every canvas alike, only where nothing painted in oil lies below, and never over a slower or a fatter layer; "
    "follow the label and air the room"
)
"""Said with a faster medium. Source: trade facts B5.1 (Saitzyk excerpt; a maker's guide) and B5.2 (second-hand)."""

_HALF_HOUR_S: Final = 1800
_SATURDAY: Final = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """A change and what it brings; its fields are keys of JSON.

    Attributes:
        change: What would be done, for the painter.
        chance: The chance of the due day with it, 0 to 1.
        caution: What to mind with it; empty where there is nothing.
    """

    change: str
    chance: float
    caution: str = ""
    _edit: Change

    @property
    def edit(self) -> Change:
        """The change as it is tried, and written into the plan."""
        return self._edit


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A change that this plan allows, in words, with its caution."""

    words: str
    change: Change
    caution: str = ""

    def with_(self, other: "Option") -> "Option":
        """Return both together."""
        both = {name: own for name, own in other.change._asdict().items() if own is not None}
        caution = "; ".join(own for own in (self.caution, other.caution) if own)
        return Option(words=f"{self.words} and {other.words}", change=self.change._replace(**both), caution=caution)


def options_of(plan: Plan, outlook: Outlook) -> tuple[tuple[Option, ...], ...]:
    """Return what can be changed, a group a kind, the kinds in the order in which they are offered.

    Within a group the smaller change stands first. First come hours, then scope, the framer, the due day, the room, and
    last a faster medium: safety is never traded for days.
    """
    groups = (
        tuple(_of_hours(plan)) if outlook.remaining else (),
        tuple(_of_scope(plan, outlook)),
        tuple(_of_framer(plan)),
        tuple(_of_due(plan)),
        tuple(_of_room(plan)),
        tuple(_of_medium(plan, outlook)),
    )
    return tuple(group for group in groups if group)


def helps_of(trials: Trials, base: float, groups: tuple[tuple[Option, ...], ...]) -> tuple[Help, ...]:
    """Return the changes that help most, the least that makes the day likely first; may be empty.

    Args:
        trials: The plan, drawn.
        base: The chance as the plan stands.
        groups: What can be changed.
    """
    picked = [_least(trials, group) for group in groups]
    _chances(trials, picked)  # all from the same draws at once; what was played is known from here on
    picked = [_at_full_size(trials, group, own) for group, own in zip(groups, picked, strict=True)]
    chances = _chances(trials, picked)
    singles = [own for own in picked if chances[own.change] >= base + LEAST_GAIN_FRAC]
    enough = [own for own in singles if chances[own.change] >= LIKELY_FRAC]
    pairs: list[Option] = []
    if len(enough) < MOST_HELPS:
        alone = [group for group, own in zip(groups, picked, strict=True) if own in singles and own not in enough]
        pairs = _pairs(trials, alone)
        chances |= _chances(trials, pairs)
    every = [*singles, *pairs]
    ranked = sorted(every, key=lambda own: (chances[own.change] < LIKELY_FRAC, _rank(own, every, chances)))
    return tuple(
        Help(change=own.words, chance=round(chances[own.change], 2), caution=own.caution, _edit=own.change)
        for own in ranked[:MOST_HELPS]
    )


def _chances(trials: Trials, options: list[Option], *, roughly: bool = False) -> dict[Change, float]:
    found = trials.chances([trials.play_of(own.change) for own in options], roughly=roughly)
    return {own.change: chance for own, chance in zip(options, found, strict=True)}


def _rank(own: Option, every: list[Option], chances: dict[Change, float]) -> float:
    """Return the place among those that are enough, or how little the others bring."""
    return every.index(own) if chances[own.change] >= LIKELY_FRAC else -chances[own.change]


def _least(trials: Trials, group: tuple[Option, ...], beside: Option | None = None) -> Option:
    """Return the first of a group that is enough, roughly asked; the last where none is."""
    low, high = -1, len(group) - 1
    while high - low > 1:
        middle = (low + high) // 2
        own = group[middle] if beside is None else group[middle].with_(beside)
        is_enough = _chances(trials, [own], roughly=True)[own.change] >= LIKELY_FRAC
        low, high = (low, middle) if is_enough else (middle, high)
    return group[high] if beside is None else group[high].with_(beside)


def _at_full_size(trials: Trials, group: tuple[Option, ...], roughly: Option) -> Option:
    """Return the first of a group that is enough, from the one on that roughly was."""
    first = group.index(roughly)
    return next((own for own in group[first:-1] if _chances(trials, [own])[own.change] >= LIKELY_FRAC), group[-1])


def _pairs(trials: Trials, groups: list[tuple[Option, ...]]) -> list[Option]:
    """Return the best pairs of changes of two kinds, sifted roughly."""
    found = [_least(trials, one, other[-1]) for one, other in combinations(groups, 2)]
    chances = _chances(trials, found, roughly=True)
    return sorted(found, key=lambda own: -min(LIKELY_FRAC, chances[own.change]))[:MOST_HELPS]


def _of_hours(plan: Plan) -> Iterator[Option]:
    """Yield half an hour more and so on, and Saturdays; never past the hours of the plan's caution."""
    week = plan.week_s
    if week is None or not any(week):
        return
    found = []
    usual_s = sorted(day_s for day_s in week if day_s)[sum(map(bool, week)) // 2]
    for more_s in range(0, plan.limits.caution_day_s, _HALF_HOUR_S):
        more = tuple(day_s + more_s if day_s else 0 for day_s in week)
        if more_s:
            found.append((more, f"{span(more_s * 1000)} more on each day you paint"))
        if not week[_SATURDAY]:
            words = f"Saturdays too, {span((usual_s + more_s) * 1000)}"
            words += f", and {span(more_s * 1000)} more on each other day" if more_s else ""
            found.append(((*more[:_SATURDAY], usual_s + more_s, *more[_SATURDAY + 1 :]), words))
    for more, words in sorted(found, key=lambda own: sum(own[0])):
        if max(more) <= plan.limits.caution_day_s and sum(more) <= plan.limits.week_s:
            yield Option(words=words, change=Change(week_s=more))


def _of_scope(plan: Plan, outlook: Outlook) -> Iterator[Option]:
    left_s: dict[str, float] = {}
    for turn in outlook.remaining:
        left_s[turn.pass_name] = left_s.get(turn.pass_name, 0.0) + turn.planned_s
    known = {one.name for one in plan.passes}
    if len(known) > 1:
        for name in sorted((name for name in left_s if name in known), key=lambda name: left_s[name]):
            yield Option(words=f"leaving out the rest of {name}", change=Change(without_pass=name))


def _of_framer(plan: Plan) -> Iterator[Option]:
    framing = plan.after.framing_working_days or 0
    for less in range(1, framing + 1):
        words = f"{counted(less, 'working day')} less at the framer"
        yield Option(words=words, change=Change(framing_working_days=framing - less))


def _of_due(plan: Plan) -> Iterator[Option]:
    if plan.due is not None and plan.due <= dt.date.max - dt.timedelta(days=MOST_DAYS):
        for days in range(1, MOST_DAYS + 1):
            words = f"{counted(days, 'day')} more until the hand-over"
            yield Option(words=words, change=Change(due=day_after(plan.due, days)))


def _of_room(plan: Plan) -> Iterator[Option]:
    if plan.forecast.room_c < WARM_ROOM_C:
        yield Option(words=f"a room of {WARM_ROOM_C:.0f} °C", change=Change(room_c=WARM_ROOM_C))


def _of_medium(plan: Plan, outlook: Outlook) -> Iterator[Option]:
    if plan.forecast.medium == "oil" and outlook.remaining and _is_faster_safe(plan, outlook):
        yield Option(
            words="an alkyd medium for all that is still to come", change=Change(medium="alkyd"), caution=MEDIUM_CAUTION
        )


def _is_faster_safe(plan: Plan, outlook: Outlook) -> bool:
    """Return whether all that is left is begun on no canvas and lies over nothing that is laid."""
    left: dict[tuple[str, str], set[str]] = {}
    for turn in outlook.remaining:
        for name in () if turn.is_check else turn.passages:
            left.setdefault((turn.pass_name, name), set()).add(turn.canvas)
    runs = {(run.pass_name, own.name): run for run in plan.runs for own in run.passages}
    if any(turn.worked_s for turn in outlook.remaining) or not left.keys() <= runs.keys():
        return False
    for key, canvases in left.items():
        if canvases != {canvas.name for canvas in plan.canvases if runs[key].is_for(canvas.name)}:
            return False
        own = next(own for own in runs[key].passages if own.name == key[1])
        if any(below is not None and below not in left for below in (own.over, own.into)):
            return False
    return True
