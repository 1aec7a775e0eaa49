"""In batches the session paints together exactly the runs that the engine ordered together."""

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.batches import batches_to_order
from coach.plan.commission import Canvas, Pass, Passage, Plan, runs_of
from coach.plan.reading import read_plan
from coach.session import moves
from coach.session.journal_state import JournalState
from coach.session.ordering import names_of, request_of
from coach.session.work import groups_ahead, runs_of_work, turns_ahead, work_of, work_of_journal
from tests.sessions import TWO_CANVASES, Easel

SIX_RUNS = """
canvases: [Hall, School]
order: {order}
batch: 3
passes:
  - name: eyes
    passages:
      - {{name: lid, lead: Hall}}
      - {{name: iris, lead: School}}
      - lash
      - brow
      - corner
      - glint
"""
MOVES = {
    "go on": moves.go_on,
    "other way": moves.go_other_way,
    "skip": moves.skip,
    "mark": moves.mark,
    "undo": moves.undo,
}
ORDERS = st.sampled_from(["fixed", "snake", "balanced snake"])
CANVASES = ("Hall", "School", "Mill")


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Plans of two or three canvases with wishes for the lead, in batches."""
    names = CANVASES[: draw(st.integers(2, 3))]
    lead = st.none() | st.sampled_from(names)
    passes = []
    for number in range(draw(st.integers(1, 3))):
        own = tuple(Passage(f"p{k}", 600, lead=draw(lead)) for k in range(draw(st.integers(1, 8))))
        passes.append(Pass(f"pass {number}", own, runs_of(f"pass {number}", own)))
    return Plan(
        canvases=tuple(map(Canvas, names)),
        passes=tuple(passes),
        order=draw(st.sampled_from(["fixed", "snake", "rotation", "guarded snake"])),
        batch=draw(st.integers(1, 4)),
    )


def engine_groups(plan: Plan) -> list[list[int]]:
    """Return the batches of a plan of which nothing is done, as the engine makes them."""
    state = JournalState()
    runs = runs_of_work(plan, state, frozenset())
    request, numbers = request_of(runs, state, {}), iter(runs.ahead)
    return [[next(numbers) for _ in range(batch.run_count)] for batch in batches_to_order(request)]


def test_a_batch_begins_anew_where_a_wish_cut_the_one_before() -> None:
    plan = read_plan(SIX_RUNS.format(order="snake"), "plan.yaml")
    work = work_of(plan, {})

    assert list(groups_ahead(work, {})) == [[0], [1, 2, 3], [4, 5]]
    painted = [(turn.canvas, turn.run, turn.place) for turn in turns_ahead(work, {})]
    assert painted[:2] == [("Hall", 1, 1), ("School", 1, 2)]
    assert painted[2:8] == [(c, run, place) for place, c in enumerate(["School", "Hall"], 1) for run in (2, 3, 4)]


@settings(deadline=None)
@given(plans())
def test_the_runs_ahead_are_grouped_as_the_engine_batched_them(plan: Plan) -> None:
    assert list(groups_ahead(work_of(plan, {}), {})) == engine_groups(plan)


@settings(deadline=None)
@given(plans(), st.integers(0, 40))
def test_a_batch_in_hand_is_painted_to_its_end_wherever_it_is_taken_up(plan: Plan, done_count: int) -> None:
    whole = list(turns_ahead(work_of(plan, {}), {}))
    state = JournalState()
    state.announced = names_of(runs_of_work(plan, state, frozenset()), work_of(plan, {}).orders)
    state.places = {(t.pass_name, name, t.canvas): t.place for t in whole[:done_count] for name in t.passages}

    assert list(turns_ahead(work_of_journal(plan, state, absent=frozenset()), state.places)) == whole[done_count:]


def test_after_a_turn_on_the_other_canvas_the_batch_is_counted_from_where_the_engine_began_it() -> None:
    """Run 1 is closed out of turn while run 2 has not begun: the engine begins a batch of three at run 2."""
    easel = Easel(SIX_RUNS.format(order="fixed").replace(", lead: Hall", "").replace(", lead: School", ""))
    for move in (moves.go_on, moves.go_on, moves.go_other_way, moves.go_on):
        easel.session.make(move)
    work, places = easel.session._work, easel.session._state.places

    assert list(groups_ahead(work, places)) == [[1, 2, 3], [4, 5]]
    easel.session.make(moves.go_on)
    assert list(groups_ahead(easel.session._work, easel.session._state.places)) == [[1, 2, 3], [4, 5]]


def test_corrections_of_two_passes_share_a_batch_as_they_do_for_the_engine() -> None:
    plan = read_plan(TWO_CANVASES + "batch: 2\n", "plan.yaml")
    marks = [(name, passage, c.name) for name, passage in (("eyes", "iris"), ("nose", "tip")) for c in plan.canvases]
    work = work_of(plan, {}, marks=marks)

    assert [run.pass_name for run in work.runs[-2:]] == ["return to eyes", "return to nose"]
    assert list(groups_ahead(work, {}))[-1] == [len(work.runs) - 2, len(work.runs) - 1]


def test_after_a_skipped_lead_the_lead_that_is_shown_live_is_the_one_a_replay_counts() -> None:
    """The one that paints a run first leads it, whoever was passed over before."""
    easel = Easel(SIX_RUNS.format(order="fixed"))
    for move in (moves.go_on, moves.skip, moves.go_on):
        easel.session.make(move)

    assert easel.session.situation().leads == (0, 1)
    easel.session.make(moves.end_session)
    easel.session.make(moves.go_on)
    easel.reopen()
    assert easel.session.situation().leads == (0, 1)


@settings(max_examples=60, deadline=None)
@given(ORDERS, st.lists(st.sampled_from([*MOVES, "go on", "go on", "edit"]), max_size=40))
def test_in_batches_live_and_replay_are_the_same(order: str, done: list[str]) -> None:
    check_replay(order, done)


@settings(max_examples=60, deadline=None)
@given(ORDERS, st.lists(st.sampled_from(["go on", "go on", "go on", "end", "undo"]), max_size=40))
def test_in_batches_it_is_the_same_after_several_sessions(order: str, done: list[str]) -> None:
    """A batch that was begun in the session before is gone on with."""
    check_replay(order, done)


def check_replay(order: str, done: list[str]) -> None:
    """Check that a replay shows what was shown live, and paints on in the same batches."""
    text = SIX_RUNS.format(order=order)
    easel = Easel(text)
    for name in done:
        easel.clock.go(seconds=20)
        if name == "edit":
            easel.source.text = text.replace("- lash", "- lashes") if easel.source.text == text else text
        else:
            easel.session.make({**MOVES, "end": moves.end_session}[name])
    easel.session.make(moves.pause)
    live, again = easel.session, easel.opened(read_only="only looking")

    assert again.situation() == live.situation()
    groups = [list(groups_ahead(session._work, session._state.places)) for session in (live, again)]
    assert groups[0] == groups[1]
