"""The working calendar: hours promised day by day, back from the due day, and on from the last stroke."""

import datetime as dt
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, chain, repeat
from typing import Final, NamedTuple

from coach.forecast.outlook import Outlook
from coach.journal.events import STAGE_WORDS, Kind
from coach.plan.commission import Plan
from coach.plan.delivery import DayRange, Days
from coach.plan.repeat_rule import days_of

_NO_WEEK: Final = (0,) * 7
"""What a plan promises that states no week: nothing, for no figure is known."""

FARTHEST_DAYS: Final = 3653
"""No forecast looks further ahead than ten years. Source: ours."""

VARNISH_MONTHS: Final = 6
"""Months from the last stroke to the varnish. Source: trade facts B5.5 (3 to 12 quoted; second-hand)."""

_FIRST_DAYS: Final = 128
_SATURDAY: Final = 5


def promised_days(plan: Plan, first: dt.date, last: dt.date) -> tuple[int, ...]:
    """Return the seconds of work promised on each day from `first` to `last`; none where `last` is earlier.

    What stands under `also` goes before `off`, and `off` before the week. Under `also` a day named by date goes
    before one that comes again, and of two rules that meet on a day the one written first counts. A plan without
    a week promises only what stands under `also`.
    """
    return _promised(plan.week_s or _NO_WEEK, plan.off, plan.also, first, last)


@lru_cache(maxsize=64)
def _promised(
    week_s: tuple[int, ...],
    off: tuple[Days, ...],
    also: tuple[tuple[Days, int], ...],
    first: dt.date,
    last: dt.date,
) -> tuple[int, ...]:
    promised_s = [week_s[(first.weekday() + number) % 7] for number in range((last - first).days + 1)]
    rules_s = [one for one in reversed(also) if not isinstance(one[0], DayRange)]
    dates_s = [one for one in also if isinstance(one[0], DayRange)]
    for days, seconds in chain(zip(off, repeat(0)), rules_s, dates_s):
        for number in _numbers(days, first, last):
            promised_s[number] = seconds
    return tuple(promised_s)


def _numbers(days: Days, first: dt.date, last: dt.date) -> range | tuple[int, ...]:
    """Return which of the days from `first` to `last` are meant, counted from 0."""
    if isinstance(days, DayRange):
        return range(max((days.first - first).days, 0), (min(days.last, last) - first).days + 1)
    return tuple((day - first).days for day in days_of(days, first, last))


def working_days_after(plan: Plan, day: dt.date, count: int, closed: tuple[Days, ...] = ()) -> dt.date:
    """Return the day on which `count` working days that begin on `day` are over; `day` itself where `count` is 0.

    What comes on a day that is no working day is taken in hand on the next. A working day of framers and carriers
    is a day from Monday to Friday. Days that come again under `off` are the painter's own and do not stop them; days
    that it names by date, such as Christmas, do. In a year whose every day is off they work all the same, from Monday
    to Friday. Days under `closed` are closed as well. The answer is held within what a calendar can count.
    """
    if count <= 0:
        return day
    for year in range(day.year, dt.MAXYEAR + 1):
        days = _working_days((*_closed(plan), *closed), year)
        number = bisect_left(days, day) + count
        if number < len(days):
            return days[number]
        count = number - len(days)
    return dt.date.max


def working_days_before(plan: Plan, day: dt.date, count: int, closed: tuple[Days, ...] = ()) -> dt.date:
    """Return the last day from which `count` working days are over by `day`; `day` itself where `count` is 0.

    It is `working_days_after` the other way round: what begins on this day or earlier is over by `day`, and what
    begins later is not.
    """
    if count <= 0:
        return day
    for year in range(day.year, dt.MINYEAR - 1, -1):
        days = _working_days((*_closed(plan), *closed), year)
        number = bisect_right(days, day) - 1 - count
        if number >= 0:
            return days[number]
        count = -number - 1
    return dt.date.min


def day_after(day: dt.date, count: int) -> dt.date:
    """Return the day so many days later (earlier below 0), held within what a calendar can count."""
    number = day.toordinal() + count
    return dt.date.fromordinal(min(max(number, dt.date.min.toordinal()), dt.date.max.toordinal()))


def _closed(plan: Plan) -> tuple[Days, ...]:
    return tuple(own for own in plan.off if isinstance(own, DayRange))


@lru_cache(maxsize=64)
def _working_days(off: tuple[Days, ...], year: int) -> tuple[dt.date, ...]:
    first, last = dt.date(year, 1, 1), dt.date(year, 12, 31)
    days = map(dt.date.fromordinal, range(first.toordinal(), last.toordinal() + 1))
    weekdays = [day for day in days if day.weekday() < _SATURDAY]
    missing = set(chain.from_iterable(_numbers(one, first, last) for one in off))
    return tuple(day for day in weekdays if (day - first).days not in missing) or tuple(weekdays)


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPlan:
    """The latest days that still hold the due day.

    Attributes:
        leave_studio: Day it goes on its way.
        to_framer: Day it goes to the framer, dry to touch for as long as the framer asks.
        last_stroke: Day of the last stroke, whether or not hours are promised on it.
        last_painting_day: The last day up to then on which hours are promised, or None in ten years.
        first_painting_day: Day to begin so that the hours needed are there, or None where ten years are too few.
    """

    leave_studio: dt.date
    to_framer: dt.date
    last_stroke: dt.date
    last_painting_day: dt.date | None
    first_painting_day: dt.date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterLastStroke:
    """What follows the last stroke, each on its day."""

    last_stroke: dt.date
    touch_dry: dt.date
    framed: dt.date
    delivered: dt.date


