"""The painter's calendar: hours promised day by day, and the working days of those who come after."""

import datetime as dt
from bisect import bisect_left, bisect_right
from functools import lru_cache
from itertools import chain, repeat
from typing import Final

from coach.plan.commission import DayRange, Days, Plan
from coach.plan.repeat_rule import days_of

_NO_WEEK: Final = (0,) * 7
"""What a plan promises that states no week: nothing, for no figure is known."""

_SATURDAY: Final = 5


def promised_days(plan: Plan, first: dt.date, last: dt.date) -> tuple[int, ...]:
    """Return the seconds of work promised on each day from `first` to `last`; none where `last` is earlier.

    What stands under `also` goes before `off`, and `off` before the week. Under `also` a day named by date goes
    before one that comes again, and of two rules that meet on a day the one written first counts. A plan without
    a week promises only what stands under `also`.
    """
    week_s = plan.week_s or _NO_WEEK
    promised_s = [week_s[(first.weekday() + number) % 7] for number in range((last - first).days + 1)]
    rules_s = [one for one in reversed(plan.also) if not isinstance(one[0], DayRange)]
    dates_s = [one for one in plan.also if isinstance(one[0], DayRange)]
    for days, seconds in chain(zip(plan.off, repeat(0)), rules_s, dates_s):
        for number in _numbers(days, first, last):
            promised_s[number] = seconds
    return tuple(promised_s)


def _numbers(days: Days, first: dt.date, last: dt.date) -> range | tuple[int, ...]:
    """Return which of the days from `first` to `last` are meant, counted from 0."""
    if isinstance(days, DayRange):
        return range(max((days.first - first).days, 0), (min(days.last, last) - first).days + 1)
    return tuple((day - first).days for day in days_of(days, first, last))


def working_days_after(plan: Plan, day: dt.date, count: int) -> dt.date:
    """Return the day on which `count` working days that begin on `day` are over; `day` itself where `count` is 0.

    What comes on a day that is no working day is taken in hand on the next. A working day of framers and carriers
    is a day from Monday to Friday that does not stand under `off`: the painter's holidays stand for theirs. In a
    year whose every day is off they work all the same, from Monday to Friday. The answer is held within what a
    calendar can count.
    """
    if count <= 0:
        return day
    for year in range(day.year, dt.MAXYEAR + 1):
        days = _working_days(plan.off, year)
        number = bisect_left(days, day) + count
        if number < len(days):
            return days[number]
        count = number - len(days)
    return dt.date.max


def working_days_before(plan: Plan, day: dt.date, count: int) -> dt.date:
    """Return the last day from which `count` working days are over by `day`; `day` itself where `count` is 0.

    It is `working_days_after` the other way round: what begins on this day or earlier is over by `day`, and what
    begins later is not.
    """
    if count <= 0:
        return day
    for year in range(day.year, dt.MINYEAR - 1, -1):
        days = _working_days(plan.off, year)
        number = bisect_right(days, day) - 1 - count
        if number >= 0:
            return days[number]
        count = -number - 1
    return dt.date.min


@lru_cache(maxsize=64)
def _working_days(off: tuple[Days, ...], year: int) -> tuple[dt.date, ...]:
    first, last = dt.date(year, 1, 1), dt.date(year, 12, 31)
    days = map(dt.date.fromordinal, range(first.toordinal(), last.toordinal() + 1))
    weekdays = [day for day in days if day.weekday() < _SATURDAY]
    missing = set(chain.from_iterable(_numbers(one, first, last) for one in off))
    return tuple(day for day in weekdays if (day - first).days not in missing) or tuple(weekdays)
