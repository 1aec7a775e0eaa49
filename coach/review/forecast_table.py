"""The forecast as sentences and a table: the same for the command and for the screen."""

import datetime as dt
from typing import Final

from coach.forecast.adherence import CLEANUP_S, MOST_LOST_FRAC, SETUP_S
from coach.forecast.answer import ForecastAnswer
from coach.forecast.calendar import VARNISH_MONTHS, BackPlan, back_plan, varnish_day
from coach.forecast.sentences import chance_percent, range_words
from coach.plan.commission import Plan

DAY_COLUMNS: Final = ("day of", "50 %", "80 %", "95 %")
"""Columns of the table of days."""

_FAR: Final = "beyond ten years"


def day_rows(answer: ForecastAnswer) -> tuple[tuple[str, ...], ...]:
    """Return the days under `DAY_COLUMNS`: by when each step is done with that chance."""
    steps = (
        ("last stroke", answer.last_stroke),
        ("dry to touch", answer.touch_dry),
        ("back from framing", answer.framed),
        ("handed over", answer.delivered),
    )
    return tuple((name, *(day_words(day) for day in days)) for name, days in steps)


def day_words(day: dt.date | None) -> str:
    """Return a day as a painter writes it, with its weekday: "Sat 1 May 2027"."""
    return _FAR if day is None else f"{day:%a} {day.day} {day:%b %Y}"


def latest_of(plan: Plan, answer: ForecastAnswer) -> BackPlan | None:
    """Return the latest days that still hold the due day, by plain arithmetic; None without a due day."""
    if plan.due is None:
        return None
    # What must be dry is dry by the slow end: days are whole, and a part of one is waited for.
    drying_days = 0 if answer.dries is None else -int(-answer.dries.high_days // 1)
    return back_plan(plan, plan.due, drying_days=drying_days, needed_s=round(answer.needed_h * 3600))


def latest_plain(latest: BackPlan | None) -> dict[str, str | None] | None:
    """Return the latest days as JSON takes them, each a day as year-month-day or null."""
    if latest is None:
        return None
    days = {
        "leave_studio": latest.leave_studio,
        "to_framer": latest.to_framer,
        "last_stroke": latest.last_stroke,
        "last_painting_day": latest.last_painting_day,
        "first_painting_day": latest.first_painting_day,
    }
    return {name: None if day is None else day.isoformat() for name, day in days.items()}


def why_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    """Return why the day holds or not: hours needed, hours left over, pace, drying, and what else there is to know."""
    lines = [f"Painting still needed: about {answer.needed_h:.1f} h."]
    if answer.slack_h is not None and answer.latest_last_stroke is not None:
        over = f"{answer.slack_h:.1f} h to spare" if answer.slack_h >= 0 else f"{-answer.slack_h:.1f} h are lacking"
        lines.append(f"The last stroke must fall by {day_words(answer.latest_last_stroke)}: {over}.")
    if answer.dries is not None:
        lines.append(f"What dries last takes {range_words(*answer.dries)} to be dry to touch.")
    if answer.pace.turns:
        lead, follow = (100 * (factor.median_frac - 1) for factor in (answer.pace.lead, answer.pace.follow))
        lines.append(
            f"Pace from {answer.pace.turns} turns: leading {lead:+.0f} %, following {follow:+.0f} % against the plan."
        )
    if answer.adherence.days:
        lines.append(
            f"Of the promised hours {100 * answer.adherence.mean_frac:.0f} % were painted "
            f"({answer.adherence.days} days)."
        )
    return (*lines, *_hours_lines(answer), *_lost_lines(answer), *_varnish_lines(answer), *answer.remarks)


def _lost_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    """Return what a promised day loses before a turn is painted; a plain forecast loses nothing."""
    if not answer.adherence.day_sd:
        return ()
    set_up, clear_up, most = SETUP_S // 60, CLEANUP_S // 60, round(100 * MOST_LOST_FRAC)
    lost = f"{set_up} min go to setting up and {clear_up} min to clearing up, at most {most} % of it"
    return (f"Of each promised day {lost}; then the rests between blocks.",)


def _varnish_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    if answer.last_stroke.p80 is None:
        return ()
    day = day_words(varnish_day(answer.last_stroke.p80))
    return (f"Varnish from {day}, {VARNISH_MONTHS} months after the last stroke (3 to 12 are quoted); test first.",)


def help_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    """Return what would help most, a line each; may be empty."""
    return tuple(
        f"{found.words[:1].upper()}{found.words[1:]}: {chance_percent(found.chance)}." for found in answer.helps
    )


def _hours_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    needed = ((80, answer.hours_for_80), (95, answer.hours_for_95))
    hours = [f"{hours:.1f} h a day for {percent} %" for percent, hours in needed if hours is not None]
    return ("It takes " + ", ".join(hours) + ".",) if hours else ()


def latest_lines(latest: BackPlan | None) -> tuple[str, ...]:
    """Return the latest days that still hold the due day, a sentence."""
    if latest is None:
        return ()
    said = [
        f"leave the studio {day_words(latest.leave_studio)}",
        f"to the framer {day_words(latest.to_framer)}",
        f"last stroke {day_words(latest.last_stroke)}",
    ]
    if latest.last_painting_day is not None and latest.first_painting_day is not None:
        said.append(f"last painting day {day_words(latest.last_painting_day)}")
        said.append(f"first painting day {day_words(latest.first_painting_day)}")
    return ("At the latest: " + ", ".join(said) + ".",)
