"""What stands behind the answer of the Deadline: why the day holds or not."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from coach.forecast.answer import ForecastAnswer
from coach.forecast.outlook import Stage
from coach.forecast.sentences import day_words
from coach.journal.events import Kind
from coach.plan.commission import Plan
from coach.review.forecast_table import help_lines, why_lines
from coach.text import paragraphs


class Foretold(NamedTuple):
    """A forecast as it was made.

    Attributes:
        plan: The plan it was made for.
        answer: The forecast.
        painted_s: Seconds painted on each day gone by.
        stages: What followed the last stroke, canvas by canvas.
    """

    plan: Plan
    answer: ForecastAnswer
    painted_s: Mapping[dt.date, float]
    stages: tuple[Stage, ...] = ()


def handed_over_day(plan: Plan, stages: Sequence[Stage]) -> dt.date | None:
    """Return the day on which the last of the canvases was handed over; None while one is not."""
    days = {own.canvas: own.day for own in stages if own.kind is Kind.HANDED_OVER}
    return max(days.values()) if all(canvas.name in days for canvas in plan.canvases) else None


def facts_view(foretold: Foretold, columns: int) -> tuple[str, ...]:
    """Return the facts behind the answer, each at most `columns` cells wide."""
    answer, handed_over = foretold.answer, handed_over_day(foretold.plan, foretold.stages)
    headline = answer.headline if handed_over is None else f"Handed over on {day_words(handed_over)}."
    return (*paragraphs([headline], columns), "", *_reasons(answer, columns))


def _reasons(answer: ForecastAnswer, columns: int) -> list[str]:
    helps = help_lines(answer)
    said = paragraphs(why_lines(answer), columns)
    return [*said, "", "What would help most:", *paragraphs(helps, columns)] if helps else said


def age_words(seconds: int) -> str:
    """Return how old the forecast is; nothing of one that was just made."""
    minutes = seconds // 60
    return f"as of {minutes} min ago" if minutes else ""
