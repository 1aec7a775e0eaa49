"""What was announced stays, whatever is edited, killed, undone or left: every reader of the journal tells the same."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.journal.events import Turn
from coach.journal.reading import local_time
from coach.review.forecast_input import forecast_input
from coach.review.order_table import order_report
from coach.session import moves
from coach.session.journal_state import state_of
from coach.session.records import Phase
from coach.session.work import groups_ahead, turns_ahead, work_of_journal
from tests.sessions import Easel

HEAD = """
canvases: [{canvases}]
order: {order}
batch: {batch}
"""
EYES = "{name: eyes, passages: [{name: lid, minutes: 12}, iris, {name: lash, minutes: 20, beside: iris}, brow]}"
NOSE = "{name: nose, passages: [wing, {name: tip, minutes: 30}, bridge]}"
EDITS = {
    "as it was": f"passes: [{EYES}, {NOSE}]",
    "a passage more at the end": f"passes: [{EYES}, {NOSE.replace('bridge', 'bridge, shadow')}]",
    "a passage more at the beginning": f"passes: [{EYES.replace('{name: lid', 'socket, {name: lid')}, {NOSE}]",
    "a passage less": f"passes: [{EYES.replace(', brow', '')}, {NOSE}]",
    "one run of two": f"passes: [{EYES}, {NOSE.replace('bridge', '{name: bridge, beside: tip}')}]",
    "two runs of one": f"passes: [{EYES.replace(', beside: iris', '')}, {NOSE}]",
    "other minutes": f"passes: [{EYES.replace('20', '90')}, {NOSE.replace('30', '5')}]",
    "passes changed over": f"passes: [{NOSE}, {EYES}]",
    "a wish": f"passes: [{EYES}, {NOSE.replace('minutes: 30', 'minutes: 30, lead: Hall')}]",
    "a canvas away": f"away: School until 2027-01-17\npasses: [{EYES}, {NOSE}]",
    "a due day": f"due: 2027-05-01\npasses: [{EYES}, {NOSE}]",
}
MOVES = {
    "go on": moves.go_on,
    "other way": moves.go_other_way,
    "skip": moves.skip,
    "mark": moves.mark,
    "undo": moves.undo,
    "pause": moves.pause,
    "end": moves.end_session,
    "take up lid": moves.taking_up("eyes", ["lid"]),
    "take up iris": moves.taking_up("eyes", ["iris", "lash"]),
    "was work": moves.count_away_as_work,
}
ACTIONS = [*MOVES, *["go on"] * 12, "end", "undo", "kill", "night", *EDITS]
ORDERS = ["balanced snake", "snake", "shuffled blocks", "fixed"]


def in_hand(easel: Easel) -> Turn | None:
    return easel.session.situation().turn


def ahead(easel: Easel) -> list[Turn]:
    """Return the turns to come as the service has them."""
    state = easel.session.state
    first = state.in_hand.canvas if state.in_hand else None
    return list(turns_ahead(easel.session.work, state.places, first))


def check_readers(easel: Easel) -> None:
    """Check that a second coach, the plan's page, the order and the forecast tell what this coach shows."""
    live, shown = easel.session, easel.opened(read_only="shown only")
    assert shown.situation() == live.situation()
    assert shown.work.orders == live.work.orders
    assert (shown.plan_fault, shown.work.remark) == (live.plan_fault, live.work.remark)
    groups = [list(groups_ahead(one.work, one.state.places)) for one in (live, shown)]
    assert groups[0] == groups[1]

    today = local_time(easel.clock.read()).date()
    state = state_of(easel.journal.events)
    work = work_of_journal(live.plan, state, absent=live.work.absent)
    assert work.orders == live.work.orders
    if live.work.absent == live.plan.absent_on(today):
        printed = [line for line in order_report(live.work, state).turns if not line.painted]
        remaining = forecast_input(live.plan, state, today, {}).outlook.remaining
        kept = [(turn.canvas, turn.passages) for turn in ahead(easel)]
        assert [(turn.canvas, turn.passages) for turn in remaining][: len(kept)] == kept
        assert [(line.canvas, line.passages) for line in printed][: len(kept)] == kept


def act(easel: Easel, head: str, name: str) -> None:
    """Do one thing as a painter does, and check what must hold of it alone."""
    before, turns = in_hand(easel), len(easel.session.state.turns)
    if name == "kill":
        easel.reopen()
        assert in_hand(easel) == before
    elif name == "night":
        is_on_record = easel.session.situation().turn_ms > 0 and not easel.session.work.absent
        easel.clock.go(minutes=10 * 60)
        easel.session.tick()
        after = in_hand(easel)
        if is_on_record and before is not None:
            assert after is not None
            assert (after.canvas, after.passages) == (before.canvas, before.passages)
    elif name in EDITS:
        easel.source.text = head + EDITS[name]
        easel.session.tick()
        after, is_begun = in_hand(easel), easel.session.state.session > 0
        is_wished = easel.session.situation().phase is Phase.NOT_BEGUN and name == "a wish"
        is_gone = name == "a canvas away" or easel.session.work.absent != frozenset()
        if is_begun and before and after and not is_wished and not is_gone:
            left = {name for run in easel.session.work.runs for name in run.passage_names} & set(before.passages)
            if left:
                assert after.canvas == before.canvas
                assert left & set(after.passages)
    else:
        easel.session.make(MOVES[name])
        done = easel.session.state.turns[turns:]
        if name == "go on" and done:
            assert done[0].turn == before  # what was shown is what was painted


@pytest.mark.parametrize("canvases", ["Hall, School", "Hall, School, Mill"])
@settings(max_examples=60, deadline=None)
@given(st.sampled_from(ORDERS), st.integers(1, 2), st.lists(st.sampled_from(ACTIONS), max_size=30))
def test_after_every_move_edit_and_kill_all_readers_tell_the_same(
    canvases: str, order: str, batch: int, actions: list[str]
) -> None:
    head = HEAD.format(canvases=canvases, order=order, batch=batch)
    easel = Easel(head + EDITS["as it was"])
    for name in actions:
        easel.clock.go(seconds=20)
        easel.session.tick()
        act(easel, head, name)
        check_readers(easel)
