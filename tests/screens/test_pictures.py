"""The Easel and the Log look as they did: pictures of both at three sizes of terminal."""

from collections.abc import Callable
from typing import Final

import pytest

from coach.review.painted import painted_of
from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.session import moves
from tests.sittings import Easel

SIZES: Final = [(40, 12), (80, 24), (120, 40)]
SnapCompare = Callable[..., bool]


def app_after_two_turns(*, light: bool = False) -> CoachApp:
    """Return the app on the third turn, after a led, noted and marked turn and a followed one."""
    easel = Easel()
    easel.sitting.make(moves.go_on)
    easel.pass_time(22)
    easel.sitting.make(moves.noting("lid edge softer than it looks"))
    easel.sitting.make(moves.mark)
    easel.sitting.make(moves.go_on)
    easel.pass_time(19)
    easel.sitting.make(moves.go_on)
    easel.pass_time(4.5)
    return CoachApp(easel.sitting, ScreenFactory(lambda: painted_of(easel.journal.after(0))), light=light)


@pytest.mark.parametrize("size", SIZES)
def test_the_easel_looks_as_it_did(snap_compare: SnapCompare, size: tuple[int, int]) -> None:
    assert snap_compare(app_after_two_turns(), terminal_size=size)


@pytest.mark.parametrize("size", SIZES)
def test_the_log_looks_as_it_did(snap_compare: SnapCompare, size: tuple[int, int]) -> None:
    assert snap_compare(app_after_two_turns(light=True), press=["l"], terminal_size=size)
