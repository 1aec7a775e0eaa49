"""The Easel as text: it fits every terminal, says the phase in words, and lets no name steer the screen.

Cells are counted as the framework counts them. Control characters are those of Unicode category Cc, and the
marks that turn the direction of writing are those of UAX #9 (from memory).
"""

import unicodedata
from functools import cache
from typing import Final

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.plan.commission import Canvas
from coach.screens.easel import wording
from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.lines import Line, Role
from coach.screens.widgets.block_letters import height_cells, width_cells
from coach.session import moves
from coach.session.records import Absence, Phase
from coach.session.situation import Situation
from coach.text import clock, span
from tests.sessions import TWO_CANVASES, Easel

HOSTILE_NAMES: Final = {
    "markup": "[bold red][@click=app.quit]Hall[/]",
    "emoji": "👩‍🎨🖼️ 油彩 🎨",
    "right to left": "عين אישון",
    "long": "Hall " * 60,
    "wide and long": "眼" * 300,
    "accents": "E\u0301loi\u0308se Łódź Ç",
    "steering": "Hall\x1b[2J\u202eloohcS\x07\r",
}
MOST_CHARACTERS: Final = 300
STEERING: Final = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
SIZES: Final = sorted(
    {(columns, lines) for columns in range(20, 301) for lines in (5, 12, 24, 60)}
    | {(columns, lines) for columns in (20, 40, 80, 200) for lines in range(5, 101)}
)


def plan_text(name: str, canvases: int) -> str:
    """Return a plan in which every name is hostile, and as long as a plan allows where it is long."""
    name = name[: MOST_CHARACTERS - len("11 ")]
    plan = {
        "commission": name,
        "canvases": [f"{number} {name}" for number in range(canvases)],
        "order": "fixed",
        "palette": [f"u {name}", f"o {name}"],
        "mixtures": [{"name": f"m {name}", "parts": {f"u {name}": 3, f"o {name}": 2}}],
        "passes": [
            {
                "name": f"p {name}",
                "passages": [
                    {"name": f"a {name}", "value": 2, "mixture": f"m {name}"},
                    {"name": f"b {name}", "beside": f"a {name}"},
                ],
            }
        ],
    }
    return yaml.safe_dump(plan, allow_unicode=False)


@cache
def hostile_situation(kind: str, canvases: int, phase: Phase) -> Situation:
    """Return a situation some way into such a plan: on the follow canvas, noted and marked, a rest due."""
    name = HOSTILE_NAMES[kind]
    easel = Easel(plan_text(name, canvases))
    session = easel.session
    session.make(moves.go_on)
    easel.pass_time(61)
    session.make(moves.noting(f"led {name}"))
    session.make(moves.go_on)
    session.make(moves.noting(f"followed {name}"))
    session.make(moves.mark)
    closing = {
        Phase.NOT_BEGUN: moves.end_session,
        Phase.PAUSED: moves.pause,
        Phase.RESTING: moves.rest,
    }
    if phase in closing:
        session.make(closing[phase])
    easel.clock.go(seconds=20)
    situation = session.situation()
    assert situation.phase is phase
    return situation


def faults_of(view: tuple[Line, ...], columns: int, lines: int) -> list[str]:
    """Return what is wrong with a view of a size, in words."""
    faults = [] if len(view) == lines else [f"{len(view)} lines"]
    for y, line in enumerate(view):
        if cell_len(line.text) > columns:
            faults.append(f"line {y} is {cell_len(line.text)} cells wide")
        if any(unicodedata.category(character) == "Cc" or character in STEERING for character in line.text):
            faults.append(f"line {y} steers the terminal")
    return faults


@pytest.mark.parametrize("canvases", [2, 12])
@pytest.mark.parametrize("kind", HOSTILE_NAMES)
def test_a_view_has_the_size_asked_for_and_steers_nothing(kind: str, canvases: int) -> None:
    situation = hostile_situation(kind, canvases, Phase.WORKING)
    around = ViewContext(remarks=(f"remark on {HOSTILE_NAMES['markup']}", "x" * 400))
    sizes = SIZES if canvases == 2 else SIZES[::7]

    wrong = {size: faults for size in sizes if (faults := faults_of(easel_view(situation, around, *size), *size))}
    assert wrong == {}


