"""The text of a plan into a `Plan`, or every fault in it at once."""

import datetime as dt
from typing import Final

from yaml.nodes import Node, SequenceNode

from coach.plan.commission import (
    MOST_CANVASES,
    After,
    Canvas,
    Days,
    Forecast,
    Limits,
    MarkedBox,
    MarkedHead,
    Mixture,
    Paint,
    Plan,
)
from coach.plan.node_reading import Asker, Faults
from coach.plan.part_reading import (
    optional,
    read_after,
    read_canvas,
    read_mixture,
    read_named,
    read_paint,
)
from coach.plan.problems import Problem, did_you_mean, quoted
from coach.plan.value_reading import read_away, read_day, read_week_s, read_whole_number
from coach.plan.work_reading import WorkReader
from coach.plan.yaml_text import tree_of

REQUIRED: Final = {
    "canvases": "canvases: [Hall, School]",
    "passes": "passes: [{name: eyes, passages: [iris]}]",
}
"""Keys that every plan has, each with an example."""

OPTIONAL: Final = (
    "commission",
    "due",
    "order",
    "seed",
    "batch",
    "away",
    "week",
    "limits",
    "after",
    "palette",
    "mixtures",
    "off",
    "also",
    "forecast",
    "learn-from",
    "photo",
    "heads",
    "keep",
)
"""Keys that a plan may have."""

ORDERS: Final = (
    "fixed",
    "snake",
    "mirror",
    "nested mirror",
    "rotation",
    "williams",
    "shuffled blocks",
    "lighter first",
    "guarded snake",
    "balanced snake",
    "williams snake",
)
"""Names of the strategies a plan can choose under `order`."""


def read_plan(text: str, file_name: str) -> Plan:
    """Return the plan written in `text`.

    Args:
        text: YAML, as the published schema (`plan.schema.json`) describes it.
        file_name: Name used in the sentences about faults.

    Raises:
        PlanError: The plan has faults; all of them are in the error, each with line, column and a suggestion.
    """
    faults = Faults(file_name)
    plan = _read(Asker(faults), tree_of(text, file_name))
    if faults.problems:
        raise faults.error()
    return plan


def _read(ask: Asker, root: Node) -> Plan:
    found = ask.fields(root, "", REQUIRED, OPTIONAL)
    palette = optional(ask, found, "", "palette", _read_palette) or ()
    paints = dict.fromkeys(paint.name for paint in palette)

    def mixture(ask: Asker, node: Node, where: str) -> Mixture | None:
        return read_mixture(ask, node, where, paints)

    mixtures = read_named(ask, found["mixtures"], "mixtures", mixture) if "mixtures" in found else None
    canvases = optional(ask, found, "", "canvases", _read_canvases)
    names = tuple(canvas.name for canvas in canvases or ())
    work = WorkReader(mixtures, names)
    passes = read_named(ask, found["passes"], "passes", work.read_pass) if "passes" in found else ()
    return Plan(
        commission=optional(ask, found, "", "commission", Asker.text) or "",
        due=optional(ask, found, "", "due", read_day),
        canvases=canvases or (),
        passes=passes,
        order=optional(ask, found, "", "order", _read_order),
        seed=optional(ask, found, "", "seed", _read_seed) or 0,
        batch=optional(ask, found, "", "batch", _read_batch) or 1,
        away=_read_away(ask, found.get("away"), names),
        week_s=optional(ask, found, "", "week", read_week_s),
        limits=optional(ask, found, "", "limits", _read_limits) or Limits(),
        after=optional(ask, found, "", "after", read_after) or After(),
        palette=palette,
        mixtures=mixtures or (),
        off=optional(ask, found, "", "off", _read_off) or (),
        also=optional(ask, found, "", "also", _read_also) or (),
        forecast=optional(ask, found, "", "forecast", _read_forecast) or Forecast(),
        learn_from=optional(ask, found, "", "learn-from", _read_learn_from) or (),
        photo=optional(ask, found, "", "photo", _read_photo),
        heads=optional(ask, found, "", "heads", _read_heads) or (),
        keeps=optional(ask, found, "", "keep", _read_keeps) or (),
    )


def _read_palette(ask: Asker, node: Node, where: str) -> tuple[Paint, ...]:
    return read_named(ask, node, where, read_paint)


def _read_canvases(ask: Asker, node: Node, where: str) -> tuple[Canvas, ...]:
    return read_named(ask, node, where, read_canvas, most=MOST_CANVASES)


def _read_order(ask: Asker, node: Node, where: str) -> str | None:
    name = ask.text(node, where)
    if name is None or name in ORDERS:
        return name
    ask.faults.note(node, where, f"there is no order {quoted(name)}", did_you_mean(name, ORDERS))
    return None


def _read_seed(ask: Asker, node: Node, where: str) -> int | None:
    return read_whole_number(ask, node, where, least=0, most=2**31 - 1)


def _read_batch(ask: Asker, node: Node, where: str) -> int | None:
    return read_whole_number(ask, node, where, least=1, most=100)


def _read_away(ask: Asker, node: Node | None, canvases: tuple[str, ...]) -> tuple[tuple[str, dt.date], ...]:
    if node is None:
        return ()
    entries = ask.items(node, "away") if isinstance(node, SequenceNode) else [node]
    return tuple(away for entry in entries if (away := read_away(ask, entry, "away", canvases)))


def _read_limits(ask: Asker, node: Node, where: str) -> Limits:
    from coach.plan.limit_reading import read_limits  # noqa: PLC0415  many plans state none

    return read_limits(ask, node, where)


def _read_off(ask: Asker, node: Node, where: str) -> tuple[Days, ...]:
    from coach.plan.calendar_reading import CalendarReader  # noqa: PLC0415  many plans state none

    return CalendarReader(ask).off(node, where)


def _read_also(ask: Asker, node: Node, where: str) -> tuple[tuple[Days, int], ...]:
    from coach.plan.calendar_reading import CalendarReader  # noqa: PLC0415  many plans state none

    return CalendarReader(ask).also(node, where)


def _read_forecast(ask: Asker, node: Node, where: str) -> Forecast:
    from coach.plan.forecast_reading import read_forecast  # noqa: PLC0415  many plans state none

    return read_forecast(ask, node, where)


def _read_learn_from(ask: Asker, node: Node, where: str) -> tuple[str, ...]:
    from coach.plan.forecast_reading import read_learn_from  # noqa: PLC0415  many plans state none

    return read_learn_from(ask, node, where)


def _read_photo(ask: Asker, node: Node, where: str) -> str | None:
    from coach.plan.photo_reading import read_photo  # noqa: PLC0415  many plans name none

    return read_photo(ask, node, where)


def _read_heads(ask: Asker, node: Node, where: str) -> tuple[MarkedHead, ...]:
    from coach.plan.photo_reading import read_heads  # noqa: PLC0415  many plans mark none

    return read_heads(ask, node, where)


def _read_keeps(ask: Asker, node: Node, where: str) -> tuple[MarkedBox, ...]:
    from coach.plan.photo_reading import read_keeps  # noqa: PLC0415  many plans mark none

    return read_keeps(ask, node, where)


def problems_on(plan: Plan, today: dt.date) -> tuple[Problem, ...]:
    """Return what is wrong with a plan that can be read, seen from `today`; painting can go on all the same."""
    if plan.due is None or plan.due >= today:
        return ()
    what = f"{plan.due.isoformat()} is past: today is {today.isoformat()}"
    return (Problem(line=0, column=0, where="due", what=what, suggestion="write the day that was agreed"),)
