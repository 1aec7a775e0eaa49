"""The Easel as text: it fits every terminal, says one thing at a time, and lets no name steer the screen.

Cells are counted as the framework counts them. Control characters are those of Unicode category Cc, and the
marks that turn the direction of writing are those of UAX #9 (from memory).
"""

import unicodedata
from functools import cache
from typing import Final

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.colour.light import srgb_of
from coach.plan.value_range import ValueRange
from coach.screens.easel import wording
from coach.screens.easel.side import HATCHED, VALUES
from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.lines import Line, Role, press_action
from coach.screens.notice import Notice
from coach.session import moves
from coach.session.records import Phase
from coach.session.situation import Situation
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
    {(columns, lines) for columns in range(20, 301, 4) for lines in (5, 12, 24, 60)}
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


def following_turn() -> Situation:
    """Return the follow turn of the first run, two minutes in."""
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.go_on)
    easel.pass_time(2)
    return easel.session.situation()


SITUATION = following_turn()


@pytest.mark.parametrize("photo", [True, False])
@pytest.mark.parametrize("canvases", [2, 12])
@pytest.mark.parametrize("kind", HOSTILE_NAMES)
def test_a_view_has_the_size_asked_for_and_steers_nothing(kind: str, canvases: int, photo: bool) -> None:
    situation = hostile_situation(kind, canvases, Phase.WORKING)
    notices = (Notice(f"remark on {HOSTILE_NAMES['markup']}", "yes", "no"), Notice("x" * 400))
    around = ViewContext(notices=notices, has_photo=photo, picture_says=wording.IN_COLOUR)
    sizes = SIZES if canvases == 2 and not photo else SIZES[::9]

    wrong = {size: faults for size in sizes if (faults := faults_of(easel_view(situation, around, *size), *size))}
    assert wrong == {}


@pytest.mark.parametrize("phase", Phase)
@pytest.mark.parametrize("page", ["", "facts", "picture"])
@pytest.mark.parametrize("size", [(20, 5), (20, 100), (40, 12), (80, 24), (300, 5), (300, 100)])
def test_every_page_has_the_size_asked_for_in_every_phase(phase: Phase, page: str, size: tuple[int, int]) -> None:
    context = ViewContext(shows_facts=page == "facts", is_picture_alone=page == "picture", has_photo=True)
    for kind in HOSTILE_NAMES:
        assert faults_of(easel_view(hostile_situation(kind, 2, phase), context, *size), *size) == []


@given(
    columns=st.integers(1, 300),
    lines=st.integers(1, 100),
    notices=st.lists(st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=200), max_size=5),
)
def test_a_view_fills_any_terminal_exactly(columns: int, lines: int, notices: list[str]) -> None:
    view = easel_view(SITUATION, ViewContext(notices=tuple(map(Notice, notices))), columns, lines)
    assert len(view) == lines
    assert all(cell_len(line.text) <= columns for line in view)


@pytest.mark.parametrize("columns", [20, 40, 79, 300])
def test_in_a_small_window_canvas_passage_and_time_stay_then_notice_and_keys(columns: int) -> None:
    for lines in range(5, 24):
        view = easel_view(SITUATION, ViewContext(notices=(Notice("Forgot the key?", no="seen"),)), columns, lines)
        told = {line.role for line in view if line.text}
        assert {Role.CANVAS, Role.PASSAGE, Role.TIME, Role.NOTICE, Role.KEYS} <= told


def test_markup_in_a_name_is_shown_as_it_is_written() -> None:
    view = easel_view(hostile_situation("markup", 2, Phase.WORKING), ViewContext(), 200, 30)

    assert any("[@click=app.quit]Hall[/]" in line.text for line in view)


def test_one_notice_is_shown_at_a_time_with_its_answers_and_how_many_more_there_are() -> None:
    notices = (Notice("You were away 12 min.", "yes", "no"), Notice("second"), Notice("third"))
    for size in ((78, 24), (40, 10)):
        view = easel_view(SITUATION, ViewContext(notices=notices), *size)
        said = " ".join(line.text for line in view if line.role is Role.NOTICE)
        assert said == "You were away 12 min. And 2 more."
        assert view[-1].text.split()[:4] == ["Enter", "yes", "Esc", "no"]


def test_a_notice_is_clicked_to_answer_it_and_the_canvas_to_begin_on_the_other_where_there_is_one() -> None:
    first = Easel(TWO_CANVASES).session.situation()
    view = easel_view(first, ViewContext(notices=(Notice("Is it dry?", "dry", "wet"), Notice("more"))), 78, 24)
    actions = {piece.action for line in view for piece in line.pieces}
    assert {press_action("enter"), press_action("o"), press_action("escape")} <= actions
    last = easel_view(SITUATION, ViewContext(), 78, 24)
    assert press_action("o") not in {piece.action for line in last for piece in line.pieces}


