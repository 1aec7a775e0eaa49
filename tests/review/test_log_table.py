"""The log: rows in the order painted, totals, leads, deviations; undone moves leave no row."""

import pytest

from coach.review.log_table import COLUMNS, log_lines, plain_log, plain_row, text_row, total_lines
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
    assert total_lines(painted, painted.turns) == (
        "Led: Hall 2 of 2 runs.",
        "Hall: 2 turns, 8 min of 33 min planned.",
        "School: 1 turn, 3 min of 23 min planned.",
        "eyes: 11 min of 56 min planned.",
    )


def test_the_printed_log_goes_by_day_and_pass_and_what_was_noted_stands_below_its_turn() -> None:
    assert log_lines(painted_session().turns, 80) == [
        "Fri 15 Jan 2027, session 1",
        "  eyes",
        "    09:00  Hall    leads      6 of  23 min  socket shadow + upper lid",
        "                                            “[red] keep cool”",
        "    09:06  School  follows    3 of  23 min  socket shadow + upper lid",
        "                                            to come back to",
        "    09:09  Hall    leads      2 of  10 min  iris",
        "                                            went the other way",
        "    09:11  School  follows    0 of  10 min  iris",
        "                                            skipped",
    ]


@pytest.mark.parametrize("columns", [30, 40, 60, 80])
def test_the_printed_log_fits_and_breaks_no_word(columns: int) -> None:
    lines = log_lines(painted_session().turns, columns)
    assert max(map(cells, lines)) <= columns
    words = {word for line in lines for word in line.split()}
    assert {"socket", "shadow", "School", "follows", "“[red]", "cool”", "skipped"} <= words


def test_turns_can_be_chosen_by_pass_and_canvas() -> None:
    painted = painted_session()

    assert len(chosen(painted.turns, canvas="School")) == 2
    assert chosen(painted.turns, pass_name="nose") == ()


def test_who_led_is_told_of_the_runs_in_view_not_of_the_turns_in_view() -> None:
    """School alone has turns in view, but Hall led its one painted run."""
    painted = painted_session()
    turns = chosen(painted.turns, canvas="School")

    assert "Led: Hall 1 of 1 run." in total_lines(painted, turns)
    assert plain_log(painted, turns)["leads"] == [{"pass": "eyes", "run": 1, "lead": "Hall"}]
