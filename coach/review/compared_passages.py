"""Which passages of two canvases can be compared, and why the others cannot."""

import datetime as dt
from collections.abc import Mapping
from typing import NamedTuple

from coach.forecast.layers import dry_days
from coach.journal.reading import local_time
from coach.plan.commission import Address, Plan
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.session.wet_and_dry import feature, paint_laid
from coach.text import joined

UNFINISHED = "not finished on both canvases"


class OnTop(NamedTuple):
    """The passage that lies on top where some shapes are: its address and the ids of these shapes."""

    address: Address
    shapes: tuple[str, ...]


def passages_on_top(plan: Plan) -> list[OnTop]:
    """Return for the shapes that passages name the last passage over each, in the order of the plan."""
    last: dict[str, Address] = {}
    for one in plan.passes:
        for passage in one.passages:
            if passage.check is None:
                last |= dict.fromkeys(passage.shapes, (one.name, passage.name))
    shapes: dict[Address, list[str]] = {}
    for shape, address in last.items():
        shapes.setdefault(address, []).append(shape)
    order = {(one.name, passage.name): no for no, one in enumerate(plan.passes) for passage in one.passages}
    return [OnTop(address, tuple(own)) for address, own in sorted(shapes.items(), key=lambda item: order[item[0]])]


def painted_before(state: JournalState, when: dt.datetime) -> str:
    """Return which passage was painted last before a time, and on which canvas, in words; empty where none was."""
    ended = [turn for turn in state.turns if turn.is_painted and local_time(turn.ended) <= when]
    return f"{joined(ended[-1].turn.passages)} on {ended[-1].turn.canvas}" if ended else ""


def reasons_against(plan: Plan, state: JournalState, canvases: tuple[str, str]) -> Mapping[Address, str]:
    """Return why passages cannot be compared on two canvases; those that can are left out.

    A journal without a turn says nothing: what is painted without the coach is taken as finished.
    """
    if not state.turns or state.at is None:
        return {}
    painted = {
        ((feature(record.turn.pass_name), name), record.turn.canvas): record
        for record in state.turns
        if not record.is_skipped
        for name in record.turn.passages
    }
    today = local_time(state.at).date()
    found = {}
    for one in plan.passes:
        for passage in one.passages:
            records = [painted.get(((one.name, passage.name), canvas)) for canvas in canvases]
            why = _why_not(plan, passage.name, dict(zip(canvases, records, strict=True)), today)
            if why:
                found[one.name, passage.name] = why
    return found


def _why_not(plan: Plan, passage: str, records: Mapping[str, TurnRecord | None], today: dt.date) -> str:
    """Return why a passage cannot be compared on the canvases whose last turns on it these are; empty where it can."""
    wet, dry = "", ""
    for canvas, record in records.items():
        if record is None:
            return UNFINISHED
        days = dry_days(paint_laid(plan, record, passage), local_time(record.ended).date())
        wet = canvas if today < days.possible else wet
        dry = canvas if today >= days.planned else dry
    return f"wet on {wet} and dry on {dry}: wait until both are dry" if wet and dry else ""
