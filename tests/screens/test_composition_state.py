"""What each answer of the repository makes of what the Composition knows."""

from coach.composition.choices import Choice, choices_of
from coach.composition.marking import begun, with_head
from coach.composition.photo_boxes import PhotoSize, heads_of
from coach.composition.sizes import stock_canvases
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.screens.composition.state import (
    CompositionState,
    Marked,
    Sitter,
    found,
    is_ranking_of,
    ranked,
    taking,
    told,
    written,
)
from coach.screens.composition.view import key_of

PHOTO = PhotoSize(width_px=4000, height_px=6000)
ANNA = MarkedHead("Anna", MarkedBox(1500, 1200, 2200, 2100))
TALL = MarkedHead("Anna", MarkedBox(1000, 1200, 3000, 4800))
MARKED = Marked("sitter.jpg", (ANNA,), ())
SITTER = Sitter(MARKED, (CanvasSize(400.0, 500.0),), "sitter.jpg", PHOTO)


def opened(sitter: Sitter = SITTER) -> CompositionState:
    return found(CompositionState(), sitter, is_other=False)


def choices(head: MarkedHead) -> tuple[Choice, ...]:
    return choices_of(PHOTO, heads_of([head]), [], stock_canvases())


def with_another_head(state: CompositionState) -> CompositionState:
    assert state.shown is not None
    return state._replace(shown=state.shown._replace(marking=with_head(state.shown.marking)))


def test_before_anything_is_found_nothing_is_marked_and_nothing_can_be_lost() -> None:
    empty = CompositionState()
    assert (empty.marked, empty.is_written, empty.canvases, empty.has_head_in_hand) == (Marked(), True, (), False)
    assert ranked(empty, (), "x") == taking(empty, None) == written(empty, MARKED, None) == empty
    assert is_ranking_of(empty, begun(PHOTO), is_stock=True)
    assert told(empty, "") == "the photo is being read"


def test_the_plans_own_sizes_are_ranked_first_and_the_stock_list_where_there_are_none() -> None:
    assert [canvas.name for canvas in opened().canvases] == ["40 x 50 cm"]
    assert opened(SITTER._replace(sizes=())).canvases == stock_canvases()


def test_what_is_marked_is_written_until_it_changes() -> None:
    state = opened()
    assert state.is_written
    assert told(state, "") == "sitter.jpg, 4000 x 6000 px"
    changed = with_another_head(state)
    assert not changed.is_written
    assert told(changed, "x") == "x · sitter.jpg, 4000 x 6000 px · not in the plan yet: w writes it"
    assert written(changed, changed.marked, None).is_written
    assert not opened(SITTER._replace(photo="other.jpg")).is_written


def test_the_first_canvas_stays_first_but_one_that_was_gone_to_stays_chosen() -> None:
    before, after = choices(ANNA), choices(TALL)
    assert key_of(before[0]) != key_of(after[0])
    state = ranked(opened(), before, "")
    assert state.shown is not None
    fresh = ranked(state, after, "")
    gone_to = ranked(state._replace(shown=state.shown._replace(chosen=5)), after, "")
    assert fresh.shown is not None
    assert gone_to.shown is not None
    assert fresh.shown.chosen == 0
    assert gone_to.shown.choice is not None
    assert key_of(gone_to.shown.choice) == key_of(before[5])
    nowhere = ranked(gone_to, (), "a fault")
    assert nowhere.shown is not None
    assert (nowhere.shown.chosen, nowhere.shown.choice, nowhere.shown.fault) == (0, None, "a fault")


def test_a_ranking_holds_while_boxes_and_list_are_the_same_whichever_is_in_hand() -> None:
    state = opened()
    assert state.shown is not None
    marking = state.shown.marking
    assert is_ranking_of(state, marking._replace(in_hand=None, step_px=1), is_stock=False)
    assert not is_ranking_of(state, marking, is_stock=True)
    assert not is_ranking_of(with_another_head(state), marking, is_stock=False)


def test_a_canvas_that_is_taken_waits_to_be_written_and_is_then_the_plans_size() -> None:
    best = choices(ANNA)[0]
    state = taking(opened(), best)
    assert not state.is_written
    kept = written(state, state.marked, best.size)
    assert kept.is_written
    assert kept.taken is None
    assert kept.sitter is not None
    assert kept.sitter.sizes == (best.size,)


def test_a_photo_that_cannot_be_read_leaves_nothing_to_mark() -> None:
    state = opened(SITTER._replace(size=None, fault="sitter.jpg: there is no such file"))
    assert state.shown is None
    assert told(state, "") == "sitter.jpg: there is no such file"
    assert told(opened(Sitter(Marked(), ())), "").startswith("The plan names no photo.")
