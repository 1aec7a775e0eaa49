"""Edges that must meet wet, layers that must be dry, and the question whether something is dry to touch."""

import datetime as dt

from coach.forecast.layers import Openness
from coach.journal.events import LaidPaint
from coach.journal.reading import local_time
from coach.plan.reading import read_plan
from coach.session import moves
from coach.session.journal_state import state_of
from coach.session.records import TurnRecord
from coach.session.wet_and_dry import paint_laid
from tests.sessions import Easel

DAY_MIN = 24 * 60
LAYERS = """
canvases: [{name: Hall}]
palette: [{name: burnt umber, pigment: PBr7}]
mixtures: [{name: dark, parts: {burnt umber: 1}}]
passes:
  - name: ground
    passages: [{name: wash, minutes: 20, mixture: dark}, {name: corner, minutes: 20, mixture: dark}]
  - name: eyes
    passages:
      - {name: glaze, minutes: 10, over: ground / wash}
      - {name: light, minutes: 10, into: ground / corner}
      - {name: rim, minutes: 10}
      - {name: edge, minutes: 10, beside: rim}
"""


def ground_painted() -> Easel:
    easel = Easel(LAYERS)
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    return easel


def test_a_layer_over_what_is_still_wet_is_told_with_its_days() -> None:
    easel = ground_painted()
    (edge,) = easel.session.situation().edges

    assert (edge.passage, edge.below, edge.canvas) == ("glaze", "wash", "Hall")
    assert edge.dry_from is not None
    assert edge.dry_from[1] - edge.dry_from[0] == dt.timedelta(days=2)  # burnt umber, 1 to 3 days


def test_a_layer_over_what_was_felt_dry_is_not_warned_of() -> None:
    easel = ground_painted()
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=DAY_MIN)
    easel.session.make(moves.find_dry)

    assert not [edge for edge in easel.session.situation().edges if edge.dry_from]


def test_an_edge_to_be_met_wet_sets_soon_after_a_day_s_work_and_has_set_the_next_day() -> None:
    easel = ground_painted()
    seen = []
    for hours in (7, 2, 16):
        easel.clock.go(minutes=hours * 60)
        easel.session.tick()
        seen.append([edge.openness for edge in easel.session.situation().edges if edge.passage == "light"])

    assert seen == [[], [Openness.SETS_SOON], [Openness.SET]]


def test_a_run_begun_long_ago_is_warned_of_before_its_first_passage_sets() -> None:
    easel = ground_painted()
    for _ in range(2):
        easel.session.make(moves.go_on)
    easel.pass_time(3)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=10 * 60)
    easel.session.make(moves.go_on)
    edges = [edge for edge in easel.session.situation().edges if edge.passage == "edge"]

    assert [(edge.below, edge.openness) for edge in edges] == [("rim", Openness.SETS_SOON)]


def test_the_coach_asks_once_a_day_of_each_mixture_until_it_is_dry() -> None:
    easel = ground_painted()
    assert easel.session.situation().asked_dry is None
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=DAY_MIN)
    asked = easel.session.situation().asked_dry
    assert asked is not None
    assert asked.turn.passages == ("wash",)

    easel.session.make(moves.find_wet)
    asked = easel.session.situation().asked_dry
    assert asked is not None
    assert asked.turn.passages == ("corner",)
    easel.session.make(moves.find_wet)
    assert easel.session.situation().asked_dry is None

    easel.clock.go(minutes=DAY_MIN)
    easel.session.make(moves.find_dry)
    assert easel.session.situation().asked_dry is None
    easel.clock.go(minutes=DAY_MIN)
    assert easel.session.situation().asked_dry is None


def test_the_question_goes_when_work_is_under_way() -> None:
    easel = ground_painted()
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=DAY_MIN)
    easel.session.make(moves.go_on)
    easel.pass_time(31)

    assert easel.session.situation().asked_dry is None
    easel.session.make(moves.find_dry)
    assert easel.session.remark == "The coach asks about no passage now."


def with_medium(text: str, medium: str) -> str:
    return text.replace("passes:", f"forecast: {{medium: {medium}}}\npasses:")