def back_plan(plan: Plan, due: dt.date, *, drying_days: int, needed_s: int) -> BackPlan:
    """Return the latest days that still hold the due day; the last painting day counts as one.

    Args:
        plan: Its week, days off and working days for framing and transport (none where it states none).
        due: Day of delivery.
        drying_days: Days from the last stroke until it is dry to touch, 0 or more.
        needed_s: Seconds of work, 0 or more; where none is needed the first painting day is the last.
    """
    leave_studio = working_days_before(plan, due, plan.after.transport_working_days or 0)
    to_framer = _latest_framer_day(plan, due)
    last_stroke = day_after(latest_dry_day(plan, due), -drying_days)
    backward_s = promised_days(plan, day_after(last_stroke, -FARTHEST_DAYS), last_stroke)[::-1]
    last, first = (_first_reaching(backward_s, enough_s) for enough_s in (1, max(needed_s, 1)))
    return BackPlan(
        leave_studio=leave_studio,
        to_framer=to_framer,
        last_stroke=last_stroke,
        last_painting_day=None if last is None else day_after(last_stroke, -last),
        first_painting_day=None if first is None else day_after(last_stroke, -first),
    )


def after_last_stroke(plan: Plan, last_stroke: dt.date, *, drying_days: int) -> AfterLastStroke:
    """Return the days on which it is dry to touch, framed and delivered.

    Args:
        plan: Its days off and working days for framing and transport (none where it states none).
        last_stroke: Day of the last stroke.
        drying_days: Days until it is dry to touch, 0 or more.
    """
    touch_dry = day_after(last_stroke, drying_days)
    framed = back_from_framer(plan, day_after(touch_dry, plan.framer.after_touch_dry_days))
    delivered = arrived(plan, framed)
    return AfterLastStroke(last_stroke=last_stroke, touch_dry=touch_dry, framed=framed, delivered=delivered)


def back_from_framer(plan: Plan, day: dt.date) -> dt.date:
    """Return the day on which what goes to the framer on a day is framed."""
    return working_days_after(plan, day, plan.after.framing_working_days or 0, plan.framer.off)


def arrived(plan: Plan, day: dt.date) -> dt.date:
    """Return the day on which what is sent on a day arrives."""
    return working_days_after(plan, day, plan.after.transport_working_days or 0)


class Gone(NamedTuple):
    """A canvas that has left the studio: the days on which it left, is framed and handed over, as far as is known."""

    left: dt.date
    framed: dt.date
    delivered: dt.date


def gone_canvases(plan: Plan, outlook: Outlook) -> tuple[Gone, ...]:
    """Return the canvases that are at the framer, or further: what is recorded stands in place of the estimate.

    What should have happened by now and is not recorded is expected today.
    """
    today = outlook.today
    days: dict[str, dict[Kind, dt.date]] = {}
    for stage in outlook.stages:
        days.setdefault(stage.canvas, {})[stage.kind] = stage.day
    gone = []
    for known in days.values():
        last = max(known, key=list(STAGE_WORDS).index)
        if last is Kind.PHOTOGRAPHED:
            continue
        framed = known.get(Kind.FROM_FRAMER, known[last])
        if last is Kind.TO_FRAMER:
            framed = max(today, back_from_framer(plan, framed))
        delivered = known.get(Kind.HANDED_OVER)
        if delivered is None:
            sent = known.get(Kind.SENT, max(today, framed))
            delivered = max(today, arrived(plan, sent))
        left = min(day for kind, day in known.items() if kind is not Kind.PHOTOGRAPHED)
        gone.append(Gone(left, framed, delivered))
    return tuple(gone)


def varnish_day(last_stroke: dt.date) -> dt.date:
    """Return the day so many calendar months after the last stroke, the month's last where it has no such day."""
    from dateutil.relativedelta import relativedelta  # noqa: PLC0415  needed for the varnish only

    return last_stroke + relativedelta(months=VARNISH_MONTHS)


def _first_reaching(days_s: tuple[int, ...], enough_s: int) -> int | None:
    """Return the number, from 0, of the day by whose end so much has been promised; None where it never has."""
    return next((number for number, sum_s in enumerate(accumulate(days_s)) if sum_s >= enough_s), None)


def first_look_days(plan: Plan, today: dt.date) -> int:
    """Return how many days from today are looked at first: past the due day, at least a few months."""
    due_days = 0 if plan.due is None else (plan.due - today).days + 1
    return min(FARTHEST_DAYS, max(_FIRST_DAYS, due_days))


def promised_ahead_s(plan: Plan, today: dt.date, days: int) -> tuple[int, ...]:
    """Return the seconds promised for so many days from today; all 0 where the plan states no hours."""
    return promised_days(plan, today, day_after(today, days - 1))


def latest_dry_day(plan: Plan, due: dt.date) -> dt.date:
    """Return the last day on which everything may become dry, and is still framed and delivered by the due day."""
    return day_after(_latest_framer_day(plan, due), -plan.framer.after_touch_dry_days)


def _latest_framer_day(plan: Plan, due: dt.date) -> dt.date:
    leave_studio = working_days_before(plan, due, plan.after.transport_working_days or 0)
    return working_days_before(plan, leave_studio, plan.after.framing_working_days or 0, plan.framer.off)