def test_what_the_other_canvas_took_and_its_note_stand_below_the_letters() -> None:
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.pass_time(9)
    easel.session.make(moves.noting("cooler than it looks"))
    easel.session.make(moves.go_on)
    lead = easel.journal.events[-1].turn
    assert lead is not None
    text = "\n".join(line.text for line in easel_view(easel.session.situation(), ViewContext(), 80, 24))
    assert f"{lead.canvas} took 9:00: “cooler than it looks”" in text
    easel.session.make(moves.noting("warmer"))
    text = "\n".join(line.text for line in easel_view(easel.session.situation(), ViewContext(), 80, 24))
    assert "Noted: “warmer”" in text


def test_the_facts_tell_the_whole_of_every_note_the_recipe_and_who_led() -> None:
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.session.make(moves.skip)
    note = "".join(chr(0x4E00 + number) for number in range(150))
    easel.session.make(moves.noting(note))
    lines = easel_view(easel.session.situation(), ViewContext(shows_facts=True), 58, 40)
    text = "\n".join(line.text for line in lines)
    assert note in "".join(line.text.strip() for line in lines)
    assert ": skipped" in text
    assert "socket shadow: value 2" in text
    assert "Led so far, in turns: Hall" in text


def test_the_share_done_is_100_per_cent_only_when_every_turn_is_painted() -> None:
    assert "99%" in wording.facts(SITUATION._replace(done_frac=0.998))[1]
    assert "100%" in wording.facts(SITUATION._replace(turn=None, canvas=None, passages=(), before=(), coming=()))[0]


def side_of(value: float | None, *, values: ValueRange | None = None, columns: int = 78, lines: int = 24) -> list[Line]:
    """Return the lines of a view that has this value."""
    now = SITUATION._replace(
        passages=(SITUATION.passages[0]._replace(value=value, brush_mm=6),), plan=SITUATION.plan._replace(values=values)
    )
    return list(easel_view(now, ViewContext(has_photo=True), columns, lines))


@pytest.mark.parametrize(
    ("values", "hatched", "shown"),
    [(None, 1, 8), (ValueRange((0, 10), (2, 9.5)), 1, 8), (ValueRange((0, 10), (3, 7)), 4, 5)],
)
def test_the_scale_has_the_values_1_to_9_and_hatches_what_paint_does_not_reach(
    values: ValueRange | None, hatched: int, shown: int
) -> None:
    scale = next(line for line in side_of(3, values=values) if any(piece.ground for piece in line.pieces))
    assert (scale.text.count(HATCHED) // 2, sum(bool(piece.ground) for piece in scale.pieces)) == (hatched, shown)


@pytest.mark.parametrize("size", [(78, 24), (118, 40)])
@pytest.mark.parametrize("value", [0, 1, 2.5, 4, 9, 10])
def test_the_mark_stands_below_its_value(value: float, size: tuple[int, int]) -> None:
    lines = side_of(value, columns=size[0], lines=size[1])
    scale = next(line for line in lines if any(piece.ground for piece in line.pieces))
    steps = [piece.start for piece in scale.pieces if piece.ground]
    wide = steps[1] - steps[0]
    marked = next(line.text for line in lines if "▲" in line.text)
    assert f"{value:g}" in marked
    assert abs((marked.index("▲") - (steps[0] - wide)) / wide - (min(max(value, 1), 9) - 0.5)) <= 0.5


def test_the_greys_of_the_scale_are_those_of_the_values() -> None:
    """ASTM D1535-08, equation 2, and the curve of IEC 61966-2-1, by the room of colours."""
    percent = np.polyval((0.00081939, -0.020484, 0.23352, -0.22533, 1.1914, 0), np.arange(1, 10))
    assert [int(grey, 16) for grey in VALUES] == [round(255 * float(one)) for one in srgb_of(percent / 100)]


def test_a_check_says_what_to_do_and_that_no_paint_is_laid() -> None:
    checked = SITUATION._replace(passages=(SITUATION.passages[0]._replace(check="mirror", value=None),), turn_ms=0)
    text = "\n".join(line.text for line in easel_view(checked, ViewContext(has_photo=True), 78, 24))
    assert "Look at both in a" in text
    assert "no paint" in text


def test_without_a_photo_the_letters_take_its_room() -> None:
    passage = SITUATION.passages[0]._replace(name="under the lower lip")
    now = SITUATION._replace(passages=(passage,))
    rows = [
        sum(line.role is Role.PASSAGE for line in easel_view(now, ViewContext(has_photo=photo), 78, 24))
        for photo in (True, False)
    ]
    assert rows == [6, 3]
