"""What a move changes in the order of the work to come, so that it is recorded with the move and never planned again.

An order that was announced stays until a turn leaves it, an edit of the plan changes the work, or a session ends and
another order is worth it.
"""

from collections.abc import Mapping
from typing import Final

from coach.journal.events import Announced, Event, Kind, Turn
from coach.journal.reading import Reading
from coach.plan.commission import RETURN_TO, Address, Plan, pass_words
from coach.session.journal_state import JournalState
from coach.session.ordering import (
    Names,
    address_of,
    announced_orders,
    change_in_words,
    is_worth_a_change,
    names_of,
    planned_orders,
    request_of,
)
from coach.session.records import Phase
from coach.session.situation import turn_in_hand
from coach.session.work import Work, groups_ahead, keeps_to_order, runs_of_work, work_of_journal

_NEVER: Final = frozenset({Kind.UNDONE, Kind.AWAY_WORKED, Kind.PLAN_READ})
"""Kinds that announce nothing: what was announced before holds again."""


def announced_by(draft: Event, work: Work, state: JournalState, *, is_end: bool) -> Announced | None:
    """Return what an event announces that is about to be recorded; None where the order stays as the journal has it.

    Args:
        draft: The event.
        work: Where the work stands before it.
        state: What the journal adds up to before it.
        is_end: Whether it ends a session.
    """
    if draft.kind is Kind.MARKED_FOR_RETURN and draft.turn is not None:
        return _announced_return(draft, draft.turn, work, state)
    is_dry_run = draft.kind is Kind.DRY_RUN_FIRST
    why = _waiting(work, state) if is_dry_run else _deviation(draft, work, state)
    is_first = not work.is_announced and (state.session > 0 or draft.kind is Kind.SESSION_BEGUN)
    if draft.kind in _NEVER or not (why or is_first or is_end):
        return None
    after = _after(draft, state)
    held: tuple[tuple[Address, ...], str] = ((), "")
    if is_dry_run and draft.turn is not None:
        held = ((draft.turn.pass_name, draft.turn.passages[0]),), ""
    elif after.is_on_record if is_end else draft.kind is Kind.TAKEN_UP and _is_in_hand(state):
        held = _held(work, state)
    if held[0]:
        after.held, after.held_canvas = held
    runs = runs_of_work(work.plan, after, work.absent)
    shown = {**state.announced, **_shown(work, state)}
    kept = announced_orders(runs, shown)
    if kept is not None and not why and not is_end:
        return _announcement(state, names_of(runs, kept), work.remark)
    new, said = planned_orders(runs, after, shown)
    if kept is not None and is_end:
        why = is_worth_a_change(runs, after, kept, new)
        if not why:
            return _announcement(state, names_of(runs, kept), "", *(held if work.plan.away else ((), "")))
    names = names_of(runs, new)
    told = change_in_words(why, runs, shown, names) if why else ""
    return _announcement(state, names, " ".join(filter(None, (told, said))), *held)


def _announced_return(draft: Event, turn: Turn, work: Work, state: JournalState) -> Announced | None:
    """Return the order of a return that is marked from a comparison; every other run keeps the order announced."""
    after = _after(draft, state)
    runs, shown = runs_of_work(work.plan, after, work.absent), {**state.announced, **_shown(work, state)}
    orders = announced_orders(runs, shown)
    if orders is None:
        planned = planned_orders(runs, after, shown)[0]
        own = RETURN_TO + turn.pass_name, turn.passages[0]
        marked = [address_of(run) for run in runs.every if run.pass_name == own[0] and own[1] in run.passage_names]
        kept = {address: order for address, order in shown.items() if address not in marked}
        orders = announced_orders(runs, names_of(runs, planned) | kept) or planned
    names = names_of(runs, orders)
    why = f"{turn.pass_name} run {turn.run} comes again on {turn.canvas} at the end"
    return _announcement(state, names, change_in_words(why, runs, shown, names))


def announced_by_edit(
    draft: Event, work: Work, state: JournalState, plan: Plan, absent: frozenset[int]
) -> Announced | None:
    """Return what is announced as an edited plan is taken up: the run in hand and its canvas stay as they are.

    Args:
        draft: The event.
        work: Where the work stands under the plan before.
        state: What the journal adds up to.
        plan: The edited plan.
        absent: Numbers of its canvases that are away.
    """
    if state.session == 0:
        return None
    after = _after(draft, state)
    before_runs, shown = runs_of_work(work.plan, state, work.absent), {**state.announced, **_shown(work, state)}
    runs = runs_of_work(plan, after, absent)
    kept = announced_orders(runs, shown)
    if kept is not None and request_of(runs, after, {}) == request_of(before_runs, state, {}):
        return _announcement(state, names_of(runs, kept), "")
    held, canvas = _held(work, state, plan)
    turn = turn_in_hand(work, state)
    announced = _planned_for_edit(plan, after, absent, shown, (held or after.held, canvas))
    if turn is not None and not _keeps(turn, plan, after, absent, announced):
        own = [address for address in held if address[0] == turn.pass_name and address[1] in turn.passages]
        first = tuple(dict.fromkeys([*own, *held]))
        announced = _planned_for_edit(plan, after, absent, shown, (first, canvas))
    return announced


