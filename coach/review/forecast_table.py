"""The forecast as sentences and a table: the same for the command and for the screen."""

from typing import Final

from coach.forecast.answer import ForecastAnswer
from coach.forecast.calendar import BackPlan
from coach.forecast.sentences import chance_in_ten, day_words

DAY_COLUMNS: Final = ("done by", "even chance", "8 in 10", "19 in 20")
"""Columns of the table of days."""


def day_rows(answer: ForecastAnswer) -> tuple[tuple[str, ...], ...]:
    """Return the days under `DAY_COLUMNS`: by when each step is done with that chance."""
    steps = (
        ("last stroke", answer.last_stroke),
        ("dry to touch", answer.touch_dry),
        ("back from framing", answer.framed),
        ("handed over", answer.delivered),
    )
    return tuple((name, *map(day_words, (days.p50, days.p80, days.p95))) for name, days in steps)


def why_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    """Return what the painter must know, the gravest first, and then why the day holds or not."""
    return (*answer.remarks, *answer.why)


def help_lines(answer: ForecastAnswer) -> tuple[str, ...]:
    """Return what would help most, a line each; may be empty."""
    return tuple(
        f"{own.change[:1].upper()}{own.change[1:]}: {chance_in_ten(own.chance).lower()}"
        + (f" ({own.caution})." if own.caution else ".")
        for own in answer.helps
    )


def latest_lines(latest: BackPlan | None) -> tuple[str, ...]:
    """Return the latest days that still hold the due day with 80 %, a sentence."""
    if latest is None:
        return ()
    said = [
        f"leave the studio {day_words(latest.leave_studio)}",
        f"to the framer {day_words(latest.to_framer)}",
    ]
    if latest.last_painting_day is not None:
        said.append(f"last stroke {day_words(latest.last_stroke)}")
        said.append(f"last painting day {day_words(latest.last_painting_day)}")
    if latest.first_painting_day is not None:
        said.append(f"first painting day {day_words(latest.first_painting_day)}")
    return ("At the latest: " + ", ".join(said) + ".",)
