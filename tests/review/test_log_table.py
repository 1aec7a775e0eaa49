"""The log: rows in the order painted, totals, leads, deviations; undone moves leave no row."""

import re

import pytest

from coach.journal.events import Kind
from coach.review.fairness.run_times import runs_painted
from coach.review.log_table import COLUMNS, log_lines, painted_alone, plain_log, plain_row, text_row, total_lines
from coach.review.painted import chosen
from coach.session import moves
from coach.session.journal_state import JournalState, state_of
from coach.text import cells
from tests.sessions import Easel


def painted_session() -> JournalState:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(6)
    easel.session.make(moves.noting("[red] keep cool"))
    easel.session.make(moves.go_on)
    easel.clock.go(seconds=10)
    easel.session.make(moves.go_on)
    easel.session.make(moves.undo)
    easel.pass_time(3 - 1 / 6)
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_other_way)
    easel.pass_time(2)
    easel.session.make(moves.go_on)
    easel.session.make(moves.skip)
    easel.pass_time(1)
    return state_of(easel.journal.after(0))


def test_rows_tell_what_was_painted_in_which_order() -> None:
    rows = [
        (row["canvas"], row["place"], row["minutes"], row["return"], row["deviation"])
        for row in map(plain_row, painted_session().turns)
    ]

    assert rows == [
        ("Hall", 1, 6.0, False, ""),
        ("School", 2, 3.0, True, ""),
        ("Hall", 1, 2.0, False, "went the other way"),
        ("School", 2, 0.0, False, "skipped"),
    ]


def test_text_rows_hold_the_same_and_markup_stays_text() -> None:
    painted = painted_session()
    row = dict(zip(COLUMNS, text_row(painted.turns[0]), strict=True))

    assert row["notes"] == "[red] keep cool"
    assert row["passages"] == "socket shadow + upper lid"
    assert (row["minutes"], row["planned_minutes"]) == ("6.0", "23.0")
    assert row["when"] == "2027-01-15 09:00"


def test_totals_count_painted_turns_and_who_led() -> None:
    painted = painted_session()
    log = plain_log(painted, painted.turns)

    assert log["totals"]["canvas"] == {  # type: ignore[index]
        "Hall": {"turns": 2, "minutes": 8.0, "planned_minutes": 33.0},
        "School": {"turns": 1, "minutes": 3.0, "planned_minutes": 23.0},
    }
    assert log["leads"] == [{"pass": "eyes", "run": 1, "lead": "Hall"}, {"pass": "eyes", "run": 2, "lead": "Hall"}]
    assert log["sessions"][0]["minutes"] == 11.0  # type: ignore[index]
    assert total_lines(painted, painted.turns, runs_painted(painted.turns)) == (
        "Led: Hall 1 and School 0 of 1 run.",
        "Hall: 2 turns, 8 min of 33 min planned.",
        "School: 1 turn, 3 min of 23 min planned.",
        "eyes: 11 min of 56 min planned.",
    )


def lines_of(painted: JournalState, columns: int) -> list[str]:
    return [line.text for line in log_lines(painted, painted.turns, (), columns)]


def test_the_log_goes_by_day_and_pass_the_newest_first_and_what_was_noted_stands_below_its_turn() -> None:
    lines = lines_of(painted_session(), 80)

    assert [re.sub(" {3,}", "  ", line) for line in lines] == [
        "Fri 15 Jan 2027 · eyes",
        "09:11  School  skipped  iris",
        "09:09  Hall  led  iris  2 of 10 min",
        "  went the other way",
        "09:06  School  followed  socket shadow + upper lid  3 of 23 min",
        "  look again",
        "09:00  Hall  led  socket shadow + upper lid  6 of 23 min",
        "  “[red] keep cool”",
    ]
    assert {len(line) for line in lines if line.endswith(" min")} == {80}


@pytest.mark.parametrize("columns", [16, 20, 30, 40, 60, 80, 200])
def test_the_log_fits_and_breaks_no_word(columns: int) -> None:
    lines = lines_of(painted_session(), columns)
    assert max(map(cells, lines)) <= columns
    words = {word for line in lines for word in line.split()}
    assert {"socket", "shadow", "School", "followed", "“[red]", "cool”", "skipped"} <= words


def test_what_followed_the_last_stroke_stands_in_the_log_and_a_return_on_one_canvas_is_led_by_none() -> None:
    easel = Easel("canvases: [Hall, School]\nlimits: {press: 0 s}\npasses: [{name: eyes, passages: [iris]}]\n")
    for _ in range(4):
        easel.session.make(moves.go_on)
        easel.pass_time(3)
        if len(easel.session.state.turns) == 0:
            easel.session.make(moves.mark)
    assert easel.session.situation().turn is None
    easel.clock.go(minutes=24 * 60)
    for kind in (Kind.PHOTOGRAPHED, Kind.TO_FRAMER):
        assert easel.session.make(moves.following("Hall", kind))
    painted = state_of(easel.journal.after(0))
    alone = painted_alone(painted, runs_painted(painted.turns), easel.plan)
    lines = [line.text for line in log_lines(painted, painted.turns, alone, 80)]

    assert lines[:3] == ["Sat 16 Jan 2027", "09:12  Hall to the framer", "09:12  Hall photographed"]
    assert [line.split()[2] for line in lines if line.endswith(" min")] == ["alone", "followed", "led"]


def test_turns_can_be_chosen_by_pass_and_canvas() -> None:
    painted = painted_session()

    assert len(chosen(painted.turns, canvas="School")) == 2
    assert chosen(painted.turns, pass_name="nose") == ()


def test_who_led_is_told_of_the_runs_in_view_not_of_the_turns_in_view() -> None:
    """School alone has turns in view, but Hall led its one painted run."""
    painted = painted_session()
    turns = chosen(painted.turns, canvas="School")

    assert "Led: Hall 1 and School 0 of 1 run." in total_lines(painted, turns, runs_painted(painted.turns))
    assert plain_log(painted, turns)["leads"] == [{"pass": "eyes", "run": 1, "lead": "Hall"}]