@pytest.mark.parametrize("phase", Phase)
@pytest.mark.parametrize("size", [(20, 5), (20, 100), (40, 12), (80, 24), (300, 5), (300, 100)])
def test_the_phase_is_told_in_words_wherever_there_is_a_head_line(phase: Phase, size: tuple[int, int]) -> None:
    for kind in HOSTILE_NAMES:
        view = easel_view(hostile_situation(kind, 2, phase), ViewContext(), *size)
        heads = [line.text for line in view if line.role is Role.HEAD]
        assert all(head.startswith(phase.value) for head in heads)
        assert faults_of(view, *size) == []


@pytest.mark.parametrize("phase", Phase)
def test_a_usual_terminal_has_room_for_the_head_line_and_the_keys(phase: Phase) -> None:
    view = easel_view(hostile_situation("markup", 2, phase), ViewContext(), 80, 24)

    assert view[0].role is Role.HEAD
    assert view[-1].role is Role.KEYS


def test_markup_in_a_name_is_shown_as_it_is_written() -> None:
    view = easel_view(hostile_situation("markup", 2, Phase.WORKING), ViewContext(), 200, 30)

    assert any("[@click=app.quit]Hall[/]" in line.text for line in view if line.role is Role.CANVAS)


def test_a_skipped_lead_and_the_next_turns_are_told_in_the_details() -> None:
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.session.make(moves.skip)
    text = "\n".join(line.text for line in easel_view(easel.session.situation(), ViewContext(), 80, 40))

    assert ": skipped" in text
    assert "next: " in text
    assert "value 2" in text


@pytest.mark.parametrize(
    ("ms", "text"),
    [
        (0, "0:00"),
        (999, "0:00"),
        (61_000, "1:01"),
        (3_599_000, "59:59"),
        (3_600_000, "1:00:00"),
        (90_061_000, "25:01:01"),
    ],
)
def test_a_clock_shows_minutes_and_seconds_and_hours_from_an_hour_on(ms: int, text: str) -> None:
    assert clock(ms) == text


@pytest.mark.parametrize(
    ("ms", "text"),
    [
        (0, "0 s"),
        (45_000, "45 s"),
        (60_000, "1 min"),
        (3_599_000, "59 min"),
        (3_600_000, "1 h"),
        (11_100_000, "3 h 05 min"),
    ],
)
def test_a_span_is_told_in_whole_units(ms: int, text: str) -> None:
    assert span(ms) == text


@pytest.mark.parametrize(("place", "text"), [("left", "← Hall"), ("right", "Hall →"), ("3", "3: Hall"), (None, "Hall")])
def test_a_canvas_is_named_with_its_place(place: str | None, text: str) -> None:
    assert wording.placed_name(Canvas(name="Hall", place=place)) == text


@pytest.mark.parametrize(
    ("away_ms", "ended", "text"),
    [
        (300_000, False, "away 5 min, not counted as work"),
        (0, False, "the time away is not known: the clock was set back"),
        (36_000_000, True, "the coach was closed for 10 h: the last session ended when it was last seen"),
    ],
)
def test_an_absence_is_told_with_what_it_counted_as(away_ms: int, ended: bool, text: str) -> None:
    assert wording.absence_line(Absence(seq=1, away_ms=away_ms, ended_session=ended)) == text


