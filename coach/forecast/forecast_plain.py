"""The forecast as plain data for `coach forecast --json`."""

import datetime as dt

from coach.forecast.answer import DayQuantiles, ForecastAnswer

Plain = str | int | float | bool | list["Plain"] | dict[str, "Plain"] | None


def forecast_plain(answer: ForecastAnswer) -> dict[str, Plain]:
    """Return the answer as values that JSON can hold: days as year-month-day, null for what is not known."""
    return {
        "today": _day(answer.today),
        "due": _day(answer.due),
        "chance": _chance(answer.chance),
        "last_stroke": _days(answer.last_stroke),
        "touch_dry": _days(answer.touch_dry),
        "framed": _days(answer.framed),
        "delivered": _days(answer.delivered),
        "latest_last_stroke": _day(answer.latest_last_stroke),
        "slack_hours": None if answer.slack_h is None else round(answer.slack_h, 1),
        "needed_hours": round(answer.needed_h, 1),
        "hours_a_day_for": {"80": answer.hours_for_80, "95": answer.hours_for_95},
        "helps": [{"change": found.words, "chance": _chance(found.chance)} for found in answer.helps],
        "drying_days": None if answer.dries is None else [round(days, 1) for days in answer.dries],
        "headline": answer.headline,
        "remarks": list(answer.remarks),
    }


def _day(day: dt.date | None) -> str | None:
    return None if day is None else day.isoformat()


def _days(days: DayQuantiles) -> dict[str, Plain]:
    return {name: _day(day) for name, day in days._asdict().items()}


def _chance(chance: float | None) -> float | None:
    """Return a chance to two places: the third would be noise of the draws."""
    return None if chance is None else round(chance, 2)
