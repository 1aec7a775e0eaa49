"""Every state of the Easel: read from two metres, told from any other without colour, said in few words.

A cell of a terminal is about 4 mm tall; letters 5 rows tall stand 20 mm, which is read from 4 m by the rule of one in
200 (common practice for signs, no source).
"""

from functools import cache
from itertools import combinations
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from coach.plan.commission import Canvas
from coach.screens.easel import wording
from coach.screens.easel.asks import asks_of
from coach.screens.easel.layout import Face, canvas_letters, layout_of
from coach.screens.easel.state import EaselState, easel_state
from coach.screens.easel.view import ViewContext, easel_view, in_two_lines
from coach.screens.lines import Line, Look, Role
from coach.screens.widgets.block_letters import Form, block_lines, can_draw
from coach.session.situation import Situation
from tests.easel_states import NAMES, STATES, plan_of

SIZES: Final = ((78, 24), (118, 40), (198, 60))
"""What the board of a window of 80 x 24, 120 x 40 and 200 x 60 has beside its margins."""

BLOCKS: Final = frozenset(" ▀▄█")


@cache
def reached(state: str, kind: str = "ordinary") -> Situation:
    """Return the situation in a state, with names of a kind."""
    return STATES[state](plan_of(NAMES[kind])).session.situation()


def shown(situation: Situation, size: tuple[int, int], *, photo: bool = True) -> tuple[Line, ...]:
    """Return the Easel with all its notices."""
    asks = asks_of(situation, (), ())
    context = ViewContext(
        notices=tuple(ask.notice for ask in asks), has_photo=photo, picture_says=wording.IN_COLOUR if photo else ""
    )
    return easel_view(situation, context, *size)


def letters(view: tuple[Line, ...], role: Role, columns: int) -> list[str]:
    """Return the rows of a role that are block letters in the first columns."""
    rows = [line.text[:columns].rstrip() for line in view if line.role is role]
    return [row for row in rows if row and set(row) <= BLOCKS]


def text_of(view: tuple[Line, ...]) -> str:
    """Return a view as a text, its inverted lines marked at their edge."""
    return "\n".join(f"{'▌' if line.is_inverted else '│'}{line.text}" for line in view)


@pytest.mark.parametrize("state", STATES)
def test_a_state_is_the_one_that_the_session_is_in(state: str) -> None:
    assert easel_state(reached(state)).value == state


def test_every_state_is_looked_at() -> None:
    assert set(STATES) == {state.value for state in EaselState}


@pytest.mark.parametrize("photo", [True, False])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", NAMES)
@pytest.mark.parametrize("state", STATES)
def test_canvas_passage_and_time_are_block_letters_in_every_state_and_with_every_name(
    state: str, kind: str, size: tuple[int, int], photo: bool
) -> None:
    view = shown(reached(state, kind), size, photo=photo)

    columns = 50
    assert len(letters(view, Role.CANVAS, columns)) >= 5
    assert len(letters(view, Role.PASSAGE, columns)) >= 3
    assert len(letters(view, Role.TIME, 28)) >= 5


names = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=60).filter(
    lambda name: any(map(str.isalnum, name))
)


@given(
    first=names, second=names, passage=names, place=st.sampled_from(["left", "right", "3", None]), photo=st.booleans()
)
def test_no_name_takes_the_letters_away(first: str, second: str, passage: str, place: str | None, photo: bool) -> None:
    now = reached("working")
    canvases = (Canvas(first, place), Canvas(second))
    now = now._replace(
        plan=now.plan._replace(canvases=canvases),
        canvas=canvases[0],
        passages=(now.passages[0]._replace(name=passage), *now.passages[1:]),
    )
    view = shown(now, (78, 24), photo=photo)

    assert len(letters(view, Role.CANVAS, 78)) >= 5
    assert len(letters(view, Role.PASSAGE, 78)) >= 3
    assert len(letters(view, Role.TIME, 28)) >= 5
    told = "\n".join(line.text for line in view)
    assert first[:20] in told or can_draw(first)
    assert passage[:20] in told or can_draw(wording.place_of(passage))


@given(st.text("ABCDEFGHIJKLNOPQRSTUVXYZ '-", min_size=1, max_size=20).filter(str.strip))
def test_a_place_of_20_letters_is_whole_on_two_lines_beside_the_picture(place: str) -> None:
    """M and W are 5 pixels wide; a name of many of them is cut, and said in full below."""
    rows = in_two_lines(place, Face(Form.NARROW, 1), 52)
    assert len(rows) <= 2
    assert "".join(rows).replace(" ", "") == place.replace(" ", "")


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("iris", ("iris",)),
        ("socket shadow", ("socket", "shadow")),
        ("white of the eye", ("white of the", "eye")),
        ("countercounterlights", ("countercoun", "terlights")),
        ("the iris of the grandmother by the window", ("the iris of", "the")),
    ],
)
def test_a_place_is_broken_between_words_where_they_fit(text: str, rows: tuple[str, ...]) -> None:
    assert in_two_lines(text, Face(Form.NARROW, 1), 50) == rows


