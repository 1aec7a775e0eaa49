"""A change to the plan, tried without touching it, and the rows in which a painter tries one by hand."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.forecast.calendar import day_after
from coach.forecast.drying import DryAnswer, room_factor
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Outlook
from coach.forecast.steps import DryingTimes
from coach.plan.commission import Pass, Passage, Plan, runs_of


class Change(NamedTuple):
    """What is to be different; None leaves it as it is.

    Attributes:
        week_s: Seconds of work promised from Monday to Sunday, seven figures of 0 to 24 h.
        without_pass: Name of a pass to leave out.
        medium: "oil" or "alkyd".
        room_c: Temperature of the room, in degrees Celsius.
        due: Day it must be handed over.
        framing_working_days: Working days at the framer, 0 or more.
    """

    week_s: tuple[int, ...] | None = None
    without_pass: str | None = None
    medium: str | None = None
    room_c: float | None = None
    due: dt.date | None = None
    framing_working_days: int | None = None


def changed_plan(plan: Plan, change: Change) -> Plan:
    """Return the plan with a change made, and nothing else: drying days that the plan states stand as they are.

    Raises:
        CoachError: There is no such pass, it is the only one, or the week has not seven days of 0 to 24 h.
    """
    if change.week_s is not None:
        _check_week(change.week_s)
        plan = plan._replace(week_s=change.week_s)
    if change.without_pass is not None:
        plan = _without(plan, change.without_pass)
    if change.due is not None:
        plan = plan._replace(due=change.due)
    if change.framing_working_days is not None:
        plan = plan._replace(after=plan.after._replace(framing_working_days=change.framing_working_days))
    if change.medium is not None:
        plan = plan._replace(forecast=plan.forecast._replace(medium=change.medium))
    if change.room_c is not None:
        plan = plan._replace(forecast=plan.forecast._replace(room_c=change.room_c))
    return plan


def changed_outlook(plan: Plan, outlook: Outlook, change: Change) -> Outlook:
    """Return the outlook under a change.

    The turns of a pass that is left out are not painted. What is laid keeps the medium it was painted in, and another
    room tells only on the days it still has to dry.

    Args:
        plan: The plan before the change.
        outlook: The outlook before the change.
        change: The change.
    """
    if change.without_pass is not None:
        outlook = outlook._replace(remaining=tuple(t for t in outlook.remaining if t.pass_name != change.without_pass))
    if change.medium is None and change.room_c is None:
        return outlook
    times = DryingTimes(plan, outlook.answers)
    factor = 1.0 if change.room_c is None else room_factor(change.room_c, plan.forecast.room_c)[1]
    laid = tuple(
        own._replace(dries=_left_to_dry(times.of_laid(own), (outlook.today - own.painted).days, factor))
        for own in outlook.laid
    )
    # What was found tells of paint in its medium; in another room it is so much sooner or later.
    return outlook._replace(laid=laid, answers=tuple(_scaled(own, factor) for own in outlook.answers))


def _scaled(answer: DryAnswer, factor: float) -> DryAnswer:
    dry_days = None if answer.dry_days is None else answer.dry_days * factor
    return replace(answer, wet_days=answer.wet_days * factor, dry_days=dry_days)


def _left_to_dry(dries: DaysRange, gone_days: int, factor: float) -> DaysRange:
    low, high = (
        days if days <= gone_days else gone_days + (days - gone_days) * factor
        for days in (dries.low_days, dries.high_days)
    )
    return DaysRange(low, high)


def _check_week(week_s: tuple[int, ...]) -> None:
    if len(week_s) != 7 or not all(0 <= day_s <= 24 * 3600 for day_s in week_s):  # noqa: PLR2004  days of a week
        raise CoachError("a week has seven days of 0 to 24 h", where="week")


def _without(plan: Plan, name: str) -> Plan:
    left = tuple(one for one in plan.passes if one.name != name)
    if len(left) == len(plan.passes):
        raise CoachError(f"there is no pass {name}", where="passes")
    if not left:
        raise CoachError(f"{name} is the only pass; without it nothing is left to paint", where="passes")
    stops = tuple(stop for stop in plan.approval if stop.after != name)
    return plan._replace(passes=tuple(_freed(one, name) for one in left), approval=stops)


def _freed(one: Pass, gone: str) -> Pass:
    """Return a pass whose passages no longer lie on those of a pass that is gone."""
    passages = tuple(_free_of(passage, gone) for passage in one.passages)
    return one if passages == one.passages else Pass(one.name, passages, runs_of(one.name, passages))


def _free_of(passage: Passage, gone: str) -> Passage:
    return passage._replace(
        over=None if passage.over is not None and passage.over[0] == gone else passage.over,
        into=None if passage.into is not None and passage.into[0] == gone else passage.into,
    )


_STEP_S: Final = 1800
_MOST_DAY_S: Final = 16 * 3600
_ROOM_C: Final = (5.0, 40.0)
_WEEK: Final = 7
_SATURDAY: Final = 5
_SUNDAY: Final = 6


class Row(NamedTuple):
    """One thing that can be different.

    Attributes:
        label: What it is, for the painter.
        before: How it stands in the plan.
        after: How it is tried; the same where nothing is tried.
    """

    label: str
    before: str
    after: str


class _Kind(NamedTuple):
    label: str
    told: Callable[[Plan, Change], str]
    stepped: Callable[[Plan, Outlook, Change, int], Change]


def rows_of(plan: Plan, change: Change) -> tuple[Row, ...]:
    """Return every row, as the plan has it and under a change."""
    return tuple(Row(kind.label, kind.told(plan, Change()), kind.told(plan, change)) for kind in _KINDS)


def stepped(plan: Plan, outlook: Outlook, change: Change, row: int, step: int) -> Change:
    """Return the change with one row a step further.

    Args:
        plan: The plan as it stands.
        outlook: What is left to paint; only passes with something left can be left out.
        change: What is tried so far.
        row: Number of the row, from 0.
        step: 1 for more or later, -1 for less or earlier.
    """
    return _told_apart(plan, _KINDS[row].stepped(plan, outlook, change, step))


def _told_apart(plan: Plan, change: Change) -> Change:
    """Return a change without what is as the plan has it."""
    planned = Change(
        week_s=_week(plan, Change()),
        medium=plan.forecast.medium,
        room_c=plan.forecast.room_c,
        due=plan.due,
        framing_working_days=_framing(plan, Change()),
    )
    same = [name for name, before in planned._asdict().items() if getattr(change, name) == before]
    return change._replace(**dict.fromkeys(same))


def _week(plan: Plan, change: Change) -> tuple[int, ...]:
    return change.week_s or plan.week_s or (0,) * _WEEK


def _hours(seconds: int) -> str:
    return f"{seconds / 3600:.3g} h" if seconds else "none"


def _told_days(plan: Plan, change: Change) -> str:
    painted = sorted({day_s for day_s in _week(plan, change)[:_SATURDAY] if day_s})
    if not painted:
        return "none"
    return _hours(painted[0]) if len(painted) == 1 else f"{_hours(painted[0])} to {_hours(painted[-1])}"


def _step_days(plan: Plan, _: Outlook, change: Change, step: int) -> Change:
    week = _week(plan, change)
    is_empty = not any(week[:_SATURDAY])
    stepped_week = (
        _stepped_s(day_s, step) if no < _SATURDAY and (day_s or is_empty) else day_s for no, day_s in enumerate(week)
    )
    return change._replace(week_s=tuple(stepped_week))


def _stepped_s(day_s: int, step: int, least_s: int = _STEP_S) -> int:
    return min(_MOST_DAY_S, max(least_s, day_s + step * _STEP_S))


def _told_day(number: int) -> Callable[[Plan, Change], str]:
    return lambda plan, change: _hours(_week(plan, change)[number])


def _step_day(number: int) -> Callable[[Plan, Outlook, Change, int], Change]:
    def step_day(plan: Plan, _: Outlook, change: Change, step: int) -> Change:
        week = _week(plan, change)
        return change._replace(week_s=(*week[:number], _stepped_s(week[number], step, 0), *week[number + 1 :]))

    return step_day


def _told_pass(_: Plan, change: Change) -> str:
    return change.without_pass or "nothing"


def _step_pass(plan: Plan, outlook: Outlook, change: Change, step: int) -> Change:
    left = {turn.pass_name for turn in outlook.remaining}
    ring = (None, *(one.name for one in plan.passes if one.name in left and len(plan.passes) > 1))
    return change._replace(without_pass=ring[(ring.index(change.without_pass) + step) % len(ring)])


def _told_medium(plan: Plan, change: Change) -> str:
    return change.medium or plan.forecast.medium


def _step_medium(plan: Plan, _: Outlook, change: Change, __: int) -> Change:
    return change._replace(medium="alkyd" if _told_medium(plan, change) == "oil" else "oil")


def _told_room(plan: Plan, change: Change) -> str:
    return f"{changed_plan(plan, change).forecast.room_c:g} °C"


def _step_room(plan: Plan, _: Outlook, change: Change, step: int) -> Change:
    room_c = plan.forecast.room_c if change.room_c is None else change.room_c
    return change._replace(room_c=min(_ROOM_C[1], max(_ROOM_C[0], room_c + step)))


def _told_due(plan: Plan, change: Change) -> str:
    due = change.due or plan.due
    return "none" if due is None else due.isoformat()


def _step_due(plan: Plan, outlook: Outlook, change: Change, step: int) -> Change:
    return change._replace(due=day_after(change.due or plan.due or outlook.today, step))


def _framing(plan: Plan, change: Change) -> int:
    own = change.framing_working_days
    return own if own is not None else plan.after.framing_working_days or 0


def _told_framing(plan: Plan, change: Change) -> str:
    return f"{_framing(plan, change)} working days"


def _step_framing(plan: Plan, _: Outlook, change: Change, step: int) -> Change:
    return change._replace(framing_working_days=max(0, _framing(plan, change) + step))


_KINDS: Final = (
    _Kind("hours a painting day", _told_days, _step_days),
    _Kind("Saturday", _told_day(_SATURDAY), _step_day(_SATURDAY)),
    _Kind("Sunday", _told_day(_SUNDAY), _step_day(_SUNDAY)),
    _Kind("leave out", _told_pass, _step_pass),
    _Kind("medium", _told_medium, _step_medium),
    _Kind("room", _told_room, _step_room),
    _Kind("due day", _told_due, _step_due),
    _Kind("framing", _told_framing, _step_framing),
)
