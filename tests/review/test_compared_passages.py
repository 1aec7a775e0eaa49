"""What was painted last when a photo was taken."""

import datetime as dt

from coach.journal.reading import local_time
from coach.review.compared_passages import painted_before
from tests.comparisons import painted


def test_the_passage_that_was_over_last_is_named_with_its_canvas() -> None:
    state = painted(4).session.state
    for turn in state.turns:
        said = painted_before(state, local_time(turn.ended) + dt.timedelta(seconds=1))
        assert said == f"{' and '.join(turn.turn.passages)} on {turn.turn.canvas}"


def test_before_the_first_stroke_nothing_is_named() -> None:
    state = painted(2).session.state

    assert painted_before(state, local_time(state.turns[0].begun)) == ""
