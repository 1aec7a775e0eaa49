"""What the Easel asks: gravest first, each with the moves of Enter and Esc, in words that can be read aloud."""

import datetime as dt

import pytest

from coach.forecast.layers import Openness
from coach.limits.cautions import BODY
from coach.limits.exceeded import ExceededLimit
from coach.limits.rule_table import Grade, Key
from coach.screens.easel import wording
from coach.screens.easel.asks import TAKE_AWAY, Ask, asks_of
from coach.screens.easel.screen import MOVES
from coach.session import moves
from coach.session.records import Absence
from coach.session.situation import Situation
from coach.session.wet_and_dry import WetEdge
from tests.easel_states import NAMES, STATES, plan_of
from tests.sessions import Easel

MIN = 60_000
EDGE = WetEdge(passage="iris", canvas="Hall", below="upper lid")
DRY_FROM = (dt.date(2027, 5, 3), dt.date(2027, 5, 6))


def situation(state: str = "working") -> Situation:
    return STATES[state](plan_of(NAMES["ordinary"])).session.situation()


def asked(now: Situation, later: tuple[str, ...] = ()) -> list[tuple[str, str, str]]:
    """Return what is said, and the moves of Enter and Esc."""
    return [(ask.notice.says, ask.yes, ask.no) for ask in asks_of(now, (), later)]


def passed(key: Key, grade: Grade = Grade.NOTICE, so_far_min: int = 52, limit_min: int = 50) -> ExceededLimit:
    return ExceededLimit(key=key, grade=grade, so_far_ms=so_far_min * MIN, limit_ms=limit_min * MIN)


def test_nothing_is_asked_where_nothing_needs_an_answer() -> None:
    assert asked(situation()) == []
    assert asked(situation("not begun")) == []


def test_the_time_away_is_counted_by_enter_and_left_out_by_esc() -> None:
    assert asked(situation("was away")) == [
        ("You were away 12 min. Did you paint meanwhile?", "count_away_as_work", TAKE_AWAY)
    ]


@pytest.mark.parametrize(
    "absence", [Absence(1, 29_000, ended_session=False), Absence(1, 36_000_000, ended_session=True)]
)
def test_a_time_away_that_is_short_or_cannot_count_is_not_spoken_of(absence: Absence) -> None:
    assert asked(situation()._replace(absence=absence)) == []


@pytest.mark.parametrize(
    ("limit", "says", "no"),
    [
        (passed(Key.BLOCK), "You have painted 52 min without a rest.", "work_ten_more"),
        (passed(Key.DAY), f"You have painted 52 min today; your day is 50 min. I{BODY[1:]}.", "silence_today"),
        (
            passed(Key.DAY, Grade.STRONG),
            f"Strong caution: You have painted 52 min today; your day is 50 min. I{BODY[1:]}.",
            "silence_today",
        ),
        (
            passed(Key.BETWEEN_DAYS, Grade.CAUTION),
            f"Caution: Only 52 min off since you last painted; 50 min is the least. I{BODY[1:]}.",
            "silence_today",
        ),
        (
            passed(Key.NIGHT, Grade.CAUTION, 23 * 60 + 5, 23 * 60),
            f"Caution: It is 23:05. From 23:00 on, hand and eye slip more easily. I{BODY[1:]}.",
            "silence_today",
        ),
    ],
)
def test_a_limit_is_told_calmly_with_its_figures_its_grade_and_its_answer(
    limit: ExceededLimit, says: str, no: str
) -> None:
    assert asked(situation()._replace(exceeded=(limit,))) == [(says, "", no)]


def test_a_rest_that_has_just_begun_is_not_called_for_again() -> None:
    easel = STATES["rest due"](plan_of(NAMES["ordinary"]))
    assert asked(easel.session.situation())
    easel.session.make(moves.rest)
    assert asked(easel.session.situation()) == []


def test_every_limit_has_a_sentence_and_those_of_the_body_say_that_they_are_no_medical_advice() -> None:
    for key in Key:
        said = wording.limit_line(passed(key))
        assert said.endswith(f"{BODY[1:]}.") or key is Key.BLOCK
        assert "{" not in said


@pytest.mark.parametrize(
    ("edge", "says", "yes"),
    [
        (EDGE._replace(openness=Openness.SET), "Upper lid on Hall has set: iris cannot meet it wet any more.", ""),
        (EDGE._replace(openness=Openness.SETS_SOON), "Upper lid on Hall sets soon: iris is to meet it wet.", ""),
        (
            EDGE._replace(dry_from=DRY_FROM),
            "Hall: upper lid under iris is wet, perhaps until 6 May.",
            "take_dry_run",
        ),
    ],
)
def test_an_edge_that_must_be_wet_or_dry_is_told_and_can_be_taken_away(edge: WetEdge, says: str, yes: str) -> None:
    assert asked(situation()._replace(edges=(edge,))) == [(says, yes, TAKE_AWAY)]


def test_a_turn_that_took_too_long_asks_whether_the_key_was_forgotten() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(14 * 60)
    easel.session.make(moves.go_on)
    says = [text for text, *_ in asked(easel.session.situation()) if "Forgot" in text]
    assert says[0].endswith("took 14 h. Forgot the key? c enters the real minutes.")


def test_the_gravest_comes_first_and_what_can_wait_last() -> None:
    now = situation("was away")._replace(
        exceeded=(passed(Key.BLOCK), passed(Key.DAY, Grade.STRONG)), edges=(EDGE._replace(openness=Openness.SET),)
    )
    asks = list(asks_of(now, ("not recorded: the disk is full",), ("a note of last time is not finished",)))
    assert [ask.notice.says.split()[0] for ask in asks] == ["not", "You", "Strong", "You", "Upper", "a"]


def test_oily_rags_are_spoken_of_when_the_day_s_work_is_over() -> None:
    assert wording.RAGS in [says for says, *_ in asked(situation("session over"))]
    assert wording.RAGS not in [says for says, *_ in asked(situation())]


def every_ask() -> list[Ask]:
    """Return an ask of every kind."""
    now = situation("was away")
    edges = (EDGE._replace(openness=Openness.SET), EDGE._replace(dry_from=DRY_FROM))
    turn = situation("working").before[0]
    return list(
        asks_of(now._replace(exceeded=tuple(map(passed, Key)), edges=edges, asked_dry=turn, forgotten=turn), (), ("x",))
    )


def test_every_answer_has_its_words_and_is_a_move() -> None:
    for ask in every_ask():
        assert bool(ask.yes) == bool(ask.notice.yes)
        assert bool(ask.no) == bool(ask.notice.no)
        assert {ask.yes, ask.no} - {"", TAKE_AWAY} <= set(MOVES)
