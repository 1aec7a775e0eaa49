"""The keys of a plan, all but its passes, with their written values: only what differs from the defaults."""

from itertools import groupby
from typing import Final

from coach.plan.commission import After, DayRange, Days, Forecast, Limits, Plan
from coach.plan.limit_reading import LIMIT_KEYS
from coach.plan.writing_parts import box_text, canvas_fields, entry_text, head_fields, mixture_fields, paint_fields
from coach.plan.writing_values import days_text, duration_text, mapping_text, number_text, range_text, scalar_text

Section = str | tuple[str, ...] | dict[str, str]
"""A written value: one text, the entries of a list, or keys with their texts."""

GROUPS: Final = (
    ("commission", "due"),
    ("canvases",),
    ("photo", "heads", "keep"),
    ("order", "seed", "batch", "away"),
    ("week", "off", "also", "limits", "after", "forecast", "learn-from"),
    ("palette",),
    ("mixtures",),
)
"""Keys in the order in which they are written; between two groups stands an empty line."""

_WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def sections(plan: Plan) -> dict[str, Section]:
    """Return what is written under each key of a plan, save `passes`; keys with nothing to say are left out."""
    written: dict[str, Section] = {
        "commission": scalar_text(plan.commission) if plan.commission else "",
        "due": plan.due.isoformat() if plan.due else "",
        "canvases": tuple(entry_text(canvas_fields(canvas)) for canvas in plan.canvases),
        "photo": scalar_text(plan.photo) if plan.photo else "",
        "heads": tuple(entry_text(head_fields(head)) for head in plan.heads),
        "keep": tuple(box_text(box) for box in plan.keeps),
        "order": plan.order or "",
        "seed": str(plan.seed) if plan.seed else "",
        "batch": str(plan.batch) if plan.batch != 1 else "",
        "away": tuple(scalar_text(f"{name} until {back.isoformat()}") for name, back in plan.away),
        "week": week_fields(plan.week_s),
        "off": tuple(_off_text(days) for days in plan.off),
        "also": _also_section(plan.also),
        "limits": _limit_fields(plan.limits),
        "after": _after_fields(plan.after),
        "forecast": _forecast_fields(plan.forecast),
        "learn-from": tuple(scalar_text(name) for name in plan.learn_from),
        "palette": tuple(entry_text(paint_fields(paint)) for paint in plan.palette),
        "mixtures": tuple(entry_text(mixture_fields(mixture)) for mixture in plan.mixtures),
    }
    return {key: section for key, section in written.items() if section}


def week_fields(week_s: tuple[int, ...] | None) -> dict[str, str]:
    """Return the hours of a week by spans of days with the same hours; days without work are left out."""
    if week_s is None:
        return {}
    if not any(week_s):
        return {f"{_WEEKDAYS[0]}-{_WEEKDAYS[-1]}": duration_text(0)}
    fields: dict[str, str] = {}
    for seconds, days in groupby(range(len(week_s)), key=week_s.__getitem__):
        numbers = list(days)
        first, last = _WEEKDAYS[numbers[0]], _WEEKDAYS[numbers[-1]]
        if seconds:
            fields[first if first == last else f"{first}-{last}"] = duration_text(seconds)
    return fields


def _limit_fields(limits: Limits) -> dict[str, str]:
    figures, usual = limits._asdict(), Limits()._asdict()
    changed = {key: figures[name] for key, name in LIMIT_KEYS.items() if figures[name] != usual[name]}
    return {key: f"{number_text(held)} s" if key == "press" else duration_text(held) for key, held in changed.items()}


def _after_fields(after: After) -> dict[str, str]:
    counts = {
        "drying": (after.drying_days, ""),
        "framing": (after.framing_working_days, "working "),
        "transport": (after.transport_working_days, "working "),
    }
    return {key: days_text(count, kind) for key, (count, kind) in counts.items() if count is not None}


def _forecast_fields(forecast: Forecast) -> dict[str, str]:
    usual = Forecast()
    fields = {
        "spread": "" if forecast.is_spread else "none",
        "seed": "" if forecast.seed == usual.seed else str(forecast.seed),
        "room": "" if forecast.room_c == usual.room_c else f"{number_text(forecast.room_c)} C",
        "medium": "" if forecast.medium == usual.medium else forecast.medium,
        "film": "" if forecast.film_um == usual.film_um else f"{number_text(forecast.film_um)} um",
    }
    return {key: text for key, text in fields.items() if text}


def _off_text(days: Days) -> str:
    return range_text(*days) if isinstance(days, DayRange) else mapping_text(_repeat_fields(days))


def _repeat_fields(days: Days) -> dict[str, str]:
    if isinstance(days, DayRange):
        return {"day": range_text(*days)}
    return {"every": scalar_text(days.rule), "from": days.start.isoformat()}


def _also_section(also: tuple[tuple[Days, int], ...]) -> Section:
    """Return days with their times as keys, or as a list where days come again or a day is named twice."""
    ranges = {range_text(*days): duration_text(seconds) for days, seconds in also if isinstance(days, DayRange)}
    if len(ranges) == len(also):
        return ranges
    return tuple(mapping_text({**_repeat_fields(days), "time": duration_text(seconds)}) for days, seconds in also)
