"""The session: an event is on the disk before it is in the state; plans are edited; others only watch."""

from coach.journal.events import Kind
from coach.session import moves
from coach.session.work import turns_ahead
from tests.sessions import TWO_CANVASES, Easel


def begun() -> Easel:
    easel = Easel()
    easel.session.make(moves.go_on)
    return easel


def test_a_move_that_is_not_on_the_disk_is_not_taken() -> None:
    easel = begun()
    before = easel.session.situation()
    easel.journal.is_full = True
    easel.session.make(moves.go_on)
    assert easel.session.situation() == before
    assert "the disk is full" in easel.session.remark

    easel.journal.is_full = False
    easel.session.make(moves.go_on)
    assert easel.session.remark == ""
    assert easel.session.situation().turn_no == 2


def test_the_text_of_the_plan_is_kept_whenever_it_changed_and_only_then() -> None:
    easel = Easel()
    easel.reopen()
    easel.source.text = TWO_CANVASES.replace("iris", "pupil")
    easel.reopen()

    texts = [event.text for event in easel.journal.events if event.kind is Kind.PLAN_READ]
    assert texts == [TWO_CANVASES, easel.source.text]


def test_an_edited_plan_is_taken_up_at_the_next_move_and_what_is_done_stays_done() -> None:
    easel = begun()
    easel.session.make(moves.go_on)
    easel.source.text = TWO_CANVASES.replace("socket shadow", "brow shadow")
    easel.session.make(moves.go_on)

    done = [(record.turn.passages, record.turn.canvas) for record in easel.session.state.turns]
    assert done == [(("socket shadow", "upper lid"), canvas) for canvas in ("Hall", "School")]
    situation = easel.session.situation()
    assert situation.turn is not None
    assert (situation.turn.passages, situation.turn.canvas) == (("iris",), "School")
    assert easel.session.plan_fault == ""
    ahead = [turn.passages for turn in turns_ahead(easel.session.work, easel.session.state.places)]
    assert ahead[2:4] == [("brow shadow",), ("brow shadow",)]


def test_a_broken_plan_is_refused_with_its_place_and_the_old_one_goes_on() -> None:
    easel = begun()
    easel.source.text = TWO_CANVASES.replace("minutes: 10", "minutes: ten")
    easel.session.make(moves.go_on)

    assert "plan.yaml:11:31:" in easel.session.plan_fault
    assert easel.session.situation().turn_no == 2

    easel.source.text = TWO_CANVASES
    easel.session.make(moves.mark)
    assert easel.session.plan_fault == ""


def test_a_second_coach_only_shows_and_follows() -> None:
    easel = begun()
    watching = easel.opened(read_only="open in another coach")
    easel.session.make(moves.go_on)
    watching.tick()
    watching.make(moves.go_on)

    assert watching.situation() == easel.session.situation()
    assert watching.remarks == ("open in another coach", "Nothing was recorded.")
    assert [event.kind for event in easel.journal.events].count(Kind.TURN_DONE) == 1


def test_a_wish_that_cannot_be_kept_is_explained_at_every_opening() -> None:
    text = TWO_CANVASES.replace("{name: iris, minutes: 10}", "{name: iris, minutes: 10, lead: School}")
    easel = Easel(text + "away: School until 2027-01-20\n")
    explained = "eyes run 2: School should lead but is away; another canvas leads."

    assert explained in easel.session.situation().of_order
    easel.reopen()
    assert explained in easel.session.situation().of_order


def test_in_a_damaged_journal_that_is_only_shown_no_time_passes() -> None:
    easel = begun()
    easel.pass_time(3)
    easel.session.make(moves.mark)
    shown = easel.opened(read_only="the journal is damaged")
    shown.stands_still = True
    easel.clock.go(minutes=300)

    assert shown.situation().turn_ms == 3 * 60_000