def test_canvas_passage_and_time_stand_in_the_same_places_in_every_state_and_under_every_notice() -> None:
    for size in SIZES:
        placed = layout_of(reached("working").plan.canvases, *size, has_picture=True)
        assert placed is not None
        for state in STATES:
            view = shown(reached(state), size)
            first = {
                role: next(y for y, line in enumerate(view) if line.role is role)
                for role in Role
                if letters(view, role, 50)
            }
            assert (first[Role.CANVAS], first[Role.PASSAGE]) == (placed.canvas_y, placed.passage_y)
            assert first[Role.TIME] == placed.time_y


def test_any_two_states_differ_in_their_word_or_in_inversion() -> None:
    """The word is drawn, and inversion is no colour, so that neither needs one."""

    def look(state: str, size: tuple[int, int]) -> tuple[str, tuple[bool, ...]]:
        situation = reached(state)
        view = shown(situation, size)
        word = wording.WORDS[easel_state(situation)]
        layout = layout_of(situation.plan.canvases, *size, has_picture=True)
        assert layout is not None
        face = layout.time if not wording.time_letters(situation, easel_state(situation)) else layout.word
        drawn = [row.strip() for row in block_lines(word, face.scale, face.form)] if word else []
        time = "\n".join(line.text for line in view if line.role is Role.TIME)
        assert all(row in time for row in drawn)
        return word, tuple(line.is_inverted for line in view)

    for size in SIZES:
        looks = {state: look(state, size) for state in STATES}
        assert [pair for pair in combinations(STATES, 2) if looks[pair[0]] == looks[pair[1]]] == []


@pytest.mark.parametrize("state", STATES)
def test_at_80_by_24_a_state_has_a_drawn_word_or_name_at_most_60_words_and_four_keys(state: str) -> None:
    view = shown(reached(state), (78, 24))

    assert letters(view, Role.CANVAS, 50)
    said = [word for line in view for word in line.text.split() if any(map(str.isalnum, word))]
    assert len(said) <= 60
    chips = [piece for piece in view[-1].pieces if piece.look is Look.CHIP]
    assert 1 <= len(chips) <= 4


def test_the_figures_of_a_form_are_equally_wide_so_that_a_time_stands_still() -> None:
    for form in Form:
        assert len({len(block_lines(figure, 1, form)[0]) for figure in "0123456789"}) == 1


@pytest.mark.parametrize("size", SIZES)
def test_the_colon_stays_where_it_is_while_the_time_runs(size: tuple[int, int]) -> None:
    now = reached("working")
    layout = layout_of(now.plan.canvases, *size, has_picture=True)
    assert layout is not None
    views = [easel_view(now._replace(turn_ms=ms), ViewContext(), *size) for ms in (671_000, 728_000, 600_000)]
    at = layout.time.width("12") + layout.time.scale
    columns = layout.time.width("12:34")
    colons = {
        tuple(row.ljust(columns)[at : at + 2 * layout.time.scale] for row in letters(view, Role.TIME, columns))
        for view in views
    }
    assert len(colons) == 1


@pytest.mark.parametrize(
    ("canvas", "drawn"),
    [
        (Canvas("Hall", "left"), "← Hall"),
        (Canvas("School", "right"), "School →"),
        (Canvas("North", "1"), "North"),
        (Canvas("Mill"), "Mill"),
        (Canvas("玄関", "left"), "← left"),
        (Canvas("玄関", "2"), "canvas 2"),
        (Canvas("玄関"), "canvas 4"),
        (Canvas("Grandmother's drawing room", "right"), "right →"),
    ],
)
def test_a_canvas_is_drawn_by_its_name_or_where_that_cannot_be_by_its_place(canvas: Canvas, drawn: str) -> None:
    assert canvas_letters(canvas, 4, 52) == drawn


def test_a_canvas_with_a_number_says_it_in_words_below_its_name() -> None:
    now = reached("working")
    canvases = (Canvas("North", "1"), Canvas("Mill", "2"))
    view = easel_view(
        now._replace(plan=now.plan._replace(canvases=canvases), canvas=canvases[0]), ViewContext(), 78, 24
    )
    assert view[6].text == "place 1"


@pytest.mark.parametrize("size", SIZES[:2])
@pytest.mark.parametrize("state", STATES)
def test_a_state_looks_as_it_did(snapshot: SnapshotAssertion, state: str, size: tuple[int, int]) -> None:
    assert text_of(shown(reached(state), size)) == snapshot


@pytest.mark.parametrize(("share", "bar"), [(0, "░" * 10), (0.55, "█████▌░░░░"), (1, "█" * 10), (2, "█████▒▒▒▒▒")])
def test_the_bar_is_the_turn_and_what_lies_beyond_is_hatched(share: float, bar: str) -> None:
    assert wording.bar(share, 10) == bar
