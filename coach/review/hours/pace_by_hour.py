"""Whether the painter slows or hurries as the day goes on."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, sqrt
from statistics import NormalDist, fmean, variance
from typing import Final

from coach.forecast.outlook import TurnTime, sorted_turns

LATE_H: Final = 4
"""Turns taken up after so many hours on duty are late. Source: the question of the Log; ours."""

FEWEST_TURNS: Final = 5
"""With fewer turns there is too little to tell. Source: ours."""

CONFIDENCE_FRAC: Final = 0.95
"""Share of such intervals that hold the truth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """An estimated ratio of worked to planned time, with its 95 % interval."""

    ratio_frac: float
    low_frac: float
    high_frac: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HourPace:
    """Pace of the turns taken up in one hour on duty.

    Attributes:
        hour: Hour on duty, 1 for the first.
        turns: How many turns.
        pace: Worked over planned time; None with fewer than `FEWEST_TURNS`.
    """

    hour: int
    turns: int
    pace: Interval | None


def pace_by_hour(turns: Sequence[TurnTime]) -> tuple[HourPace, ...]:
    """Return the pace in every hour on duty in which a turn was taken up, in order of the hour."""
    hours: dict[int, list[float]] = {}
    for turn in turns:
        if turn.on_duty_s is not None:
            hours.setdefault(int(turn.on_duty_s // 3600) + 1, []).append(turn.log_ratio)
    return tuple(
        HourPace(hour=hour, turns=len(logs), pace=_mean_interval(logs)) for hour, logs in sorted(hours.items())
    )


def late_against_early(turns: Sequence[TurnTime]) -> Interval | None:
    """Return late over early pace, above 1 where the painter slows; None with too few turns to tell.

    Source:
        Welch's interval for the difference of two means, on logarithms: Welch (1947), Biometrika 34:28-35 (from
        memory).
    """
    early = [turn.log_ratio for turn in turns if turn.on_duty_s is not None and turn.on_duty_s < LATE_H * 3600]
    late = [turn.log_ratio for turn in turns if turn.on_duty_s is not None and turn.on_duty_s >= LATE_H * 3600]
    if min(len(early), len(late)) < FEWEST_TURNS:
        return None
    early_var, late_var = variance(early) / len(early), variance(late) / len(late)
    both = early_var + late_var
    shares = early_var**2 / (len(early) - 1) + late_var**2 / (len(late) - 1)
    return _interval(fmean(late) - fmean(early), sqrt(both), both**2 / shares if shares > 0 else float("inf"))


def day_pace_sentence(turns: Sequence[TurnTime]) -> str:
    """Return what becomes of the painter's pace after the fourth hour, in a sentence."""
    found = late_against_early(turns)
    if found is None:
        return f"Too few turns to tell whether your pace changes after {LATE_H} h: {FEWEST_TURNS} before and after."
    ends = f"{_change(found.low_frac)} to {_change(found.high_frac)}"
    if found.low_frac > 1:
        return f"After {LATE_H} h you are slower: a turn takes {_change(found.ratio_frac)} of the time ({ends})."
    if found.high_frac < 1:
        return f"After {LATE_H} h you are quicker: a turn takes {_change(found.ratio_frac)} of the time ({ends})."
    return f"After {LATE_H} h your pace shows no clear change (a turn takes {ends} of the time before)."


def _mean_interval(logs: Sequence[float]) -> Interval | None:
    if len(logs) < FEWEST_TURNS:
        return None
    return _interval(fmean(logs), sqrt(variance(logs) / len(logs)), len(logs) - 1)


def _interval(log_mean: float, log_se: float, df: float) -> Interval:
    reach = student_quantile((1 + CONFIDENCE_FRAC) / 2, df) * log_se
    return Interval(ratio_frac=exp(log_mean), low_frac=exp(log_mean - reach), high_frac=exp(log_mean + reach))


def student_quantile(frac: float, df: float) -> float:
    """Return the quantile of Student's t for 4 or more degrees of freedom, within a thousandth near 95 %.

    The library that has it takes longer to load than the whole page to make.

    Source:
        Expansion in 1/df: Abramowitz & Stegun (1964), 26.7.5 (from memory).
    """
    z = NormalDist().inv_cdf(frac)
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + sum(term / df**power for power, term in enumerate(terms, start=1))


def _change(ratio_frac: float) -> str:
    return f"{ratio_frac * 100:.0f} %"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A turn whose time cannot be believed, until the painter corrects it: its words, and its minutes."""

    turn: str
    minutes: float
    planned_minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPace:
    """How the pace changes as the day goes on.

    Attributes:
        sentence: What becomes of it after the fourth hour.
        late: Late over early pace; None with too few turns to tell.
        by_hour: The pace in every hour of work of a day.
        left_out: Turns that are left out.
    """

    sentence: str
    late: Interval | None
    by_hour: tuple[HourPace, ...]
    left_out: tuple[LeftOut, ...]


def day_pace(turns: Sequence[TurnTime]) -> DayPace:
    """Return the pace of turns; those that cannot be believed are named and left out."""
    counted, outliers = sorted_turns(turns)
    left_out = tuple(
        LeftOut(turn=one.words, minutes=round(one.worked_s / 60, 2), planned_minutes=round(one.planned_s / 60, 2))
        for one in outliers
    )
    return DayPace(
        sentence=day_pace_sentence(counted),
        late=late_against_early(counted),
        by_hour=pace_by_hour(counted),
        left_out=left_out,
    )