@pytest.mark.parametrize(
    ("phase", "off_ms", "words", "line"),
    [
        (Phase.WORKING, 0, "1:05", "of 14 min planned"),
        (Phase.PAUSED, 62_000, "Pause 1:02", "1:05 of 14 min planned"),
        (Phase.RESTING, 62_000, "Rest 1:02", "8 min of rest left"),
        (Phase.RESTING, 600_000, "Rest 10:00", "rested; go on when you like"),
        (Phase.NOT_BEGUN, 0, "1:05", "1:05 so far, of 14 min planned · Space begins a session"),
    ],
)
def test_the_time_says_what_it_measures(phase: Phase, off_ms: int, words: str, line: str) -> None:
    situation = Easel().session.situation()
    assert situation.turn is not None
    turn = situation.turn._replace(planned_s=14 * 60)
    now = situation._replace(
        phase=phase, off_ms=off_ms, turn_ms=65_000, turn=turn, rest_left_ms=max(0, 600_000 - off_ms)
    )

    assert wording.time_words(now) == words
    assert wording.time_line(now) == line


def test_rags_are_mentioned_when_the_day_s_work_is_over() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(5)
    before = easel_view(easel.session.situation(), ViewContext(), 120, 30)
    easel.session.make(moves.end_session)
    after = easel_view(easel.session.situation(), ViewContext(), 120, 30)

    assert not any("oily rags" in line.text for line in before)
    assert any("oily rags" in line.text for line in after if line.role is Role.NOTICE)


def test_where_only_an_absent_canvas_is_left_the_easel_waits_and_says_until_when() -> None:
    easel = Easel(TWO_CANVASES + "away: School until 2027-01-20\n")
    easel.session.make(moves.go_on)
    said = "\n".join(line.text for line in easel_view(easel.session.situation(), ViewContext(), 200, 60))
    assert "away: School until 2027-01-20" in said
    while easel.session.situation().turn is not None:
        easel.session.make(moves.go_on)
    said = "\n".join(line.text for line in easel_view(easel.session.situation(), ViewContext(), 40, 12))

    assert "Waiting" in said
    assert "away: School until 2027-01-20" in said
    assert "every turn is painted" not in said


def test_between_two_days_the_easel_says_how_long_to_stay_off() -> None:
    easel = Easel()
    assert "more off" not in "\n".join(
        line.text for line in easel_view(easel.session.situation(), ViewContext(), 120, 30)
    )
    easel.session.make(moves.go_on)
    easel.pass_time(60)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=150)
    said = [line.text for line in easel_view(easel.session.situation(), ViewContext(), 120, 30)]
    assert "• 8 h 30 min more off would keep 11 h between two days" in said

    easel.clock.go(minutes=8 * 60 + 30)
    assert "more off" not in "\n".join(
        line.text for line in easel_view(easel.session.situation(), ViewContext(), 120, 30)
    )


def following_turn() -> Situation:
    """Return the follow turn of the first run, two minutes in."""
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.go_on)
    easel.pass_time(2)
    return easel.session.situation()


SITUATION = following_turn()


def roles(view: tuple[Line, ...]) -> set[Role]:
    return {line.role for line in view if line.text}


def is_drawn(view: tuple[Line, ...], role: Role) -> bool:
    """Whether the lines of a role are block letters."""
    lines = [line.text for line in view if line.role is role]
    return len(lines) > 1 and all(set(text) <= set(" ▀▄█") for text in lines)


@given(
    columns=st.integers(1, 300),
    lines=st.integers(1, 100),
    remarks=st.lists(st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=200), max_size=5),
)
def test_a_view_fills_any_terminal_exactly(columns: int, lines: int, remarks: list[str]) -> None:
    view = easel_view(SITUATION, ViewContext(remarks=tuple(remarks)), columns, lines)
    assert len(view) == lines
    assert all(cell_len(line.text) <= columns for line in view)


@pytest.mark.parametrize("remarks", [(), ("a remark of a few words",) * 3, ("a long remark " * 40,) * 9])
@pytest.mark.parametrize("columns", [20, 40, 80, 300])
def test_canvas_passage_and_time_stay_then_calm_lines_then_keys_then_details(
    remarks: tuple[str, ...], columns: int
) -> None:
    around = ViewContext(remarks=remarks)
    key_lines = sum(line.role is Role.KEYS for line in easel_view(SITUATION, around, columns, 100))
    assert key_lines
    for lines in range(5, 101):
        view = easel_view(SITUATION, around, columns, lines)
        told = roles(view)
        assert {Role.CANVAS, Role.PASSAGE, Role.TIME} <= told
        assert Role.NOTICE in told or not remarks
        spare_lines = sum(line.role in (Role.HEAD, Role.DETAIL) for line in view)
        assert Role.KEYS in told or spare_lines < key_lines