def _planned_for_edit(
    plan: Plan, state: JournalState, absent: frozenset[int], shown: Names, in_hand: tuple[tuple[Address, ...], str]
) -> Announced | None:
    after = state.copied()
    after.held, after.held_canvas = in_hand
    runs = runs_of_work(plan, after, absent)
    wished = runs.every[runs.ahead[0]].lead if runs.ahead else None
    if wished and not _is_in_hand(state):
        after.held_canvas = ""
        runs = runs_of_work(plan, after, absent)
    new, said = planned_orders(runs, after, shown)
    names = names_of(runs, new)
    told = change_in_words("The plan was edited", runs, shown, names)
    remark = " ".join(filter(None, (told, said)))
    return _announcement(state, names, remark, after.held, after.held_canvas)


def _keeps(turn: Turn, plan: Plan, state: JournalState, absent: frozenset[int], announced: Announced | None) -> bool:
    """Return whether a turn stays in hand, or as much of it as the plan still has."""
    after = state.copied()
    if announced is not None:
        after.take_announced(announced)
    in_hand = turn_in_hand(work_of_journal(plan, after, absent=absent), after)
    left = {passage.name for one in plan.passes if one.name == turn.pass_name for passage in one.passages}
    if in_hand is None or not left.intersection(turn.passages):
        return True
    return in_hand.canvas == turn.canvas and bool({*in_hand.passages}.intersection(turn.passages))


def work_after_edit(plan: Plan, work: Work, state: JournalState, absent: frozenset[int]) -> Work:
    """Return where the work will stand once an edited plan is taken up; with the plan in force, where it stands."""
    if plan == work.plan:
        return work_of_journal(plan, state, absent=absent)
    draft = Event(seq=0, at=state.at or Reading(0, 0, 0, ""), kind=Kind.PLAN_READ)
    after = _after(draft._replace(announced=announced_by_edit(draft, work, state, plan, absent)), state)
    return work_of_journal(plan, after, absent=absent)


def _waiting(work: Work, state: JournalState) -> str:
    turn = turn_in_hand(work, state)
    return "" if turn is None else f"{_named(turn)} waits until all below it is dry"


def _named(turn: Turn) -> str:
    return f"{pass_words(turn.pass_name)} run {turn.run}"


def _deviation(draft: Event, work: Work, state: JournalState) -> str:
    """Return in words how an event leaves the order announced; empty where it keeps to it."""
    turn = draft.turn
    if turn is None or turn.check or draft.kind not in {Kind.TURN_DONE, Kind.SKIPPED, Kind.TAKEN_UP}:
        return ""
    run = _named(turn)
    if draft.kind is Kind.TAKEN_UP:
        return f"{run} is to come again on {turn.canvas}"
    if draft.kind is Kind.SKIPPED:
        return f"{turn.canvas} was skipped in {run}"
    if state.is_marked:
        return f"{run} comes again on {turn.canvas} at the end"
    if state.in_hand is not None:
        return f"{turn.canvas} was taken out of turn"
    return "" if keeps_to_order(work, turn, state.places) else "the plan was left"


def _is_in_hand(state: JournalState) -> bool:
    """Return whether something of the turn in hand is on record, or somebody is painting."""
    return state.is_on_record or state.phase is not Phase.NOT_BEGUN


def _after(draft: Event, state: JournalState) -> JournalState:
    after = state.copied()
    after.add(draft._replace(seq=state.seq + 1))
    return after


def _shown(work: Work, state: JournalState) -> Mapping[Address, tuple[str, ...]]:
    return names_of(runs_of_work(work.plan, state, work.absent), work.orders)


def _held(work: Work, state: JournalState, plan: Plan | None = None) -> tuple[tuple[Address, ...], str]:
    """Return the runs in hand, each by a passage that the plan still has, and the canvas in hand."""
    turn = turn_in_hand(work, state)
    group = next(groups_ahead(work, state.places), [])
    if turn is None:
        return (), ""
    plan = plan or work.plan
    left = {(one.name, passage.name) for one in plan.passes for passage in one.passages}
    held = []
    for no in group:
        run = work.runs[no]
        found = [(run.pass_name, name) for name in run.passage_names]
        is_return = run.pass_name not in {one.name for one in plan.passes}
        held += [address for address in found if is_return or address in left][:1]
    return tuple(held), turn.canvas if any(one.name == turn.canvas for one in plan.canvases) else ""


def _announcement(
    state: JournalState, names: Names, remark: str, held: tuple[Address, ...] = (), canvas: str = ""
) -> Announced | None:
    """Return what the journal does not hold yet, or None where that is nothing."""
    changed = {address: order for address, order in names.items() if state.announced.get(address) != order}
    if not (changed or held or canvas or remark):
        return None
    return Announced(orders=changed, held=held, canvas=canvas, remark=remark)
