"""What a memo keeps, so that a long journal and a large plan need not be read anew at every opening.

Everything in a memo is derived and can be thrown away: the plan as it was read, and what the journal's events added
up to when the last session began. Undo never reaches further back, so that part never changes.
"""

from typing import Any, Final, NamedTuple

from coach.journal.body import plain_reading, plain_turn, reading_of, turn_of
from coach.limits.plain_hours import answers_of, hours_of, plain_answers, plain_hours
from coach.plan.commission import Plan
from coach.plan.plain_plan import plain_plan, plan_of
from coach.session.progress import Phase, Progress, TurnRecord
from coach.session.work import Orders

MEMO_VERSION: Final = 6
"""To be raised whenever the reading of a plan, or the fold of events, changes its answer."""


class Memo(NamedTuple):
    """What can be kept.

    Attributes:
        plan: The plan as it was read.
        base: What the events added up to when the last session began.
        orders: The orders of all runs as they were then.
        remark: What the painter should know about them; may be empty.
        absent: Numbers of the canvases that were away.
    """

    plan: Plan
    base: Progress
    orders: Orders
    absent: frozenset[int]
    remark: str = ""


def plain_memo(memo: Memo) -> list[Any]:
    """Return a memo as lists, texts and numbers, ready for JSON."""
    base = memo.base
    turns: dict[int, TurnRecord] = {id(record): record for record in base.records.values()}
    return [
        MEMO_VERSION,
        plain_plan(memo.plan),
        [
            base.seq,
            base.phase.value,
            base.session,
            base.session_ms,
            base.turn_ms,
        ],
        [base.notes, base.is_marked, base.plan_text],
        [plain_hours(base.hours), plain_answers(base.deferrals)],
        [
            base.at and plain_reading(base.at),
            base.begun and plain_reading(base.begun),
            base.in_hand and plain_turn(base.in_hand),
        ],
        [[*shape, place] for shape, place in base.places.items()],
        [[[*shape, plain_reading(at)] for shape, at in felt.items()] for felt in (base.found_dry, base.found_wet)],
        [_plain_record(record) for record in turns.values()],
        list(base.marks),
        memo.orders,
        sorted(memo.absent),
        memo.remark,
    ]


def memo_of(plain: list[Any]) -> Memo:
    """Return the memo that `plain_memo` made plain.

    Raises:
        ValueError, TypeError, KeyError: It is of another version, or not what `plain_memo` makes.
    """
    version, plan, times, rest, hours, readings, places, felt, records, marks, orders, absent, remark = plain
    if version != MEMO_VERSION:
        raise ValueError(f"a memo of version {version}")
    base = Progress()
    base.seq, base.phase, base.session = times[0], Phase(times[1]), times[2]
    base.session_ms, base.turn_ms = times[3:]
    notes, base.is_marked, base.plan_text = rest
    base.hours, base.deferrals = hours_of(hours[0]), answers_of(hours[1])
    base.notes = tuple(notes)
    at, begun, in_hand = readings
    base.at, base.begun = at and reading_of(*at), begun and reading_of(*begun)
    base.in_hand = in_hand and turn_of(*in_hand)
    base.places = {(pass_name, passage, canvas): place for pass_name, passage, canvas, place in places}
    base.found_dry, base.found_wet = (
        {(pass_name, passage, canvas): reading_of(*at) for pass_name, passage, canvas, at in found} for found in felt
    )
    base.marks = dict.fromkeys((pass_name, passage, canvas) for pass_name, passage, canvas in marks)
    for record in map(_record, records):
        for passage in record.turn.passages:
            base.records[record.turn.pass_name, passage, record.turn.canvas] = record
    return Memo(
        plan=plan_of(plan),
        base=base,
        orders=tuple(tuple(order) for order in orders),
        absent=frozenset(absent),
        remark=remark,
    )


def _plain_record(record: TurnRecord) -> list[Any]:
    return [
        plain_turn(record.turn),
        plain_reading(record.begun),
        plain_reading(record.ended),
        record.worked_ms,
        record.session,
        record.notes,
        record.is_marked,
        record.is_skipped,
        record.went_other_way,
    ]


def _record(plain: list[Any]) -> TurnRecord:
    turn, begun, ended, worked_ms, session, notes, is_marked, is_skipped, went_other_way = plain
    return TurnRecord(
        turn=turn_of(*turn),
        begun=reading_of(*begun),
        ended=reading_of(*ended),
        worked_ms=worked_ms,
        session=session,
        notes=tuple(notes),
        is_marked=is_marked,
        is_skipped=is_skipped,
        went_other_way=went_other_way,
    )