@pytest.mark.parametrize("remarks", [(), ("one calm line",), ("two calm lines", "two calm lines")])
def test_at_80_by_24_canvas_passage_and_time_are_all_in_block_letters(remarks: tuple[str, ...]) -> None:
    view = easel_view(SITUATION, ViewContext(remarks=remarks), 80, 24)
    assert all(is_drawn(view, role) for role in (Role.CANVAS, Role.PASSAGE, Role.TIME))


@pytest.mark.parametrize("size", [(44, 30), (60, 40), (80, 24), (120, 40), (200, 60)])
def test_the_time_keeps_its_size_whatever_its_figures(size: tuple[int, int]) -> None:
    heights = {
        sum(line.role is Role.TIME for line in easel_view(SITUATION._replace(turn_ms=ms), ViewContext(), *size))
        for ms in (71_000, 131_000, 191_000, 500_000, 528_000)
    }
    assert len(heights) == 1


def test_a_long_recipe_goes_on_in_a_second_line() -> None:
    passage = SITUATION.passages[0]._replace(mixture="shadow flesh of the far cheek, warmed with burnt sienna")
    view = easel_view(SITUATION._replace(passages=(passage,)), ViewContext(), 60, 30)
    assert "warmed with burnt sienna" in " ".join(line.text.strip() for line in view)


def test_a_line_whose_rest_has_no_room_ends_in_an_ellipsis() -> None:
    passage = SITUATION.passages[0]._replace(mixture="shadow flesh of the far cheek")
    situation = SITUATION._replace(passages=(passage,), turn=None)  # no time line, so the passage is needed most
    view = easel_view(situation._replace(turn=SITUATION.turn), ViewContext(), 40, 7)
    assert [line.text[-1] for line in view if line.text.startswith("socket shadow: ")] == ["…"]


def test_passages_in_plain_text_are_all_named() -> None:
    view = easel_view(SITUATION, ViewContext(), 70, 12)
    assert [line.text for line in view if line.role is Role.PASSAGE] == ["socket shadow + upper lid"]


def test_where_every_turn_is_painted_no_next_turn_and_no_last_turn_is_spoken_of() -> None:
    done = SITUATION._replace(turn=None, canvas=None, passages=(), before=(), coming=(), done_frac=1.0)
    text = "\n".join(line.text for line in easel_view(done, ViewContext(), 120, 40))
    assert "100% done" in text
    assert "next:" not in text


def test_the_share_done_is_100_per_cent_only_when_every_turn_is_painted() -> None:
    view = easel_view(SITUATION._replace(done_frac=0.998), ViewContext(), 120, 40)
    assert "99% done" in view[0].text


def test_a_long_note_in_wide_letters_is_shown_whole_where_there_is_room() -> None:
    """Letters of Japanese take two cells each; counted as one each, the middle of every line would be cut away."""
    note = "".join(chr(0x4E00 + number) for number in range(150))
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.session.make(moves.noting(note))
    lines = easel_view(easel.session.situation(), ViewContext(), 58, 40)
    assert note in "".join(line.text.strip() for line in lines)
    assert max(cell_len(line.text) for line in lines) <= 58


def test_letters_that_fill_the_width_exactly_are_drawn_and_one_cell_less_makes_them_smaller() -> None:
    widest = max(width_cells(wording.placed_name(canvas), 2) for canvas in SITUATION.plan.canvases)
    fits = easel_view(SITUATION, ViewContext(), widest, 60)
    narrower = easel_view(SITUATION, ViewContext(), widest - 1, 60)
    heights = [sum(line.role is Role.CANVAS for line in view) for view in (fits, narrower)]
    assert heights == [height_cells("HALL", 2), height_cells("HALL", 1)]
