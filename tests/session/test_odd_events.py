"""Events that no key of today records, and a disk that refuses at every turn: nothing breaks, nothing is made up."""

import pytest

from coach.journal.events import Event, Kind
from coach.journal.reading import Reading
from coach.session import moves
from coach.session.journal_state import JournalState
from coach.session.work import open_canvases
from tests.sessions import TWO_CANVASES, Easel

AT = Reading(wall_ms=1_800_000_000_000, offset_s=0, elapsed_ms=0, boot="one")
LAYERED = """
canvases: [Hall]
passes:
  - name: eyes
    passages: [{name: wash, minutes: 10}, {name: glaze, minutes: 10, over: wash}]
"""


@pytest.mark.parametrize("kind", [Kind.TURN_DONE, Kind.SKIPPED, Kind.RETIMED, Kind.FOUND_DRY, Kind.FOUND_WET])
def test_an_event_that_lost_its_turn_changes_nothing(kind: Kind) -> None:
    state = JournalState()
    text = "60000" if kind is Kind.RETIMED else ""

    assert state.add(Event(seq=1, at=AT, kind=kind, text=text)) is None
    assert (state.places, state.found_dry, state.found_wet) == ({}, {}, {})


def test_the_time_of_a_turn_that_nobody_remembers_is_not_corrected() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    turn = easel.session.situation().turn
    state = JournalState()
    state.add(Event(seq=1, at=AT, kind=Kind.RETIMED, turn=turn, text="60000"))

    assert state.hours.day_ms == 0


def test_before_the_first_turn_no_time_can_be_corrected() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.session.make(moves.retiming("5"))
    assert easel.session.remark == "No turn is over yet whose minutes could be corrected."


def test_a_turn_of_another_plan_has_no_open_canvases() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    turn = easel.session.situation().turn
    assert turn is not None
    assert open_canvases(easel.session._work, {}, turn._replace(pass_name="gone")) == ()


def test_a_layer_over_what_was_skipped_or_is_dry_by_now_is_not_warned_of() -> None:
    easel = Easel(LAYERED)
    easel.session.make(moves.go_on)
    easel.session.make(moves.skip)
    assert easel.session.situation().edges == ()

    dried = Easel(LAYERED)
    dried.session.make(moves.go_on)
    dried.session.make(moves.go_on)
    assert dried.session.situation().edges
    dried.session.make(moves.end_session)
    dried.clock.go(minutes=60 * 24 * 60)
    assert dried.session.situation().edges == ()


def test_a_full_disk_at_opening_after_an_absence_and_at_an_edit_is_said_and_nothing_is_made_up() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.journal.is_full = True
    easel.clock.go(minutes=10)
    easel.reopen()
    assert "the disk is full" in easel.session.remark
    assert easel.session.situation().turn_count == 10

    easel.session.tick()
    easel.clock.go(minutes=10)
    easel.session.tick()
    assert "the disk is full" in easel.session.remark

    easel.source.text = TWO_CANVASES.replace("minutes: 10", "minutes: 12")
    easel.session.make(moves.go_on)
    assert "the disk is full" in easel.session.remark
    assert easel.session.plan.runs == easel.plan.runs or easel.session.plan_fault == ""
    easel.journal.is_full = False
    easel.session.make(moves.mark)
    assert easel.session.plan == easel.plan