def test_oil_laid_yesterday_stays_oil_when_the_plan_says_alkyd_from_today() -> None:
    """Trade facts B3: burnt umber in oil takes 1 to 3 days, B2.11: alkyd less than one."""
    easel = ground_painted()
    before = easel.session.situation().edges
    easel.source.text = with_medium(LAYERS, "alkyd")
    easel.session.tick()

    assert easel.session.plan.forecast.medium == "alkyd"
    assert easel.session.situation().edges == before


def test_a_journal_that_does_not_tell_of_the_paint_is_read_with_the_plan_of_that_time() -> None:
    easel = ground_painted()
    told = {
        record.turn.passages: paint_laid(easel.session.plan, record, record.turn.passages[0]) for record in turns(easel)
    }
    for number, event in enumerate(easel.journal.events):
        easel.journal.events[number] = event._replace(as_painted=())
    again = state_of(easel.journal.events)
    plan = read_plan(with_medium(LAYERS, "alkyd"), "plan.yaml")

    assert {record.turn.passages: paint_laid(plan, record, record.turn.passages[0]) for record in again.turns} == told
    assert told["wash",] == LaidPaint("dark", "oil", "", 1, 3)


def turns(easel: Easel) -> list[TurnRecord]:
    assert all(record.as_painted for record in easel.session.state.turns)
    return easel.session.state.turns


TWO_LAYERED = LAYERS.replace("canvases: [{name: Hall}]", "canvases: [{name: Hall}, {name: School}]")


def grounds_painted() -> Easel:
    easel = Easel(TWO_LAYERED)
    for _ in range(5):
        easel.session.make(moves.go_on)
    return easel


def test_a_run_that_is_not_dry_below_stays_announced_until_another_is_asked_for() -> None:
    easel = grounds_painted()
    before = easel.session.situation().turn
    assert before is not None
    assert before.passages == ("glaze",)
    assert easel.session.make(moves.take_dry_run)
    taken = easel.session.situation().turn
    assert taken is not None
    assert taken.passages == ("light",)  # painted into the corner, which is wet
    assert "waits until all below it is dry" in easel.session.situation().of_order

    easel.reopen()
    assert easel.session.situation().turn == taken
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    again = easel.session.situation().turn
    assert again is not None
    assert again.passages == ("glaze",)


def test_another_run_taken_first_is_taken_back_by_undo() -> None:
    easel = grounds_painted()
    before = easel.session.situation().turn
    easel.session.make(moves.take_dry_run)
    easel.session.make(moves.undo)
    assert easel.session.remark == "Taken back: taking another passage while this one waits."
    assert easel.session.situation().turn == before


def test_no_other_run_is_taken_where_none_need_wait_or_all_must() -> None:
    easel = Easel(TWO_LAYERED)
    easel.session.make(moves.go_on)
    assert not easel.session.make(moves.take_dry_run)
    assert easel.session.remark == "Nothing wet lies under this turn: it need not wait."

    text = TWO_LAYERED[: TWO_LAYERED.index("      - {name: light")]
    easel = Easel(text)
    for _ in range(5):
        easel.session.make(moves.go_on)
    assert not easel.session.make(moves.take_dry_run)
    assert easel.session.remark.startswith("All else lies over paint that is wet")


def test_a_change_asked_for_late_is_a_return_that_dries_anew() -> None:
    """Burnt umber, 1 to 3 days (trade facts B3): felt dry, gone over again, and under a new layer wet again."""
    ground = LAYERS[: LAYERS.index("  - name: eyes")]
    easel = Easel(ground)
    easel.session.make(moves.go_on)
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=5 * DAY_MIN)
    easel.session.make(moves.find_dry)
    for _ in range(3):  # begin, the corner, the return to the wash
        easel.session.make(moves.go_on)
    assert easel.session.state.turns[-1].turn.pass_name == "return to ground"
    easel.source.text = ground + "  - {name: eyes, passages: [{name: glaze, minutes: 10, over: ground / wash}]}\n"
    easel.session.tick()

    (edge,) = easel.session.situation().edges
    today = local_time(easel.clock.read()).date()
    assert edge.dry_from == (today + dt.timedelta(days=1), today + dt.timedelta(days=3))
