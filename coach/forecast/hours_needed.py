"""How many hours a day would make the due day likely enough."""

from typing import Final

from coach.forecast.chance import Played, chance_of, reached_under
from coach.forecast.days_ahead import first_look_days, promised_ahead_s

_TENTH_S: Final = 360


def hours_needed(play: Played, wanted_fracs: tuple[float, ...]) -> tuple[float | None, ...]:
    """Return for each wanted chance the least hours a day that reach it, in tenths of an hour.

    The same draws answer for every number of hours, so that only the hours make the difference. Today keeps the hours
    it has; every later day on which the plan promises any gets these hours instead.

    Args:
        play: The work that is left.
        wanted_fracs: Chances, each above 0, at most 1.

    Returns:
        Hours, or None where not even the hours of the plan's strong caution would do, or without a due day.
    """
    if play.plan.due is None:
        return tuple(None for _ in wanted_fracs)
    today = play.outlook.today
    promised_s = promised_ahead_s(play.plan, today, first_look_days(play.plan, today))
    most = play.plan.limits.strong_day_s // _TENTH_S
    known: dict[int, float] = {}

    def chance(tenths: int) -> float:
        if tenths not in known:
            hours = tuple(float(tenths * _TENTH_S) if own else 0.0 for own in promised_s[1:])
            known[tenths] = chance_of(play, reached_under(play, (float(promised_s[0]), *hours))) or 0.0
        return known[tenths]

    def least(wanted_frac: float) -> float | None:
        low, high = -1, most
        if chance(high) < wanted_frac:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if chance(middle) >= wanted_frac else (middle, high)
        return high / 10

    return tuple(least(wanted) for wanted in wanted_fracs)
