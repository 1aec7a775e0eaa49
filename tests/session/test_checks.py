"""Checks, turns without paint: timed, on each canvas, and outside leads, balance, pace and drying."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.composition.areas import areas_of
from coach.forecast.steps import steps_of
from coach.journal.events import Turn
from coach.journal.reading import local_time
from coach.plan.reading import read_plan
from coach.review.check_table import summary_line
from coach.review.fairness.report import report
from coach.review.fairness.run_times import runs_painted, runs_to_come
from coach.review.forecast_input import forecast_input
from coach.review.log_table import log_lines, plain_row
from coach.review.order_table import order_report
from coach.session import moves
from coach.session.journal_state import JournalState, state_of
from coach.session.moves import MoveRefused
from coach.session.records import Phase
from coach.session.work import turns_ahead, work_of
from tests.sessions import Easel

HEAD = """
canvases: [{canvases}]
order: {order}
batch: {batch}
limits: {{press: 0 s}}
passes:
"""
PASSES = {"eyes": ["lid", "iris", "lash", "brow", "glint"], "nose": ["wing", "tip", "bridge"]}
MINUTES = {"lid": 12, "lash": 31, "tip": 22}
LOOKS = ("mirror", "upside down", "step back", "fresh eye", "colour")
ORDERS = ("even turns", "there and back", "by lot", "always the same")
MOVES = {
    "go on": moves.go_on,
    "other way": moves.go_other_way,
    "skip": moves.skip,
    "mark": moves.mark,
    "end": moves.end_session,
}


def plan_with(looks: dict[str, str], canvases: str = "Hall, School", order: str = "even turns", batch: int = 1) -> str:
    """Return a plan of eight runs; after the passages in `looks`, and before all others after "", comes a check."""
    text = HEAD.format(canvases=canvases, order=order, batch=batch)
    first = looks.get("")
    for pass_name, names in PASSES.items():
        rows = [f"{{name: before all, check: {first}}}"] if first and pass_name == "eyes" else []
        for name in names:
            rows.append(f"{{name: {name}, minutes: {MINUTES.get(name, 15)}}}")
            rows += [f"{{name: after {name}, check: {looks[name]}, minutes: 2}}"] if name in looks else []
        text += f"  - {{name: {pass_name}, passages: [{', '.join(rows)}]}}\n"
    return text


def in_hand(easel: Easel) -> Turn | None:
    return easel.session.situation().turn


def known(turn: Turn | None) -> object:
    """Return what a turn is to the painter; the numbers of the runs differ where checks lie between them."""
    return turn and (turn.pass_name, turn.passages, turn.canvas, turn.place, turn.planned_s)


def pass_checks(easel: Easel) -> None:
    """Sit down and make the checks that are due."""
    if easel.session.situation().phase is Phase.NOT_BEGUN:
        easel.session.make(moves.go_on)
    while (turn := in_hand(easel)) is not None and turn.check:
        easel.pass_time(2)
        easel.session.make(moves.go_on)


WITH_CHECKS = st.dictionaries(
    st.sampled_from(["", *PASSES["eyes"], *PASSES["nose"]]), st.sampled_from(LOOKS), min_size=1
)


@given(
    WITH_CHECKS,
    st.sampled_from(["Hall, School", "Hall, School, Mill"]),
    st.sampled_from(ORDERS),
    st.integers(1, 3),
    st.lists(st.sampled_from([*["go on"] * 8, "other way", "skip", "mark", "end", "night"]), max_size=30),
)
@settings(max_examples=30, deadline=None)
def test_what_is_painted_goes_on_as_if_there_were_no_checks(
    looks: dict[str, str], canvases: str, order: str, batch: int, actions: list[str]
) -> None:
    plain, looked = Easel(plan_with({}, canvases, order, batch)), Easel(plan_with(looks, canvases, order, batch))
    for action in actions:
        for easel in (plain, looked):
            pass_checks(easel)
            easel.pass_time(7)
            easel.session.make(MOVES["end" if action == "night" else action])
            easel.clock.go(minutes=14 * 60 if action == "night" else 0)
            pass_checks(easel)
        assert known(in_hand(looked)) == known(in_hand(plain))
        check_the_same(plain, looked)


def check_the_same(plain: Easel, looked: Easel) -> None:
    """Check that order, leads, pace, drying and fairness are the same with checks as without."""
    one, other = plain.session, looked.session
    assert other.work.leads == one.work.leads
    assert other.state.announced == one.state.announced
    ahead = [
        [known(turn) for turn in turns_ahead(session.work, session.state.places) if not turn.check]
        for session in (one, other)
    ]
    assert ahead[0] == ahead[1]
    tables = [order_report(session.work, session.state) for session in (one, other)]
    assert tables[0].balance == tables[1].balance
    fair = [
        report(runs_painted(session.state.turns), to_come=runs_to_come(session.plan, session.state.turns, None))
        for session in (one, other)
    ]
    assert [run.order for run in runs_painted(other.state.turns)] == [
        run.order for run in runs_painted(one.state.turns)
    ]
    assert fair[0].balance == fair[1].balance
    assert (fair[0].runs, fair[0].runs_to_come) == (fair[1].runs, fair[1].runs_to_come)
    today = local_time(plain.clock.read()).date()
    outlooks = [forecast_input(session.plan, session.state, today, {}).outlook for session in (one, other)]
    assert [turn.worked_s for turn in outlooks[0].turns] == [turn.worked_s for turn in outlooks[1].turns]
    assert outlooks[0].paint == outlooks[1].paint
    assert {own.passage for own in outlooks[0].laid} == {own.passage for own in outlooks[1].laid}


@given(WITH_CHECKS, st.lists(st.sampled_from([*["go on"] * 9, *MOVES, "undo", "night", "kill"]), max_size=40))
@settings(max_examples=30, deadline=None)
def test_a_replay_shows_the_checks_that_were_shown(looks: dict[str, str], actions: list[str]) -> None:
    easel = Easel(plan_with(looks))
    for action in actions:
        if action == "night":
            easel.session.make(moves.end_session)
            easel.clock.go(minutes=14 * 60)
        elif action == "kill":
            easel.reopen()
        else:
            easel.pass_time(3)
            easel.session.make(moves.undo if action == "undo" else MOVES[action])
        easel.session.tick()
        shown = list(turns_ahead(easel.session.work, easel.session.state.places))
        assert len(shown) == easel.session.work.turn_count - easel.session.work.turns_done
        again = easel.opened(read_only="shown only")
        assert list(turns_ahead(again.work, again.state.places)) == shown


def test_a_check_comes_on_every_canvas_after_its_run_beginning_where_the_painter_stands() -> None:
    easel = Easel(plan_with({"lid": "mirror"}))
    turns = list(turns_ahead(easel.session.work, {}))
    assert [turn.check for turn in turns[:5]] == ["", "", "mirror", "mirror", ""]
    assert [turn.canvas for turn in turns[2:4]] == [turns[1].canvas, turns[0].canvas]
    assert [(turn.place, turn.is_lead, turn.planned_s) for turn in turns[2:4]] == [(1, False, 120), (2, False, 120)]


def test_a_check_is_timed_and_lays_no_paint() -> None:
    easel = Easel(plan_with({"lid": "mirror"}))
    for _ in range(5):
        easel.session.make(moves.go_on)
        easel.pass_time(4)
    painted, checked = easel.session.state.turns[1], easel.session.state.turns[2]
    assert (painted.is_painted, checked.is_painted) == (True, False)
    assert (checked.turn.check, checked.worked_ms, checked.as_painted) == ("mirror", 4 * 60_000, ())
    assert checked.turn.passages == ("after lid",)
    assert state_of(easel.journal.events).turns == easel.session.state.turns
    (told,) = [line.text.split() for line in log_lines(easel.session.state, [checked], (), 80) if not line.is_head]
    assert told[1:] == [checked.turn.canvas, "check", "after", "lid", "(mirror)", "4", "of", "2", "min"]
    assert (plain_row(checked)["check"], plain_row(painted)["check"]) == ("mirror", "")


def test_a_check_takes_time_in_the_forecast_and_nothing_waits_for_it_to_dry() -> None:
    easel = Easel(plan_with({"lid": "mirror"}))
    today = local_time(easel.clock.read()).date()
    outlook = forecast_input(easel.plan, easel.session.state, today, {}).outlook
    steps = steps_of(easel.plan, outlook)
    assert [(step.planned_s, step.drying is None) for step in steps[:4]] == [(720, False)] * 2 + [(120, True)] * 2


def test_a_check_has_no_area_and_is_counted_by_itself() -> None:
    plan = read_plan(plan_with({"lid": "mirror", "tip": "colour"}), "plan.yaml")
    assert [area.passage.name for area in areas_of(plan)] == [*PASSES["eyes"], *PASSES["nose"]]
    assert "8 passages in 8 runs, each painted in one go, 2 checks, 4 h 48 min" in summary_line(plan, "plan.yaml")


def test_a_check_within_a_batch_comes_after_the_batch() -> None:
    easel = Easel(plan_with({"lid": "mirror"}, batch=2))
    turns = list(turns_ahead(easel.session.work, {}))
    assert [turn.check for turn in turns[:7]] == ["", "", "", "", "mirror", "mirror", ""]


def test_a_fresh_eye_waits_until_the_next_morning_and_comes_before_the_first_paint() -> None:
    easel = Easel(plan_with({"lid": "fresh eye"}))
    for _ in range(3):  # the session begins, and the first run is painted on both canvases
        easel.pass_time(12)
        easel.session.make(moves.go_on)
    assert in_hand(easel).passages == ("iris",)  # type: ignore[union-attr]
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=14 * 60)
    easel.session.tick()
    assert in_hand(easel).check == "fresh eye"  # type: ignore[union-attr]
    easel.session.make(moves.go_on)
    assert in_hand(easel).check == "fresh eye"  # type: ignore[union-attr]
    for _ in range(2):
        easel.pass_time(3)
        easel.session.make(moves.go_on)
    assert in_hand(easel).passages == ("iris",)  # type: ignore[union-attr]


def test_a_turn_left_over_night_is_finished_before_a_fresh_eye() -> None:
    easel = Easel(plan_with({"lid": "fresh eye"}))
    for _ in range(3):
        easel.session.make(moves.go_on)
        easel.pass_time(12)
    easel.session.make(moves.end_session)  # iris is begun
    easel.clock.go(minutes=14 * 60)
    easel.session.make(moves.go_on)
    assert in_hand(easel).passages == ("iris",)  # type: ignore[union-attr]
    easel.pass_time(3)
    easel.session.make(moves.go_on)
    assert in_hand(easel).check == "fresh eye"  # type: ignore[union-attr]


def test_a_run_below_which_it_is_wet_is_not_put_off_for_a_check() -> None:
    text = plan_with({"iris": "mirror"}).replace("{name: iris,", "{name: iris, over: lid,")
    easel = Easel(text)
    for _ in range(3):
        easel.session.make(moves.go_on)
    other = moves.take_dry_run(
        moves.Standing(easel.session.work, easel.session.state, tuple(easel.journal.events)), easel.clock.read()
    )
    assert other.turn is not None
    assert other.turn.passages == ("lash",)


def test_nothing_is_felt_dry_of_a_check() -> None:
    easel = Easel(plan_with({"": "mirror"}))
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    easel.clock.go(minutes=26 * 60)
    standing = moves.Standing(easel.session.work, easel.session.state, tuple(easel.journal.events))
    with pytest.raises(MoveRefused, match="asks about no passage now"):
        moves.find_dry(standing, easel.clock.read())


def test_a_plan_of_checks_only_is_no_work_to_lead() -> None:
    plan = read_plan("canvases: [Hall, School]\npasses: [{name: look, passages: [{name: all, check: colour}]}]\n", "")
    work = work_of(plan, {})
    assert [turn.check for turn in turns_ahead(work, {})] == ["colour", "colour"]
    assert order_report(work, JournalState()).balance.leads == {"Hall": 0, "School": 0}
